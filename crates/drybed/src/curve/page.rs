//! The curve as a document.

use super::CurveAnswer;
use super::answer::{CurveInstant, CurveSegment};
use crate::pictures;
use crate::plan::{cautions_of, evidence_table, imprint};
use crate::speech::{Measure, Speech, counted, hours, ppm};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use quantity::{Units, digits};

/// Rows of the table, shared among the stretches.
const ROWS: usize = 8;
/// Share of the whole below which a stretch has a picture of its own.
const SHORT: f64 = 0.15;

impl CurveAnswer {
    /// The curve as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let answer = self.sentence();
        let mut document = Document::new(self.asked(speech), &answer, self.table(speech));
        document.state = self.state();
        document.picture = Some(pictures::curve(self, self.conclusion(), speech));
        document.notes = self.notes();
        document.sections = self.sections(speech);
        document.imprint = imprint();
        document
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, crate::Trouble> {
        crate::json(self)
    }

    fn asked(&self, speech: Speech) -> String {
        let sizes: Vec<String> = self
            .pellet_mm
            .iter()
            .map(|mm| digits(speech.number(Measure::Width, *mm), 3))
            .collect();
        let through: Vec<String> = self
            .question
            .segments
            .iter()
            .map(|segment| {
                format!(
                    "{} at {}",
                    hours(segment.duration.hours()),
                    speech.say(Measure::Temperature, segment.from.temperature.celsius())
                )
            })
            .collect();
        let title = if self.title.trim().is_empty() {
            String::new()
        } else {
            format!("{}: ", self.title.trim())
        };
        format!(
            "{title}a {} pellet of {} {} with {} of water, {}: how wet is it when?",
            self.resin,
            sizes.join(" x "),
            speech.unit(Measure::Width),
            ppm(self.start_ppm_wet),
            through.join(", then ")
        )
    }

    fn sentence(&self) -> String {
        let range = self.end_range_ppm_wet.map_or_else(
            || ppm(self.end_ppm_wet),
            |[low, high]| {
                let write = |v: f64| chart::rounded(v, low, high);
                if self.end_ppm_wet < 0.1 {
                    return ppm(self.end_ppm_wet);
                }
                format!(
                    "{} ppm ({} to {})",
                    write(self.end_ppm_wet),
                    write(low),
                    write(high)
                )
            },
        );
        let mut before = self.start_ppm_wet;
        let count = self.segments.len();
        let steps: Vec<String> = self
            .segments
            .iter()
            .enumerate()
            .map(|(index, segment)| {
                let verb = if segment.end_ppm_wet <= before {
                    "dries"
                } else {
                    "wets"
                };
                let from = if index == 0 {
                    format!(" from {}", ppm(before))
                } else {
                    String::new()
                };
                before = segment.end_ppm_wet;
                let to = if index + 1 == count {
                    range.clone()
                } else {
                    ppm(before)
                };
                let name = if count > 1 {
                    format!(" ({})", segment.name)
                } else {
                    String::new()
                };
                let span = hours(segment.to_h - segment.from_h);
                format!("{verb}{from} to {to} in {span}{name}")
            })
            .collect();
        format!("It {}; {}.", steps.join(", then "), self.passing())
    }

    /// What becomes of the limit, or of the water on the surface.
    fn passing(&self) -> String {
        let free = self
            .surface_dry_h
            .map(|time| format!("the water on its surface is gone after {}", hours(time)));
        let limit = self.limit_ppm_wet.map(|limit| {
            let name = ppm(limit);
            match (self.limit_passed_h, self.end_ppm_wet > limit) {
                (Some(time), _) => format!("it passes the limit of {name} {}", self.when(time)),
                (None, true) => format!("it stays above the limit of {name}"),
                (None, false) => format!("it stays below the limit of {name}"),
            }
        });
        let all: Vec<String> = free.into_iter().chain(limit).collect();
        all.join(", and ")
    }

    /// A time, counted from the beginning of the stretch it lies in.
    fn when(&self, time: f64) -> String {
        let inside = self
            .segments
            .iter()
            .find(|s| time <= s.to_h)
            .filter(|_| self.segments.len() > 1);
        match inside {
            Some(segment) => format!("{} into {}", hours(time - segment.from_h), segment.name),
            None => format!("after {}", hours(time)),
        }
    }

    /// The title of the picture.
    fn conclusion(&self) -> String {
        let passing = self.passing();
        let mut letters = passing.chars();
        letters.next().map_or_else(String::new, |first| {
            first.to_uppercase().chain(letters).collect()
        })
    }

    fn state(&self) -> Option<State> {
        let limit = self.limit_ppm_wet?;
        Some(if self.end_ppm_wet > limit {
            State::Wet
        } else {
            State::InWindow
        })
    }

