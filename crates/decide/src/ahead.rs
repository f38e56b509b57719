//! A crystalliser ahead of the hopper: the job and the case as its resin then enters, and what that took.

use crate::DecideError;
use crate::answer::CrystalliserFound;
use crate::case::{Case, celsius};
use crate::plan::ppm_wet;
use dryer::crystalliser::USUAL_RESIDENCE;
use job::{Crystalliser, CrystalliserHeating, Job};
use line::crystalliser_station::{Amorphous, crystallise};
use line::equipment::EquipmentError;
use line::{Account, Feed, LineError, Room, usual};
use material::Resin;
use quantity::{Quantity, Temperature, digits};
use std::borrow::Cow;

/// Kelvin above the customary drying of the resin where no temperature is stated.
const ABOVE_CUSTOM: f64 = 5.0;
/// Kelvin above its glass transition from which on a resin crystallises while it is stirred: amorphous PET softens
/// at 70 to 75 degC and crystallises from 110 degC on (read in a trade article); others by analogy.
const ABOVE_GLASS: f64 = 34.0;

/// A crystalliser as it is run, its temperature known.
#[derive(Clone, Debug)]
pub(crate) struct Stated {
    pub(crate) crystalliser: Crystalliser,
    /// Why it does not crystallise enough, where that is so.
    pub(crate) not_enough: Option<String>,
}

/// What a case was fed with before its crystalliser.
#[derive(Clone, Debug)]
pub(crate) struct Fed {
    stated: Stated,
    room: Room,
    /// K.
    temperature: f64,
    /// Moisture and free water of each kind, the lead first, kg/kg dry.
    waters: Vec<(f64, f64)>,
}

/// A job whose resin has been crystallised, with the crystalliser where it states one: what was stirred at its
/// temperature without sticking does not fuse below that. Where it does not crystallise enough the resin is left
/// as it is.
pub(crate) fn crystallised(job: &Job) -> (Cow<'_, Job>, Option<Stated>) {
    let Some(stated) = &job.crystalliser else {
        return (Cow::Borrowed(job), None);
    };
    let mut now = job.clone();
    let lot = now.lot.iter_mut().map(|part| &mut part.resin);
    let resins: Vec<&mut Resin> = std::iter::once(&mut now.resin)
        .chain(lot)
        .filter(|resin| resin.crystallise_first || resin.crystallises)
        .collect();
    let custom = |resin: &Resin| {
        let usual = resin.drying.temperature.value.si() + ABOVE_CUSTOM;
        from(resin).map_or(usual, |least| usual.max(least))
    };
    let hottest = resins.iter().map(|resin| custom(resin));
    let hottest = hottest.fold(f64::NEG_INFINITY, f64::max);
    let temperature = stated.temperature.map_or_else(
        || {
            if hottest.is_finite() {
                hottest
            } else {
                job.resin.drying.temperature.value.si() + ABOVE_CUSTOM
            }
        },
        Quantity::si,
    );
    let not_enough =
        too_short(stated).or_else(|| resins.iter().find_map(|resin| too_cold(resin, temperature)));
    if not_enough.is_none() {
        for resin in resins {
            resin.crystallise_first = false;
            resin.sticking.value = Temperature::from_si(temperature.max(resin.sticking.value.si()));
            // What its crystals hold does not fuse sooner for its water.
            resin.glass_transition_drop = None;
        }
    }
    let at = Stated {
        crystalliser: Crystalliser {
            temperature: Some(Temperature::from_si(temperature)),
            ..*stated
        },
        not_enough,
    };
    (Cow::Owned(now), Some(at))
}

/// Temperature from which on a resin crystallises, K, where its glass transition is known.
fn from(resin: &Resin) -> Option<f64> {
    let glass = resin.glass_transition.as_ref()?;
    Some(glass.value.si() + ABOVE_GLASS)
}

/// Why a crystalliser is too cold for a resin, if it is.
fn too_cold(resin: &Resin, temperature: f64) -> Option<String> {
    let least = from(resin).filter(|least| temperature < *least)?;
    Some(format!(
        "{} crystallises from some {} degC on, and the crystalliser is at {} degC",
        resin.name,
        digits(celsius(least), 3),
        digits(celsius(temperature), 3),
    ))
}

/// Why a crystalliser holds the resin too shortly, if it does.
fn too_short(stated: &Crystalliser) -> Option<String> {
    let (usual, how) = match stated.heating {
        CrystalliserHeating::HotAir => (USUAL_RESIDENCE.0, "in hot air"),
        CrystalliserHeating::Infrared => (USUAL_RESIDENCE.1, "under infrared"),
    };
    let stays: f64 = stated.residence.filter(|stays| stays.si() < usual)?.si();
    Some(format!(
        "the crystalliser holds the resin for {} min, and {how} it takes {} min by common practice",
        digits(stays / 60.0, 2),
        digits(usual / 60.0, 2),
    ))
}

