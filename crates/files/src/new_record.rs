//! A new record from the few numbers of a data sheet; all else is taken over, by analogy.

use crate::library::{Library, Texts};
use crate::parents::{COMMON_PRACTICE, DATA_SHEET};
use crate::text::Text;
use material::{FillerKind, Resin};
use quantity::{
    BulkDensity, Density, Duration, Fault, FaultKind, Faults, Fraction, FrostPoint, Meaning,
    Moisture, MoistureDryBasis, MoistureWetBasis, Place, Quantity, SpecificHeatCapacity,
    Temperature, Units, Written, digits,
};
use std::fmt::Write as _;

/// What a data sheet states of a grade; what it leaves out is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DataSheet {
    /// The name the user gives it.
    pub name: String,
    /// What it is, in a few words.
    pub title: Option<String>,
    /// The record or family that is nearest.
    pub like: String,
    /// Which sheet, shown as the place of each number: its date or number.
    pub sheet: Option<String>,
    /// Density of the dry grade, filler and all.
    pub density: Option<Density>,
    /// Density of poured pellets.
    pub bulk_density: Option<BulkDensity>,
    /// Lowest and highest drying temperature; equal where the sheet states one.
    pub temperature: Option<(Temperature, Temperature)>,
    /// Shortest and longest drying time; equal where the sheet states one.
    pub time: Option<(Duration, Duration)>,
    /// Longest stay in the dryer.
    pub hold: Option<Duration>,
    /// Frost point asked for.
    pub dew_point: Option<FrostPoint>,
    /// Highest moisture for injection moulding.
    pub moulding: Option<Moisture>,
    /// Highest moisture for extrusion, sheet and film.
    pub extrusion: Option<Moisture>,
    /// Highest moisture for spinning fibre.
    pub fibre: Option<Moisture>,
    /// Moisture below which it is too dry.
    pub lower_edge: Option<Moisture>,
    /// Glass transition of the dry grade.
    pub glass_transition: Option<Temperature>,
    /// Melting point.
    pub melting: Option<Temperature>,
    /// What is mixed into the polymer, where the nearest record has no filler.
    pub filler: Option<SheetFiller>,
}

/// A filler as a data sheet states it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetFiller {
    /// What it is.
    pub kind: FillerKind,
    /// Its share by mass.
    pub share: Fraction,
    /// Its density; the usual one of its kind when absent.
    pub density: Option<Density>,
    /// Its heat capacity; the usual one of its kind when absent.
    pub heat_capacity: Option<SpecificHeatCapacity>,
}

/// A record that has been written and read back.
#[derive(Clone, Debug)]
pub struct NewRecord {
    /// Its key; the file is `<key>.toml`.
    pub key: String,
    /// The text of the file.
    pub text: String,
    /// The resin it makes in the library it was written for.
    pub resin: Resin,
}

/// Writes the record of a grade: what the sheet states has the source "data-sheet" and the grade
/// "stated", all else is taken over from the record or family it is like, and so by analogy.
///
/// Where the sheet states a range of drying temperatures, the customary one of the nearest record
/// stays if it lies inside, and the middle is taken otherwise; of a range of times the middle.
///
/// # Errors
/// A name that is empty, cannot be a file name, or is taken; a range whose ends are exchanged;
/// nothing to stand on; and every contradiction with what is taken over. The place is the field.
pub fn new_record(sheet: &DataSheet, library: &Library) -> Result<NewRecord, Faults> {
    let mut faults = Faults::none();
    let key = key_of(&sheet.name);
    if key.is_empty() {
        faults.push(Fault::new(
            FaultKind::NotText,
            Place::of("", "name"),
            format!("{:?}", sheet.name),
            "a name has letters or digits, of which its file is called",
            "give a name such as \"PC own\"",
        ));
    } else if library.knows(&sheet.name) || library.knows(&key) || library.has_family(&key) {
        faults.push(Fault::new(
            FaultKind::Inconsistent,
            Place::of("", "name"),
            format!("{:?}", sheet.name),
            "the library has this name already",
            format!(
                "give a name of its own, such as {:?}",
                format!("{} own", sheet.name)
            ),
        ));
    }
    faults.extend(exchanged("temperature", sheet.temperature));
    faults.extend(exchanged("time", sheet.time));
    faults.or(())?;
    let text = text(sheet, library);
    let file = format!("{key}.toml");
    let loaded = library.clone().extended(&Texts {
        records: vec![Text::new(file.as_str(), text.as_str())],
        ..Texts::default()
    });
    // The user knows fields, not the lines of a text that was never saved.
    let told = loaded.faults.into_iter().map(|fault| Fault {
        place: Place::of("", fault.place.path),
        ..fault
    });
    Faults(told.collect()).or(())?;
    let resin = loaded
        .library
        .find(&key, &Place::of("", "name"))?
        .resin
        .clone();
    Ok(NewRecord { key, text, resin })
}

