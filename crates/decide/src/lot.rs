//! A lot in numbers: which kinds of pellet go through the hopper, and what joins them undried.

use crate::DecideError;
use crate::answer::{LotAnswer, LotPart};
use crate::bag::Fed;
use crate::case::Case;
use crate::doubt::Draw;
use crate::outlet::Outlet;
use crate::pellets::{Pellets, outline_of, pellets};
use crate::plan::ppm_wet;
use job::{Component, Job, Pieces};
use material::{Evidence, PelletShape, Resin};
use pellet::Outline;
use quantity::{Length, Quantity, Units, show};
use uncertainty::Interval;

/// Spread of the size of flakes, and their bulk density over that of pellets, where they are not
/// given (common practice, no source: 0.5 to 0.8, thin walls 0.3 to 0.5).
const FLAKE_SPREAD: f64 = 0.2;
const FLAKE_BULK: f64 = 0.6;
/// Spread of the water of what is dosed undried, bag to bag, where none is given (common practice,
/// no source): nothing evens it out on its way to the screw.
const UNDRIED_SPREAD: f64 = 0.2;
/// A kind that travels through the hopper beside the lead.
#[derive(Clone, Debug)]
pub struct Companion {
    /// What the user calls it.
    pub name: String,
    /// Its share of the dry resin in the hopper.
    pub share: f64,
    /// What it is.
    pub pellets: Pellets,
}

/// A component that joins at the throat, not dried here.
#[derive(Clone, Debug)]
pub struct Undried {
    /// What the user calls it.
    pub name: String,
    /// Its resin.
    pub resin: String,
    /// Dry resin of it per dry resin that leaves the hopper.
    pub per_dried: f64,
    /// Its water, kg/kg dry.
    pub water: f64,
    /// Doubt of that water, relative.
    pub spread: f64,
}

/// A lot sorted by what becomes of its components.
pub(crate) struct Parts {
    /// Name and pellets of the lead: the first dried component of the job's resin.
    pub(crate) lead: (String, Pellets),
    /// What travels beside it.
    pub(crate) beside: Vec<Companion>,
    /// What joins at the throat.
    pub(crate) undried: Vec<Undried>,
    /// What the screw draws, as weighed, per dry resin through the hopper.
    pub(crate) drawn: f64,
    /// Wet resin per dry resin in the hopper.
    pub(crate) wet: f64,
}

/// Sorts the lot of a job.
///
/// # Errors
/// When the pellets or flakes cannot be.
pub(crate) fn parts(job: &Job, fed: &Fed) -> Result<Parts, DecideError> {
    let lone = |pellets: Pellets| {
        let wet = 1.0 + pellets.fed_water();
        Parts {
            lead: (job.resin.name.clone(), pellets),
            beside: Vec::new(),
            undried: Vec::new(),
            drawn: wet,
            wet,
        }
    };
    let Some(first) = leading(job) else {
        return Ok(lone(alone(job, fed)?));
    };
    // Dry masses per kg that the screw draws.
    let mut all = Vec::with_capacity(job.lot.len());
    for component in &job.lot {
        let pellets = of_component(job, fed, component)?;
        let water = pellets.fed_water();
        all.push((component, component.share.si() / (1.0 + water), pellets));
    }
    let dried = |(component, dry, _): &&(&Component, f64, Pellets)| {
        component.entry.is_dried().then_some(*dry)
    };
    let through: f64 = all.iter().filter_map(|one| dried(&one)).sum();
    let weighed: f64 = job
        .lot
        .iter()
        .filter(|component| component.entry.is_dried())
        .map(|component| component.share.si())
        .sum();
    let (mut lead, mut beside, mut undried) = (None, Vec::new(), Vec::new());
    for (index, (component, dry, pellets)) in all.into_iter().enumerate() {
        let share = dry / through;
        let name = component.name.clone();
        if index == first {
            lead = Some((name, pellets));
        } else if component.entry.is_dried() {
            beside.push(Companion {
                name,
                share,
                pellets,
            });
        } else {
            undried.push(Undried {
                name,
                resin: pellets.resin.name.clone(),
                per_dried: share,
                water: pellets.fed_water(),
                spread: component.spread.map_or(UNDRIED_SPREAD, Quantity::si),
            });
        }
    }
    let Some(lead) = lead else {
        return Ok(lone(alone(job, fed)?));
    };
    // The shares are of the whole even where they were rounded.
    let whole: f64 = job.lot.iter().map(|component| component.share.si()).sum();
    Ok(Parts {
        lead,
        beside,
        undried,
        drawn: whole / through,
        wet: weighed / through,
    })
}

