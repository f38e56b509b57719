//! Each kind of mistake with its place, cause and mend.

use super::*;

/// Kind, path and the first line of cause and mend of one fault.
fn shown(fault: &Fault) -> (FaultKind, &str, &str, String) {
    let mend = fault.mend.lines().next().unwrap_or_default().to_owned();
    (fault.kind, &fault.place.path, &fault.cause, mend)
}

fn paths(faults: &[Fault]) -> Vec<&str> {
    faults.iter().map(|f| f.place.path.as_str()).collect()
}

/// A job of another resin with lines added.
fn of_resin(resin: &str, lines: &str) -> Vec<Fault> {
    let text = SOUND.replace("\"PC\"", &format!("\"{resin}\""));
    told(&format!("{text}{lines}\n"))
}

#[test]
fn holds_a_missing_unit_shows_candidates() {
    let fault = of("[air]\ntemperature = 120");
    assert_eq!(fault.kind, FaultKind::MissingUnit);
    assert_eq!((fault.place.line, fault.place.column), (7, 15));
    assert!(fault.mend.contains("\"120 degC\"  -> 120 °C"));
    assert!(fault.mend.contains("\"120 degF\"  -> 48.89 °C"));
    assert_eq!(of("[hopper]\nvolume = 60").kind, FaultKind::MissingUnit);
}

#[test]
fn holds_a_missing_basis_shows_what_each_candidate_would_change() {
    let asks = |lines: &str, first: &str, second: &str| {
        let fault = of(lines);
        assert_eq!(fault.kind, FaultKind::MissingBasis, "{fault}");
        assert!(fault.mend.contains(first), "{fault}");
        assert!(fault.mend.contains(second), "{fault}");
    };
    asks(
        "[arrival]\nmoisture = \"0.2 %\"",
        "\"0.2 % wet\"  -> 2004.01 ppm dry",
        "\"0.2 % dry\"  -> 2000 ppm dry",
    );
    asks(
        "[target]\nlimit = \"200 ppm\"",
        "\"200 ppm wet\"  -> 200.04 ppm dry",
        "\"200 ppm dry\"  -> 200 ppm dry",
    );
    asks(
        "[air]\nhumidity = \"-40 degC\"",
        "\"-40 degC frost\"  -> about 130 ppm by volume",
        "\"-40 degC dew\"    -> about 190 ppm by volume",
    );
    asks(
        "[air]\nflow = \"28 m3/h\"",
        "\"28 m3/h at 0 degC and 1 atm\"    -> 36.2 kg/h dry air",
        "\"28 m3/h at 120 degC and 1 atm\"  -> 25.1 kg/h dry air",
    );
    asks(
        "[air]\npressure = \"1.5 bar\"",
        "\"1.5 bar(a)\"  -> 1.5 bar(a)",
        "\"1.5 bar(g)\"  -> 2.513 bar(a) at sea level",
    );
    asks(
        "[site]\npressure = \"0.98 bar\"",
        "\"0.98 bar(a)\"",
        "\"0.98 bar(g)\"",
    );
}

#[test]
fn holds_a_wrong_dimension_names_both() {
    let cause = |lines: &str| {
        let fault = of(lines);
        assert_eq!(fault.kind, FaultKind::WrongDimension, "{fault}");
        fault.cause
    };
    assert_eq!(
        cause("[air]\ntemperature = \"3 bar(a)\""),
        "this is an absolute pressure, and a temperature is wanted"
    );
    assert_eq!(
        cause("[site]\npressure = \"0.5 bar(g)\""),
        "this is a gauge pressure, and an absolute pressure is wanted"
    );
    assert_eq!(
        cause("[hopper]\nvolume = \"35 kg\""),
        "this is a mass, and a volume is wanted"
    );
}

