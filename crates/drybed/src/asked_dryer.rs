//! The dryer that a question on the command line asks of: one of its own record, or one of a usual size.

use crate::check::{DryerMaker, dryer_of};
use crate::equipment::{OwnDryer, open_equipment};
use crate::{StatedDryer, Trouble};
use job::{ControlledAt, DryerKind, RoundDryer};
use quantity::{Fault, FaultKind, Faults, Place};
use std::path::Path;

/// Which dryer is meant.
#[derive(Clone, Copy, Debug, Default)]
pub struct DryerAsked<'a> {
    /// Its kind, as a person writes it; a desiccant wheel where nothing is said.
    pub kind: Option<&'a str>,
    /// Its record, or a table or folder of which it is the only one.
    pub record: Option<&'a Path>,
}

/// A dryer that is asked of.
pub(crate) struct DryerFound {
    /// As a round would state it.
    pub(crate) stated: RoundDryer,
    /// What makes it.
    pub(crate) make: DryerMaker,
    /// Its record.
    pub(crate) record: Option<OwnDryer>,
}

impl DryerAsked<'_> {
    /// The dryer.
    ///
    /// # Errors
    /// A kind that is none; a record that cannot be read, or of several dryers, or of one without air.
    pub(crate) fn find(&self) -> Result<DryerFound, Trouble> {
        let kind = match self.kind {
            None => DryerKind::Wheel,
            Some(words) => DryerKind::of_words(words).ok_or_else(|| {
                let kinds = DryerKind::WORDS.join(", ");
                fault(
                    "dryer",
                    words,
                    &format!("is no kind of dryer: {kinds}"),
                    "write one of these",
                )
            })?,
        };
        let record = self.record.map(one).transpose()?;
        let stated = RoundDryer {
            kind,
            rated_flow: None,
            controlled_at: ControlledAt::Hopper,
            cooler: true,
            dew_point_doubt: None,
        };
        Ok(DryerFound {
            make: dryer_of(&stated, record.as_ref())?,
            stated,
            record: record.as_ref().map(OwnDryer::of),
        })
    }
}

fn one(path: &Path) -> Result<StatedDryer, Trouble> {
    let found = open_equipment(path)?;
    let named = path.display().to_string();
    let mut dryers = found.dryers.into_iter();
    match (dryers.next(), dryers.next()) {
        (Some(only), None) if only.air().is_some() => Ok(only),
        (Some(_), None) => Err(fault(
            "equipment",
            &named,
            "is a vacuum dryer, which has no loop of air",
            "name the record of a desiccant wheel, twin towers, compressed air or hot air",
        )),
        (Some(_), Some(_)) => Err(fault(
            "equipment",
            &named,
            "holds several dryers, and one is meant",
            "name the record of that dryer",
        )),
        (None, _) => Err(found.faults.into()),
    }
}

fn fault(field: &str, value: &str, cause: &str, mend: &str) -> Trouble {
    let place = Place::of("", field);
    Faults::from(Fault::new(
        FaultKind::Inconsistent,
        place,
        value,
        cause,
        mend,
    ))
    .into()
}
