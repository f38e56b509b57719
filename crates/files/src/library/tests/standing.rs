//! Records that stand on others and on families, compounds, and folders with mistakes in them.

use super::*;
use material::{Evidence, FillerKind};
use quantity::Quantity;

fn record(file: &str, rest: &str) -> Text {
    Text::new(file, format!("format = 1\n{rest}"))
}

fn folder_of(records: &[Text], families: &[Text]) -> Loaded {
    shipped().extended(&Texts {
        records: records.to_vec(),
        families: families.to_vec(),
        ..Texts::default()
    })
}

fn sound(records: &[Text], families: &[Text]) -> Library {
    match folder_of(records, families).sound() {
        Ok(library) => library,
        Err(faults) => panic!("{faults}"),
    }
}

fn resin<'a>(library: &'a Library, name: &str) -> &'a Resin {
    match library.find(name, &Place::default()) {
        Ok(record) => &record.resin,
        Err(faults) => panic!("{faults}"),
    }
}

/// The common values of a family: those of PA66, under another name.
fn polyamides() -> Text {
    record(
        "mine/families/aliphatic.toml",
        "title = \"Aliphatic polyamides\"\nlike = \"pa66\"\nfamily = \"polyamide\"\n\
         [drying.hold_energy]\nvalue = \"120 kJ/mol\"\nspread = \"± 20 kJ/mol\"\n\
         source = \"common-practice\"\ngrade = \"common practice\"\n",
    )
}

const FILLER: &str = "[filler]\nkind = \"glass fibre\"\n[filler.share]\nvalue = \"30 %\"\n\
                      spread = \"± 1 %\"\nsource = \"common-practice\"\ngrade = \"common practice\"\n\
                      [filler.density]\nvalue = \"2550 kg/m3\"\nspread = \"± 50 kg/m3\"\n\
                      source = \"common-practice\"\ngrade = \"common practice\"\n\
                      [filler.heat_capacity]\nvalue = \"800 J/(kg K)\"\nspread = \"± 40 J/(kg K)\"\n\
                      source = \"common-practice\"\ngrade = \"common practice\"\n";

fn filled(file: &str, name: &str, like: &str) -> Text {
    record(
        file,
        &format!("name = \"{name}\"\ntitle = \"{name} filled\"\nlike = \"{like}\"\n{FILLER}"),
    )
}

#[test]
fn exact_a_record_may_stand_on_another() {
    let mine = record(
        "mine/pc-clear.toml",
        "like = \"PC\"\nname = \"PC clear\"\ndensity = \"1210 kg/m3\"\n",
    );
    let grand = record(
        "mine/pc-blue.toml",
        "like = \"pc-clear\"\nname = \"PC blue\"\nbulk_density = \"650 kg/m3\"\n",
    );
    let library = sound(&[grand, mine], &[]);
    let blue = resin(&library, "pc blue");
    assert!((blue.density.value.kg_per_m3() - 1210.0).abs() < 1e-9);
    assert!((blue.bulk_density.value.kg_per_m3() - 650.0).abs() < 1e-9);
    assert!(blue.aliases.is_empty());
    assert_eq!(blue.like.as_deref(), Some("pc-clear"));
    // The title is that of the record below; the original is untouched.
    let pc = resin(&library, "PC");
    assert_eq!(blue.title, pc.title);
    assert!(pc.density.value != blue.density.value);
}