/// The name of the file of a resin: lower case, with hyphens for whatever cannot stand in one.
pub fn key_of(name: &str) -> String {
    let mut key = String::new();
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_ascii_alphanumeric() {
            key.push(letter);
        } else if !key.is_empty() && !key.ends_with('-') {
            key.push('-');
        }
    }
    key.trim_end_matches('-').to_owned()
}

fn exchanged<Q: Quantity>(field: &str, range: Option<(Q, Q)>) -> Option<Fault> {
    let (low, high) = range?;
    (low.si() > high.si()).then(|| {
        Fault::new(
            FaultKind::OutOfRange,
            Place::of("", field),
            "",
            "the first end of the range is above the second",
            "exchange them",
        )
    })
}

/// A text that grows value by value.
struct Writer<'a> {
    text: String,
    sheet: &'a DataSheet,
}

fn text(sheet: &DataSheet, library: &Library) -> String {
    let family = library.has_family(&sheet.like);
    let mut writer = Writer {
        text: String::from(
            "# From a data sheet; what is not here is taken over from the record named in like.\n",
        ),
        sheet,
    };
    writer.line("format = 1");
    writer.line(&format!("like = {}", quoted(&sheet.like)));
    writer.line(&format!("name = {}", quoted(&sheet.name)));
    match &sheet.title {
        Some(title) => writer.line(&format!("title = {}", quoted(title))),
        None if family => writer.line(&format!("title = {}", quoted(&sheet.name))),
        None => {}
    }
    if let Some(filler) = &sheet.filler {
        writer.filler(filler);
    }
    writer.stated("density", sheet.density);
    writer.stated("bulk_density", sheet.bulk_density);
    writer.stated("glass_transition", sheet.glass_transition);
    writer.stated("melting", sheet.melting);
    if let Some((low, high)) = sheet.temperature {
        let known = library.base_value(&sheet.like, "drying", "temperature");
        let inside = known.filter(|t| (low.si()..=high.si()).contains(t));
        let middle = 0.5 * (low.si() + high.si());
        let note =
            (inside.is_none() && low.si() < high.si()).then_some("middle of the range stated");
        if inside.is_none() {
            writer.value(
                "drying.temperature",
                middle,
                Meaning::Temperature,
                None,
                note,
            );
        }
        writer.stated("drying.temperature_low", Some(low));
        writer.stated("drying.temperature_high", Some(high));
    }
    if let Some((low, high)) = sheet.time {
        let middle = 0.5 * (low.si() + high.si());
        let said = format!(
            "the sheet says {} to {}",
            written(low.si(), Meaning::Duration),
            written(high.si(), Meaning::Duration)
        );
        let range = low.si() < high.si();
        // The ends of a stated range are taken to be two standard deviations off.
        let spread = range.then(|| {
            let sigma = 0.25 * (high.si() - low.si());
            format!("± {}", written(sigma, Meaning::Duration))
        });
        let note = range.then_some(said.as_str());
        writer.value("drying.time", middle, Meaning::Duration, spread, note);
    }
    writer.stated("drying.hold", sheet.hold);
    writer.stated("drying.dew_point", sheet.dew_point);
    writer.moisture("limit.moulding", sheet.moulding);
    writer.moisture("limit.extrusion", sheet.extrusion);
    writer.moisture("limit.fibre", sheet.fibre);
    writer.moisture("limit.lower_edge", sheet.lower_edge);
    writer.text
}

