//! What a history must be, and every mistake in one that is not.

use super::schedule::Stretch;
use super::{AirState, History, HistorySpec, Segment, Surround};
use crate::contact::{Contact, Exchange};
use crate::equivalent::EQUIVALENT_HOLDS;
use crate::film::{BedFilm, POROSITY_HOLDS, Skin, VELOCITY_HOLDS};
use crate::interior::Interior;
use crate::{Outline, PelletError};
use air::{AirError, HumidAir, PRESSURE_HOLDS, TEMPERATURE_HOLDS};
use quantity::{Fault, FaultKind, Faults, OutOfRange, Place, Quantity, Range, digits};

/// Sorbed moisture at the beginning, dry basis.
pub const MOISTURE_HOLDS: Range = Range::new("moisture", 0.0, 0.3, "kg/kg dry");
/// Water on the surface at the beginning, per dry resin.
pub const FREE_WATER_HOLDS: Range = Range::new("surface water", 0.0, 0.3, "kg/kg dry");
/// Length of a segment: a tenth of a second to twenty years.
pub const TIME_HOLDS: Range = Range::new("duration", 0.1, 6.4e8, "s");
/// Modes, where the diffusivity does not depend on moisture.
pub const MODES_HOLDS: Range = Range::new("number of modes", 4.0, 1000.0, "");
/// Nodes in each coordinate, where it does.
pub const NODES_HOLDS: Range = Range::new("number of nodes", 4.0, 40.0, "");
/// Relative error of the water in one step.
pub const PRECISION_HOLDS: Range = Range::new("precision", 1e-9, 1e-2, "");

/// Modes of a pellet with constant diffusivity.
const MODES: usize = 120;
/// Nodes along the depth of a pellet.
const LINE_NODES: usize = 18;
/// Nodes in each coordinate of a section, where the edge leaves 1e-3 early and 2e-4 late.
const SECTION_NODES: usize = 7;
/// Precision of one step with modes and with nodes, whose own steps in time are less exact; the mean of
/// a whole curve is then within 1e-4.
const MODAL_PRECISION: f64 = 5e-6;
const NODAL_PRECISION: f64 = 2e-6;

/// The history, or every mistake in it.
pub(super) fn history(spec: &HistorySpec) -> Result<History, Faults> {
    let mut faults = Faults::none();
    start(spec, &mut faults);
    let skin = pellet(spec, &mut faults);
    ranged(PRESSURE_HOLDS, spec.pressure.si(), "pressure", &mut faults);
    let fineness = spec.fineness.unwrap_or_else(|| usual_fineness(spec));
    let nodal = spec.pellet.diffusivity.depends_on_moisture();
    let finenesses = if nodal { NODES_HOLDS } else { MODES_HOLDS };
    ranged(finenesses, fineness as f64, "fineness", &mut faults);
    let precision = spec.precision.unwrap_or(if nodal {
        NODAL_PRECISION
    } else {
        MODAL_PRECISION
    });
    ranged(PRECISION_HOLDS, precision, "precision", &mut faults);
    if spec.segments.is_empty() {
        faults.push(Fault::new(
            FaultKind::MissingField,
            Place::of("", "segments"),
            "",
            "a history without air has nothing to follow",
            "give at least one segment: how long, in which air",
        ));
    }
    let mut stretches = Vec::new();
    for (index, segment) in spec.segments.iter().enumerate() {
        stretches.extend(stretch(spec, segment, index, &mut faults));
    }
    let interior = if faults.is_empty() {
        let pellet = &spec.pellet;
        let (isotherm, law) = (&pellet.isotherm, &pellet.diffusivity);
        Interior::of(&pellet.outline, isotherm, law, fineness)
            .map_err(|error| faults.push(of_pellet(&error, "pellet")))
            .ok()
    } else {
        None
    };
    let (Some(interior), Some(skin)) = (interior, skin) else {
        faults.0.sort_by(|a, b| a.place.cmp(&b.place));
        return Err(faults);
    };
    faults.or(History {
        contact: Contact {
            interior,
            isotherm: spec.pellet.isotherm,
            diffusivity: spec.pellet.diffusivity,
            calorics: spec.pellet.calorics(),
            exchange: Exchange {
                heat: 0.0,
                vapour: 0.0,
            },
            pressure: spec.pressure.si(),
        },
        skin,
        precision,
        stretches,
        spec: spec.clone(),
    })
}

/// Fineness that meets the promised precision for this pellet.
pub(super) fn usual_fineness(spec: &HistorySpec) -> usize {
    let pellet = &spec.pellet;
    if !pellet.diffusivity.depends_on_moisture() {
        return MODES;
    }
    match pellet.outline {
        Outline::Cylinder { diameter, length }
            if !(length / diameter >= EQUIVALENT_HOLDS.0
                && length / diameter <= EQUIVALENT_HOLDS.1) =>
        {
            SECTION_NODES
        }
        _ => LINE_NODES,
    }
}

