//! The answer about air as a document.

use super::{AirAnswer, AirState};
use crate::speech::{Measure, Speech};
use document::{Cell, Column, Document, Grade, Note, Row, Table};
use quantity::{AbsolutePressure, Show, StatedPressure, Units, digits, show_to};

impl AirAnswer {
    /// The answer as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let mut document = Document::new(self.question_words(speech), self.sentence(speech), {
            self.table(speech)
        });
        document.notes = notes(self);
        document
    }

    fn question_words(&self, speech: Speech) -> String {
        let asked = &self.question;
        let said = asked.humidity.show(speech.0, 4);
        let at = pressure(self.state.pressure_pa, speech);
        let then = asked.expand_to.map_or(String::new(), |_| {
            let to = self.expanded.map_or(0.0, |state| state.pressure_pa);
            format!(", then let to {}", pressure(to, speech))
        });
        let stated = match asked.pressure {
            StatedPressure::Gauge(gauge) => format!(" ({})", show_to(gauge, speech.0, 4)),
            _ => String::new(),
        };
        format!(
            "Air at {} and {at}{stated}, {said}{then}: what is in it?",
            show_to(asked.temperature, speech.0, 4)
        )
    }

    fn sentence(&self, speech: Speech) -> String {
        let state = &self.state;
        let mut sentence = format!(
            "It carries {} {} of water for each {} of dry air, {} ppm by volume: {}.",
            digits(
                speech.number(Measure::Humidity, state.humidity_ratio_g_kg),
                3
            ),
            if speech.0 == Units::Metric { "g" } else { "gr" },
            if speech.0 == Units::Metric {
                "kg"
            } else {
                "lb"
            },
            digits(state.vapour_ppm_volume, 3),
            mirror(state, speech),
        );
        if let Some(after) = &self.expanded {
            sentence.pop();
            let to = pressure(after.pressure_pa, speech);
            sentence = format!("{sentence}; at {to} {}.", mirror(after, speech));
        }
        sentence
    }

    fn table(&self, speech: Speech) -> Table {
        let mut columns = vec![
            Column::new("what"),
            Column::new(if self.expanded.is_some() {
                "as it is"
            } else {
                "value"
            }),
        ];
        let states: Vec<&AirState> = std::iter::once(&self.state).chain(&self.expanded).collect();
        if self.expanded.is_some() {
            columns.push(Column::new("after"));
        }
        columns.push(Column::new("unit"));
        let rows = MEASURES.iter().map(|(what, measure, figures, read)| {
            let unit = match measure {
                Kind::In(measure) => speech.unit(*measure),
                Kind::Plain(unit) => unit,
                Kind::PerDry(metric, us, _) => match speech.0 {
                    Units::Metric => metric,
                    Units::UsCustomary => us,
                },
            };
            let cell = |state: &&AirState| match read(state) {
                None => Cell::Blank,
                Some(value) => {
                    let number = match measure {
                        Kind::In(measure) => speech.number(*measure, value),
                        Kind::Plain(_) => value,
                        Kind::PerDry(_, _, factor) => match speech.0 {
                            Units::Metric => value,
                            Units::UsCustomary => value * factor,
                        },
                    };
                    Cell::precise(number, *figures, Grade::Computed)
                }
            };
            let mut cells = vec![Cell::text(*what)];
            cells.extend(states.iter().map(cell));
            cells.push(Cell::text(unit));
            Row::new(cells)
        });
        Table {
            caption: "The air in every measure".into(),
            columns,
            rows: rows.collect(),
        }
    }
}

