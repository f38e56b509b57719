//! Gaps in a weather file: those that are bridged, and those that are mistakes.

use super::{Row, fault};
use crate::text::Text;
use quantity::{Fault, FaultKind, digits};

/// The longest gap that is bridged, s.
pub(super) const BRIDGED: i64 = 3 * 3600;

/// Two rows with more between them than there should be.
struct Gap<'a> {
    before: &'a Row,
    after: &'a Row,
}

impl Gap<'_> {
    /// Its length, s.
    fn length(&self) -> i64 {
        self.after.time - self.before.time
    }

    /// From when to when, how long, and between which lines.
    fn words(&self) -> String {
        format!(
            "from {} to {}, {} (lines {} and {})",
            self.before.written,
            self.after.written,
            hours(self.length()),
            self.before.line,
            self.after.line
        )
    }
}

/// Gaps from a time on: short ones noted, long ones told.
pub(super) fn gaps(rows: &[Row], from: i64, text: &Text, notes: &mut Vec<String>) -> Vec<Fault> {
    let needed: Vec<&Row> = rows.iter().filter(|row| row.time >= from).collect();
    let pairs = || {
        needed.windows(2).map(|pair| Gap {
            before: pair[0],
            after: pair[1],
        })
    };
    let mut steps: Vec<i64> = pairs().map(|gap| gap.length()).collect();
    steps.sort_unstable();
    let usual = steps.get(steps.len() / 2).copied().unwrap_or(0);
    let bridged: Vec<Gap> = pairs()
        .filter(|gap| gap.length() <= BRIDGED && 2 * gap.length() > 3 * usual)
        .collect();
    notes.extend(bridged_words(&bridged, text));
    pairs()
        .filter(|gap| gap.length() > BRIDGED)
        .map(|gap| {
            fault(
                text,
                gap.after.line,
                FaultKind::Inconsistent,
                &gap.after.written,
                format!("nothing is known {}", gap.words()),
                "fill the rows in; a gap of up to 3 h is bridged along a straight line".to_owned(),
            )
        })
        .collect()
}

/// What is said of the gaps that are bridged: when the longest is, and how long all are.
fn bridged_words(bridged: &[Gap<'_>], text: &Text) -> Option<String> {
    let longest = bridged
        .iter()
        .reduce(|a, b| if b.length() > a.length() { b } else { a })?;
    let name = &text.name;
    Some(if let [one] = bridged {
        format!(
            "one gap of {name} is bridged along a straight line: {}",
            one.words()
        )
    } else {
        format!(
            "{} gaps of {name} are bridged along a straight line, {} in all; the longest is {}",
            bridged.len(),
            hours(bridged.iter().map(Gap::length).sum()),
            longest.words()
        )
    })
}

/// Seconds in hours.
fn hours(seconds: i64) -> String {
    format!("{} h", digits(seconds as f64 / 3600.0, 3))
}
