//! Resins that do not go together on one dryer: what is never done, and what carries over.
//!
//! Common practice, no source, but for acetals and polyvinyl chloride, whose violent reaction every
//! safety sheet of either names.

use crate::case::Case;
use crate::compare::cell::Settled;
use material::{Caution, Resin};

/// Every resin in a hopper.
fn resins(case: &Case) -> impl Iterator<Item = &Resin> {
    case.kinds().map(|(_, pellets)| &pellets.resin)
}

/// Why resins of a cell never share a dryer.
pub(super) fn never_together(cell: &Settled) -> Option<String> {
    let all: Vec<&Resin> = cell
        .hoppers()
        .flat_map(|(_, _, case)| resins(case))
        .collect();
    react(&all).map(|why| format!("none: {why}"))
}

/// Why some of these resins never meet in one dryer, where they do not.
pub(crate) fn react(all: &[&Resin]) -> Option<String> {
    let releases = |caution: Caution| {
        let mut all = all.iter();
        all.find(|resin| resin.cautions.contains(&caution))
    };
    let acetal = releases(Caution::Formaldehyde)?;
    let vinyl = releases(Caution::HydrogenChloride)?;
    Some(format!(
        "{} and {} never share a dryer, neither at once nor one after the other: what is left of \
         the one meets the other hot, and the two react violently, giving off formaldehyde and hydrogen \
         chloride; give each a dryer, loader and hoses of its own, and follow both safety data sheets",
        acetal.name, vinyl.name
    ))
}

/// What carries over from one resin to another.
pub(super) fn carried_over(cell: &Settled) -> Vec<String> {
    let mut said = Vec::new();
    let at_once = cell.runs.iter().filter(|run| run.cases.len() > 1);
    for run in at_once {
        if let Some(pair) = strangers(run.cases.iter()) {
            said.push(format!(
                "{pair} share the return air: dust and smell of each come to the other through filter and \
                 desiccant; a finer filter holds the dust and nothing holds the smell"
            ));
        }
    }
    if cell.runs.len() > 1
        && let Some(pair) = strangers(cell.hoppers().map(|(_, _, case)| case))
    {
        said.push(format!(
            "{pair} follow each other: empty and clean hopper, loader, hoses and filter between them, \
             and let the dryer run empty until the smell is gone"
        ));
    }
    let mut foul: Vec<&str> = cell
        .hoppers()
        .flat_map(|(_, _, case)| resins(case))
        .filter(|resin| {
            let fouls = [Caution::Plasticiser, Caution::Oligomer];
            fouls.iter().any(|caution| resin.cautions.contains(caution))
        })
        .map(|resin| resin.name.as_str())
        .collect();
    foul.sort_unstable();
    foul.dedup();
    if !foul.is_empty() && cell.hoppers().count() > 1 {
        said.push(format!(
            "{} {} off what fouls filters, coolers and desiccant, and the others of the cell get the \
             worse dew point for it",
            foul.join(" and "),
            if foul.len() == 1 { "gives" } else { "give" }
        ));
    }
    said.sort();
    said.dedup();
    said
}

/// The first two resins that are of no common family.
fn strangers<'a>(cases: impl Iterator<Item = &'a Case>) -> Option<String> {
    let all: Vec<&Resin> = cases.flat_map(resins).collect();
    unlike(&all)
}

/// The first two of these resins that are of no common family.
pub(crate) fn unlike(all: &[&Resin]) -> Option<String> {
    let kin = |a: &Resin, b: &Resin| match (&a.family, &b.family) {
        (Some(one), Some(other)) => one == other,
        _ => a.key == b.key,
    };
    let first = *all.first()?;
    let other = all.iter().find(|resin| !kin(first, resin))?;
    Some(format!("{} and {}", first.name, other.name))
}