/// How a row gets its unit.
enum Kind {
    /// Of a measure.
    In(Measure),
    /// The same in both systems.
    Plain(&'static str),
    /// Metric and US unit, and the factor from the one to the other.
    PerDry(&'static str, &'static str, f64),
}

/// A row: its name, unit, digits, and where the number stands.
type Line = (&'static str, Kind, u8, fn(&AirState) -> Option<f64>);

/// Cubic feet in a pound for each cubic metre in a kilogram (both units exact by definition).
const FT3_PER_LB: f64 = 0.453_592_37 / (0.3048 * 0.3048 * 0.3048);

const MEASURES: &[Line] = &[
    ("temperature", Kind::In(Measure::Temperature), 5, |s| {
        Some(s.temperature_c)
    }),
    ("pressure", Kind::In(Measure::Pressure), 6, |s| {
        Some(1e-3 * s.pressure_pa)
    }),
    (
        "dew point (over liquid)",
        Kind::In(Measure::Temperature),
        4,
        |s| s.dew_point_c,
    ),
    (
        "frost point (over ice)",
        Kind::In(Measure::Temperature),
        4,
        |s| s.frost_point_c,
    ),
    (
        "humidity ratio (per dry air)",
        Kind::In(Measure::Humidity),
        4,
        |s| Some(s.humidity_ratio_g_kg),
    ),
    (
        "relative humidity (over liquid)",
        Kind::Plain("% RH"),
        4,
        |s| Some(s.relative_humidity_percent),
    ),
    ("vapour by volume", Kind::Plain("ppm"), 4, |s| {
        Some(s.vapour_ppm_volume)
    }),
    (
        "vapour in a volume",
        Kind::In(Measure::VapourDensity),
        4,
        |s| Some(s.absolute_humidity_g_m3),
    ),
    (
        "vapour pressure",
        Kind::In(Measure::VapourPressure),
        4,
        |s| Some(s.vapour_pressure_pa),
    ),
    ("enthalpy (per dry air)", Kind::In(Measure::Heat), 4, |s| {
        Some(s.enthalpy_kj_kg_dry)
    }),
    ("density", Kind::In(Measure::Density), 4, |s| {
        Some(s.density_kg_m3)
    }),
    (
        "volume (per dry air)",
        Kind::PerDry("m³/kg", "ft³/lb", FT3_PER_LB),
        4,
        |s| Some(s.specific_volume_m3_kg_dry),
    ),
    ("viscosity", Kind::In(Measure::Viscosity), 3, |s| {
        Some(s.viscosity_upa_s)
    }),
    (
        "thermal conductivity",
        Kind::In(Measure::Conductivity),
        3,
        |s| Some(s.conductivity_w_m_k),
    ),
    (
        "diffusivity of vapour",
        Kind::In(Measure::Diffusivity),
        3,
        |s| Some(s.vapour_diffusivity_m2_s),
    ),
    ("heat capacity", Kind::In(Measure::HeatCapacity), 4, |s| {
        Some(s.heat_capacity_j_kg_k)
    }),
    (
        "heat capacity (per dry air)",
        Kind::In(Measure::HeatCapacity),
        4,
        |s| Some(s.heat_capacity_j_kg_dry_k),
    ),
    ("Prandtl number", Kind::Plain(""), 3, |s| Some(s.prandtl)),
    ("Schmidt number", Kind::Plain(""), 3, |s| Some(s.schmidt)),
];

/// A pressure as people say it.
fn pressure(pascal: f64, speech: Speech) -> String {
    show_to(AbsolutePressure::from_pascal(pascal), speech.0, 4)
}

/// What a cold mirror shows, in words.
fn mirror(state: &AirState, speech: Speech) -> String {
    let point = |c: f64| {
        let number = speech.number(Measure::Temperature, c);
        format!(
            "{} {}",
            digits(number, 3),
            speech.unit(Measure::Temperature)
        )
    };
    match (state.condensation_point_c, state.frost_point_c) {
        (Some(c), Some(_)) => format!("frost forms at {}", point(c)),
        (Some(c), None) => format!("dew forms at {}", point(c)),
        (None, _) => format!("nothing condenses down to {}", point(-80.0)),
    }
}

fn notes(answer: &AirAnswer) -> Vec<Note> {
    let mut notes = vec![
        Note::source(
            "Saturation: over liquid IAPWS SR1-86(1992), supercooled Murphy and Koop (2005), over \
             ice IAPWS R14-08(2011); in air by virial coefficients of IAPWS R6-95(2018), Lemmon \
             et al. (2000), Harvey and Huang (2007), and Hyland and Wexler (1983).",
        ),
        Note::source(
            "Enthalpy counts from dry air at 0 °C (32 °F) and 1 atm, and from liquid water at the \
             triple point.",
        ),
        Note::source(
            "Viscosity and conductivity: Lemmon and Jacobsen (2004), IAPWS R12-08(2008) and \
             R15-11(2011); diffusivity: Marrero and Mason (1972).",
        ),
        Note::doubt(
            "Viscosity is known to 1 %, conductivity to 2 %, diffusivity to some 5 %, all a few per \
             cent worse in very humid air; what an instrument shows is rarely better than 2 K of \
             frost point.",
        ),
    ];
    let cold = answer.state.temperature_c < 0.0;
    if cold {
        notes.push(Note::doubt(
            "Relative humidity counts over liquid water below 0 °C as well, as weather services do.",
        ));
    }
    notes
}
