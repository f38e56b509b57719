//! Words for the page: escaped, and numbers kept together with their units.

use chart::escape;
use std::fmt::Write as _;

/// Characters of the longest word that is kept with the number before it.
const MOST_OF_A_UNIT: usize = 7;

/// The text escaped for HTML. A number and the short word (a unit) after it stay on one line, also
/// where the unit has a place to break in itself, as `kg/h` has.
pub(crate) fn typeset(text: &str) -> String {
    let words: Vec<&str> = text
        .split([' ', '\n', '\t'])
        .filter(|word| !word.is_empty())
        .collect();
    let mut out = String::new();
    let mut at = 0;
    while at < words.len() {
        if !out.is_empty() {
            out.push(' ');
        }
        let word = escape(words[at]);
        let ends_in_digit = words[at].ends_with(|c: char| c.is_ascii_digit());
        let unit = words
            .get(at + 1)
            .filter(|unit| unit.chars().count() <= MOST_OF_A_UNIT);
        if let Some(unit) = unit.filter(|_| ends_in_digit) {
            let unit = escape(unit);
            let _ = write!(out, "<span class=\"value\">{word}\u{a0}{unit}</span>");
            at += 2;
        } else {
            out.push_str(&word);
            at += 1;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_numbers_stay_with_their_units() {
        assert_eq!(
            typeset("at 120 °C & <dry>"),
            "at <span class=\"value\">120\u{a0}°C</span> &amp; &lt;dry&gt;"
        );
        // A slash is a place to break, so the unit must not be left to itself.
        assert_eq!(
            typeset("42.1 kg/h."),
            "<span class=\"value\">42.1\u{a0}kg/h.</span>"
        );
        assert_eq!(typeset("  "), "");
    }
}
