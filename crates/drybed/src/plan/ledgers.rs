//! Every coefficient that was used, and the books of water and energy.

use super::PlanAnswer;
use crate::pictures;
use crate::speech::{Measure, Speech};
use decide::answer::Coefficients;
use document::{Block, Cell, Column, Grade, Row, Section, Table};
use quantity::{Entry, Ledger, digits};

/// Every resolved coefficient.
pub(super) fn coefficients(answer: &PlanAnswer, speech: Speech) -> Section {
    let c = &answer.plan.coefficients;
    let row = |what: &str, value: f64, unit: &str| {
        Row::new(vec![
            Cell::text(what),
            Cell::precise(value, 4, Grade::Computed),
            Cell::text(unit),
        ])
    };
    let measured = measured(c);
    let rows = measured.iter().map(|(what, measure, value)| {
        let number = speech.number(*measure, *value);
        row(what, number, speech.unit(*measure))
    });
    let plain = plain(c);
    let rows = rows.chain(
        plain
            .iter()
            .map(|(what, value, unit)| row(what, *value, unit)),
    );
    Section {
        title: "Every coefficient".into(),
        summary: format!(
            "{} heat transfer units, air to resin {} in heat capacity.",
            digits(c.heat_transfer_units, 2),
            digits(c.capacity_ratio, 2)
        ),
        blocks: vec![Block::table(Table {
            caption: "Coefficients as resolved for this plan".into(),
            columns: ["coefficient", "value", "unit"].map(Column::new).to_vec(),
            rows: rows.collect(),
        })],
    }
}

/// Those a person reads in one or the other system of units.
fn measured(c: &Coefficients) -> [(&'static str, Measure, f64); 17] {
    use Measure as M;
    [
        (
            "heat transfer, film and pellet",
            M::HeatTransfer,
            c.heat_transfer_w_m2_k,
        ),
        (
            "mass transfer in the film",
            M::MassTransfer,
            c.mass_transfer_m_s,
        ),
        (
            "diffusivity at the inlet, dry",
            M::Diffusivity,
            c.diffusivity_at_inlet_m2_s,
        ),
        ("heat of sorption", M::Heat, c.sorption_heat_kj_kg),
        ("Sauter diameter", M::Width, c.sauter_diameter_mm),
        ("wall coefficient", M::HeatTransfer, c.wall_w_m2_k),
        ("wall above the inlet", M::Area, c.wall_m2),
        ("pressure in the hopper", M::Pressure, c.pressure_kpa),
        ("dry resin drawn", M::Rate, c.dry_rate_kg_h),
        (
            "heat capacity of dry resin at 0 °C",
            M::HeatCapacity,
            c.resin_heat_j_kg_k,
        ),
        (
            "its rise with temperature",
            M::HeatCapacitySlope,
            c.resin_heat_slope_j_kg_k2,
        ),
        (
            "heat capacity of dry air",
            M::HeatCapacity,
            c.air_heat_j_kg_k,
        ),
        (
            "heat capacity of vapour",
            M::HeatCapacity,
            c.vapour_heat_j_kg_k,
        ),
        (
            "heat capacity of water",
            M::HeatCapacity,
            c.water_heat_j_kg_k,
        ),
        (
            "heat of evaporation at 0 °C",
            M::Heat,
            1e-3 * c.evaporation_j_kg,
        ),
        (
            "air velocity in the empty cylinder",
            M::Velocity,
            c.flow.velocity,
        ),
        ("pressure drop of the bed", M::Drop, c.flow.pressure_drop),
    ]
}

/// Those without a unit, or whose unit is that of the solver.
fn plain(c: &Coefficients) -> [(&'static str, f64, &'static str); 10] {
    [
        (
            "pellet surface in a volume of bed",
            c.interfacial_area_m2_m3,
            "m²/m³",
        ),
        ("pellet surface per dry resin", c.surface_m2_kg, "m²/kg"),
        (
            "moisture at activity 1 and inlet temperature",
            c.capacity_at_inlet_kg_kg,
            "kg/kg dry",
        ),
        ("heat transfer units of the bed", c.heat_transfer_units, ""),
        ("heat capacity of air over resin", c.capacity_ratio, ""),
        (
            "slowest decay of the pellet over diffusivity",
            c.slowest_decay_1_m2,
            "1/m²",
        ),
        (
            "velocity over that which lifts the bed",
            c.flow.fluidisation,
            "",
        ),
        ("share of the bed that is void", c.flow.voidage, ""),
        ("parcels in the bed", c.parcels as f64, ""),
        ("modes or nodes in a pellet", c.fineness as f64, ""),
    ]
}

/// The books.
pub(super) fn ledgers(answer: &PlanAnswer, speech: Speech) -> Section {
    let plan = &answer.plan;
    let worst = [
        plan.water_imbalance,
        plan.energy_imbalance,
        plan.transient.water_imbalance,
        plan.transient.energy_imbalance,
    ]
    .into_iter()
    .fold(0.0_f64, |most, value| most.max(value.abs()));
    let mut blocks: Vec<Block> = [&plan.transient.water, &plan.transient.energy]
        .into_iter()
        .filter(|ledger| !(ledger.entered.is_empty() && ledger.left.is_empty()))
        .flat_map(|ledger| {
            let picture = pictures::books::over_time(ledger, speech).map(Block::balance);
            let caption = format!("The {} from air on to the end of the start", ledger.what);
            let table = ledger_table(ledger, caption);
            picture.into_iter().chain([Block::table(table)])
        })
        .collect();
    blocks.push(Block::text(format!(
        "Not accounted for, relative to what entered: at steady state {} of the water and {} of the \
         energy, over the start {} and {}.",
        small(plan.water_imbalance),
        small(plan.energy_imbalance),
        small(plan.transient.water_imbalance),
        small(plan.transient.energy_imbalance)
    )));
    Section {
        title: "The books of water and energy".into(),
        summary: format!("They close to {} of what entered.", small(worst)),
        blocks,
    }
}

/// The entries of a ledger.
pub(crate) fn ledger_table(ledger: &Ledger, caption: impl Into<String>) -> Table {
    let (unit, factor) = if ledger.unit == "J" {
        ("kWh", 1.0 / 3.6e6)
    } else {
        (ledger.unit.as_str(), 1.0)
    };
    let side = |side: &'static str, entries: &[Entry]| -> Vec<Row> {
        entries
            .iter()
            .map(|entry| {
                Row::new(vec![
                    Cell::text(&entry.name),
                    Cell::text(side),
                    Cell::precise(entry.amount * factor, 5, Grade::Computed),
                ])
            })
            .collect()
    };
    let mut rows = side("went in", &ledger.entered);
    rows.extend(side("came out", &ledger.left));
    rows.extend(side("stayed", &ledger.stayed));
    Table {
        caption: caption.into(),
        columns: vec![
            Column::new("what"),
            Column::new("side"),
            Column::with_unit("amount", unit),
        ],
        rows,
    }
}

/// How small a difference is.
pub(crate) fn small(value: f64) -> String {
    if value == 0.0 {
        "nothing".to_owned()
    } else {
        format!("{:.0e}", value.abs())
    }
}