#[test]
fn holds_unknown_fields_get_the_nearest() {
    let of_field = of("[air]\ntemprature = \"120 degC\"");
    assert_eq!(
        shown(&of_field),
        (
            FaultKind::UnknownField,
            "air.temprature",
            "no field here is called \"temprature\"",
            "did you mean temperature?".to_owned()
        )
    );
    assert_eq!(of("[aire]\n").mend, "did you mean air?");
    assert_eq!(
        of("[air]\nbelow_inlet = \"1 kg\"").mend,
        "below_inlet belongs in [hopper]"
    );
    assert_eq!(
        of("[resin.pellet]\ndiametre = \"2 mm\"").mend,
        "did you mean diameter?"
    );
    assert_eq!(
        of("[target]\nmargin = \"20 %\"\nmargins = 3").kind,
        FaultKind::UnknownField
    );
}

#[test]
fn holds_unknown_resins_get_the_nearest() {
    let faults = of_resin("PCC", "");
    assert_eq!(faults.len(), 1);
    assert_eq!((faults[0].place.line, faults[0].place.column), (3, 8));
    assert_eq!(
        shown(&faults[0]),
        (
            FaultKind::UnknownName,
            "resin.name",
            "no resin of the library has this name",
            "did you mean PC?".to_owned()
        )
    );
    let granite = &of_resin("granite", "")[0];
    assert!(granite.mend.starts_with("the library has ABS, "));
    assert!(granite.mend.ends_with("with inline = true"), "{granite}");
    let nameless = told("format = 1\n[resin]\n[demand]\nrate = \"1 kg/h\"\n");
    assert_eq!(paths(&nameless), ["resin.name"]);
    assert!(nameless[0].mend.contains("inline = true"));
}

#[test]
fn holds_several_mistakes_are_told_at_once_in_the_order_of_the_file() {
    let faults = told(
        "format = 1\n[resin]\nname = \"PCC\"\ndensity = \"1200\"\n[demand]\nrate = \"12\"\n\
         [hopper]\nvolume = \"60 kg\"\nfil = \"90 %\"\n[air]\ntemperature = \"60 degC\"\n\
         humidity = \"75 degC dew\"\n[target]\nlimit = \"0.02 %\"\n[model]\ncone = 1\n",
    );
    let kinds: Vec<(usize, FaultKind)> = faults.iter().map(|f| (f.place.line, f.kind)).collect();
    assert_eq!(
        kinds,
        [
            (3, FaultKind::UnknownName),
            (4, FaultKind::MissingUnit),
            (6, FaultKind::MissingUnit),
            (8, FaultKind::WrongDimension),
            (9, FaultKind::UnknownField),
            (12, FaultKind::Inconsistent),
            (14, FaultKind::MissingBasis),
            (16, FaultKind::WrongSort),
        ]
    );
}

#[test]
fn holds_numbers_that_are_none_are_refused() {
    for number in [
        "nan",
        "inf",
        "-inf",
        "\"nan degC\"",
        "\"inf degC\"",
        "\"1e999 degC\"",
    ] {
        let fault = of(&format!("[air]\ntemperature = {number}"));
        let refused = [FaultKind::NotANumber, FaultKind::OutOfRange];
        assert!(refused.contains(&fault.kind), "{fault}");
    }
    let comma = of("[air]\ntemperature = \"120,5 degC\"");
    assert_eq!(comma.kind, FaultKind::NotANumber);
    assert!(
        comma
            .mend
            .contains("\"120.5 degC\"  -> if the comma is the decimal sign")
    );
    assert_eq!(of("[model]\nsamples = -1").kind, FaultKind::OutOfRange);
    assert_eq!(of("[model]\nsamples = 1.5").kind, FaultKind::WrongSort);
}

