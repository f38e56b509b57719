//! Records from data sheets, read back.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;
use material::{Grade, Spread};

fn library() -> Library {
    match Library::shipped() {
        Ok(library) => library,
        Err(faults) => panic!("{faults}"),
    }
}

fn sheet(name: &str, like: &str) -> DataSheet {
    DataSheet {
        name: name.to_owned(),
        like: like.to_owned(),
        ..DataSheet::default()
    }
}

fn close(found: f64, wanted: f64) {
    assert!((found / wanted - 1.0).abs() < 1e-11, "{found} {wanted}");
}

#[test]
fn exact_what_a_sheet_states_is_read_back_to_the_digit() {
    let wet = |percent| Moisture::Wet(MoistureWetBasis::from_percent(percent));
    let sheet = DataSheet {
        title: Some("Polycarbonate \"clear\", 3\\4\nof it".to_owned()),
        sheet: Some("sheet of May".to_owned()),
        density: Some(Density::from_kg_per_m3(1203.7)),
        bulk_density: Some(BulkDensity::from_kg_per_m3(661.0)),
        temperature: Some((
            Temperature::from_celsius(117.3),
            Temperature::from_fahrenheit(255.0),
        )),
        time: Some((Duration::from_hours(2.0), Duration::from_hours(4.0))),
        hold: Some(Duration::from_hours(11.0)),
        dew_point: Some(FrostPoint::from_celsius(-33.0)),
        moulding: Some(wet(0.017)),
        extrusion: Some(Moisture::Dry(MoistureDryBasis::from_ppm(87.0))),
        fibre: Some(wet(0.004)),
        lower_edge: Some(wet(0.001)),
        glass_transition: Some(Temperature::from_celsius(147.0)),
        ..sheet("PC clear 12", "PC")
    };
    let made = new_record(&sheet, &library()).unwrap();
    let resin = &made.resin;
    assert_eq!(made.key, "pc-clear-12");
    assert_eq!(resin.title, sheet.title.clone().unwrap());
    close(resin.density.value.kg_per_m3(), 1203.7);
    close(resin.bulk_density.value.kg_per_m3(), 661.0);
    let drying = &resin.drying;
    close(drying.temperature_low.value.kelvin(), 117.3 + 273.15);
    close(drying.temperature_high.value.fahrenheit(), 255.0);
    // The customary 120 degC lies inside and stays; the middle of the times is taken.
    close(drying.temperature.value.celsius(), 120.0);
    assert_eq!(drying.temperature.inherited_from.as_deref(), Some("PC"));
    close(drying.time.value.hours(), 3.0);
    assert_eq!(drying.time.spread, Spread::Absolute(1800.0));
    assert_eq!(
        drying.time.note.as_deref(),
        Some("the sheet says 2 h to 4 h")
    );
    close(drying.hold.value.hours(), 11.0);
    close(drying.frost_point.value.celsius(), -33.0);
    close(resin.limit.moulding.value.wet_basis().percent(), 0.017);
    close(resin.limit.extrusion.as_ref().unwrap().value.ppm(), 87.0);
    let fibre = resin.limit.fibre.as_ref().unwrap();
    close(fibre.value.wet_basis().percent(), 0.004);
    let edge = resin.limit.lower_edge.as_ref().unwrap();
    close(edge.value.wet_basis().percent(), 0.001);
    let glass = resin.glass_transition.as_ref().unwrap();
    close(glass.value.celsius(), 147.0);
    assert_eq!(
        (
            resin.density.grade,
            resin.density.source.as_str(),
            resin.density.place.as_str()
        ),
        (Grade::Stated, "data-sheet", "sheet of May")
    );
    // Everything else looks like what it is.
    assert_eq!(resin.heat_capacity.grade, Grade::Analogy);
    let values = resin
        .isotherm
        .values
        .iter()
        .chain(&resin.diffusivity.values);
    for (name, value) in values {
        assert_eq!(value.grade, Grade::Analogy, "{name}");
        assert_eq!(value.inherited_from.as_deref(), Some("PC"), "{name}");
    }
}

#[test]
fn exact_a_bare_name_is_the_nearest_record_by_analogy() {
    let library = library();
    let made = new_record(&sheet("PC bare", "polycarbonate"), &library).unwrap();
    let like = &library.find("PC", &Place::default()).unwrap().resin;
    assert_eq!(made.resin.isotherm.law, like.isotherm.law);
    assert_eq!(made.resin.title, like.title);
    assert_eq!(made.resin.density.grade, Grade::Analogy);
    assert_eq!(
        made.text,
        "# From a data sheet; what is not here is taken over from the record named in like.\n\
         format = 1\nlike = \"polycarbonate\"\nname = \"PC bare\"\n"
    );
}

