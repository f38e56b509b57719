//! What a file said, field by field, each value with its place and its meaning.

use material::Spread;
use quantity::{
    AirFlow, Fault, FaultKind, Faults, Field, Humidity, Meaning, Moisture, Place, Section,
    StatedPressure, Value, Written,
};

/// One value of a file.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Where it stands.
    pub place: Place,
    /// The value as it was written, quotes aside.
    pub written: String,
    /// Whether the user wrote it; otherwise it is the default of its field.
    pub given: bool,
    /// What it says.
    pub held: Held,
    /// Where it was carried over from, when the file itself does not say it.
    pub inherited: Option<Inherited>,
}

/// Where a value was carried over from.
#[derive(Clone, Debug, PartialEq)]
pub struct Inherited {
    /// The record or family that states it.
    pub from: String,
    /// Its spread, where counting it in another way changed it.
    pub spread: Option<Spread>,
    /// What was done to it on the way.
    pub note: Option<String>,
}

/// What a value says.
#[derive(Clone, Debug)]
pub enum Held {
    /// A quantity and the meaning its field has.
    Quantity(Value, Meaning),
    /// Text.
    Text(String),
    /// One of the words of a choice.
    Choice(&'static str),
    /// Yes or no.
    Flag(bool),
    /// A whole number.
    Count(u64),
    /// Several values.
    List(Vec<Entry>),
    /// A table.
    Table(Bag),
    /// Several tables.
    Tables(Vec<Bag>),
    /// A value with what is known of it; the table has the fields of [`crate::PARENTS`].
    Sourced(Box<Entry>, Bag),
    /// Something that was refused, with a fault already told.
    Refused,
}

/// The values of one table.
#[derive(Clone, Debug)]
pub struct Bag {
    /// Where the table begins; its path is the path of its fields.
    pub place: Place,
    /// What describes it.
    pub section: &'static Section,
    /// Values by name, in the order of the description.
    entries: Vec<(&'static str, Entry)>,
}

impl Entry {
    /// A quantity of a kind whose basis is fixed.
    pub fn quantity<Q: Written>(&self) -> Option<Q> {
        match self.bare() {
            Held::Quantity(Value::Si(si), meaning) if *meaning == Q::MEANING => {
                Some(Q::from_si(*si))
            }
            _ => None,
        }
    }

    /// A plain number: the SI value of any meaning whose basis is fixed.
    pub fn number(&self) -> Option<f64> {
        match self.bare() {
            Held::Quantity(Value::Si(si), _) => Some(*si),
            _ => None,
        }
    }

    /// A moisture with its basis.
    pub fn moisture(&self) -> Option<Moisture> {
        match self.bare() {
            Held::Quantity(Value::Moisture(moisture), _) => Some(*moisture),
            _ => None,
        }
    }

    /// A humidity in the form it was stated.
    pub fn humidity(&self) -> Option<Humidity> {
        match self.bare() {
            Held::Quantity(Value::Humidity(humidity), _) => Some(*humidity),
            _ => None,
        }
    }

    /// A flow of air as it was counted.
    pub fn air_flow(&self) -> Option<AirFlow> {
        match self.bare() {
            Held::Quantity(Value::AirFlow(flow), _) => Some(*flow),
            _ => None,
        }
    }

    /// A pressure with what it is counted from.
    pub fn pressure(&self) -> Option<StatedPressure> {
        match self.bare() {
            Held::Quantity(Value::Pressure(pressure), _) => Some(*pressure),
            _ => None,
        }
    }

    /// Text.
    pub fn text(&self) -> Option<String> {
        match self.bare() {
            Held::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    /// The word chosen.
    pub fn choice(&self) -> Option<&'static str> {
        match self.bare() {
            Held::Choice(word) => Some(word),
            _ => None,
        }
    }

    /// Yes or no.
    pub fn flag(&self) -> Option<bool> {
        match self.bare() {
            Held::Flag(flag) => Some(*flag),
            _ => None,
        }
    }

    /// A whole number.
    pub fn count(&self) -> Option<u64> {
        match self.bare() {
            Held::Count(count) => Some(*count),
            _ => None,
        }
    }

    /// Several values.
    pub fn list(&self) -> Option<Vec<Self>> {
        match self.bare() {
            Held::List(list) => Some(list.clone()),
            _ => None,
        }
    }

    /// A table.
    pub fn table(&self) -> Option<Bag> {
        match self.bare() {
            Held::Table(bag) => Some(bag.clone()),
            _ => None,
        }
    }

    /// Several tables.
    pub fn tables(&self) -> Option<Vec<Bag>> {
        match self.bare() {
            Held::Tables(bags) => Some(bags.clone()),
            _ => None,
        }
    }

    /// The value as it was written, also where it stands in a table of its own.
    pub(crate) fn said(&self) -> &str {
        match &self.held {
            Held::Sourced(value, _) if self.written.is_empty() => &value.written,
            _ => &self.written,
        }
    }

    /// The value itself, without what is known of it.
    fn bare(&self) -> &Held {
        match &self.held {
            Held::Sourced(entry, _) => entry.bare(),
            held => held,
        }
    }
}

impl Bag {
    /// An empty table.
    pub fn empty(section: &'static Section, place: Place) -> Self {
        Self {
            place,
            section,
            entries: Vec::new(),
        }
    }

