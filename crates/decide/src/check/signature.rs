//! What each cause would make the instruments read, over the sizes it can have: solved once, for any round.

use super::cause::{Cause, Sizes, all_of};
use super::doubt::{HallDoubt, Slopes, dry_otherwise, drying, slopes};
use super::installed::{Installed, Predicted};
use crate::resolve::Given;
use job::ReadingKind;
use line::equipment::Machine;
use rayon::prelude::*;

/// Sizes for which the loop is solved; between them readings are taken as straight. A cycle of
/// towers takes ten times as
/// long as a wheel.
const NODES: usize = 7;
const TOWER_NODES: usize = 5;
/// Places over the sizes at which readings are weighed.
const PLACES: usize = 37;

/// What a cause would show.
#[derive(Clone, Debug)]
pub(super) struct Signature {
    pub(super) cause: Cause,
    pub(super) sizes: Sizes,
    nodes: Vec<(f64, Predicted)>,
    pub(super) slopes: Slopes,
}

/// Every cause of a dryer, the healthy dryer first; those for which the loop settles nowhere are told apart.
pub(super) fn all(
    sound: &Installed,
    given: &Given,
    hall: &HallDoubt,
    throat_read: bool,
) -> (Vec<Signature>, Vec<Cause>) {
    let towers = matches!(sound.equipment.machine, Machine::Towers(_));
    let nodes = if towers { TOWER_NODES } else { NODES };
    let healthy = Signature::of(Cause::Healthy, sound, given, nodes, &|middle, predicted| {
        slopes(middle, predicted, hall)
    });
    let Some(healthy) = healthy else {
        return (Vec::new(), vec![Cause::Healthy]);
    };
    let in_order = healthy.slopes.clone();
    let about = |middle: &Installed, predicted: &Predicted| {
        if towers {
            in_order.clone()
        } else {
            slopes(middle, predicted, hall)
        }
    };
    let found: Vec<(Cause, Option<Signature>)> = all_of(&sound.equipment, throat_read)
        .into_par_iter()
        .map(|cause| {
            let signature = if cause == Cause::Healthy {
                Some(healthy.clone())
            } else {
                Signature::of(cause, sound, given, nodes, &about)
            };
            (cause, signature)
        })
        .collect();
    let mut signatures = Vec::with_capacity(found.len());
    let mut unsolved = Vec::new();
    for (cause, signature) in found {
        match signature {
            Some(signature) => signatures.push(signature),
            None => unsolved.push(cause),
        }
    }
    (signatures, unsolved)
}

impl Signature {
    fn of(
        cause: Cause,
        sound: &Installed,
        given: &Given,
        count: usize,
        slopes: &(dyn Fn(&Installed, &Predicted) -> Slopes + Sync),
    ) -> Option<Self> {
        let sizes = cause.sizes(&sound.equipment);
        let mut nodes: Vec<(f64, Installed, Predicted)> = Vec::new();
        for place in sizes.places(count) {
            let Ok(befallen) = cause.befall(sizes.at(place), sound) else {
                continue;
            };
            let near = nodes.last().map(|(_, _, predicted)| &predicted.guess);
            if let Ok(predicted) = befallen.predict(near) {
                nodes.push((place, befallen, predicted));
            }
        }
        let (_, middle, predicted) = nodes.get(nodes.len() / 2)?;
        let mut slopes = slopes(middle, predicted);
        dry_otherwise(&mut slopes, drying(middle, predicted, given));
        Some(Self {
            cause,
            sizes,
            slopes,
            nodes: nodes
                .into_iter()
                .map(|(place, _, predicted)| (place, predicted))
                .collect(),
        })
    }

    /// Places at which it is weighed, each as likely as the others.
    pub(super) fn places(&self) -> Vec<f64> {
        match self.sizes {
            Sizes::None => vec![0.0],
            Sizes::Each(_) => self.nodes.iter().map(|(place, _)| *place).collect(),
            Sizes::Even(..) | Sizes::Log(..) => (0..PLACES)
                .map(|index| (index as f64 + 0.5) / PLACES as f64)
                .collect(),
        }
    }

    /// The nodes beside a place, and the share of the second.
    fn beside(&self, place: f64) -> Option<(&Predicted, &Predicted, f64)> {
        let first = self.nodes.first()?;
        let mut before = first;
        for node in &self.nodes {
            if node.0 >= place {
                let width = node.0 - before.0;
                let share = if width > 0.0 {
                    (place - before.0) / width
                } else {
                    0.0
                };
                return Some((&before.1, &node.1, share));
            }
            before = node;
        }
        Some((&before.1, &before.1, 0.0))
    }

    /// What is read at a place.
    pub(super) fn reading(&self, place: f64, kind: ReadingKind) -> Option<f64> {
        let (before, after, share) = self.beside(place)?;
        let kind = kind as usize;
        let (a, b) = (before.readings[kind]?, after.readings[kind]?);
        Some(a + share * (b - a))
    }

    /// Whether a kind can be read at all.
    pub(super) fn has(&self, kind: ReadingKind) -> bool {
        self.nodes
            .iter()
            .all(|(_, predicted)| predicted.readings[kind as usize].is_some())
    }
}