#[test]
fn exact_what_is_taken_over_is_analogy_from_whom_states_it() {
    let family = polyamides();
    let nearer = record(
        "mine/families/long.toml",
        "title = \"Long polyamides\"\nlike = \"aliphatic\"\ndensity = \"1020 kg/m3\"\n",
    );
    let mine = record(
        "mine/pa-own.toml",
        "like = \"long\"\nname = \"PA own\"\ntitle = \"Own polyamide\"\n\
         [isotherm.monolayer]\nvalue = \"1.2 % dry\"\n",
    );
    let library = sound(&[mine], &[nearer, family]);
    let (own, pa66) = (resin(&library, "pa-own"), resin(&library, "PA66"));
    let from = |evidence: &Evidence<f64>| evidence.inherited_from.clone();
    // Its own number is its own.
    let monolayer = own.isotherm.value("monolayer").unwrap();
    assert_eq!((monolayer.grade, from(monolayer)), (Grade::Stated, None));
    assert_eq!(
        own.density.inherited_from.as_deref(),
        Some("Long polyamides")
    );
    assert_eq!(own.density.grade, Grade::Analogy);
    let energy = own.drying.hold_energy.as_ref().unwrap();
    assert_eq!(
        energy.inherited_from.as_deref(),
        Some("Aliphatic polyamides")
    );
    assert_eq!(own.family.as_deref(), Some("polyamide"));
    // What PA66 states keeps its source and place through two families.
    let constant = own.isotherm.value("surface_constant").unwrap();
    let there = pa66.isotherm.value("surface_constant").unwrap();
    assert_eq!(from(constant).as_deref(), Some("PA66"));
    assert_eq!(constant.grade, Grade::Analogy);
    assert_eq!(
        (&constant.source, &constant.place, constant.value.to_bits()),
        (&there.source, &there.place, there.value.to_bits())
    );
    assert_eq!(there.inherited_from, None);
    // A family is no resin.
    let asked = library.find("long", &Place::default()).unwrap_err();
    assert!(asked.0[0].cause.starts_with("this is a family"), "{asked}");
    assert_eq!(library.families.len(), shipped().families.len() + 2);
}

#[test]
fn exact_a_record_over_the_shipped_one_of_its_key_is_the_same_resin() {
    let mine = record("mine/pc.toml", "like = \"PC\"\ndensity = \"1210 kg/m3\"\n");
    let library = sound(&[mine], &[]);
    let (mine, before) = (resin(&library, "polycarbonate"), shipped());
    let before = resin(&before, "PC");
    assert_eq!(library.records.len(), shipped().records.len());
    assert_eq!(mine.bulk_density, before.bulk_density);
    assert!((mine.density.value.kg_per_m3() - 1210.0).abs() < 1e-9);
}

#[test]
fn exact_a_compound_is_mixed_from_polymer_and_filler() {
    let library = sound(&[filled("mine/pa66-g.toml", "PA66-G", "pa66")], &[]);
    let (compound, polymer) = (resin(&library, "PA66-G"), resin(&library, "PA66"));
    // By hand: 1/(0.3/2550 + 0.7/1140) = 1366.713 kg/m3; 0.3*800 + 0.7*c.
    assert!((compound.density.value.kg_per_m3() - 1366.713).abs() < 0.01);
    assert_eq!(compound.density.grade, Grade::Analogy);
    assert_eq!(compound.density.inherited_from.as_deref(), Some("PA66"));
    assert_eq!(
        compound
            .density
            .note
            .as_deref()
            .map(|note| note.contains("by volume of 1140 kg/m3")),
        Some(true)
    );
    let heat = 0.3 * 800.0 + 0.7 * polymer.heat_capacity.value.j_per_kg_k();
    assert!((compound.heat_capacity.value.j_per_kg_k() - heat).abs() < 1e-9);
    // Of the density: 0.7 (1366.713/1140)^2 10 = 10.061 from the polymer, 0.3 (1366.713/2550)^2 50
    // = 4.309 from the filler, 1366.713^2 (1/1140 - 1/2550) 0.01 = 9.060 from the share: 14.214 all.
    let Spread::Absolute(sigma) = compound.density.spread else {
        panic!("{:?}", compound.density.spread);
    };
    assert!((sigma - 14.214).abs() < 0.01, "{sigma}");
    // The law is that of the compound, its values those of the polymer with a word on it.
    for (t, a) in [(296.15, 0.5), (353.15, 0.02)] {
        let ratio = compound.isotherm.law.moisture(t, a) / polymer.isotherm.law.moisture(t, a);
        assert!((ratio - 0.7).abs() < 1e-12, "{ratio}");
        let (wet, x) = (0.7 * 0.01, 0.01);
        let same = compound.diffusivity.law.at(t, wet) / polymer.diffusivity.law.at(t, x);
        assert!((same - 1.0).abs() < 1e-12, "{same}");
    }
    let (value, there) = (
        compound.isotherm.value("monolayer").unwrap(),
        polymer.isotherm.value("monolayer").unwrap(),
    );
    assert!((value.value - there.value).abs() <= 0.0);
    assert!(
        value
            .note
            .as_deref()
            .unwrap()
            .contains("takes up 0.7 of it")
    );
    let received = compound.received.opened.value.si() / polymer.received.opened.value.si();
    assert!((received - 0.7).abs() < 1e-12);
    let bulk = compound.bulk_density.value.si() / polymer.bulk_density.value.si();
    assert!((bulk - compound.density.value.si() / polymer.density.value.si()).abs() < 1e-12);
    let drop = |of: &Resin| of.glass_transition_drop.as_ref().unwrap().value.si();
    assert!((drop(compound) / drop(polymer) - 1.0 / 0.7).abs() < 1e-12);
    // Limits are those of the whole compound, and stay.
    assert_eq!(compound.limit.moulding.value, polymer.limit.moulding.value);
    let filler = compound.filler.as_ref().unwrap();
    assert_eq!(filler.kind, FillerKind::GlassFibre);
    assert!((compound.polymer_share().fraction() - 0.7).abs() < 1e-12);
}

