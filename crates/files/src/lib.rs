//! Files people write, read into typed values with the place of each mistake.
//!
//! A kind of file is a [`FileKind`]: the descriptions of its fields, from which the reader, its
//! error texts, the [`schema`] and the [`mod@reference`] page all come. [`read`] gives a [`Bag`] of
//! values or every mistake in the file at once.

mod bag;
mod bibliography;
pub mod clock;
mod data_sheet;
mod description;
mod desiccant;
mod desiccant_fields;
mod draft;
mod equipment;
mod filler;
mod grades;
mod job_file;
mod library;
#[cfg(test)]
mod mutations;
mod new_record;
mod order;
#[cfg(test)]
mod pages;
mod parents;
mod range;
pub mod reference;
mod resin;
mod resin_fields;
mod resin_law_fields;
mod resin_laws;
mod round;
mod rules;
mod schedule;
pub mod schema;
mod sheet;
mod syntax;
mod text;
mod value;
mod walk;
mod weather;
mod whole;

pub use bag::{Bag, Entry, Held, Inherited};
pub use bibliography::{Bibliography, Reference};
pub use description::flaws;
pub use desiccant::{DESICCANT, Desiccants};
pub use draft::{Family, RESIN_FAMILY};
pub use equipment::{
    EQUIPMENT, EQUIPMENT_FIELDS, Known, KnownValue, Standing, StatedDryer, StatedDryers,
    StatedMachine, equipment_page, open_dryers, read_dryer,
};
pub use grades::{GRADES, Grade};
pub use job_file::{CELL, JOB, JOB_FIELDS, job_notes, open_cell, open_job, read_job};
pub use library::{Library, Loaded, Unusable};
pub use new_record::{DataSheet, NewRecord, SheetFiller, key_of, new_record};
pub use parents::PARENTS;
pub use resin::{RESIN_RECORD, Record, resin_of};
pub use resin_fields::RESIN;
pub use round::{ROUND, RoundRead, open_round, read_round};
pub use rules::{complete, overlay};
pub use schedule::{SCHEDULE, ScheduleRead, open_schedule, read_schedule, schedule_page};
pub use text::{Text, folder};
pub use walk::{FileKind, read, read_whole};
