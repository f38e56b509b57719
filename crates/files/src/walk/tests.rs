//! Checks of the reader on a small kind of file that has every sort of field.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;
use crate::flaws;
use crate::rules::overlay;
use quantity::{AirFlow, MassFlow, Meaning, Rule, Temperature};

static HOPPER: Section = Section {
    fields: &[
        Field::optional(
            "volume",
            FieldKind::Quantity(Meaning::Volume),
            "60 l",
            "Volume",
        ),
        Field::defaulted(
            "wall",
            FieldKind::Quantity(Meaning::HeatTransferCoefficient),
            "2 W/(m2 K)",
            "Loss through the wall",
        )
        .within(0.0, 100.0),
        Field::defaulted("vented", FieldKind::Flag, "true", "Whether it is vented"),
    ],
    rules: &[],
};

static SHOT: Section = Section {
    fields: &[
        Field::required(
            "mass",
            FieldKind::Quantity(Meaning::Mass),
            "45 g",
            "Mass of a shot",
        )
        .within(f64::MIN_POSITIVE, 100.0),
        Field::defaulted("machines", FieldKind::Count, "1", "How many machines").within(1.0, 100.0),
    ],
    rules: &[],
};

static LAW: Section = Section {
    fields: &[
        Field::defaulted(
            "form",
            FieldKind::Choice(&["flat", "tilted"]),
            "flat",
            "Which law",
        ),
        Field::optional(
            "level",
            FieldKind::Sourced(&FieldKind::Quantity(Meaning::Number)),
            "0.5",
            "Level",
        )
        .within(0.0, 1.0),
        Field::optional(
            "slope",
            FieldKind::Quantity(Meaning::PerTemperature),
            "1e-3 1/K",
            "Slope",
        ),
        Field::optional("bend", FieldKind::Quantity(Meaning::Number), "3", "Bend"),
    ],
    rules: &[
        Rule::When {
            field: "form",
            word: "flat",
            needs: &["level"],
            may: &[],
        },
        Rule::When {
            field: "form",
            word: "tilted",
            needs: &["slope", "level"],
            may: &["bend"],
        },
    ],
};

static JOB: Section = Section {
    fields: &[
        Field::required("format", FieldKind::Count, "1", "Version of the format"),
        Field::required("name", FieldKind::Text, "demo", "Name"),
        Field::optional(
            "rate",
            FieldKind::Quantity(Meaning::MassFlow),
            "12 kg/h",
            "Rate",
        )
        .within(f64::MIN_POSITIVE, 10.0),
        Field::optional("shots", FieldKind::Tables(&SHOT), "", "Shots").within(1.0, 3.0),
        Field::optional(
            "limit",
            FieldKind::Quantity(Meaning::Moisture),
            "0.02 % wet",
            "Limit",
        )
        .within(0.0, 0.1),
        Field::optional(
            "air",
            FieldKind::Quantity(Meaning::AirFlow),
            "30 kg/h dry air",
            "Air",
        )
        .within(0.0, 1.0),
        Field::optional(
            "dew",
            FieldKind::Quantity(Meaning::Humidity),
            "-40 degC frost",
            "Dryness",
        )
        .within(173.15, 323.15),
        Field::defaulted(
            "set",
            FieldKind::Quantity(Meaning::Temperature),
            "120 degC",
            "Set temperature",
        )
        .within(290.0, 520.0),
        Field::defaulted("tags", FieldKind::List(&FieldKind::Text), "[]", "Tags").like("winter"),
        Field::optional(
            "steps",
            FieldKind::List(&FieldKind::Quantity(Meaning::Duration)),
            "2 h",
            "Steps",
        )
        .within(60.0, 1e5),
        Field::defaulted("hopper", FieldKind::Table(&HOPPER), "{}", "Hopper"),
        Field::optional("law", FieldKind::Table(&LAW), "", "Law"),
        Field::optional("change", FieldKind::Partial(&LAW), "", "Changes to a law"),
        Field::optional(
            "low",
            FieldKind::Quantity(Meaning::Temperature),
            "20 degC",
            "Low end",
        ),
        Field::optional(
            "high",
            FieldKind::Quantity(Meaning::Temperature),
            "30 degC",
            "High end",
        ),
    ],
    rules: &[
        Rule::ExactlyOne(&["rate", "shots"]),
        Rule::Together(&["low", "high"]),
    ],
};

const KIND: FileKind = FileKind {
    name: "a test job",
    format: 1,
    section: &JOB,
};

fn told(content: &str) -> Vec<Fault> {
    read(&Text::new("job.toml", content), &KIND).unwrap_err().0
}