/// Which component leads: dried, of the job's resin, and of pellets rather than flakes.
fn leading(job: &Job) -> Option<usize> {
    let leads =
        |component: &Component| component.entry.is_dried() && component.resin.key == job.resin.key;
    let whole = |component: &Component| leads(component) && component.pieces == Pieces::Pellets;
    job.lot
        .iter()
        .position(whole)
        .or_else(|| job.lot.iter().position(leads))
}

/// The resin of a job in the pieces that lead its lot.
pub fn lead(job: &Job) -> Resin {
    let mut resin = job.resin.clone();
    if let Some(Component {
        pieces: Pieces::Flakes { thickness, across },
        ..
    }) = leading(job).and_then(|index| job.lot.get(index))
    {
        let stated = |length: Length| Evidence::stated(length, show(length, Units::Metric));
        resin.pellet.shape = Evidence {
            value: PelletShape::Flake,
            written: "flake".to_owned(),
            ..resin.pellet.shape
        };
        resin.pellet.diameter = stated(*across);
        resin.pellet.length = Some(stated(*thickness));
    }
    resin
}

/// The pellets of a job that speaks of its resin alone.
fn alone(job: &Job, fed: &Fed) -> Result<Pellets, DecideError> {
    let outline = outline_of(&job.resin)?;
    pellets(
        job,
        &job.resin,
        outline,
        fed.moisture,
        fed.free_water,
        job.arrival.spread.map_or(0.0, Quantity::si),
    )
}

fn of_component(job: &Job, fed: &Fed, component: &Component) -> Result<Pellets, DecideError> {
    let resin = &component.resin;
    let outline = match component.pieces {
        Pieces::Pellets => outline_of(resin)?,
        Pieces::Flakes { thickness, across } => {
            Outline::from_sizes(PelletShape::Flake, across, Some(thickness))?
        }
    };
    let virgin = resin.key == job.resin.key && component.pieces == Pieces::Pellets;
    let moisture = match component.moisture {
        Some(stated) => stated.dry_basis().si(),
        None if virgin => fed.moisture,
        None => resin.received.opened.value.si(),
    };
    let spread = match component.spread {
        Some(stated) => stated.si(),
        None if virgin => job.arrival.spread.map_or(0.0, Quantity::si),
        None => 0.0,
    };
    let stated: f64 = component.surface_water.si();
    // What condenses on a cold bag sits on its virgin pellets.
    let free = if virgin && stated == 0.0 {
        fed.free_water
    } else {
        stated
    };
    let mut found = pellets(job, resin, outline, moisture, free, spread)?;
    let flakes = component.pieces != Pieces::Pellets;
    if let Some(stated) = component.bulk_density {
        found.bulk_density = stated.si();
    } else if flakes {
        found.bulk_density *= FLAKE_BULK;
    }
    if job.model.size_spread {
        if let Some(stated) = component.size_spread {
            found.size_spread = stated.si();
        } else if flakes {
            found.size_spread = FLAKE_SPREAD;
        }
    }
    Ok(found)
}

/// Least limit of what leaves a hopper, kg/kg dry: nothing dries below it.
const LEAST_LIMIT: f64 = 1e-9;
/// Share of the limit of the blend below which what joins undried counts as leaving nothing of it: no
/// hopper is run for the twentieth part of a limit (common practice, no source).
const NOTHING: f64 = 0.05;

/// Moisture (kg/kg dry) that what leaves the hopper may have, so that the blend at the screw has
/// `limit`: what joins undried takes its part of the limit first.
pub(crate) fn before_the_throat(limit: f64, undried: &[Undried]) -> f64 {
    let allowed: f64 = undried
        .iter()
        .map(|part| part.per_dried * (limit - part.water))
        .sum();
    (limit + allowed).max(LEAST_LIMIT)
}

/// Whether that leaves nothing of the limit to what is dried.
pub(crate) fn leaves_nothing(limit: f64, undried: &[Undried]) -> bool {
    before_the_throat(limit, undried) < NOTHING * limit
}

impl Case {
    /// Moisture of the blend at the screw for a moisture leaving the hopper, kg/kg dry.
    pub fn at_screw(&self, leaving: f64) -> f64 {
        let (mut water, mut mass) = (leaving, 1.0);
        for part in &self.undried {
            water += part.per_dried * part.water;
            mass += part.per_dried;
        }
        water / mass
    }

    /// Whether what joins undried leaves nothing of the limit to what is dried.
    pub(crate) fn nothing_left(&self) -> bool {
        leaves_nothing(self.screw_limit, &self.undried)
    }