#[test]
fn exact_a_whole_isotherm_is_not_shared_out_and_own_values_hold_for_the_compound() {
    let text = format!(
        "name = \"WPC\"\ntitle = \"w\"\nlike = \"pa66\"\ndensity = \"1400 kg/m3\"\n\
         [isotherm]\nwhole = true\n{FILLER}"
    );
    let library = sound(&[record("mine/wpc.toml", &text)], &[]);
    let (compound, polymer) = (resin(&library, "WPC"), resin(&library, "PA66"));
    assert_eq!(compound.isotherm.law, polymer.isotherm.law);
    assert_eq!(compound.diffusivity.law, polymer.diffusivity.law);
    assert_eq!(
        compound.received.opened.value,
        polymer.received.opened.value
    );
    assert!((compound.density.value.kg_per_m3() - 1400.0).abs() < 1e-9);
    assert_eq!(compound.density.inherited_from, None);
}

#[test]
fn exact_a_compound_of_a_compound_takes_over_what_was_mixed() {
    let red = record(
        "mine/red.toml",
        "like = \"pa66-g\"\nname = \"red\"\ntitle = \"Red\"\n",
    );
    let again = filled("mine/again.toml", "again", "pa66-g");
    let base = filled("mine/pa66-g.toml", "PA66-G", "pa66");
    let loaded = folder_of(&[again, red, base], &[]);
    let library = &loaded.library;
    let (compound, red) = (resin(library, "pa66-g"), resin(library, "red"));
    assert_eq!(red.density, compound.density);
    assert_eq!(red.isotherm.law, compound.isotherm.law);
    let causes: Vec<&str> = loaded.faults.iter().map(|f| f.cause.as_str()).collect();
    assert_eq!(
        causes,
        [
            "the density taken over holds for the filler of PA66",
            "the heat capacity taken over holds for the filler of PA66"
        ]
    );
}

#[test]
fn holds_a_flory_huggins_law_sees_the_density_of_the_polymer() {
    let law = "[isotherm]\nform = \"flory-huggins\"\n[isotherm.interaction]\nvalue = \"1.6\"\n\
               [isotherm.reference_temperature]\nvalue = \"60 degC\"\n\
               [isotherm.amorphous_share]\nvalue = \"0.6\"\n";
    let polymer = record(
        "mine/fh.toml",
        &format!("like = \"pa66\"\nname = \"FH\"\ntitle = \"f\"\n{law}"),
    );
    let library = sound(&[polymer, filled("mine/fh-g.toml", "FH-G", "fh")], &[]);
    let (polymer, compound) = (resin(&library, "FH"), resin(&library, "FH-G"));
    let ratio =
        compound.isotherm.law.moisture(330.0, 0.6) / polymer.isotherm.law.moisture(330.0, 0.6);
    assert!((ratio - 0.7).abs() < 1e-9, "{ratio}");
}

