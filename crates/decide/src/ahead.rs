//! A crystalliser ahead of the hopper: the case as its resin then enters, and what that took.

use crate::DecideError;
use crate::case::{Case, celsius};
use crate::plan::ppm_wet;
use job::{Crystalliser, CrystalliserHeating, Job};
use line::crystalliser_station::{Amorphous, crystallise};
use line::equipment::EquipmentError;
use line::{Account, Feed, LineError, Room, usual};
use material::Resin;
use quantity::{Quantity, Temperature, digits};

/// Kelvin above the customary drying of the resin where no temperature is stated.
const ABOVE_CUSTOM: f64 = 5.0;

/// A job whose resin has been crystallised, and the crystalliser with its temperature: what was stirred at that
/// without sticking does not fuse below it.
pub(crate) fn crystallised(job: &Job, stated: &Crystalliser) -> (Job, Crystalliser) {
    let mut now = job.clone();
    let lot = now.lot.iter_mut().map(|part| &mut part.resin);
    let resins: Vec<&mut Resin> = std::iter::once(&mut now.resin)
        .chain(lot)
        .filter(|resin| resin.crystallise_first)
        .collect();
    let custom = |resin: &Resin| resin.drying.temperature.value.si() + ABOVE_CUSTOM;
    let hottest = resins.iter().map(|resin| custom(resin));
    let hottest = hottest.fold(f64::NEG_INFINITY, f64::max);
    let temperature = stated.temperature.map_or_else(
        || {
            if hottest.is_finite() {
                hottest
            } else {
                custom(&job.resin)
            }
        },
        Quantity::si,
    );
    for resin in resins {
        resin.crystallise_first = false;
        resin.sticking.value = Temperature::from_si(temperature.max(resin.sticking.value.si()));
        // What its crystals hold does not fuse sooner for its water.
        resin.glass_transition_drop = None;
    }
    let at = Crystalliser {
        temperature: Some(Temperature::from_si(temperature)),
        ..*stated
    };
    (now, at)
}

/// A case behind its crystalliser.
#[derive(Clone, Debug)]
pub(crate) struct Ahead {
    /// The case as its resin enters the hopper.
    pub(crate) case: Case,
    /// What the crystalliser took.
    pub(crate) account: Account,
    /// What it did, in a sentence.
    pub(crate) said: String,
}

/// Puts the lot of a case through a crystalliser in a hall.
///
/// # Errors
/// [`DecideError::Equipment`] for a crystalliser that cannot be; from the pellets.
pub(crate) fn ahead(case: &Case, stated: &Crystalliser, room: &Room) -> Result<Ahead, DecideError> {
    let title = "crystalliser";
    let cannot = |cause: EquipmentError| DecideError::Equipment {
        title: title.to_owned(),
        cause: Box::new(cause),
    };
    let temperature = stated
        .temperature
        .map_or(case.air_temperature + ABOVE_CUSTOM, Quantity::si);
    let mut spec = match stated.heating {
        CrystalliserHeating::HotAir => {
            usual::agitated_crystalliser(case.rate, temperature, room.humidity)
        }
        CrystalliserHeating::Infrared => {
            usual::infrared_crystalliser(case.rate, temperature, room.humidity)
        }
    };
    if let Some(residence) = stated.residence {
        spec.residence = residence;
    }
    let checked = spec.check().map_err(|faults| cannot(faults.into()))?;
    let (column, _) = case.column()?;
    let resin = Amorphous {
        blend: column.blend(),
        feed: Feed {
            rate: case.rate,
            temperature: case.feed_temperature,
            moisture: case.lead.feed_moisture,
            free_water: case.lead.feed_free_water,
        },
        // What crystallising gives off is in no record: the heater is told a little too much.
        heat: 0.0,
    };
    let left = crystallise(title, &checked, &resin, room)
        .map_err(|cause: LineError| cannot(cause.into()))?;
    let mut now = case.clone();
    now.feed_temperature = left.feed.temperature;
    let waters = std::iter::once(&left.feed.moisture).chain(&left.beside);
    let beside = now.beside.iter_mut().map(|kind| &mut kind.pellets);
    for (pellets, water) in std::iter::once(&mut now.lead).chain(beside).zip(waters) {
        pellets.feed_moisture = *water;
        pellets.feed_free_water = 0.0;
    }
    let said = format!(
        "a crystalliser stands ahead of the hopper, sized by custom: {} min at {} degC take {} of {} ppm wet out of the \
         resin, which enters the hopper so hot; it takes {} kWh per kg, told with each dryer. That the resin no \
         longer sticks is not computed: ask its maker, and press a hot handful together",
        digits(checked.residence() / 60.0, 2),
        digits(celsius(temperature), 3),
        digits(ppm_wet(left.water.0) - ppm_wet(left.water.1), 2),
        digits(ppm_wet(left.water.0), 2),
        digits(left.account.electric_power() / case.wet_rate() / 3.6e6, 2),
    );
    Ok(Ahead {
        case: now,
        account: left.account,
        said,
    })
}
