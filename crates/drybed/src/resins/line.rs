//! One resin of the library in a line.

use super::reading::is_read;
use crate::plan::evidence_rows;
use files::Library;
use material::{Behaviour, Resin};
use serde::Serialize;

/// One resin of the library in a line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ResinLine {
    /// Its key.
    pub key: String,
    /// The name people use.
    pub name: String,
    /// What it is.
    pub title: String,
    /// Other names.
    pub aliases: Vec<String>,
    /// The family it is listed under.
    pub family: Option<String>,
    /// Whether water enters it.
    pub behaviour: Behaviour,
    /// Customary temperature.
    pub temperature_c: f64,
    /// Customary time.
    pub time_h: f64,
    /// Customary frost point.
    pub frost_point_c: f64,
    /// Limit for moulding.
    pub limit_ppm_wet: f64,
    /// Moisture from an opened package.
    pub opened_ppm_wet: f64,
    /// Which of temperature, time and limit are estimates.
    pub estimated: [bool; 3],
    /// Numbers in its record.
    pub numbers: usize,
    /// How many of them were read in the abstract or full text of the source they cite.
    pub read: usize,
    /// Share of them that are estimates.
    pub estimates: f64,
}

/// A resin in a line.
pub(crate) fn line(resin: &Resin, library: &Library) -> ResinLine {
    let evidence = evidence_rows(resin);
    let estimates = evidence.iter().filter(|row| row.estimate).count();
    let wet = |moisture: quantity::MoistureDryBasis| moisture.wet_basis().ppm();
    ResinLine {
        key: resin.key.clone(),
        name: resin.name.clone(),
        title: resin.title.clone(),
        aliases: resin.aliases.clone(),
        family: resin.family.clone(),
        behaviour: resin.behaviour,
        temperature_c: resin.drying.temperature.value.celsius(),
        time_h: resin.drying.time.value.hours(),
        frost_point_c: resin.drying.frost_point.value.celsius(),
        limit_ppm_wet: wet(resin.limit.moulding.value),
        opened_ppm_wet: wet(resin.received.opened.value),
        estimated: [
            resin.drying.temperature.grade.is_estimate(),
            resin.drying.time.grade.is_estimate(),
            resin.limit.moulding.grade.is_estimate(),
        ],
        numbers: evidence.len(),
        read: evidence.iter().filter(|row| is_read(row, library)).count(),
        estimates: estimates as f64 / evidence.len().max(1) as f64,
    }
}

impl ResinLine {
    /// Whether a word stands in its key, names or title; letter case aside.
    pub(crate) fn says(&self, word: &str) -> bool {
        let wanted = word.to_lowercase();
        [&self.key, &self.name, &self.title]
            .into_iter()
            .chain(&self.aliases)
            .chain(&self.family)
            .any(|text| text.to_lowercase().contains(&wanted))
    }
}