#[test]
fn holds_a_filler_that_cannot_be_is_told() {
    let light = filled("mine/light.toml", "light", "pa66").content;
    let light = light.replace(
        "like = \"pa66\"",
        "like = \"pa66\"\ndensity = \"700 kg/m3\"",
    );
    let bare = record(
        "mine/bare.toml",
        "name = \"bare\"\ntitle = \"b\"\nlike = \"pa66\"\n[filler]\nkind = \"talc\"\nshare = \"20 %\"\n",
    );
    let loaded = folder_of(&[Text::new("mine/light.toml", light), bare], &[]);
    let told: Vec<String> = loaded.faults.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "mine/bare.toml:5:2  filler.density\n  cause: density is missing: Its density, from which \
             that of the compound follows; the density taken over is mixed with it\n  mend:  add for \
             example density = \"2550 kg/m3\", or state density of the compound",
            "mine/bare.toml:5:2  filler.heat_capacity\n  cause: heat_capacity is missing: Its heat \
             capacity at 23 degC, from which that of the compound follows; the heat capacity taken \
             over is mixed with it\n  mend:  add for example heat_capacity = \"800 J/(kg K)\", or \
             state heat_capacity of the compound",
            "mine/light.toml:5:11  density = \"700 kg/m3\"\n  cause: no polymer makes 700 kg/m³ \
             with 30 % of a filler of 2550 kg/m³\n  mend:  check the share and the density of the \
             filler",
        ]
    );
}

#[test]
fn holds_a_loop_is_named_whole_and_once() {
    let of = |key: &str, like: &str| {
        record(
            &format!("mine/{key}.toml"),
            &format!("like = \"{like}\"\nname = \"{key}\"\n"),
        )
    };
    let family = record("mine/families/x3.toml", "title = \"x\"\nlike = \"x1\"\n");
    let loaded = folder_of(
        &[
            of("x2", "x3"),
            of("x1", "x2"),
            of("x4", "x1"),
            of("x5", "x5"),
            of("ok", "PC"),
        ],
        &[family],
    );
    let told: Vec<String> = loaded.faults.iter().map(ToString::to_string).collect();
    let mend = "let one of them stand on something outside the loop, or on nothing";
    assert_eq!(
        told,
        [
            format!(
                "mine/families/x3.toml:3:8  like = \"x1\"\n  cause: records stand on each other in a \
                 loop: x3 -> x1 -> x2 -> x3\n  mend:  {mend}"
            ),
            "mine/x4.toml:2:8  like = \"x1\"\n  cause: this stands on mine/x1.toml, which has \
             mistakes\n  mend:  mend mine/x1.toml first"
                .to_owned(),
            format!(
                "mine/x5.toml:2:8  like = \"x5\"\n  cause: records stand on each other in a loop: x5 \
                 -> x5\n  mend:  {mend}"
            ),
        ]
    );
    let library = &loaded.library;
    assert!(library.find("ok", &Place::default()).is_ok());
    for lost in ["x1", "x2", "x4", "x5"] {
        let told = library
            .find(lost, &Place::of("job.toml", "resin.name"))
            .unwrap_err();
        assert_eq!(told.0[0].place.file, "job.toml");
        assert!(told.to_string().contains("loop"), "{lost}: {told}");
    }
}

