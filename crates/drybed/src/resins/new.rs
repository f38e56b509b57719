//! A record from the few numbers of a data sheet, everything else by analogy and looking like it.

use super::show::{self, ResinAnswer};
use crate::Trouble;
use crate::plan::EvidenceRow;
use crate::speech::counted;
use document::{Document, Note};
use files::{DataSheet, Library, SheetFiller, new_record};
use material::FillerKind;
use quantity::{
    Fault, FaultKind, Faults, Fraction, Misread, Moisture, Place, Quantity, Units, Written, parse,
};
use serde::Serialize;

/// Version of the layout of new records in JSON.
const NEW_SCHEMA: u32 = 1;
/// Between the ends of a range.
const TO: &str = "..";

/// What a data sheet says, in words, each number with its unit and basis.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewResinWords {
    /// The name you give it.
    pub name: String,
    /// The resin or family that is nearest.
    pub like: String,
    /// What it is, in a few words.
    pub title: Option<String>,
    /// Which data sheet: its date or number.
    pub sheet: Option<String>,
    /// Density of the dry grade: `1200 kg/m3`.
    pub density: Option<String>,
    /// Density of poured pellets.
    pub bulk_density: Option<String>,
    /// Drying temperature: `120 degC` or `110 degC .. 120 degC`.
    pub temperature: Option<String>,
    /// Drying time: `4 h` or `2 h .. 4 h`.
    pub time: Option<String>,
    /// Longest stay.
    pub hold: Option<String>,
    /// Frost point of the air: `-30 degC frost`.
    pub dew_point: Option<String>,
    /// Limit for moulding: `0.02 % wet`.
    pub limit: Option<String>,
    /// Limit for extrusion, sheet and film.
    pub limit_extrusion: Option<String>,
    /// Limit for fibre.
    pub limit_fibre: Option<String>,
    /// Moisture below which it is too dry.
    pub lower_edge: Option<String>,
    /// Glass transition.
    pub glass_transition: Option<String>,
    /// Melting point.
    pub melting: Option<String>,
    /// What is mixed in: `30 % glass fibre`.
    pub filler: Option<String>,
}

/// A new record, read back.
#[derive(Clone, Debug, Serialize)]
pub struct NewResinAnswer {
    /// Version of this layout.
    pub schema_version: u32,
    /// Its key; the file is `<key>.toml`.
    pub key: String,
    /// What it stands on.
    pub like: String,
    /// The text of the file.
    pub text: String,
    /// Numbers that the data sheet states.
    pub stated: usize,
    /// Numbers that are taken over.
    pub by_analogy: usize,
    /// What is known of the resin it makes.
    pub resin: ResinAnswer,
}

/// Makes a record.
///
/// # Errors
/// Every mistake in the words, a name that is taken, nothing to stand on, and every contradiction
/// with what is taken over.
pub fn new_resin(words: &NewResinWords, library: &Library) -> Result<NewResinAnswer, Trouble> {
    let sheet = read(words)?;
    let record = new_record(&sheet, library)?;
    let resin = show::of(&record.resin, library)?;
    let stated = |row: &&EvidenceRow| row.source == "data-sheet";
    let inherited = |row: &&EvidenceRow| row.inherited_from.is_some();
    Ok(NewResinAnswer {
        schema_version: NEW_SCHEMA,
        key: record.key,
        like: words.like.clone(),
        text: record.text,
        stated: resin.evidence.iter().filter(stated).count(),
        by_analogy: resin.evidence.iter().filter(inherited).count(),
        resin,
    })
}

impl NewResinAnswer {
    /// The new record as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let mut document = self.resin.document(units);
        document.question = format!("What does the record {} come to?", self.key);
        document.answer = format!(
            "{} stands on {}: {} from the data sheet, {} of {} by analogy.",
            self.resin.line.name,
            self.like,
            counted(self.stated, "number", "numbers"),
            self.by_analogy,
            self.resin.evidence.len()
        );
        document.notes.insert(
            0,
            Note::doubt(
                "What is by analogy is that of another resin: measure one drying curve of your own \
                 before you lean on its times.",
            ),
        );
        document
    }

    /// The whole answer as JSON.
    ///
    /// # Errors
    /// When a number has no place in JSON.
    pub fn json(&self) -> Result<String, Trouble> {
        crate::json(self)
    }
}

