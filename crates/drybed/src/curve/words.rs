//! A curve asked for in a few words: turned into the file that asks the same.

use super::{CurveQuestion, read_curve};
use files::Library;
use quantity::{Fault, FaultKind, Faults, Place};
use serde::{Deserialize, Serialize};
use std::fmt::Write as _;

/// A curve in words, each with its unit and basis.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CurveWords {
    /// Name of a resin of the library.
    pub resin: String,
    /// Diameter of the pellet: `2.5 mm`; that of the record when absent.
    pub diameter: Option<String>,
    /// Length of the pellet.
    pub length: Option<String>,
    /// Moisture at the beginning: `0.2 % wet`.
    pub moisture: Option<String>,
    /// Water on the surface at the beginning: `2000 ppm dry`.
    pub surface_water: Option<String>,
    /// Temperature at the beginning.
    pub temperature: Option<String>,
    /// Moisture it is held against.
    pub limit: Option<String>,
    /// Height above the sea.
    pub altitude: Option<String>,
    /// The air, stretch by stretch: `120 degC, -40 degC frost, 4 h`.
    pub air: Vec<String>,
}

impl CurveWords {
    /// The question that these words ask.
    ///
    /// # Errors
    /// Every mistake in them.
    pub fn read(&self, library: &Library) -> Result<CurveQuestion, Faults> {
        let mut faults = Faults::none();
        let text = self.file(&mut faults);
        // Lines of a file that nobody sees say nothing.
        let unseen = |mut found: Faults| {
            for fault in &mut found.0 {
                fault.place = Place::of("", fault.place.path.clone());
            }
            found
        };
        match read_curve(&text, "", library).map_err(unseen) {
            Ok(question) => faults.or(question),
            Err(mistakes) => {
                faults.extend(mistakes);
                Err(faults)
            }
        }
    }

    fn file(&self, faults: &mut Faults) -> String {
        let mut text = String::from("format = 1\n");
        let mut put = |name: &str, value: Option<&String>| {
            if let Some(value) = value {
                // Writing to a string cannot fail.
                let _ = writeln!(text, "{name} = {}", quoted(value));
            }
        };
        put("title", Some(&format!("{} pellet", self.resin)));
        put("limit", self.limit.as_ref());
        put("altitude", self.altitude.as_ref());
        put("resin.name", Some(&self.resin));
        put("resin.pellet.diameter", self.diameter.as_ref());
        put("resin.pellet.length", self.length.as_ref());
        put("start.moisture", self.moisture.as_ref());
        put("start.surface_water", self.surface_water.as_ref());
        put("start.temperature", self.temperature.as_ref());
        for (index, stretch) in self.air.iter().enumerate() {
            let parts: Vec<&str> = stretch.split(',').map(str::trim).collect();
            let [temperature, humidity, duration] = parts.as_slice() else {
                faults.push(Fault::new(
                    FaultKind::WrongSort,
                    Place::of("", format!("air[{}]", index + 1)),
                    format!("{stretch:?}"),
                    "a stretch of air is temperature, humidity and duration, with commas between",
                    "write for example \"120 degC, -40 degC frost, 4 h\"",
                ));
                continue;
            };
            text.push_str("[[air]]\n");
            for (name, value) in [
                ("temperature", temperature),
                ("humidity", humidity),
                ("duration", duration),
            ] {
                let _ = writeln!(text, "{name} = {}", quoted(value));
            }
        }
        text
    }
}

/// A basic string of TOML.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => {
                out.push('\\');
                out.push(letter);
            }
            letter if letter.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(letter));
            }
            letter => out.push(letter),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn words() -> CurveWords {
        CurveWords {
            resin: "PC".into(),
            moisture: Some("0.2 % wet".into()),
            air: vec!["120 degC, -40 degC frost, 4 h".into()],
            ..CurveWords::default()
        }
    }

    #[test]
    fn holds_words_ask_what_a_file_asks() {
        let library = Library::shipped().unwrap();
        let question = words().read(&library).unwrap();
        assert!((question.moisture.wet_basis().ppm() - 2000.0).abs() < 1e-9);
        assert_eq!(question.segments.len(), 1);
    }

    #[test]
    fn holds_hostile_words_stay_words() {
        let library = Library::shipped().unwrap();
        let mut hostile = words();
        hostile.resin = "PC\"\nformat = 2\n[x]".into();
        hostile.air.push("hot".into());
        let faults = hostile.read(&library).unwrap_err();
        let paths: Vec<&str> = faults.iter().map(|f| f.place.path.as_str()).collect();
        assert_eq!(paths, ["air[2]", "resin.name"], "{faults}");
    }
}