/// The one fault of a line added to a sound file, as it is shown.
fn of_line(line: &str) -> String {
    let content = format!("format = 1\nname = \"a\"\nrate = \"12 kg/h\"\n{line}\n");
    let faults = told(&content);
    assert_eq!(faults.len(), 1, "{faults:#?}");
    faults[0].to_string()
}

fn sound(content: &str) -> Bag {
    match read(&Text::new("job.toml", content), &KIND) {
        Ok(bag) => bag,
        Err(faults) => panic!("{faults}"),
    }
}

#[test]
fn holds_the_description_has_no_flaw() {
    assert_eq!(flaws(&KIND).to_string(), "");
}

#[test]
fn exact_a_sound_file_gives_its_values_and_defaults() {
    let bag = sound(
        "format = 1\nname = \"a\"\nrate = \"12 kg/h\"\nair = \"28 m3/h at 20 degC and 1 atm\"\n\
         steps = [\"2 h\", \"90 min\"]\n[law]\nform = \"tilted\"\nslope = \"0.001 1/K\"\n\
         level = { value = 0.5, spread = \"± 0.1\", source = \"common-practice\", grade = \"common practice\" }\n",
    );
    let rate: MassFlow = bag.need("rate", Entry::quantity).unwrap();
    assert!((rate.kg_per_hour() - 12.0).abs() < 1e-12);
    assert!(matches!(
        bag.get("air", Entry::air_flow),
        Some(AirFlow::Volume { .. })
    ));
    let set: Temperature = bag.need("set", Entry::quantity).unwrap();
    assert!((set.celsius() - 120.0).abs() < 1e-9);
    assert!(!bag.gives("set") && bag.gives("rate"));
    let hopper = bag.need("hopper", Entry::table).unwrap();
    assert_eq!(hopper.get("vented", Entry::flag), Some(true));
    assert_eq!(hopper.get("wall", Entry::number), Some(2.0));
    assert!(hopper.entry("volume").is_none());
    let steps = bag.need("steps", Entry::list).unwrap();
    let seconds: Vec<f64> = steps.iter().filter_map(Entry::number).collect();
    assert_eq!(seconds, [7200.0, 5400.0]);
    let law = bag.need("law", Entry::table).unwrap();
    assert_eq!(law.get("level", Entry::number), Some(0.5));
    assert_eq!(bag.get("tags", Entry::list).map(|t| t.len()), Some(0));
    assert_eq!(bag.place_of("rate").line, 3);
    assert_eq!(law.place_of("slope").path, "law.slope");
    let shots =
        sound("format = 1\nname = \"a\"\n[[shots]]\nmass = \"45 g\"\n[[shots]]\nmass = \"1 oz\"\n");
    let shots = shots.need("shots", Entry::tables).unwrap();
    assert_eq!(shots[1].place.path, "shots[2]");
    assert_eq!(shots[1].get("machines", Entry::count), Some(1));
}

