//! The wheel by angle: what leaves each sector, and the loading through the depth.

use super::spec::{Duty, Wheel};
use super::steady::WheelSteady;
use crate::condensation_temperature;
use figure::{Axis, Figure, Grade, Grid, Panel, Place, Point, Scale, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;

impl Wheel {
    /// Angle against outlet temperature and dew point, and loading over depth and angle.
    pub fn by_angle(&self, steady: &WheelSteady) -> Figure {
        let mut figure = Figure::stacked(
            self.conclusion(steady),
            Axis::linear("angle", "°").ranging(0.0, 360.0),
            vec![
                self.outlets_by_angle(
                    steady,
                    "outlet temperature",
                    Tone::Heat,
                    |temperature, _| temperature - ZERO_CELSIUS,
                ),
                self.outlets_by_angle(steady, "outlet dew point", Tone::Water, |_, humidity| {
                    condensation_temperature(humidity, self.spec.pressure) - ZERO_CELSIUS
                }),
                self.loadings(steady),
            ],
        );
        let borders = self.borders();
        let sectors = self.spec.sectors.iter().zip(borders.windows(2));
        figure.places = sectors
            .map(|(sector, ends)| Place {
                name: word(sector.duty).to_owned(),
                from: 360.0 * ends[0],
                to: 360.0 * ends[1],
            })
            .collect();
        figure
    }

    fn conclusion(&self, steady: &WheelSteady) -> String {
        let Some(process) = self.sector(Duty::Process) else {
            return "No sector dries".to_owned();
        };
        let out = &steady.outlets[process];
        format!(
            "The air leaves at a dew point of {:.0} °C; its wettest, at {:.0}°, has {:.0} °C",
            out.dew_point - ZERO_CELSIUS,
            out.wettest_angle,
            out.wettest_dew_point - ZERO_CELSIUS
        )
    }

    /// One line a sector.
    fn outlets_by_angle(
        &self,
        steady: &WheelSteady,
        name: &str,
        tone: Tone,
        value: impl Fn(f64, f64) -> f64,
    ) -> Panel {
        let series = self.spec.sectors.iter().enumerate().map(|(index, sector)| {
            let points = steady.by_angle.iter().filter(|at| at.sector == index);
            let line = points.map(|at| Point::new(at.angle, value(at.temperature, at.humidity)));
            Series::Line {
                name: word(sector.duty).to_owned(),
                points: line.collect(),
                grade: Grade::Computed,
                tone,
                weight: if sector.duty == Duty::Process {
                    Weight::Leading
                } else {
                    Weight::Plain
                },
            }
        });
        // A sector without angle has nothing to show.
        let series = series.filter(|line| !line.places().is_empty());
        Panel::new(Axis::linear(name, "°C"), series.collect())
    }

    /// Loading of each slice in each slot.
    fn loadings(&self, steady: &WheelSteady) -> Panel {
        let (slots, slices) = (self.spec.mesh.slots, self.spec.mesh.slices);
        let along = (0..=slots).map(|k| 360.0 * k as f64 / slots as f64);
        let depth = 1e3 * self.spec.depth / slices as f64;
        let across = (0..slices).map(|k| depth * (k as f64 + 0.5));
        let rows: Vec<Vec<(f64, f64)>> = (0..=slots)
            .map(|slot| steady.state.slices(slot % slots))
            .collect();
        let values = (0..slices)
            .map(|k| rows.iter().map(|row| 100.0 * row[k].0).collect())
            .collect();
        Panel::new(
            Axis::linear("depth from the process inlet", "mm"),
            vec![Series::Field {
                name: "loading".to_owned(),
                unit: "% of dry sorbent".to_owned(),
                grid: Grid {
                    along: along.collect(),
                    across: across.collect(),
                    values,
                },
                scale: Scale::Linear,
                tone: Tone::Water,
            }],
        )
    }
}

/// The sector in a word.
fn word(duty: Duty) -> &'static str {
    match duty {
        Duty::Process => "process",
        Duty::Regeneration => "regeneration",
        Duty::Cooling => "cooling",
    }
}