#[test]
fn holds_impossible_values_are_refused_just_outside_their_range() {
    let both = |field: &str, inside: &str, outside: &str| {
        let (table, name) = field.split_once('.').unwrap();
        sound(&format!("{SOUND}[{table}]\n{name} = {inside}\n"));
        let fault = of(&format!("[{table}]\n{name} = {outside}"));
        assert_eq!(fault.kind, FaultKind::OutOfRange, "{fault}");
        assert_eq!(fault.place.path, field);
    };
    both("arrival.moisture", "\"30 % dry\"", "\"30.01 % dry\"");
    both("arrival.moisture", "\"0 % wet\"", "\"-0.1 % wet\"");
    both("arrival.temperature", "\"-40 degC\"", "\"-40.1 degC\"");
    both("target.limit", "\"1 ppm dry\"", "\"0 ppm dry\"");
    both("hopper.fill", "\"100 %\"", "\"100.1 %\"");
    both("hopper.fill", "\"1 %\"", "\"0 %\"");
    both("hopper.volume", "\"1 ml\"", "\"0 l\"");
    both("hopper.cone_angle", "\"175 deg\"", "\"180 deg\"");
    both("air.temperature", "\"250 degC\"", "\"251 degC\"");
    both("air.flow", "\"1 g/h dry air\"", "\"0 kg/h dry air\"");
    both("air.humidity", "\"-80 degC frost\"", "\"-80.1 degC frost\"");
    both("site.altitude", "\"5500 m\"", "\"5501 m\"");
    both("model.seed", "4294967295", "4294967296");
    both("model.parcels", "2", "1");
    for rate in ["0 kg/h", "-1 kg/h", "100001 kg/h"] {
        let fault = &told(&SOUND.replace("12 kg/h", rate))[0];
        assert_eq!(fault.kind, FaultKind::OutOfRange);
        assert_eq!(fault.mend, "write a value of above zero, up to 100000 kg/h");
    }
}

#[test]
fn holds_alternatives_exclude_each_other() {
    let clash = |lines: &str| {
        let fault = of(lines);
        assert_eq!(fault.kind, FaultKind::Alternatives, "{fault}");
        fault.cause
    };
    assert_eq!(
        clash("[hopper]\nvolume = \"60 l\"\nbed_mass = \"35 kg\""),
        "volume and bed_mass are given, and only one may be"
    );
    assert_eq!(
        clash("[demand.shots]\nshot = \"4 g\"\ncycle = \"3 s\""),
        "rate and shots are given, and only one may be"
    );
    clash("[site]\naltitude = \"300 m\"\npressure = \"0.98 bar(a)\"");
    clash("[hopper]\nwall_coefficient = \"2 W/(m2 K)\"\ninsulation = \"50 mm\"");
    clash(
        "[arrival]\nmoisture = \"0.1 % wet\"\n[arrival.storage]\ntemperature = \"20 degC\"\n\
         relative_humidity = \"50 %RH\"\ntime = \"3 d\"",
    );
    let neither = told("format = 1\n[resin]\nname = \"PC\"\n[demand]\n");
    assert_eq!(
        neither[0].mend,
        "add one of\nrate = \"12 kg/h\"\n[demand.shots]"
    );
    let empty = told("");
    assert_eq!(empty[0].mend, "add for example [demand]");
}

#[test]
fn holds_supersaturated_air_is_refused_where_it_stands() {
    let refused = |lines: &str, cause: &str, mend: &str| {
        let fault = of(lines);
        assert_eq!(fault.kind, FaultKind::Inconsistent, "{fault}");
        assert!(fault.cause.contains(cause), "{fault}");
        assert!(fault.mend.contains(mend), "{fault}");
    };
    refused(
        "[air]\ntemperature = \"60 degC\"\nhumidity = \"60.1 degC dew\"",
        "the dew point 60.1 °C lies above the air temperature 60 °C",
        "a dew point below 60 °C",
    );
    refused(
        "[air]\ntemperature = \"140 degF\"\nhumidity = \"150 degF dew\"",
        "the dew point 150 °F lies above the air temperature 140 °F",
        "below 140 °F",
    );
    refused(
        "[air]\ntemperature = \"60 degC\"\nhumidity = \"200 g/kg\"",
        "more vapour than air at 60 °C holds",
        "at most 154 g/kg or 19.8 % by volume",
    );
    refused(
        "[air]\ntemperature = \"30 degC\"\ndriest = \"35 degC dew\"",
        "the dew point 35 °C lies above",
        "below 30 °C",
    );
    refused(
        "[site]\nhumidity = \"25 degC dew\"",
        "the air temperature 20 °C",
        "below 20 °C",
    );
    refused(
        "[air]\ntemperature = \"180 degC\"\nhumidity = \"50 %RH\"",
        "this is steam",
        "-40 degC frost",
    );
    // What a compressed line holds is less after expansion, and what a thin air holds is more.
    sound(&format!(
        "{SOUND}[air]\ntemperature = \"20 degC\"\nhumidity = \"25 degC dew at 7 bar(g)\"\n"
    ));
    sound(&format!(
        "{SOUND}[air]\ntemperature = \"60 degC\"\nhumidity = \"60 degC dew\"\n"
    ));
    let thin = "[air]\ntemperature = \"60 degC\"\nhumidity = \"190 g/kg\"\n[site]\naltitude = ";
    sound(&format!("{SOUND}{thin}\"2500 m\"\n"));
    assert_eq!(of(&format!("{thin}\"0 m\"")).place.path, "air.humidity");
}

