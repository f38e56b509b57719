//! Texts as a slip of the hand, of a program or of a disk leaves them, and what a reader may do with
//! them: use them or tell what is wrong, and never stop nor let a number through that is none.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod tests;

use quantity::Faults;

/// What a slip of the hand, of a program or of a disk puts into a file.
const PIECES: &[&str] = &[
    "nan",
    "inf",
    "-inf",
    "1e999",
    "-1",
    "0",
    "1e-320",
    "\"",
    "'''",
    "\"\"\"",
    "\n",
    "[",
    "]",
    "{",
    "}",
    "[[",
    "=",
    ",",
    ".",
    "#",
    "\u{0}",
    "\r",
    "\t",
    "µ",
    "°",
    "\u{2212}",
    "\u{feff}",
    "🧪",
    " wet",
    " dry",
    " degC",
    " degF",
    " frost",
    " dew",
    " bar",
    "(g)",
    "(a)",
    " at ",
    " %",
    " kg/h",
    "[air]",
    "[model.heat]",
    "[resin.isotherm]",
    "form = \"gab\"\n",
    "inline = true\n",
    "like = \"PA66\"\n",
    "volume = \"1 l\"\n",
    "true",
    "{ value = ",
    "spread = \"± 1\"",
];

/// A fixed sequence of picks, so that a failure is met again.
struct Picks(u64);

impl Picks {
    pub(crate) fn below(&mut self, end: usize) -> usize {
        // Knuth's MMIX multiplier and increment.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let high = usize::try_from(self.0 >> 33).unwrap();
        high % end.max(1)
    }

    fn place(&mut self, text: &str) -> usize {
        let mut at = self.below(text.len() + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    }
}

fn mutate(text: &mut String, picks: &mut Picks) {
    let at = picks.place(text);
    match picks.below(7) {
        0 => text.insert_str(at, PIECES[picks.below(PIECES.len())]),
        1 => {
            let end = picks.place(text);
            let (from, to) = (at.min(end), at.max(end).min(at.min(end) + 12));
            if text.is_char_boundary(to) {
                text.replace_range(from..to, PIECES[picks.below(PIECES.len())]);
            }
        }
        2 => text.truncate(at),
        3 => {
            let mut lines: Vec<&str> = text.lines().collect();
            let count = lines.len();
            if count > 1 {
                lines.swap(picks.below(count), picks.below(count));
            }
            *text = lines.join("\n");
        }
        4 => {
            let lines: Vec<&str> = text.lines().collect();
            let line = lines.get(picks.below(lines.len())).copied();
            let line = line.unwrap_or_default().to_owned();
            text.push('\n');
            text.push_str(&line);
        }
        5 => {
            let mut lines: Vec<&str> = text.lines().collect();
            if !lines.is_empty() {
                lines.remove(picks.below(lines.len()));
            }
            *text = lines.join("\n");
        }
        _ => {
            let digits: Vec<usize> = text
                .char_indices()
                .filter(|(_, letter)| letter.is_ascii_digit())
                .map(|(at, _)| at)
                .collect();
            if let Some(&at) = digits.get(picks.below(digits.len())) {
                let with = ["", "9", "0", "-", "e9", ".", "99999", ","];
                text.replace_range(at..=at, with[picks.below(with.len())]);
            }
        }
    }
}

/// A number that is none, as it is shown outside of quoted text.
fn is_none(shown: &str) -> bool {
    let mut plain = String::with_capacity(shown.len());
    let (mut quoted, mut escaped) = (false, false);
    for letter in shown.chars() {
        match letter {
            _ if escaped => escaped = false,
            '\\' if quoted => escaped = true,
            '"' => quoted = !quoted,
            _ if !quoted => plain.push(letter),
            _ => {}
        }
    }
    plain
        .split(|letter: char| !letter.is_alphanumeric())
        .any(|word| word == "NaN" || word == "inf")
}

/// Sound texts of one kind of file, to be spoilt.
pub(crate) struct Mutations<'a> {
    file: &'a str,
    originals: &'a [&'a str],
}

impl<'a> Mutations<'a> {
    /// Of texts that faults are to place in `file`.
    pub(crate) fn of(file: &'a str, originals: &'a [&'a str]) -> Self {
        Self { file, originals }
    }

    /// Spoils and reads texts: `read` shows what it accepts or tells what is wrong. Gives how many
    /// were accepted and how many refused.
    pub(crate) fn run(
        &self,
        rounds: usize,
        mut read: impl FnMut(&str) -> Result<String, Faults>,
    ) -> (usize, usize) {
        let mut picks = Picks(20_240_229);
        let (mut accepted, mut refused) = (0, 0);
        for original in self.originals {
            assert!(read(original).is_ok(), "{original}");
        }
        for round in 0..rounds {
            let mut text = self.originals[round % self.originals.len()].to_owned();
            for _ in 0..=picks.below(4) {
                mutate(&mut text, &mut picks);
            }
            match read(&text) {
                Ok(shown) => {
                    accepted += 1;
                    assert!(!is_none(&shown), "{shown}\n{text}");
                }
                Err(faults) => {
                    refused += 1;
                    assert!(!faults.is_empty(), "{text}");
                    for fault in &faults {
                        let told = !fault.cause.is_empty() && !fault.mend.is_empty();
                        assert!(told, "{fault}\n{text}");
                        assert_eq!(fault.place.file, self.file, "{fault}\n{text}");
                    }
                }
            }
        }
        (accepted, refused)
    }
}