#[test]
fn exact_a_filled_grade_is_mixed_from_the_usual_filler() {
    let library = library();
    let filled = |kind, density| DataSheet {
        filler: Some(SheetFiller {
            kind,
            share: Fraction::from_percent(25.0),
            density,
            heat_capacity: None,
        }),
        ..sheet("PA66 own", "PA66")
    };
    let resin = new_record(&filled(FillerKind::GlassFibre, None), &library)
        .unwrap()
        .resin;
    let polymer = &library.find("PA66", &Place::default()).unwrap().resin;
    let by_hand = 1.0 / (0.25 / 2550.0 + 0.75 / polymer.density.value.kg_per_m3());
    close(resin.density.value.kg_per_m3(), by_hand);
    let share =
        resin.isotherm.law.moisture(296.15, 0.5) / polymer.isotherm.law.moisture(296.15, 0.5);
    close(share, 0.75);
    assert_eq!(resin.filler.unwrap().share.grade, Grade::Stated);
    // A filler of which nothing is usual has to be stated.
    let faults = new_record(&filled(FillerKind::Other, None), &library).unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
    assert_eq!(paths, ["filler.density", "filler.heat_capacity"]);
}

#[test]
fn exact_one_temperature_outside_the_window_moves_all_of_it() {
    let t = Temperature::from_celsius(105.0);
    let one = DataSheet {
        temperature: Some((t, t)),
        time: Some((Duration::from_minutes(90.0), Duration::from_minutes(90.0))),
        ..sheet("PC low", "PC")
    };
    let drying = new_record(&one, &library()).unwrap().resin.drying;
    for found in [
        &drying.temperature,
        &drying.temperature_low,
        &drying.temperature_high,
    ] {
        close(found.value.kelvin(), t.kelvin());
        assert_eq!((found.grade, found.note.as_deref()), (Grade::Stated, None));
    }
    close(drying.time.value.minutes(), 90.0);
    assert_eq!(drying.time.spread, Spread::Exact);
    let range = DataSheet {
        temperature: Some((
            Temperature::from_celsius(90.0),
            Temperature::from_celsius(100.0),
        )),
        ..sheet("PC low", "PC")
    };
    let drying = new_record(&range, &library()).unwrap().resin.drying;
    close(drying.temperature.value.celsius(), 95.0);
    assert_eq!(
        drying.temperature.note.as_deref(),
        Some("middle of the range stated")
    );
}

#[test]
fn holds_what_cannot_be_a_record_is_told_by_field() {
    let library = library();
    let told = |sheet: &DataSheet| new_record(sheet, &library).unwrap_err().to_string();
    let shown = [
        told(&sheet("PC", "PA66")),
        told(&sheet("...", "PC")),
        told(&DataSheet {
            time: Some((Duration::from_hours(4.0), Duration::from_hours(2.0))),
            ..sheet("PC own", "PC")
        }),
        told(&DataSheet {
            bulk_density: Some(BulkDensity::from_kg_per_m3(1250.0)),
            density: Some(Density::from_kg_per_m3(1200.0)),
            ..sheet("PC own", "PC")
        }),
        told(&DataSheet {
            density: Some(Density::from_kg_per_m3(12.0)),
            ..sheet("PC own", "PC")
        }),
    ];
    assert_eq!(
        shown,
        [
            "name = \"PC\"\n  cause: the library has this name already\n  mend:  give a name of its \
             own, such as \"PC own\"",
            "name = \"...\"\n  cause: a name has letters or digits, of which its file is called\n  \
             mend:  give a name such as \"PC own\"",
            "time\n  cause: the first end of the range is above the second\n  mend:  exchange them",
            "bulk_density = \"1250 kg/m3\"\n  cause: poured pellets cannot be denser than the resin \
             itself\n  mend:  write a bulk density of about 0.6 times the density",
            "density.value = \"12 kg/m3\"\n  cause: 12 kg/m³ lies outside 600 kg/m³ to 3000 kg/m³\n  \
             mend:  write a value of 600 kg/m³ to 3000 kg/m³",
        ]
    );
    let unknown = told(&sheet("own", "PCC"));
    assert!(
        unknown
            .starts_with("like = \"PCC\"\n  cause: no resin or family has this name\n  mend:  did"),
        "{unknown}"
    );
}

#[test]
fn holds_a_family_gives_no_title() {
    let library = library();
    let family = &library.families[0];
    let made = new_record(&sheet("own of a family", &family.key), &library);
    // A family may leave values open; those are asked for by name, and never the title.
    match made {
        Ok(made) => assert_eq!(made.resin.title, "own of a family"),
        Err(faults) => assert!(
            faults
                .iter()
                .all(|f| f.kind == FaultKind::MissingField && f.place.path != "title"),
            "{faults}"
        ),
    }
}

#[test]
fn exact_a_key_is_a_plain_file_name() {
    for (name, key) in [
        ("PA66-GF30", "pa66-gf30"),
        ("  PC / clear (12) ", "pc-clear-12"),
        ("PC µ", "pc"),
        ("../../x", "x"),
        ("", ""),
    ] {
        assert_eq!(key_of(name), key);
    }
}