/// A case behind its crystalliser.
#[derive(Clone, Debug)]
pub(crate) struct Ahead {
    /// The case as its resin enters the hopper.
    pub(crate) case: Case,
    /// What the crystalliser took.
    pub(crate) account: Account,
    /// What it did.
    pub(crate) found: CrystalliserFound,
    /// The same in a sentence.
    pub(crate) said: String,
}

/// Puts the lot of a case through a crystalliser in a hall.
///
/// # Errors
/// [`DecideError::Equipment`] for a crystalliser that cannot be; from the pellets.
pub(crate) fn ahead(case: &Case, stated: &Stated, room: &Room) -> Result<Ahead, DecideError> {
    let title = "crystalliser";
    let cannot = |cause: EquipmentError| DecideError::Equipment {
        title: title.to_owned(),
        cause: Box::new(cause),
    };
    let crystalliser = &stated.crystalliser;
    let temperature = crystalliser
        .temperature
        .map_or(case.air_temperature + ABOVE_CUSTOM, Quantity::si);
    let mut spec = match crystalliser.heating {
        CrystalliserHeating::HotAir => {
            usual::agitated_crystalliser(case.rate, temperature, room.humidity)
        }
        CrystalliserHeating::Infrared => {
            usual::infrared_crystalliser(case.rate, temperature, room.humidity)
        }
    };
    if let Some(residence) = crystalliser.residence {
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
    now.ahead = Some(Box::new(Fed {
        stated: stated.clone(),
        room: *room,
        temperature: case.feed_temperature,
        waters: case
            .kinds()
            .map(|(_, pellets)| (pellets.feed_moisture, pellets.feed_free_water))
            .collect(),
    }));
    let waters = std::iter::once(&left.feed.moisture).chain(&left.beside);
    now.feed(
        left.feed.temperature,
        &waters.map(|water| (*water, 0.0)).collect::<Vec<_>>(),
    );
    let found = CrystalliserFound {
        temperature_c: celsius(temperature),
        residence_min: checked.residence() / 60.0,
        arriving_ppm_wet: ppm_wet(left.water.0),
        leaving_ppm_wet: ppm_wet(left.water.1),
        leaving_c: celsius(left.feed.temperature),
        crystallised_share: left.crystallised.share,
        energy_kwh_kg: left.account.electric_power() / case.wet_rate() / 3.6e6,
        not_enough: stated.not_enough.clone(),
    };
    Ok(Ahead {
        case: now,
        said: found.words(),
        found,
        account: left.account,
    })
}

/// The hall in which a crystalliser is planned: a middling one, since what it takes out hardly depends on that.
pub(crate) fn hall(case: &Case) -> Room {
    Room {
        temperature: case.ambient,
        humidity: 0.009,
        pressure: case.pressure,
    }
}

impl CrystalliserFound {
    /// What it does, in a sentence.
    pub fn words(&self) -> String {
        format!(
            "a crystalliser stands ahead of the hopper, sized by custom: {} min at {} degC take {} of {} ppm wet out \
             of the resin, which enters the hopper so hot; it takes {} kWh per kg beside the dryer. How far the \
             resin crystallises and that it no longer sticks is not computed: ask its maker, and press a hot \
             handful together",
            digits(self.residence_min, 2),
            digits(self.temperature_c, 3),
            digits(self.arriving_ppm_wet - self.leaving_ppm_wet, 2),
            digits(self.arriving_ppm_wet, 2),
            digits(self.energy_kwh_kg, 2),
        )
    }
}

impl Case {
    /// The case as it is fed before its crystalliser, and that; none without one.
    pub(crate) fn before(&self) -> Option<(Self, &Stated)> {
        let fed = self.ahead.as_ref()?;
        let mut now = Self {
            ahead: None,
            ..self.clone()
        };
        now.feed(fed.temperature, &fed.waters);
        Some((now, &fed.stated))
    }

    /// The case that comes of a change to what is fed: through its crystalliser where there is one, with its laws
    /// as they then are.
    ///
    /// # Errors
    /// As [`ahead`].
    pub(crate) fn changed(&self, change: impl Fn(&mut Self)) -> Result<Self, DecideError> {
        let Some(fed) = &self.ahead else {
            let mut now = self.clone();
            change(&mut now);
            return Ok(now);
        };
        let mut raw = Self {
            ahead: None,
            ..self.clone()
        };
        raw.feed(fed.temperature, &fed.waters);
        change(&mut raw);
        Ok(ahead(&raw, &fed.stated, &fed.room)?.case)
    }

    /// Feeds each kind, the lead first, at a temperature (K) with moisture and free water, kg/kg dry.
    fn feed(&mut self, temperature: f64, waters: &[(f64, f64)]) {
        self.feed_temperature = temperature;
        let beside = self.beside.iter_mut().map(|kind| &mut kind.pellets);
        for (pellets, (moisture, free)) in std::iter::once(&mut self.lead).chain(beside).zip(waters)
        {
            pellets.feed_moisture = *moisture;
            pellets.feed_free_water = *free;
        }
    }
}