/// What it is: the title given, or what it stands on; that of the other resin would be another's.
fn title(words: &NewResinWords) -> String {
    words.title.clone().unwrap_or_else(|| {
        let filler = words.filler.as_ref();
        let mixed = filler.map_or_else(String::new, |filler| format!(" with {}", filler.trim()));
        format!("Grade like {}{mixed}, by its data sheet", words.like.trim())
    })
}

/// What the words say, with every mistake in them.
fn read(words: &NewResinWords) -> Result<DataSheet, Faults> {
    let mut faults = Faults::none();
    let mut take = Take {
        faults: &mut faults,
    };
    let sheet = DataSheet {
        name: words.name.clone(),
        title: Some(title(words)),
        like: words.like.clone(),
        sheet: words.sheet.clone(),
        density: take.one("--density", words.density.as_ref()),
        bulk_density: take.one("--bulk-density", words.bulk_density.as_ref()),
        temperature: take.range("--temperature", words.temperature.as_ref()),
        time: take.range("--time", words.time.as_ref()),
        hold: take.one("--hold", words.hold.as_ref()),
        dew_point: take.one("--dew-point", words.dew_point.as_ref()),
        moulding: take.moisture("--limit", words.limit.as_ref()),
        extrusion: take.moisture("--limit-extrusion", words.limit_extrusion.as_ref()),
        fibre: take.moisture("--limit-fibre", words.limit_fibre.as_ref()),
        lower_edge: take.moisture("--lower-edge", words.lower_edge.as_ref()),
        glass_transition: take.one("--glass-transition", words.glass_transition.as_ref()),
        melting: take.one("--melting", words.melting.as_ref()),
        filler: take.filler(words.filler.as_ref()),
    };
    faults.or(sheet)
}

/// Reads words one by one and keeps their mistakes.
struct Take<'a> {
    faults: &'a mut Faults,
}

impl Take<'_> {
    fn one<Q: Written>(&mut self, flag: &str, text: Option<&String>) -> Option<Q> {
        let text = text?;
        let read = parse::si(text, Q::MEANING).map(Q::from_si);
        self.kept(flag, text, read)
    }

    /// One value, or two with `..` between.
    fn range<Q: Written>(&mut self, flag: &str, text: Option<&String>) -> Option<(Q, Q)> {
        let text = text?;
        let read = if text.contains(TO) {
            parse::span(text, Q::MEANING)
        } else {
            parse::si(text, Q::MEANING).map(|one| (one, one))
        };
        let read = read.map(|(low, high)| (Q::from_si(low), Q::from_si(high)));
        self.kept(flag, text, read)
    }

    fn moisture(&mut self, flag: &str, text: Option<&String>) -> Option<Moisture> {
        let text = text?;
        self.kept(flag, text, text.parse())
    }

    fn filler(&mut self, text: Option<&String>) -> Option<SheetFiller> {
        let text = text?.trim();
        let kind = FillerKind::ALL
            .into_iter()
            .find(|kind| text.ends_with(kind.key()));
        let Some(kind) = kind else {
            let kinds: Vec<&str> = FillerKind::ALL.iter().map(|kind| kind.key()).collect();
            self.faults.push(Fault::new(
                FaultKind::UnknownName,
                Place::of("", "--filler"),
                format!("{text:?}"),
                "a filler is its share and its kind",
                format!(
                    "write for example \"30 % glass fibre\"; the kinds are {}",
                    kinds.join(", ")
                ),
            ));
            return None;
        };
        let share = text.trim_end_matches(kind.key()).trim().to_owned();
        let share: Fraction = self.one("--filler", Some(&share))?;
        if share.si() <= 0.0 || share.si() >= 1.0 {
            self.faults.push(Fault::new(
                FaultKind::OutOfRange,
                Place::of("", "--filler"),
                format!("{text:?}"),
                "a share lies above 0 % and below 100 %",
                "write for example \"30 % glass fibre\"",
            ));
            return None;
        }
        Some(SheetFiller {
            kind,
            share,
            density: None,
            heat_capacity: None,
        })
    }

    fn kept<T>(&mut self, flag: &str, text: &str, read: Result<T, Misread>) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(misread) => {
                self.faults.push(misread.at(Place::of("", flag), text));
                None
            }
        }
    }
}