    fn table(&self, speech: Speech) -> Table {
        let degree = speech.unit(Measure::Temperature);
        let degrees = |c: f64| {
            let number = speech.number(Measure::Temperature, c);
            Cell::precise(number, 3, Grade::Computed)
        };
        let water = |value: f64| Cell::precise(value, 3, Grade::Computed);
        let free = self.instants.iter().any(|i| i.surface_water_ppm_dry > 0.0);
        let row = |i: &CurveInstant| {
            let mut cells = vec![
                Cell::text(self.after(i.time_h)),
                degrees(i.pellet_c),
                i.air_frost_point_c.map_or(Cell::Blank, degrees),
                water(i.mean_ppm_wet),
                water(i.surface_ppm_wet),
                water(i.heart_ppm_wet),
            ];
            if free {
                cells.push(water(i.surface_water_ppm_dry));
            }
            Row::new(cells)
        };
        let mut columns = vec![
            Column::new("after"),
            Column::with_unit("pellet", degree),
            Column::with_unit("frost point of air", degree),
            Column::with_unit("mean", "ppm"),
            Column::with_unit("surface", "ppm"),
            Column::with_unit("heart", "ppm"),
        ];
        if free {
            columns.push(Column::with_unit("on the surface", "ppm"));
        }
        Table {
            caption: "The pellet by time, moisture on wet basis".into(),
            columns,
            rows: self.some().into_iter().map(row).collect(),
        }
    }

    /// A few instants of each stretch, its beginning and end among them.
    fn some(&self) -> Vec<&CurveInstant> {
        let steps = (ROWS / self.segments.len().max(1)).max(2);
        let times = self.segments.iter().flat_map(|segment| {
            (0..=steps).map(|step| {
                let share = step as f64 / steps as f64;
                segment.from_h + share * (segment.to_h - segment.from_h)
            })
        });
        let mut found: Vec<&CurveInstant> = Vec::new();
        for time in times {
            let apart = |i: &CurveInstant| (i.time_h - time).abs();
            let nearest = self
                .instants
                .iter()
                .min_by(|a, b| apart(a).total_cmp(&apart(b)));
            if let Some(instant) = nearest
                && found
                    .last()
                    .is_none_or(|before| instant.time_h > before.time_h)
            {
                found.push(instant);
            }
        }
        found
    }

    /// The answer of one stretch alone, its time counted from its beginning.
    fn only(&self, segment: &CurveSegment) -> Self {
        let instants = self.instants.iter();
        let inside = instants.filter(|i| i.time_h >= segment.from_h && i.time_h <= segment.to_h);
        Self {
            instants: inside
                .map(|i| CurveInstant {
                    time_h: i.time_h - segment.from_h,
                    ..*i
                })
                .collect(),
            segments: Vec::new(),
            ..self.clone()
        }
    }

    fn notes(&self) -> Vec<Note> {
        let mut notes: Vec<Note> = self
            .question
            .resin
            .cautions
            .iter()
            .map(|caution| Note::caution(cautions_of(*caution, &self.resin)))
            .collect();
        let hot = self.instants.iter().any(|i| i.air_c > 55.0);
        if hot {
            notes.push(Note::caution(
                "Hot air and hot pellets burn, and what they give off belongs outdoors. The data \
                 sheet of your grade, local codes and licensed practice decide.",
            ));
        }
        let estimates = self.evidence.iter().filter(|row| row.estimate).count();
        notes.push(Note::doubt(format!(
            "{estimates} of the {} numbers of the resin are estimates; the range counts what is not \
             known of diffusivity and capacity, not of pellet size or air.",
            self.evidence.len()
        )));
        for (head, begins) in [
            ("Diffusivity", "diffusivity, "),
            ("Water in equilibrium", "isotherm, "),
        ] {
            let Some(row) = self.evidence.iter().find(|r| r.what.starts_with(begins)) else {
                continue;
            };
            let cited = self.sources.iter().find(|c| c.key == row.source);
            let from = cited.map_or_else(
                || "what the trade does, no source".to_owned(),
                |c| c.text.clone(),
            );
            notes.push(Note::source(format!("{head}: {from}; {}.", row.grade)));
        }
        notes
    }

    /// A time in a row: with the stretch it lies in, where there are several.
    fn after(&self, time: f64) -> String {
        let inside = self.segments.iter().find(|s| time <= s.to_h);
        match inside.filter(|s| self.segments.len() > 1 && s.from_h > 0.0) {
            Some(segment) => format!("{} + {}", segment.name, hours(time - segment.from_h)),
            None => hours(time),
        }
    }

    fn sections(&self, speech: Speech) -> Vec<Section> {
        let whole = self.instants.last().map_or(0.0, |i| i.time_h);
        let mut sections: Vec<Section> = self
            .segments
            .iter()
            .filter(|s| s.to_h - s.from_h < SHORT * whole)
            .map(|segment| {
                let title = format!(
                    "In {} it comes to {}",
                    segment.name,
                    ppm(segment.end_ppm_wet)
                );
                Section {
                    title: format!("The stretch {}", segment.name),
                    summary: format!("{title}."),
                    blocks: vec![Block::picture(pictures::curve(
                        &self.only(segment),
                        title,
                        speech,
                    ))],
                }
            })
            .collect();
        if let Some(figure) = pictures::curve_inside(self, speech) {
            sections.push(Section {
                title: "Inside the pellet".into(),
                summary: format!("{}.", figure.title),
                blocks: vec![Block::picture(figure)],
            });
        }
        let mut blocks = vec![Block::table(evidence_table(
            "Every number of the resin",
            &self.evidence,
            speech.0,
        ))];
        for source in &self.sources {
            blocks.push(Block::text(format!("[{}] {}", source.key, source.text)));
        }
        sections.push(Section {
            title: "Evidence".into(),
            summary: format!(
                "{} numbers, {}.",
                self.evidence.len(),
                counted(self.sources.len(), "source", "sources")
            ),
            blocks,
        });
        sections
    }
}
