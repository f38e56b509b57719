//! The fields of a schedule file, its times and its demand.

use super::control_fields::CONTROL;
use super::event_fields::{CHANCES, CHANGEOVER, HALL, LEVEL, LOADER, REFILL};
use super::log_fields::LOG;
use super::plan_fields::PLAN;
use crate::job_file::SHOTS;
use crate::round::DRYER;
use crate::walk::FileKind;
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// Schedule files.
pub const SCHEDULE: FileKind = FileKind {
    name: "a schedule file",
    format: 1,
    section: &SCHEDULE_FIELDS,
};

/// The longest schedule, s: a year.
pub(super) const LONGEST: f64 = 366.0 * 86_400.0;
/// The most tables of one kind.
const MOST: f64 = 400.0;
/// The days of the week as they are written.
pub(super) const DAYS: &[&str] = &["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

static SCHEDULE_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "title",
            FieldKind::Text,
            "press 4, week 13",
            "What you call these days; the name of the file when left out",
        ),
        Field::required(
            "zone",
            FieldKind::Text,
            "Europe/Berlin",
            "Time zone of the clocks that times are read from, as the zone database (IANA) names it",
        ),
        Field::required(
            "from",
            FieldKind::Text,
            "2026-03-23 06:00",
            "When the days begin, on a clock of that zone, or with its offset from UTC as RFC 3339 writes it",
        ),
        Field::required(
            "to",
            FieldKind::Text,
            "2026-03-30 06:00",
            "When they end, 366 days later at most",
        ),
        Field::required(
            "job",
            FieldKind::Text,
            "../dryers/pc-light-guides.toml",
            "Job file of what is dried when they begin, looked for beside this file",
        ),
        Field::defaulted(
            "begins_as",
            FieldKind::Choice(&["cold", "running"]),
            "cold",
            "How the hopper stands when they begin: freshly filled and as cold as the hall, or after long at the \
             first rate drawn",
        ),
        Field::required("dryer", FieldKind::Table(&DRYER), "", "The dryer"),
        Field::optional(
            "hours",
            FieldKind::Tables(&HOURS),
            "",
            "Hours of work, week after week; people always work when left out",
        )
        .within(1.0, MOST),
        Field::optional(
            "order",
            FieldKind::Tables(&ORDER),
            "",
            "What the press makes, within the hours of work; that of the job all through them when left out",
        )
        .within(1.0, MOST),
        Field::optional(
            "stop",
            FieldKind::Tables(&STOP),
            "",
            "When the press stands within the hours of work",
        )
        .within(1.0, MOST),
        Field::optional(
            "log",
            FieldKind::Table(&LOG),
            "",
            "A table that a press, a loader or a person wrote, which says what was drawn instead of orders and stops",
        ),
        Field::optional(
            "plan",
            FieldKind::Table(&PLAN),
            "",
            "A table of orders, as planning writes it, instead of orders here",
        ),
        Field::optional(
            "changeover",
            FieldKind::Tables(&CHANGEOVER),
            "",
            "Other resins or colours that come into the hopper",
        )
        .within(1.0, MOST),
        Field::optional(
            "level",
            FieldKind::Tables(&LEVEL),
            "",
            "Levels to which the hopper is filled from then on",
        )
        .within(1.0, MOST),
        Field::optional(
            "refill",
            FieldKind::Tables(&REFILL),
            "",
            "Rounds in which people fill the hopper; it is kept full when left out",
        )
        .within(1.0, MOST),
        Field::optional(
            "loader",
            FieldKind::Table(&LOADER),
            "",
            "What carries the resin on to the press",
        ),
        Field::optional(
            "hall",
            FieldKind::Tables(&HALL),
            "",
            "The hall, moment after moment, straight between them; that of the job when left out",
        )
        .within(1.0, MOST),
        Field::optional(
            "chances",
            FieldKind::Table(&CHANCES),
            "",
            "How far real days differ from these",
        ),
        Field::optional(
            "control",
            FieldKind::Table(&CONTROL),
            "",
            "How the dryer is run; as is usual where it is left out",
        ),
    ],
    rules: &[
        Rule::AtMostOne(&["log", "order"]),
        Rule::AtMostOne(&["log", "stop"]),
        Rule::AtMostOne(&["plan", "order"]),
        Rule::AtMostOne(&["plan", "log"]),
    ],
};

static HOURS: Section = Section {
    fields: &[
        Field::optional(
            "days",
            FieldKind::List(&FieldKind::Choice(DAYS)),
            "[\"Mon\", \"Tue\"]",
            "Days on which the hours begin; every day when left out",
        ),
        Field::required(
            "from",
            FieldKind::Text,
            "06:00",
            "When work begins, on a clock",
        ),
        Field::required(
            "to",
            FieldKind::Text,
            "22:00",
            "When it ends; on the next day where that is no later than its beginning, and 24:00 is midnight",
        ),
    ],
    rules: &[],
};

/// When something ends.
const TO: Field = Field::optional("to", FieldKind::Text, "2026-03-25 06:00", "When it ends");
const FOR: Field = Field::optional(
    "for",
    FieldKind::Quantity(Meaning::Duration),
    "6 h",
    "How long it takes, instead of its end",
)
.within(1.0, LONGEST);

static ORDER: Section = Section {
    fields: &[
        Field::optional(
            "name",
            FieldKind::Text,
            "covers, 4000 pieces",
            "What you call it; its number when left out",
        ),
        Field::required("from", FieldKind::Text, "2026-03-23 06:00", "When it begins"),
        TO,
        FOR,
        Field::optional(
            "rate",
            FieldKind::Quantity(Meaning::MassFlow),
            "12 kg/h",
            "Resin drawn while the press runs, weighed as it is; that of the job when neither rate nor shots are given",
        )
        .within(f64::MIN_POSITIVE, 1e5 / 3600.0),
        Field::optional(
            "shots",
            FieldKind::Table(&SHOTS),
            "",
            "Shots of one or several machines, instead of a rate",
        ),
    ],
    rules: &[
        Rule::ExactlyOne(&["to", "for"]),
        Rule::AtMostOne(&["rate", "shots"]),
    ],
};

static STOP: Section = Section {
    fields: &[
        Field::required(
            "from",
            FieldKind::Text,
            "2026-03-24 14:00",
            "When it begins",
        ),
        TO,
        FOR,
        Field::optional(
            "why",
            FieldKind::Text,
            "change of tool",
            "Why the press stands",
        ),
        Field::defaulted(
            "planned",
            FieldKind::Flag,
            "true",
            "Whether it was known before",
        ),
    ],
    rules: &[Rule::ExactlyOne(&["to", "for"])],
};