    /// Each kind in the hopper with its share of the dry resin, the lead first.
    pub fn kinds(&self) -> impl Iterator<Item = (f64, &Pellets)> {
        let others: f64 = self.beside.iter().map(|kind| kind.share).sum();
        let beside = self.beside.iter().map(|kind| (kind.share, &kind.pellets));
        std::iter::once((1.0 - others, &self.lead)).chain(beside)
    }

    /// The same case with each kind changed.
    pub(crate) fn with_each(&self, change: impl Fn(&mut Pellets)) -> Self {
        let mut now = self.clone();
        change(&mut now.lead);
        for kind in &mut now.beside {
            change(&mut kind.pellets);
        }
        now
    }

    /// The same case with the diffusivity of each kind scaled.
    pub(crate) fn diffusing(&self, factor: f64) -> Self {
        self.with_each(|pellets| pellets.diffusivity = pellets.diffusivity.scaled(factor))
    }

    /// The same case with pieces of one size each.
    pub(crate) fn of_one_size(&self) -> Self {
        self.with_each(|pellets| pellets.size_spread = 0.0)
    }

    /// The same case with each kind arriving wetter by so many standard deviations of its lots.
    ///
    /// # Errors
    /// From a crystalliser ahead of the hopper.
    pub(crate) fn arriving_wetter(&self, deviations: f64) -> Result<Self, DecideError> {
        self.changed(|now| {
            *now = now.with_each(|pellets| {
                pellets.feed_moisture *= libm::exp(deviations * pellets.arrival_spread);
            });
        })
    }

    /// The pellets of this case alone: hot from the start, in air without end, of one size, on one
    /// stream, with no wall about them.
    pub(crate) fn pellet_alone(&self) -> Self {
        Self {
            feed_temperature: self.air_temperature,
            wall_coefficient: 0.0,
            air_flow: 50.0 * self.air_flow,
            residence_spread: 0.0,
            film: (Some(100.0), Some(0.1)),
            ..self.of_one_size()
        }
    }

    /// The same case with the moisture of each kind multiplied.
    pub(crate) fn wetter_by(&self, factor: f64) -> Self {
        self.with_each(|pellets| pellets.feed_moisture *= factor)
    }

    /// Water of what is fed, mean over the kinds, kg/kg dry.
    pub(crate) fn fed_water(&self) -> f64 {
        self.kinds()
            .map(|(share, pellets)| share * pellets.fed_water())
            .sum()
    }
}

/// What the answer says of each component whose dried part reaches the screw with `mean` kg/kg dry;
/// nothing for a resin alone. What the mean pellet takes up on its way is counted for each kind; `screw`
/// is the range of the blend, kg/kg dry.
pub(crate) fn shown(
    job: &Job,
    case: &Case,
    out: &Outlet,
    mean: f64,
    (screw, draws): ((f64, f64), &[Draw]),
) -> Option<LotAnswer> {
    if job.lot.is_empty() {
        return None;
    }
    let whole = 1.0 + case.undried.iter().map(|part| part.per_dried).sum::<f64>();
    let part = |component: &Component| -> Option<LotPart> {
        let (share, arriving, leaving) = standing(case, out, &component.name)?;
        let dried = component.entry.is_dried();
        let leaving = if dried {
            leaving + mean - out.mean
        } else {
            leaving
        };
        Some(LotPart {
            name: component.name.clone(),
            resin: component.resin.name.clone(),
            share_percent: component.share.percent(),
            entry: component.entry,
            dried,
            arriving_ppm_wet: ppm_wet(arriving),
            leaving_ppm_wet: ppm_wet(leaving),
            brings_ppm: share * leaving / whole * 1e6,
        })
    };
    let parts: Vec<LotPart> = job.lot.iter().filter_map(part).collect();
    let at_screw = case.at_screw(mean);
    let heaviest = |undried: bool| {
        let of = parts.iter().filter(|part| !undried || !part.dried);
        of.max_by(|a, b| a.brings_ppm.total_cmp(&b.brings_ppm))
            .map(|part| part.name.clone())
    };
    // What is dosed undried decides where the rest alone would do.
    let wet = at_screw > case.screw_limit * (1.0 + 1e-6);
    let decides = if !wet && !case.nothing_left() {
        None
    } else if mean <= case.screw_limit && !case.undried.is_empty() {
        heaviest(true)
    } else {
        heaviest(false)
    };
    let kept = case.screw_limit / (1.0 + job.target.margin.si());
    let share = |limit: f64| {
        let name = decides.as_ref()?;
        largest_share(case, mean, limit, name)
    };
    // The high side of the doubt: what is undried, and what leaves.
    let wetter = wetter_undried(case);
    let leaving = mean + high_side(draws, out.mean) - out.mean;
    let surely_share = decides.as_ref().and_then(|name| {
        let sure = largest_share(&wetter, leaving, case.screw_limit, name)?;
        Some(share(kept)?.min(sure))
    });
    let dry_below = decides.as_ref().and_then(|name| {
        let part = case.undried.iter().find(|part| part.name == *name)?;
        let sure = dry_below(&wetter, leaving, case.screw_limit, name)?;
        let sure = sure / libm::exp(DOSED * part.spread);
        Some(dry_below(case, mean, kept, name)?.min(sure))
    });
    Some(LotAnswer {
        leads: case.lead_name.clone(),
        largest_share_percent: share(case.screw_limit),
        share_with_margin_percent: surely_share,
        dry_below_ppm_wet: dry_below.map(ppm_wet),
        hopper_limit_ppm_wet: ppm_wet(before_the_throat(case.screw_limit, &case.undried)),
        screw_low_ppm_wet: ppm_wet(screw.0),
        screw_high_ppm_wet: ppm_wet(screw.1),
        nothing_left: case.nothing_left(),
        screw_ppm_wet: ppm_wet(at_screw),
        screw_limit_ppm_wet: ppm_wet(case.screw_limit),
        decides,
        parts,
    })
}