#[test]
fn holds_contradictions_between_fields_are_told() {
    let cause = |lines: &str, path: &str| {
        let fault = of(lines);
        assert_eq!(fault.kind, FaultKind::Inconsistent, "{fault}");
        assert_eq!(fault.place.path, path);
        fault.cause
    };
    assert_eq!(
        cause(
            "[air]\nflow = \"30 kg/h dry air\"\nlargest_flow = \"20 kg/h dry air\"",
            "air.flow"
        ),
        "the flow, 30 kg/h dry air, is more than the largest flow, 20 kg/h dry air"
    );
    assert_eq!(
        cause(
            "[air]\nhumidity = \"-40 degC frost\"\ndriest = \"-30 degC frost\"",
            "air.driest"
        ),
        "the driest air the dryer gives is damper than the air it delivers"
    );
    assert_eq!(
        cause(
            "[target]\nlimit = \"0.01 % wet\"\nlower_edge = \"0.02 % wet\"",
            "target.limit"
        ),
        "the limit, 0.01 % wet, is not above the lower edge, 0.02 % wet: no moisture is both dry \
         enough and not too dry"
    );
    assert_eq!(
        cause(
            "[hopper]\nvolume = \"5 l\"\ndiameter = \"400 mm\"\ncone_angle = \"60 deg\"",
            "hopper.volume"
        ),
        "a cone of this diameter and angle alone holds 14.5 l"
    );
    assert_eq!(
        cause(
            "[hopper]\nvolume = \"2 l\"\nbelow_inlet = \"3 kg\"",
            "hopper.below_inlet"
        ),
        "the hopper holds 1.24 kg up to its level: no resin lies above the air inlet"
    );
    assert_eq!(
        cause(
            "[hopper]\nbed_mass = \"2 kg\"\nbatch = \"3 kg\"",
            "hopper.batch"
        ),
        "one batch is more than the 2 kg the hopper holds"
    );
    // The same values on the right side of each border.
    sound(&format!(
        "{SOUND}[air]\nflow = \"20 kg/h dry air\"\nlargest_flow = \"20 kg/h dry air\"\n\
         humidity = \"-40 degC frost\"\ndriest = \"-40 degC frost\"\n[target]\n\
         limit = \"0.021 % wet\"\nlower_edge = \"0.02 % wet\"\n[hopper]\nvolume = \"15 l\"\n\
         diameter = \"400 mm\"\ncone_angle = \"60 deg\"\nbelow_inlet = \"1 kg\"\nbatch = \"9 kg\"\n"
    ));
}

#[test]
fn holds_contradictions_with_the_record_are_told() {
    let melts = of_resin("PLA", "[air]\ntemperature = \"330 degF\"");
    assert_eq!(melts[0].cause, "PLA melts at 329 °F");
    assert_eq!(
        melts[0].mend,
        "write a drying temperature, customary are 149 °F to 194 °F"
    );
    let too_dry = of_resin("PA66", "[target]\nlimit = \"150 ppm wet\"");
    assert_eq!(paths(&too_dry), ["target.limit"]);
    assert!(
        too_dry[0].cause.contains("200 ppm dry basis of the record"),
        "{}",
        too_dry[0]
    );
    let edge = of_resin("PA66", "[target]\nlower_edge = \"0.3 % wet\"");
    assert_eq!(paths(&edge), ["target.lower_edge"]);
    let wet = of_resin(
        "PP",
        "[arrival]\nmoisture = \"0.2 % wet\"\n[model.initial]\nmoisture = \"0.2 % wet\"",
    );
    assert_eq!(paths(&wet), ["arrival.moisture", "model.initial.moisture"]);
    assert!(wet[0].mend.contains("surface_water = \"1907"), "{}", wet[0]);
}