impl Writer<'_> {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn stated<Q: Written>(&mut self, path: &str, value: Option<Q>) {
        if let Some(value) = value {
            self.value(path, value.si(), Q::MEANING, None, None);
        }
    }

    fn moisture(&mut self, path: &str, value: Option<Moisture>) {
        match value {
            None => {}
            Some(Moisture::Wet(wet)) => {
                self.value(path, wet.si(), MoistureWetBasis::MEANING, None, None);
            }
            Some(Moisture::Dry(dry)) => {
                self.value(path, dry.si(), MoistureDryBasis::MEANING, None, None);
            }
        }
    }

    fn value(
        &mut self,
        path: &str,
        si: f64,
        meaning: Meaning,
        spread: Option<String>,
        note: Option<&str>,
    ) {
        let place = self.sheet.sheet.clone();
        self.open(path, &written(si, meaning));
        if let Some(spread) = spread {
            self.line(&format!("spread = {}", quoted(&spread)));
        }
        self.line(&format!("source = \"{DATA_SHEET}\""));
        self.line(&format!(
            "where = {}",
            quoted(place.as_deref().unwrap_or("data sheet"))
        ));
        self.line("grade = \"stated\"");
        if let Some(note) = note {
            self.line(&format!("note = {}", quoted(note)));
        }
    }

    fn open(&mut self, path: &str, value: &str) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "\n[{path}]\nvalue = {}", quoted(value));
    }

    fn filler(&mut self, filler: &SheetFiller) {
        let _ = writeln!(
            self.text,
            "\n[filler]\nkind = {}",
            quoted(filler.kind.key())
        );
        self.stated("filler.share", Some(filler.share));
        let (density, heat) = usual(filler.kind);
        self.stated("filler.density", filler.density);
        if let (None, Some(density)) = (filler.density, density) {
            let spread = written(0.03 * density, Meaning::Density);
            self.usual(
                "filler.density",
                &written(density, Meaning::Density),
                &spread,
            );
        }
        self.stated("filler.heat_capacity", filler.heat_capacity);
        if let (None, Some(heat)) = (filler.heat_capacity, heat) {
            let spread = written(0.1 * heat, Meaning::SpecificHeatCapacity);
            let value = written(heat, Meaning::SpecificHeatCapacity);
            self.usual("filler.heat_capacity", &value, &spread);
        }
    }

    fn usual(&mut self, path: &str, value: &str, spread: &str) {
        self.open(path, value);
        self.line(&format!("spread = {}", quoted(&format!("± {spread}"))));
        self.line(&format!("source = \"{COMMON_PRACTICE}\""));
        self.line("where = \"usual for this filler\"");
        self.line("grade = \"common practice\"");
        self.line("note = \"from memory\"");
    }
}

/// Density, kg/m3, and heat capacity at 23 degC, J/(kg K), of a filler (common practice, from memory
/// of handbook values, no source); none for a kind that says too little.
fn usual(kind: FillerKind) -> (Option<f64>, Option<f64>) {
    match kind {
        FillerKind::GlassFibre => (Some(2550.0), Some(800.0)),
        FillerKind::GlassBeads => (Some(2500.0), Some(800.0)),
        FillerKind::Talc => (Some(2750.0), Some(870.0)),
        FillerKind::Mineral => (Some(2700.0), Some(850.0)),
        FillerKind::CarbonFibre => (Some(1800.0), Some(710.0)),
        FillerKind::CarbonBlack => (Some(1850.0), Some(700.0)),
        FillerKind::WoodFibre => (Some(1450.0), Some(1350.0)),
        FillerKind::FlameRetardant | FillerKind::Other => (None, None),
    }
}

/// A quantity as the reader reads it.
fn written(si: f64, meaning: Meaning) -> String {
    let unit = meaning.unit(Units::Metric, si);
    let number = digits(unit.number(si), 12);
    let basis = match meaning {
        Meaning::FrostPoint => " frost",
        Meaning::MoistureDryBasis => " dry",
        Meaning::MoistureWetBasis => " wet",
        _ => "",
    };
    format!("{number} {}{basis}", unit.symbol)
}

/// Text between quotes, as TOML wants it.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => {
                quoted.push('\\');
                quoted.push(letter);
            }
            letter if letter.is_control() => {
                let _ = write!(quoted, "\\u{:04X}", u32::from(letter));
            }
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests;