/// Standard deviations of the high side that a dose is held against: the normal quantile of nine in
/// ten, so that a dose that was rounded and set still meets the limit in [`crate::stand::SURE`] of
/// the draws.
const DOSED: f64 = 1.2816;

/// The case whose undried components are as wet as nine in ten bags.
fn wetter_undried(case: &Case) -> Case {
    let mut now = case.clone();
    for part in &mut now.undried {
        part.water *= libm::exp(DOSED * part.spread);
    }
    now
}

/// Moisture leaving the hopper (kg/kg dry) below which nine in ten of the draws lie.
fn high_side(draws: &[Draw], mean: f64) -> f64 {
    let leaving: Vec<f64> = draws.iter().map(|draw| draw.leaving).collect();
    Interval::of(&leaving, 0.8).map_or(mean, |found| found.high.max(mean))
}

/// Share, %, up to which a component dosed undried may be dosed for the blend to meet a limit, the
/// rest being as dry as it is; none for a component that is dried.
fn largest_share(case: &Case, mean: f64, limit: f64, name: &str) -> Option<f64> {
    let part = case.undried.iter().find(|part| part.name == name)?;
    let spare = |water: f64, per_dried: f64| per_dried * (limit - water);
    let others = case.undried.iter().filter(|other| other.name != name);
    let room = spare(mean, 1.0) + others.map(|o| spare(o.water, o.per_dried)).sum::<f64>();
    let most = (room / (part.water - limit)).max(0.0);
    // What the screw draws then, as weighed.
    let rest = case.drawn - part.per_dried * (1.0 + part.water);
    let own = most * (1.0 + part.water);
    Some(100.0 * own / (rest + own))
}

/// Water (kg/kg dry) that a component dosed undried may have for the blend to meet a limit at its
/// present share; none for a component that is dried, or where no dryness of it would do.
fn dry_below(case: &Case, mean: f64, limit: f64, name: &str) -> Option<f64> {
    let part = case.undried.iter().find(|part| part.name == name)?;
    let others = case.undried.iter().filter(|other| other.name != name);
    let brought: f64 = others
        .clone()
        .map(|other| other.per_dried * other.water)
        .sum();
    let whole = 1.0 + case.undried.iter().map(|one| one.per_dried).sum::<f64>();
    let room = (limit * whole - mean - brought) / part.per_dried;
    (room > 0.0).then_some(room)
}

/// Dry resin of a component per dry resin through the hopper, and its water as it comes and as it
/// reaches the throat.
fn standing(case: &Case, out: &Outlet, name: &str) -> Option<(f64, f64, f64)> {
    let names = std::iter::once(&case.lead_name).chain(case.beside.iter().map(|kind| &kind.name));
    for ((named, (share, pellets)), leaving) in names.zip(case.kinds()).zip(&out.kinds) {
        if named == name {
            return Some((share, pellets.fed_water(), *leaving));
        }
    }
    let part = case.undried.iter().find(|part| part.name == name)?;
    Some((part.per_dried, part.water, part.water))
}
