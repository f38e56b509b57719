//! Text for a terminal: how many columns it takes, where it wraps, what is left out of it.

/// Columns of a page of plain text.
pub(crate) const WIDTH: usize = 80;

/// The text on one line, without control characters and with plain spaces.
pub(crate) fn clean(text: &str) -> String {
    let plain = |c: char| match c {
        '\n' | '\t' | '\u{a0}' | '\u{202f}' | '\u{2009}' => Some(' '),
        // Bidirectional controls can show text in another order than it is read.
        '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2066}'..='\u{2069}'
        | '\u{feff}' => None,
        c if c.is_control() => None,
        c => Some(c),
    };
    text.chars().filter_map(plain).collect()
}

/// How many columns a text takes.
pub(crate) fn columns(text: &str) -> usize {
    text.chars().map(column).sum()
}

/// Columns of one character: none for combining marks, two for the wide characters of East Asian
/// scripts and pictographs (Unicode Standard Annex 11, the main blocks).
fn column(c: char) -> usize {
    match c {
        '\u{300}'..='\u{36f}' => 0,
        '\u{1100}'..='\u{115f}'
        | '\u{2e80}'..='\u{a4cf}'
        | '\u{ac00}'..='\u{d7a3}'
        | '\u{f900}'..='\u{faff}'
        | '\u{fe30}'..='\u{fe6f}'
        | '\u{ff00}'..='\u{ff60}'
        | '\u{ffe0}'..='\u{ffe6}'
        | '\u{1f300}'..='\u{1faff}' => 2,
        _ => 1,
    }
}

/// The text in lines of at most `width` columns; a word that is longer is cut.
pub(crate) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let width = width.max(2);
    let mut lines: Vec<String> = Vec::new();
    for word in pieces(text) {
        let fits = |line: &String| columns(line) + 1 + columns(&word) <= width;
        match lines.last_mut() {
            Some(line) if fits(line) => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.extend(cut(&word, width)),
        }
    }
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines.into_iter().map(|line| clean(&line)).collect()
}

/// Words, with numbers kept together with their unit and their groups of digits.
pub(crate) fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut after_number = false;
    let words = text
        .split([' ', '\n', '\t'])
        .filter(|word| !word.is_empty());
    for word in words {
        match pieces.last_mut() {
            Some(last) if after_number && columns(word) <= 6 && columns(last) < 24 => {
                last.push(' ');
                last.push_str(word);
            }
            _ => pieces.push(word.to_owned()),
        }
        after_number = word.ends_with(|c: char| c.is_ascii_digit());
    }
    pieces
}

fn cut(word: &str, width: usize) -> Vec<String> {
    let mut parts = vec![String::new()];
    for c in word.chars() {
        let full = |part: &String| columns(part) + column(c) > width;
        if parts.last().is_none_or(full) {
            parts.push(String::new());
        }
        if let Some(part) = parts.last_mut() {
            part.push(c);
        }
    }
    parts
}

/// The text with spaces behind it up to `width` columns.
pub(crate) fn left(text: &str, width: usize) -> String {
    let room = width.saturating_sub(columns(text));
    format!("{text}{}", " ".repeat(room))
}

/// The text with spaces before it up to `width` columns.
pub(crate) fn right(text: &str, width: usize) -> String {
    let room = width.saturating_sub(columns(text));
    format!("{}{text}", " ".repeat(room))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_lines_are_never_wider_than_asked() {
        let text = "PC at 10 kg/h leaves at 90 ppm (50 to 170), anunbreakablewordofmanyletters 水分測定 end";
        for width in [2, 7, 12, 24, 80] {
            let lines = wrapped(text, width);
            assert!(
                lines.iter().all(|line| columns(line) <= width),
                "{width}: {lines:?}"
            );
        }
        assert_eq!(wrapped(text, 200), [text]);
        assert_eq!(wrapped("", 10), [""]);
    }

    #[test]
    fn exact_terminals_are_not_steered() {
        assert_eq!(clean("a\u{1b}[31mb\u{7}\u{202e}c\nd"), "a[31mbc d");
        assert_eq!(columns("e\u{301}水"), 3);
    }

    #[test]
    fn exact_numbers_stay_with_their_units() {
        assert_eq!(wrapped("at 120 °C for 4 h", 9), ["at 120 °C", "for 4 h"]);
    }
}