#[test]
fn holds_a_folder_is_told_all_at_once_and_the_rest_is_used() {
    let records = [
        record("mine/good.toml", "like = \"PC\"\nname = \"good\"\n"),
        record(
            "mine/sourceless.toml",
            "like = \"PC\"\nname = \"sourceless\"\n[density]\nvalue = \"1190 kg/m3\"\n\
             source = \"nobody2001\"\nwhere = \"table 1\"\ngrade = \"measured\"\n",
        ),
        record(
            "mine/wrong.toml",
            "like = \"PC\"\nname = \"wrong\"\ndensity = \"12 h\"\n",
        ),
        record("mine/lost.toml", "like = \"PZ\"\nname = \"lost\"\n"),
        Text::new("mine/torn.toml", "format = 1\nname = \"torn\n"),
        record(
            "mine/other.toml",
            "like = \"PC\"\nname = \"Good\"\ndensity = \"1180 kg/m3\"\n",
        ),
        record("mine/later.toml", "like = \"wrong\"\nname = \"later\"\n"),
    ];
    let loaded = folder_of(&records, &[]);
    let told: Vec<(&str, &str)> = loaded
        .faults
        .iter()
        .map(|f| (f.place.file.as_str(), f.cause.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            (
                "mine/good.toml",
                "this is a name of mine/good.toml and of mine/other.toml"
            ),
            (
                "mine/later.toml",
                "this stands on mine/wrong.toml, which has mistakes"
            ),
            ("mine/lost.toml", "no resin or family has this name"),
            (
                "mine/other.toml",
                "this is a name of mine/other.toml and of mine/good.toml"
            ),
            (
                "mine/sourceless.toml",
                "this source is not in the bibliography"
            ),
            (
                "mine/torn.toml",
                "this is not a line of TOML: invalid basic string, expected `\"`"
            ),
            ("mine/wrong.toml", "this is a time, and a density is wanted"),
        ]
    );
    let library = &loaded.library;
    let place = Place::of("job.toml", "resin.name");
    // A name of two is refused, and either is had by its key.
    let both = library.find("GOOD", &place).unwrap_err();
    assert_eq!(
        both.to_string(),
        "job.toml  resin.name = \"GOOD\"\n  cause: this is a name of mine/good.toml and of \
         mine/other.toml\n  mend:  write other, or give each a name of its own"
    );
    assert!((resin(library, "other").density.value.kg_per_m3() - 1180.0).abs() < 1e-9);
    assert_eq!(resin(library, "PC"), resin(&shipped(), "PC"));
    let lost = library.find("torn", &place).unwrap_err();
    assert!(
        lost.to_string().starts_with(
            "job.toml  resin.name = \"torn\"\n  cause: the record of this resin, mine/torn.toml, has a \
             mistake\n  mend:  mend what is told of it here\n\nmine/torn.toml:2:"
        ),
        "{lost}"
    );
}

#[test]
fn holds_a_broken_record_never_gives_way_to_the_shipped_one() {
    let mine = record("mine/pc.toml", "like = \"PC\"\ndensity = \"12 h\"\n");
    let library = folder_of(&[mine], &[]).library;
    let told = library
        .find("PC", &Place::of("job.toml", "resin.name"))
        .unwrap_err();
    assert!(told.to_string().contains("mine/pc.toml"), "{told}");
    assert!(library.find("polycarbonate", &Place::default()).is_err());
}

#[test]
fn holds_a_family_and_a_record_of_one_file_name_are_told() {
    let family = record("mine/families/pa-x.toml", "title = \"x\"\n");
    let mine = record("mine/pa-x.toml", "like = \"PA66\"\nname = \"PA x\"\n");
    let loaded = folder_of(&[mine], &[family]);
    assert_eq!(
        loaded.faults.to_string(),
        "mine/pa-x.toml\n  cause: mine/families/pa-x.toml and mine/pa-x.toml have one name\n  mend:  \
         rename one of the files"
    );
    assert!(loaded.library.find("PA x", &Place::default()).is_err());
}

#[test]
fn holds_what_a_family_leaves_open_is_asked_of_the_record() {
    let family = record(
        "mine/families/thin.toml",
        "title = \"Thin\"\n[drying.temperature]\nvalue = \"80 degC\"\n[limit.fibre]\n\
         value = \"0.01 % wet\"\n",
    );
    let mine = record(
        "mine/thin-one.toml",
        "like = \"thin\"\nname = \"thin one\"\n",
    );
    let untitled = record("mine/families/untitled.toml", "name = \"no title\"\n");
    let loaded = folder_of(&[mine], &[family, untitled]);
    let of = |path: &str| {
        let found = loaded.faults.iter().find(|f| f.place.path == path);
        found.map(|f| (f.place.file.clone(), f.place.line, f.mend.clone()))
    };
    assert_eq!(
        of("drying.hold"),
        Some((
            "mine/thin-one.toml".to_owned(),
            2,
            "add for example hold = \"24 h\"".to_owned()
        ))
    );
    assert_eq!(of("title").unwrap().0, "mine/families/untitled.toml");
    assert!(
        loaded
            .faults
            .iter()
            .all(|f| f.kind == FaultKind::MissingField),
        "{}",
        loaded.faults
    );
}