#[test]
fn holds_mistakes_in_an_override_are_told_once() {
    let faults = told(
        "format = 1\n[resin]\nname = \"PC\"\ndensity = \"1200\"\n[resin.isotherm]\nform = \"gab\"\n\
         monolayer = \"1 %\"\n[resin.pellet.diameter]\nvalue = \"2 kg\"\ngrade = \"guessed\"\n\
         [resin.sticking]\nvalue = \"2 kg\"\nsource = \"common-practice\"\n\
         [demand]\nrate = \"1 kg/h\"\n",
    );
    assert_eq!(
        paths(&faults),
        [
            "resin.density",
            "resin.isotherm.multilayer_constant",
            "resin.isotherm.reference_temperature",
            "resin.isotherm.surface_constant",
            "resin.isotherm.surface_heat",
            "resin.isotherm.monolayer",
            "resin.pellet.diameter.value",
            "resin.pellet.diameter.grade",
            "resin.sticking.grade",
            "resin.sticking.value",
        ]
    );
    // Of a law that is not known no number is asked.
    let faults = of_resin(
        "PC",
        "[resin.isotherm]\nform = \"henri\"\nmonolayer = \"1 % dry\"",
    );
    assert_eq!(paths(&faults), ["resin.isotherm.form"]);
    assert_eq!(faults[0].mend, "did you mean henry?");
}

#[test]
fn holds_an_inline_resin_is_asked_for_everything() {
    let faults = told(
        "format = 1\n[resin]\ninline = true\nlike = \"PC\"\ndensity = \"3\"\n[resin.isotherm]\n\
         form = \"henry\"\n[demand]\nrate = \"1 kg/h\"\n",
    );
    let of = |path: &str| faults.iter().filter(|f| f.place.path == path).count();
    for once in [
        "resin.name",
        "resin.like",
        "resin.density",
        "resin.diffusivity",
        "resin.isotherm.capacity",
        "resin.limit",
        "resin.received",
    ] {
        assert_eq!(of(once), 1, "{once}");
    }
    assert_eq!(of("resin.format") + of("resin.inline"), 0);
    let law = faults.iter().find(|f| f.place.path == "resin.diffusivity");
    assert_eq!(law.unwrap().mend, "add for example [resin.diffusivity]");
    let unknown_law = SOUND.replace(
        "name = \"PC\"",
        "inline = true\nisotherm.form = \"henri\"\nisotherm.capacity = \"1 % dry\"",
    );
    let faults = told(&unknown_law);
    let of_law = |f: &&Fault| f.place.path.starts_with("resin.isotherm");
    assert_eq!(faults.iter().filter(of_law).count(), 1);
    // A name of the library does not lend its values to an inline resin.
    let inline = SOUND.replace("name = \"PC\"", "name = \"PC\"\ninline = true");
    assert!(paths(&told(&inline)).contains(&"resin.density"));
}

#[test]
fn holds_mistakes_of_syntax_stand_alone() {
    let faults = told("format = 1\n[resin\nname = \"PC\"\n[demand]\nrate = 12 kg/h\n");
    assert!(faults.iter().all(|f| f.kind == FaultKind::Unreadable));
    assert_eq!(
        faults[1].mend,
        "put the value in quotes: rate = \"12 kg/h\""
    );
    let twice = told(&SOUND.replace("rate", "rate = \"1 kg/h\"\nrate"));
    assert_eq!(twice[0].kind, FaultKind::RepeatedField);
    assert_eq!(told("format = 2\nrat = 1\n").len(), 1);
    assert_eq!(told("resin = \"PC\"\n")[2].kind, FaultKind::WrongSort);
}
