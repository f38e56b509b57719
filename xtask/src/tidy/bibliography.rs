//! Sources: each key a data file cites is in the bibliography, and each entry is cited.

use super::house::House;
use super::whole::stands_in;
use crate::fault::Fault;
use crate::workspace::TextFile;

/// Where the sources are described.
pub(super) const KEPT_IN: &str = "materials/sources.bib";

/// Folders whose data files cite sources; those of `equipment/` cite name plates and rulers.
const DATA: &[&str] = &["materials/"];

/// The keys of the bibliography, each with its line.
pub(super) fn keys(files: &[TextFile]) -> Vec<(String, usize)> {
    let entries = files.iter().filter(|file| file.path == KEPT_IN);
    entries
        .flat_map(|file| file.text.lines().zip(1..))
        .filter_map(|(line, number)| {
            let (kind, rest) = line.trim().strip_prefix('@')?.split_once('{')?;
            let key = rest.trim_end_matches(',').trim();
            let is_entry = !["comment", "string", "preamble"].contains(&kind.trim());
            (is_entry && !key.is_empty()).then(|| (key.to_owned(), number))
        })
        .collect()
}

/// Whether a word looks like a key: lower-case letters, hyphens and at least one digit.
pub(super) fn is_key(word: &str) -> bool {
    word.starts_with(|letter: char| letter.is_ascii_lowercase())
        && word.contains(|letter: char| letter.is_ascii_digit())
        && word
            .chars()
            .all(|letter| is_part_of_a_key(letter) && !letter.is_uppercase())
}

fn is_part_of_a_key(letter: char) -> bool {
    letter.is_alphanumeric() || "-_".contains(letter)
}

/// Keys without an entry, entries nobody cites, and entries given twice.
pub(super) fn faults(files: &[TextFile], house: &House) -> Vec<Fault> {
    let keys = keys(files);
    let mut faults = Vec::new();
    let data = files
        .iter()
        .filter(|file| file.is("toml") && DATA.iter().any(|folder| file.path.starts_with(folder)));
    for file in data {
        match file.text.parse::<toml::Table>() {
            Err(cause) => faults.push(Fault::at(
                &file.path,
                1,
                format!("not TOML: {}", cause.message()),
                "correct the file",
            )),
            Ok(table) => {
                let mut cited = Vec::new();
                collect(&toml::Value::Table(table), &mut cited);
                cited.sort();
                cited.dedup();
                for key in cited {
                    let known = keys.iter().any(|(known, _)| *known == key);
                    if !known && !house.keys_without_entry.contains(&key) {
                        faults.push(Fault::at(
                            &file.path,
                            line_of(&file.text, &key),
                            format!("the source `{key}` is not in the bibliography"),
                            format!("add it to {KEPT_IN}, or correct the key"),
                        ));
                    }
                }
            }
        }
    }
    for (place, (key, line)) in keys.iter().enumerate() {
        if keys[..place].iter().any(|(before, _)| before == key) {
            faults.push(Fault::at(
                KEPT_IN,
                *line,
                format!("`{key}` is described twice"),
                "keep one entry",
            ));
        }
        if !files
            .iter()
            .any(|file| file.path != KEPT_IN && stands_in(&file.text, key, is_part_of_a_key))
        {
            faults.push(Fault::at(
                KEPT_IN,
                *line,
                format!("nothing cites `{key}`"),
                "cite it where its number is used, or remove the entry",
            ));
        }
    }
    faults
}

fn collect(value: &toml::Value, cited: &mut Vec<String>) {
    match value {
        toml::Value::Array(values) => values.iter().for_each(|value| collect(value, cited)),
        toml::Value::Table(table) => {
            for (name, value) in table {
                if name == "source" || name == "sources" {
                    let several = value.as_array().into_iter().flatten();
                    let given = several.chain(std::iter::once(value));
                    cited.extend(given.filter_map(toml::Value::as_str).map(str::to_owned));
                }
                collect(value, cited);
            }
        }
        _ => {}
    }
}

fn line_of(text: &str, key: &str) -> usize {
    let quoted = format!("\"{key}\"");
    text.lines()
        .zip(1..)
        .find(|(line, _)| line.contains(&quoted))
        .map_or(1, |(_, number)| number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trouble::Trouble;

    fn found(bibliography: &str, data: &str) -> Result<Vec<Fault>, Trouble> {
        let file = |path: &str, text: &str| TextFile {
            path: path.to_owned(),
            text: text.to_owned(),
        };
        let files = [
            file(KEPT_IN, bibliography),
            file("materials/pa66.toml", data),
        ];
        Ok(faults(&files, &House::kept()?))
    }

    #[test]
    fn holds_keys_go_both_ways() -> Result<(), Trouble> {
        let entry = "@article{crank1975,\n title = {x},\n}\n";
        let data = "[a.b]\nlaw = { source = \"crank1975\" }\n[c]\nsource = \"common-practice\"\n";
        assert_eq!(found(entry, data)?, []);
        let missing = found("", data)?;
        assert_eq!(missing.len(), 1);
        assert_eq!(
            (missing[0].file.as_str(), missing[0].line),
            ("materials/pa66.toml", 2)
        );
        let unused = found(
            &format!("{entry}@book{{crank197, }}\n@book{{b2000,\n}}\n"),
            data,
        )?;
        assert_eq!(unused.len(), 2);
        Ok(())
    }

    #[test]
    fn holds_an_entry_given_twice_is_found() -> Result<(), Trouble> {
        let twice = "@article{crank1975,\n}\n@book{crank1975,\n}\n";
        assert_eq!(found(twice, "source = [\"crank1975\"]\n")?.len(), 1);
        Ok(())
    }

    #[test]
    fn holds_a_data_file_that_is_no_toml_is_found() -> Result<(), Trouble> {
        assert_eq!(found("", "source = \n")?.len(), 1);
        Ok(())
    }

    #[test]
    fn holds_what_looks_like_a_key() {
        assert!(is_key("crank1975") && is_key("iapws-r14-2008") && is_key("hyland_wexler1983a"));
        assert!(!is_key("crank") && !is_key("1975") && !is_key("HOLDS2") && !is_key("tests/a1.rs"));
    }
}
