//! Words that do not belong in this repository, as listed in `xtask/tidy.toml`.

use super::house::{House, KEPT_IN};
use super::whole::stands_in;
use crate::fault::Fault;
use crate::workspace::TextFile;

/// Each place where such a word stands.
pub(super) fn faults(files: &[TextFile], house: &House) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|file| file.path != KEPT_IN) {
        for (text, line) in file.text.lines().zip(1..) {
            let text = text.to_lowercase();
            for word in house
                .words
                .iter()
                .filter(|word| stands_in(&text, &word.not.to_lowercase(), char::is_alphanumeric))
            {
                faults.push(Fault::at(
                    &file.path,
                    line,
                    format!("\"{}\" does not belong here", word.not),
                    format!("write {}", word.write),
                ));
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trouble::Trouble;

    #[test]
    fn holds_words_are_found_whole_and_in_any_case() -> Result<(), Trouble> {
        let kept = include_str!("../../tidy.toml");
        let listed = "[[word]]\nnot = \"blue moon\"\nwrite = \"a date\"\n";
        let house = House::from_text(&format!("{kept}\n{listed}"))?;
        let count = |text: &str| {
            let file = TextFile {
                path: "a.md".to_owned(),
                text: text.to_owned(),
            };
            faults(&[file], &house).len()
        };
        assert_eq!(count("once in a Blue Moon, and\nblue moon.\n"), 2);
        assert_eq!(count("blue moons\n"), 0);
        Ok(())
    }
}