#[test]
fn holds_each_mistake_is_told_with_place_value_cause_and_mend() {
    assert_eq!(
        of_line("dww = \"-40 degC frost\""),
        "job.toml:4:1  dww = \"-40 degC frost\"\n  cause: no field here is called \"dww\"\n  mend:  \
         did you mean dew?"
    );
    assert_eq!(
        of_line("volume = \"60 l\""),
        "job.toml:4:1  volume = \"60 l\"\n  cause: no field here is called \"volume\"\n  mend:  \
         volume belongs in [hopper]"
    );
    assert_eq!(
        of_line("limit = \"0.02 %\""),
        "job.toml:4:9  limit = \"0.02 %\"\n  cause: the basis is missing: water over wet resin, or \
         over dry resin?\n  mend:  write one of\n         \"0.02 % wet\"  -> 200.04 ppm dry\n         \
         \"0.02 % dry\"  -> 200 ppm dry"
    );
    assert_eq!(
        of_line("set = 120"),
        "job.toml:4:7  set = 120\n  cause: a unit is missing; a temperature is wanted\n  mend:  \
         write one of\n         \"120 degC\"  -> 120 °C\n         \"120 degF\"  -> 48.89 °C\n         \
         accepted are degC, degF, K"
    );
    assert_eq!(
        of_line("set = \"3 bar(g)\""),
        "job.toml:4:7  set = \"3 bar(g)\"\n  cause: this is a gauge pressure, and a temperature is \
         wanted\n  mend:  write for example \"120 degC\"\n         accepted are degC, degF, K"
    );
    assert_eq!(
        of_line("set = \"600 degF\""),
        "job.toml:4:7  set = \"600 degF\"\n  cause: 600 °F lies outside 62.33 °F to 476.3 °F\n  \
         mend:  write a value of 62.33 °F to 476.3 °F"
    );
    assert_eq!(
        of_line("tags = \"winter\""),
        "job.toml:4:8  tags = \"winter\"\n  cause: this is text, and a list of text is wanted\n  \
         mend:  write tags = [\"winter\"]"
    );
    assert_eq!(
        of_line("tags = [\"a\", 3]"),
        "job.toml:4:14  tags[2] = 3\n  cause: this is a bare number, and text is wanted\n  mend:  \
         write tags = [\"winter\"]"
    );
    assert_eq!(
        of_line("steps = [\"2 h\", \"1 s\"]"),
        "job.toml:4:17  steps[2] = \"1 s\"\n  cause: 1 s lies outside 1 min to 27.78 h\n  mend:  \
         write a value of 1 min to 27.78 h"
    );
    assert_eq!(
        of_line("low = \"20 degC\""),
        "job.toml  high\n  cause: high is missing: High end; it goes with low\n  mend:  add for \
         example high = \"30 degC\""
    );
    assert_eq!(
        of_line("hopper = \"big\""),
        "job.toml:4:10  hopper = \"big\"\n  cause: this is text, and a table is wanted\n  mend:  \
         write a table under [hopper]"
    );
    assert_eq!(
        of_line("[hopper]\nvented = \"yes\""),
        "job.toml:5:10  hopper.vented = \"yes\"\n  cause: this is text, and true or false is \
         wanted\n  mend:  write true or false, without quotes"
    );
    assert_eq!(
        of_line("[law]\nform = \"curved\""),
        "job.toml:5:8  law.form = \"curved\"\n  cause: form is none of flat, tilted\n  mend:  known \
         are flat, tilted"
    );
    assert_eq!(
        of_line("[law]\nlevel = 2"),
        "job.toml:5:9  law.level = 2\n  cause: 2 lies outside 0 to 1\n  mend:  write a value of 0 \
         to 1"
    );
    assert_eq!(
        of_line("[law]\nlevel = \"high\""),
        "job.toml:5:9  law.level = \"high\"\n  cause: this does not begin with a number; a plain \
         number is wanted\n  mend:  write for example \"0.65\""
    );
    assert_eq!(
        of_line("air = \"2 kg/s dry air\""),
        "job.toml:4:7  air = \"2 kg/s dry air\"\n  cause: 7200 kg/h dry air lies outside 0 kg/h dry \
         air to 3600 kg/h dry air\n  mend:  write a value of 0 kg/h dry air to 3600 kg/h dry air"
    );
}

#[test]
fn holds_alternatives_are_exactly_one() {
    let none = told("format = 1\nname = \"a\"\n");
    assert_eq!(
        none[0].to_string(),
        "job.toml\n  cause: one of rate, shots must be given, and none is\n  mend:  add one of\n         \
         rate = \"12 kg/h\"\n         [[shots]]"
    );
    let both = told("format = 1\nname = \"a\"\nrate = \"12 kg/h\"\n[[shots]]\nmass = \"45 g\"\n");
    assert_eq!(both[0].kind, FaultKind::Alternatives);
    assert_eq!(
        both[0].cause,
        "rate and shots are given, and only one may be"
    );
    assert_eq!(both[0].place.line, 4);
}

#[test]
fn holds_a_choice_rules_its_neighbours() {
    let missing = told("format = 1\nname = \"a\"\nrate = \"1 kg/h\"\n[law]\nform = \"tilted\"\n");
    let paths: Vec<&str> = missing.iter().map(|f| f.place.path.as_str()).collect();
    assert_eq!(paths, ["law.level", "law.slope"]);
    assert_eq!(
        missing[0].cause,
        "level is missing: Level; form \"tilted\" needs it"
    );
    let stranger =
        told("format = 1\nname = \"a\"\nrate = \"1 kg/h\"\n[law]\nlevel = 0.5\nbend = 3\n");
    assert_eq!(stranger[0].kind, FaultKind::Inconsistent);
    assert_eq!(stranger[0].cause, "bend has no part in form \"flat\"");
    assert_eq!(stranger[0].mend, "remove it, or choose form \"tilted\"");
}

#[test]
fn holds_missing_fields_and_tables_are_told_once_each() {
    let faults = told("rate = \"0 kg/h\"\n[[shots]]\n");
    let causes: Vec<(FaultKind, &str)> = faults
        .iter()
        .map(|f| (f.kind, f.place.path.as_str()))
        .collect();
    assert_eq!(
        causes,
        [
            (FaultKind::MissingField, "format"),
            (FaultKind::MissingField, "name"),
            (FaultKind::OutOfRange, "rate"),
            (FaultKind::Alternatives, "shots"),
            (FaultKind::MissingField, "shots[1].mass"),
        ]
    );
    assert_eq!(
        faults[2].cause,
        "0 kg/h lies outside above zero, up to 36000 kg/h"
    );
    let many = "[[shots]]\nmass = \"1 g\"\n".repeat(4);
    let faults = told(&format!("format = 1\nname = \"a\"\n{many}"));
    assert_eq!(
        faults[0].cause,
        "4 tables lies outside 1 tables to 3 tables"
    );
}

