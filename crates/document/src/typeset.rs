//! Words for the page: escaped, and numbers kept together with their units.

use chart::escape;

/// The text escaped for HTML, with a space that does not break between a number and the short word
/// (a unit) after it.
pub(crate) fn typeset(text: &str) -> String {
    let mut out = String::new();
    let mut after_number = false;
    for word in text
        .split([' ', '\n', '\t'])
        .filter(|word| !word.is_empty())
    {
        if !out.is_empty() {
            let unit = after_number && word.chars().count() <= 6;
            out.push(if unit { '\u{a0}' } else { ' ' });
        }
        out.push_str(word);
        after_number = word.ends_with(|c: char| c.is_ascii_digit());
    }
    escape(&out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_numbers_stay_with_their_units() {
        assert_eq!(
            typeset("at 120 °C & <dry>"),
            "at 120\u{a0}°C &amp; &lt;dry&gt;"
        );
        assert_eq!(typeset("  "), "");
    }
}
