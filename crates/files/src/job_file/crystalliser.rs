//! The crystalliser ahead of the hopper, as a job file states it.

use super::fields::{HOUR, quantity};
use crate::bag::{Bag, Entry};
use job::{Crystalliser, CrystalliserHeating};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Faults, Field, FieldKind, Meaning, Section};

pub(super) static CRYSTALLISER: Section = Section {
    fields: &[
        Field::defaulted(
            "heating",
            FieldKind::Choice(&["hot air", "infrared"]),
            "hot air",
            "Hot air through an agitated bed, or infrared onto a rotating drum",
        ),
        Field::optional(
            "temperature",
            quantity!(Temperature),
            "170 degC",
            "Temperature of the resin in it; 5 K above its customary drying when left out",
        )
        .within(40.0 + ZERO_CELSIUS, 230.0 + ZERO_CELSIUS),
        Field::optional(
            "residence",
            quantity!(Duration),
            "45 min",
            "Mean residence; three quarters of an hour in hot air, a quarter under infrared when left \
             out; common practice, no source",
        )
        .within(30.0, 24.0 * HOUR),
    ],
    rules: &[],
};

/// The crystalliser of a job, where it states one.
///
/// # Errors
/// A field that is missing although it must be there; the reader has told of it before.
pub(super) fn crystalliser(bag: &Bag) -> Result<Option<Crystalliser>, Faults> {
    let Some(table) = bag.get("crystalliser", Entry::table) else {
        return Ok(None);
    };
    Ok(Some(Crystalliser {
        heating: match table.need("heating", Entry::choice)? {
            "infrared" => CrystalliserHeating::Infrared,
            _ => CrystalliserHeating::HotAir,
        },
        temperature: table.get("temperature", Entry::quantity),
        residence: table.get("residence", Entry::quantity),
    }))
}