fn start(spec: &HistorySpec, faults: &mut Faults) {
    let start = &spec.start;
    let celsius = start.temperature.celsius();
    ranged(TEMPERATURE_HOLDS, celsius, "start.temperature", faults);
    let moisture = start.moisture.si();
    ranged(MOISTURE_HOLDS, moisture, "start.moisture", faults);
    ranged(
        FREE_WATER_HOLDS,
        start.free_water.si(),
        "start.free_water",
        faults,
    );
    if moisture > 0.0 && !spec.pellet.isotherm.takes_up_water() {
        faults.push(Fault::new(
            FaultKind::Inconsistent,
            Place::of("", "start.moisture"),
            format!("{} ppm", digits(moisture * 1e6, 3)),
            "this resin takes up no water inside",
            "state it as start.free_water: it sits on the surface",
        ));
    }
}

fn pellet(spec: &HistorySpec, faults: &mut Faults) -> Option<Skin> {
    /// From a metal to water, J/(kg K).
    const CAPACITIES: Range = Range::new("heat capacity", 100.0, 6000.0, "J/(kg K)");
    let pellet = &spec.pellet;
    let capacity = pellet.heat_capacity.si();
    ranged(CAPACITIES, capacity, "pellet.heat_capacity", faults);
    let slope = pellet.heat_capacity_slope.si();
    if !slope.is_finite() {
        ranged(CAPACITIES, slope, "pellet.heat_capacity_slope", faults);
    }
    Skin::of(&pellet.outline, pellet.density, pellet.conductivity)
        .map_err(|error| faults.push(of_pellet(&error, "pellet")))
        .ok()
}

fn stretch(
    spec: &HistorySpec,
    segment: &Segment,
    index: usize,
    faults: &mut Faults,
) -> Option<Stretch> {
    let path = |field: &str| format!("segments[{index}].{field}");
    let before = faults.len();
    ranged(TIME_HOLDS, segment.duration.si(), &path("duration"), faults);
    match segment.surround {
        Surround::Stream(v) => ranged(VELOCITY_HOLDS, v.si(), &path("surround"), faults),
        Surround::Bed(v, law) => {
            ranged(VELOCITY_HOLDS, v.si(), &path("surround"), faults);
            if let BedFilm::Gunn(porosity) = law {
                ranged(POROSITY_HOLDS, porosity.si(), &path("surround"), faults);
            }
        }
        Surround::Stated(heat, vapour) => {
            /// From none to that of boiling, W/(m2 K).
            const HEATS: Range = Range::new("heat transfer coefficient", 0.0, 1e6, "W/(m2 K)");
            /// From none to the speed of molecules, m/s.
            const VAPOURS: Range = Range::new("mass transfer coefficient", 0.0, 1e3, "m/s");
            ranged(HEATS, heat.si(), &path("surround"), faults);
            ranged(VAPOURS, vapour.si(), &path("surround"), faults);
        }
    }
    if let Some(cover) = segment.cover {
        /// Conductances per kg of dry resin; the limits only keep out what is not a number.
        const COVERS: Range = Range::new("conductance of the cover", 0.0, 1e9, "per kg");
        ranged(COVERS, cover.heat, &path("cover"), faults);
        ranged(COVERS, cover.vapour, &path("cover"), faults);
    }
    if !PRESSURE_HOLDS.contains(spec.pressure.si()) {
        return None;
    }
    let mut ends = vec![("from", &segment.from)];
    if segment.to != segment.from {
        ends.push(("to", &segment.to));
    }
    for (end, state) in ends {
        if let Err(error) = air_of(state, spec) {
            faults.push(of_air(&error, path(end)));
        }
    }
    if faults.len() > before {
        return None;
    }
    Stretch::of(segment, spec.pressure)
        .map_err(|error| {
            let mut fault = of_air(&error, path("to"));
            fault.cause = format!("between both ends {}", fault.cause);
            "state both ends in the same measure: their dew points, or relative humidities"
                .clone_into(&mut fault.mend);
            faults.push(fault);
        })
        .ok()
}

fn air_of(state: &AirState, spec: &HistorySpec) -> Result<HumidAir, AirError> {
    HumidAir::new(state.temperature, spec.pressure, state.humidity)
}

/// Adds a fault when a number leaves its range.
fn ranged(range: Range, value: f64, path: &str, faults: &mut Faults) {
    if let Err(out) = range.check(value) {
        faults.push(of_range(&out, path));
    }
}

fn of_range(out: &OutOfRange, path: &str) -> Fault {
    let OutOfRange { value, range } = out;
    let unit = range.unit;
    Fault::new(
        FaultKind::OutOfRange,
        Place::of("", path),
        format!("{} {unit}", digits(*value, 6))
            .trim_end()
            .to_owned(),
        out.to_string(),
        format!(
            "give a {} from {} to {} {unit}",
            range.name,
            digits(range.low, 6),
            digits(range.high, 6)
        )
        .trim_end()
        .to_owned(),
    )
}

fn of_pellet(error: &PelletError, path: &str) -> Fault {
    match error {
        PelletError::OutOfRange(out) => of_range(out, path),
        other => Fault::new(
            FaultKind::OutOfRange,
            Place::of("", path),
            "",
            other.to_string(),
            "give a pellet that can be",
        ),
    }
}

fn of_air(error: &AirError, path: String) -> Fault {
    if let AirError::OutOfRange(out) = error {
        return of_range(out, &path);
    }
    Fault::new(
        FaultKind::OutOfRange,
        Place::of("", path),
        "",
        error.to_string(),
        "give a humidity that air of this temperature and pressure can hold",
    )
}
