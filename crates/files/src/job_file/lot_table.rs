//! The components of a lot, and what must hold between them.

use super::contradictions::inside;
use crate::bag::{Bag, Entry};
use crate::library::Library;
use job::{Component, Entry as Joins, Pieces};
use material::Resin;
use quantity::{Fault, FaultKind, Faults, Fraction, Length, Quantity, Temperature, digits};

/// Shares that add up to within this of the whole are taken as rounded.
const ROUNDED: f64 = 1e-3;
/// Size of flakes across where none is given: the usual screen of a granulator, m (common practice,
/// no source).
const USUAL_ACROSS: f64 = 6e-3;

/// The components of the lot of a job; none where the job speaks of its resin alone. `resin` is that
/// of the job, where it could be read; `feed` the temperature of what is fed.
///
/// # Errors
/// Every mistake in them: an unknown resin with the nearest names, two components of one name,
/// shares that do not add up, and a lot of which nothing of the job's resin is dried.
pub(super) fn components(
    job: &Bag,
    resin: Option<&Resin>,
    feed: Option<Temperature>,
    library: &Library,
) -> Result<Vec<Component>, Faults> {
    let Some(tables) = job.get("lot", Entry::tables) else {
        return Ok(Vec::new());
    };
    let mut faults = Faults::none();
    faults.extend(names(&tables));
    let mut found = Vec::new();
    for table in &tables {
        let named = table.get("resin", Entry::text);
        let own = match &named {
            None => resin.cloned(),
            Some(name) => match library.find(name, &table.place_of("resin")) {
                Ok(record) => Some(record.resin.clone()),
                Err(unknown) => {
                    faults.extend(unknown);
                    None
                }
            },
        };
        let Some(own) = own else { continue };
        if let Some(feed) = feed {
            faults.extend(inside(table, feed, &own));
        }
        // What is missing or refused in a component the reader has told already.
        if let Ok(component) = component(table, own) {
            found.push((component, named.is_none()));
        }
    }
    let read: Option<f64> = tables
        .iter()
        .map(|table| table.get("share", Entry::quantity).map(Fraction::si))
        .sum();
    faults.extend(read.and_then(|sum| shares(job, sum)));
    if found.len() == tables.len() {
        faults.extend(lead(job, &found, resin));
    }
    faults.or(found.into_iter().map(|(component, _)| component).collect())
}

fn component(table: &Bag, resin: Resin) -> Result<Component, Faults> {
    let across = table.get("across", Entry::quantity);
    let pieces = match table.need("pieces", Entry::choice)? {
        "flakes" => Pieces::Flakes {
            thickness: table.need("thickness", Entry::quantity)?,
            across: across.unwrap_or(Length::from_si(USUAL_ACROSS)),
        },
        _ => Pieces::Pellets,
    };
    Ok(Component {
        name: table.need("name", Entry::text)?,
        resin,
        share: table.need("share", Entry::quantity)?,
        pieces,
        size_spread: table.get("size_spread", Entry::quantity),
        bulk_density: table.get("bulk_density", Entry::quantity),
        moisture: table.get("moisture", Entry::moisture),
        spread: table.get("spread", Entry::quantity),
        surface_water: table.need("surface_water", Entry::quantity)?,
        entry: match table.need("entry", Entry::choice)? {
            "throat" => Joins::Throat,
            "hopper" => Joins::Hopper,
            _ => Joins::Loader,
        },
    })
}

/// Two components of one name.
fn names(tables: &[Bag]) -> Faults {
    let mut faults = Faults::none();
    let mut seen: Vec<String> = Vec::new();
    for table in tables {
        let Some(name) = table.get("name", Entry::text) else {
            continue;
        };
        if seen.contains(&name) {
            faults.push(table.fault(
                "name",
                FaultKind::Inconsistent,
                format!("another component of the lot is called {name:?} too"),
                "give each component a name of its own",
            ));
        }
        seen.push(name);
    }
    faults
}

/// Shares that are not the whole.
fn shares(job: &Bag, sum: f64) -> Option<Fault> {
    let off = sum - 1.0;
    if off.abs() <= ROUNDED {
        return None;
    }
    let (percent, apart) = (digits(100.0 * sum, 5), digits(100.0 * off.abs(), 4));
    let (words, mend) = if off > 0.0 {
        ("too much", "take away")
    } else {
        ("missing", "add")
    };
    Some(job.fault(
        "lot",
        FaultKind::Inconsistent,
        format!("the shares of the lot add up to {percent} %: {apart} % {words}"),
        format!("{mend} {apart} % among the components"),
    ))
}

/// A lot of which nothing of the job's resin goes through the hopper.
fn lead(job: &Bag, found: &[(Component, bool)], resin: Option<&Resin>) -> Option<Fault> {
    let resin = resin?;
    let leads = |(component, own): &(Component, bool)| {
        (*own || component.resin.key == resin.key) && component.entry.is_dried()
    };
    if found.iter().any(leads) {
        return None;
    }
    Some(job.fault(
        "lot",
        FaultKind::Inconsistent,
        format!(
            "no component of {}, the resin of the job, goes through the hopper",
            resin.name
        ),
        format!(
            "add the {} that is dried, with entry = \"loader\", or name another resin for the job",
            resin.name
        ),
    ))
}
