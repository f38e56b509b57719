//! Text on a drawing: how wide it runs, where it wraps, and how it is escaped.

/// Size of all text on a drawing, px.
pub(crate) const SIZE: f64 = 12.0;
/// From one line of text to the next, px.
pub(crate) const LEADING: f64 = 14.5;

/// The text with every character that means something in XML or HTML written out; control
/// characters, which neither may contain, are left out.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' | '\t' => safe.push(' '),
            other if other.is_control() => {}
            other => safe.push(other),
        }
    }
    safe
}

/// About how wide a text runs, px.
///
/// Classes of advance width in em, measured on Liberation Sans 2 and rounded up by a twentieth,
/// which also covers Noto Sans and Source Sans; no fonts are read, so the drawing is the same
/// everywhere.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    size * text.chars().map(advance).sum::<f64>()
}

fn advance(character: char) -> f64 {
    match character {
        'i' | 'j' | 'l' | '\'' | '|' => 0.24,
        'f' | 't' | 'I' | ' ' | '.' | ',' | ':' | ';' | '/' | '!' | '\u{2009}' | '\u{202f}' => 0.30,
        'r' | '-' | '(' | ')' | '[' | ']' | '°' | '"' => 0.37,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' | 'J' => 0.53,
        'm' | 'M' | 'W' | '%' | '—' => 0.93,
        'w' | 'C' | 'D' | 'G' | 'H' | 'N' | 'O' | 'Q' | 'R' | 'U' => 0.78,
        'A' | 'B' | 'E' | 'K' | 'P' | 'S' | 'V' | 'X' | 'Y' => 0.70,
        _ => 0.60,
    }
}

/// The text in lines no wider than `room` where words allow it, as even as can be; a number stays
/// with its unit.
pub(crate) fn wrap(text: &str, size: f64, room: f64) -> Vec<String> {
    let pieces = pieces(text);
    let lines = broken(&pieces, size, room);
    // The narrowest room that needs no more lines makes them even.
    let even = (1..=20).rev().map(|step| room * f64::from(step) / 20.0);
    even.map(|narrow| broken(&pieces, size, narrow))
        .take_while(|tried| {
            tried.len() == lines.len() && widest(tried, size) <= room.max(widest(&lines, size))
        })
        .last()
        .unwrap_or(lines)
}

/// The text in lines no wider than `room` where words allow it, each as full as can be.
pub(crate) fn filled(text: &str, size: f64, room: f64) -> Vec<String> {
    broken(&pieces(text), size, room)
}

fn broken(pieces: &[String], size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for piece in pieces {
        match lines.last_mut() {
            Some(line) if width(line, size) + width(" ", size) + width(piece, size) <= room => {
                line.push(' ');
                line.push_str(piece);
            }
            _ => lines.push(piece.clone()),
        }
    }
    lines
}

/// What must not be broken: words, and numbers with the short word (a unit) that follows.
fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut after_number = false;
    for word in text
        .split([' ', '\n', '\t'])
        .filter(|word| !word.is_empty())
    {
        match pieces.last_mut() {
            Some(last) if after_number && word.chars().count() <= 6 => {
                last.push(' ');
                last.push_str(word);
            }
            _ => pieces.push(word.to_owned()),
        }
        after_number = word.ends_with(|c: char| c.is_ascii_digit());
    }
    pieces
}

/// The widest of several lines, px.
pub(crate) fn widest(lines: &[String], size: f64) -> f64 {
    let widths = lines.iter().map(|line| width(line, size));
    widths.fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_markup_is_written_out() {
        assert_eq!(
            escape("a<b & \"c\">'"),
            "a&lt;b &amp; &quot;c&quot;&gt;&#39;"
        );
        assert_eq!(escape("x\u{0}\u{1b}y\nz"), "xy z");
    }

    #[test]
    fn holds_lines_fit_unless_one_word_does_not() {
        let lines = wrap("air frost point before the hopper", 12.0, 80.0);
        assert!(lines.len() > 1 && widest(&lines, 12.0) <= 80.0);
        assert_eq!(lines.join(" "), "air frost point before the hopper");
        assert_eq!(wrap("at 120 °C, 4 h", 12.0, 60.0), ["at 120 °C,", "4 h"]);
        assert_eq!(wrap("incompressible", 12.0, 10.0), ["incompressible"]);
    }
}