    /// Adds or replaces a value.
    pub fn put(&mut self, name: &'static str, entry: Entry) {
        match self.entries.iter_mut().find(|(known, _)| *known == name) {
            Some((_, held)) => *held = entry,
            None => self.entries.push((name, entry)),
        }
    }

    /// Takes a value out.
    pub fn remove(&mut self, name: &str) -> Option<Entry> {
        let at = self.entries.iter().position(|(known, _)| *known == name)?;
        Some(self.entries.remove(at).1)
    }

    /// The entry of a field, given or by default.
    pub fn entry(&self, name: &str) -> Option<&Entry> {
        self.entries
            .iter()
            .find(|(known, _)| *known == name)
            .map(|(_, entry)| entry)
    }

    /// The entry of a field, to be changed.
    pub fn entry_mut(&mut self, name: &str) -> Option<&mut Entry> {
        self.entries
            .iter_mut()
            .find(|(known, _)| *known == name)
            .map(|(_, entry)| entry)
    }

    /// Every entry with its name.
    pub fn entries(&self) -> impl Iterator<Item = (&'static str, &Entry)> {
        self.entries.iter().map(|(name, entry)| (*name, entry))
    }

    /// Whether the user wrote this field.
    pub fn gives(&self, name: &str) -> bool {
        self.entry(name).is_some_and(|entry| entry.given)
    }

    /// What a field says, read by a function of [`Entry`]: `bag.get("rate", Entry::number)`.
    pub fn get<T>(&self, name: &str, read: impl FnOnce(&Entry) -> Option<T>) -> Option<T> {
        self.entry(name).and_then(read)
    }

    /// What a field says, or the fault of its absence.
    ///
    /// # Errors
    /// A missing field, at the place of the table.
    pub fn need<T>(&self, name: &str, read: impl FnOnce(&Entry) -> Option<T>) -> Result<T, Faults> {
        self.get(name, read).ok_or_else(|| self.lacks(name).into())
    }

    /// The fault of a missing field, at the place of the table.
    pub fn lacks(&self, name: &str) -> Fault {
        let field = self.section.field(name);
        let words = field.map_or_else(String::new, |f| format!(": {}", f.help));
        let example = field.map_or_else(String::new, example);
        let mend = if example.is_empty() {
            format!("add {name}")
        } else {
            format!("add for example {example}")
        };
        Fault::new(
            FaultKind::MissingField,
            self.place_of(name),
            "",
            format!("{name} is missing{words}"),
            mend,
        )
    }

    /// Where a field stands; where it is absent, the table, with the path of the field.
    pub fn place_of(&self, name: &str) -> Place {
        match self.entry(name) {
            Some(entry) if entry.given => entry.place.clone(),
            _ => Place {
                path: join(&self.place.path, name),
                ..self.place.clone()
            },
        }
    }

    /// A fault of one field, quoting what was written there.
    pub fn fault(
        &self,
        name: &str,
        kind: FaultKind,
        cause: impl Into<String>,
        mend: impl Into<String>,
    ) -> Fault {
        let value = self.entry(name).map_or("", Entry::said);
        let value = if value.is_empty() {
            String::new()
        } else {
            format!("{value:?}")
        };
        Fault::new(kind, self.place_of(name), value, cause, mend)
    }
}

/// How a field is written, as far as one line can show it.
pub(crate) fn example(field: &Field) -> String {
    use quantity::FieldKind as Kind;
    fn value(kind: &Kind, text: &str) -> Option<String> {
        match kind {
            Kind::Quantity(Meaning::Number) | Kind::Flag | Kind::Count => Some(text.to_owned()),
            Kind::Quantity(_) | Kind::Text | Kind::Choice(_) => Some(format!("{text:?}")),
            Kind::List(_) if text.starts_with('[') => Some(text.to_owned()),
            Kind::List(item) => value(item, text).map(|one| format!("[{one}]")),
            Kind::Sourced(kind) => value(kind, text),
            Kind::Table(_) | Kind::Tables(_) | Kind::Partial(_) => None,
        }
    }
    match (field.kind, value(&field.kind, field.example)) {
        (_, Some(text)) => format!("{} = {text}", field.name),
        (Kind::Tables(_), None) => format!("[[{}]]", field.name),
        (_, None) => format!("[{}]", field.name),
    }
}

/// The path of a field of a table.
pub(crate) fn join(path: &str, name: &str) -> String {
    if path.is_empty() {
        name.to_owned()
    } else {
        format!("{path}.{name}")
    }
}