#[test]
fn holds_another_format_is_refused_alone() {
    let newer = told("format = 2\nnaem = 3\n");
    assert_eq!(newer.len(), 1);
    assert_eq!(
        newer[0].to_string(),
        "job.toml:1:10  format = \"2\"\n  cause: this is a test job of format 2, and this program \
         reads format 1\n  mend:  use a newer program, or write the file anew"
    );
    assert_eq!(
        told("format = 0\n")[0].cause,
        "there is no format 0 of a test job"
    );
    let kind_of = |value: &str| {
        let faults = told(&format!(
            "name = \"a\"\nrate = \"1 kg/h\"\nformat = {value}\n"
        ));
        assert_eq!(faults.len(), 1, "{faults:#?}");
        faults[0].kind
    };
    assert_eq!(kind_of("-1"), FaultKind::OutOfRange);
    assert_eq!(kind_of("\"1\""), FaultKind::WrongSort);
}

#[test]
fn holds_mistakes_of_syntax_do_not_hide_the_others() {
    let faults = told(
        "format = 1\nname = a b\nrate = \"12 kg/h\nset = 12 degC\nlimit = \"3 %\"\nlimit = \"2 %\"\n\
         low =\n[hopper\nvented = true\n",
    );
    let told: Vec<(usize, FaultKind, &str)> = faults
        .iter()
        .map(|f| {
            (
                f.place.line,
                f.kind,
                f.mend.lines().next().unwrap_or_default(),
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            (
                2,
                FaultKind::Unreadable,
                "put the value in quotes: name = \"a b\""
            ),
            (
                3,
                FaultKind::Unreadable,
                "close the quotes: rate = \"12 kg/h\""
            ),
            (
                4,
                FaultKind::Unreadable,
                "put the value in quotes: set = \"12 degC\""
            ),
            (5, FaultKind::MissingBasis, "write one of"),
            (6, FaultKind::RepeatedField, "keep one of the two"),
            (
                7,
                FaultKind::Unreadable,
                "write a value after the sign: low = \"...\""
            ),
            (8, FaultKind::Unreadable, "close the bracket: [hopper]"),
        ]
    );
}

#[test]
fn holds_what_is_given_lies_over_what_was_there() {
    let base = sound(
        "format = 1\nname = \"a\"\nrate = \"1 kg/h\"\n[law]\nform = \"tilted\"\nlevel = 0.5\n\
         slope = \"1 1/K\"\n",
    );
    let law = base.need("law", Entry::table).unwrap();
    let over = |change: &str| {
        let content = format!("format = 1\nname = \"b\"\nrate = \"1 kg/h\"\n[change]\n{change}");
        let bag = sound(&content);
        bag.need("change", Entry::table).unwrap()
    };
    let mut same = overlay(&law, &over("slope = \"2 1/K\"\n"));
    assert_eq!(same.get("slope", Entry::number), Some(2.0));
    assert_eq!(same.get("level", Entry::number), Some(0.5));
    assert!(complete(&mut same).is_empty());
    // As a table inside another, a new form drops the numbers of the old one.
    let mut whole = base.clone();
    let entry = base.entry("law").unwrap().clone();
    let held = Held::Table(over("form = \"flat\"\n"));
    whole.put("law", Entry { held, ..entry });
    let mut merged = overlay(&base, &whole);
    let faults = complete(&mut merged);
    assert_eq!(
        faults.0[0].cause,
        "level is missing: Level; form \"flat\" needs it"
    );
}

#[test]
fn holds_no_text_makes_the_reader_stop() {
    let pieces = [
        "format",
        "=",
        "1",
        "\"",
        "[law]",
        "[[shots]]",
        "\n",
        "{",
        "}",
        "[",
        "]",
        "'''",
        "#",
        "µ",
        "\r",
        "\u{0}",
        "rate",
        "-40 degC",
        "nan",
        ".",
        ",",
        "level = { value = ",
        "1e999",
    ];
    // A fixed sequence of picks, so that a failure is met again.
    let mut state = 12_345_u32;
    for _ in 0..3000 {
        let mut content = String::new();
        for _ in 0..12 {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            content.push_str(pieces[(state >> 16) as usize % pieces.len()]);
        }
        let (_, faults) = read_whole(&Text::new("f", content), &KIND);
        assert!(!faults.is_empty());
    }
}
