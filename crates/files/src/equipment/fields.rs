//! The fields of the record of a dryer: what stands above its parts, and what owning it comes to.

use super::part_fields::{BLOWER, COOLER, HEATER, RECOVERY, REGENERATION};
use super::source_fields::{COMPRESSED_AIR, TOWERS, WHEEL};
use super::vacuum_fields::VACUUM;
use crate::resin_law_fields::sourced;
use job::{DryerKind, OwnedKind};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Field, FieldKind, Meaning, Rule, Section};

/// The lowest end of a range whose values lie above zero.
pub(super) const ABOVE_ZERO: f64 = f64::MIN_POSITIVE;
/// The kinds of dryer, as a record names them.
pub(super) const HOT_AIR: &str = DryerKind::HotAir.words();
pub(super) const COMPRESSED: &str = DryerKind::CompressedAir.words();
pub(super) const WHEEL_DRYER: &str = DryerKind::Wheel.words();
pub(super) const TOWER_DRYER: &str = DryerKind::Towers.words();
pub(super) const VACUUM_DRYER: &str = OwnedKind::VACUUM;
pub(super) const KINDS: &[&str] = OwnedKind::WORDS;

/// The fields of a record of a dryer.
pub static EQUIPMENT_FIELDS: Section = Section {
    fields: &[
        Field::FORMAT,
        Field::optional(
            "title",
            FieldKind::Text,
            "Hall 2, dryer on wheels",
            "What you call it; the name of the file when left out",
        ),
        Field::defaulted(
            "invented",
            FieldKind::Flag,
            "false",
            "Whether no such dryer exists, and the record is an example",
        ),
        Field::required(
            "kind",
            FieldKind::Choice(KINDS),
            WHEEL_DRYER,
            "What makes the air, or vacuum where batches are dried without it",
        ),
        Field::optional(
            "rated_flow",
            sourced!(AirFlow),
            "100 m3/h at 20 degC and 1 atm",
            "Process air it is rated for, of dry hall air where it is counted with its water; the most that compressed air gives",
        )
        .within(ABOVE_ZERO, 50.0),
        Field::optional(
            "hottest",
            sourced!(Temperature),
            "160 degC",
            "Hottest drying air it is made for",
        )
        .within(30.0 + ZERO_CELSIUS, 350.0 + ZERO_CELSIUS),
        Field::optional(
            "recirculated",
            sourced!(Fraction),
            "0 %",
            "Share of the return air that is used again",
        )
        .within(0.0, 0.99),
        Field::optional(
            "leak",
            sourced!(Fraction),
            "0.2 %",
            "Hall air that leaks in on the suction side, as a share of the process air",
        )
        .within(0.0, 0.5),
        Field::optional(
            "blower_place",
            FieldKind::Choice(&["behind the cooler", "before the cooler"]),
            "behind the cooler",
            "Where the process blower stands",
        ),
        Field::optional(
            "heater",
            FieldKind::Table(&HEATER),
            "",
            "The heater before the hopper; that of the heating air of a vacuum dryer",
        ),
        Field::optional(
            "blower",
            FieldKind::Table(&BLOWER),
            "",
            "The process blower; that of the heating air of a vacuum dryer",
        ),
        Field::optional(
            "cooler",
            FieldKind::Table(&COOLER),
            "",
            "What cools the return air",
        ),
        Field::optional("wheel", FieldKind::Table(&WHEEL), "", "The desiccant wheel"),
        Field::optional(
            "towers",
            FieldKind::Table(&TOWERS),
            "",
            "The two equal vessels of desiccant, and how they are switched",
        ),
        Field::optional(
            "regeneration",
            FieldKind::Table(&REGENERATION),
            "",
            "The air that takes the water from the desiccant",
        ),
        Field::optional(
            "recovery",
            FieldKind::Table(&RECOVERY),
            "",
            "What takes heat from the exhaust of the regeneration; nothing when left out",
        ),
        Field::optional(
            "compressed_air",
            FieldKind::Table(&COMPRESSED_AIR),
            "",
            "The line the air comes from; the purge of a vacuum dryer",
        ),
        Field::optional(
            "vacuum",
            FieldKind::Table(&VACUUM),
            "",
            "Vessels, pump, purge and times of a vacuum dryer",
        ),
        Field::optional(
            "ownership",
            FieldKind::Table(&OWNERSHIP),
            "",
            "What owning it comes to",
        ),
    ],
    rules: &[
        Rule::When {
            field: "kind",
            word: HOT_AIR,
            needs: &["rated_flow"],
            may: &["recirculated", "blower"],
        },
        Rule::When {
            field: "kind",
            word: COMPRESSED,
            needs: &["rated_flow"],
            may: &["compressed_air"],
        },
        Rule::When {
            field: "kind",
            word: WHEEL_DRYER,
            needs: &["rated_flow"],
            may: &[
                "leak",
                "blower_place",
                "blower",
                "cooler",
                "wheel",
                "regeneration",
                "recovery",
            ],
        },
        Rule::When {
            field: "kind",
            word: TOWER_DRYER,
            needs: &["rated_flow"],
            may: &[
                "leak",
                "blower_place",
                "blower",
                "cooler",
                "towers",
                "regeneration",
            ],
        },
        Rule::When {
            field: "kind",
            word: VACUUM_DRYER,
            needs: &["vacuum"],
            may: &["blower", "compressed_air"],
        },
    ],
};

static OWNERSHIP: Section = Section {
    fields: &[
        Field::optional(
            "currency",
            FieldKind::Text,
            "EUR",
            "What the prices here count in",
        ),
        Field::defaulted(
            "mine",
            FieldKind::Flag,
            "false",
            "Whether it stands there today, so that the others have to pay back against it",
        ),
        Field::optional(
            "price",
            sourced!(Number),
            "18000",
            "Price of the dryer, set up",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "desiccant_price",
            sourced!(Number),
            "2400",
            "Price of a new wheel or a new charge of desiccant, work included",
        )
        .within(0.0, f64::INFINITY),
        Field::optional(
            "desiccant_every",
            sourced!(Duration),
            "24000 h",
            "Hours run from one change of desiccant to the next",
        )
        .within(ABOVE_ZERO, f64::INFINITY),
        Field::optional(
            "filters_per_year",
            sourced!(Number),
            "180",
            "Price of the filters of a year",
        )
        .within(0.0, f64::INFINITY),
        Field::optional("footprint", sourced!(Area), "0.8 m2", "Floor it takes")
            .within(ABOVE_ZERO, 1000.0),
        Field::optional("height", sourced!(Length), "1.9 m", "Its height").within(ABOVE_ZERO, 30.0),
        Field::optional(
            "noise",
            sourced!(SoundLevel),
            "72 dB(A)",
            "Sound pressure level 1 m away, A-weighted",
        )
        .within(0.0, 140.0),
        Field::optional(
            "air_carries",
            FieldKind::List(&FieldKind::Choice(&["oil", "bead dust"])),
            "oil",
            "What its air brings to the resin; [] when it is known to bring nothing",
        ),
        Field::optional(
            "used_with",
            FieldKind::List(&FieldKind::Text),
            "PA66, no odour left",
            "Resins it was used with, and what of them could be smelt or seen since",
        ),
    ],
    rules: &[Rule::Together(&["desiccant_price", "desiccant_every"])],
};
