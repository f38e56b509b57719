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

/// A place over the sizes at which the loop settles, the dryer as it then is, and what it shows.
type Node = (f64, Installed, Predicted);

/// The places at which the loop settles, the outermost as far out as it does.
fn settled(cause: Cause, sizes: Sizes, sound: &Installed, count: usize) -> Vec<Node> {
    let solve = |place: f64, near: Option<&Node>| -> Option<Node> {
        let befallen = cause.befall(sizes.at(place), sound).ok()?;
        let predicted = befallen.predict(near.map(|(_, _, known)| &known.guess));
        Some((place, befallen, predicted.ok()?))
    };
    let places = sizes.places(count);
    let mut nodes: Vec<Node> = Vec::new();
    for place in &places {
        nodes.extend(solve(*place, nodes.last()));
    }
    if let Sizes::Even(..) | Sizes::Log(..) = sizes {
        let width = 1.0 / (count - 1).max(1) as f64;
        let first = nodes.first().filter(|(place, _, _)| *place > 0.0);
        if let Some(outer) = first.and_then(|first| outermost(first, -width, &solve)) {
            nodes.insert(0, outer);
        }
        let last = nodes.last().filter(|(place, _, _)| *place < 1.0);
        let outer = last.and_then(|last| outermost(last, width, &solve));
        nodes.extend(outer);
    }
    nodes
}

/// The farthest place that settles between one that does and one that does not.
fn outermost(
    inner: &Node,
    to_outer: f64,
    solve: &dyn Fn(f64, Option<&Node>) -> Option<Node>,
) -> Option<Node> {
    /// How often what is left is halved.
    const HALVINGS: usize = 3;
    let (mut good, mut bad) = (inner.0, inner.0 + to_outer);
    let mut found: Option<Node> = None;
    for _ in 0..HALVINGS {
        let middle = 0.5 * (good + bad);
        match solve(middle, Some(found.as_ref().unwrap_or(inner))) {
            Some(node) => {
                good = middle;
                found = Some(node);
            }
            None => bad = middle,
        }
    }
    found
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
        let nodes = settled(cause, sizes, sound, count);
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

    /// Places at which it is weighed, each as likely as the others; none where the loop settles nowhere.
    pub(super) fn places(&self) -> Vec<f64> {
        match self.sizes {
            Sizes::None => vec![0.0],
            Sizes::Each(_) => self.nodes.iter().map(|(place, _)| *place).collect(),
            Sizes::Even(..) | Sizes::Log(..) => {
                let end = |node: Option<&(f64, Predicted)>| node.map_or(0.0, |(place, _)| *place);
                let (from, to) = (end(self.nodes.first()), end(self.nodes.last()));
                (0..PLACES)
                    .map(|index| from + (to - from) * (index as f64 + 0.5) / PLACES as f64)
                    .collect()
            }
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
