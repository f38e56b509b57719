//! Components: five headings in order, sources in the bibliography, and a check from outside.
//!
//! A file is a component when its opening documentation has the last of the headings,
//! or when `xtask/tidy.toml` lists it.

use super::bibliography;
use super::house::{House, KEPT_IN};
use super::rust_text::{Line, RustFile};
use crate::fault::Fault;
use crate::workspace::{Member, TextFile};

/// Folders a `# Checked by` may point into.
const FOLDERS: &[&str] = &["tests/", "bench/", "examples/", "crates/", "docs/"];

/// A heading of the opening documentation, with the lines below it.
struct Part<'a> {
    heading: &'a str,
    line: usize,
    body: Vec<(&'a str, usize)>,
}

/// What is missing, out of order, unsourced or unchecked.
pub(super) fn faults(
    files: &[TextFile],
    rust: &[RustFile],
    members: &[Member],
    house: &House,
) -> Vec<Fault> {
    let keys = bibliography::keys(files);
    let mut faults = Vec::new();
    let mut components: Vec<&RustFile> = Vec::new();
    for file in rust {
        let parts = parts(&file.text);
        let last = house.component_headings.last().map(String::as_str);
        let declared = parts.iter().any(|part| Some(part.heading) == last);
        if declared || house.components.contains(&file.path) {
            components.push(file);
            faults.extend(headings(file, &parts, house));
            faults.extend(sources(file, &parts, &keys));
            faults.extend(missing_checks(file, &parts, files));
            if !is_checked(file, &parts, rust) && !house.no_outside_check.contains(&file.path) {
                faults.push(Fault::at(
                    &file.path,
                    1,
                    "nothing outside this repository checks this component",
                    format!(
                        "add a `published_` or `peer_` test here or in a file named under \
                         `# Checked by`, or list it under `no_outside_check` in {KEPT_IN} \
                         and say why"
                    ),
                ));
            }
        }
    }
    for member in members
        .iter()
        .filter(|member| house.component_crates.contains(&member.name))
    {
        let folder = format!("{}/src/", member.folder);
        if !components.iter().any(|file| file.path.starts_with(&folder)) {
            faults.push(Fault::at(
                &format!("{folder}lib.rs"),
                1,
                format!("`{}` holds no component", member.name),
                format!(
                    "open the file that states its physics with the headings {}",
                    house.component_headings.join(", ")
                ),
            ));
        }
    }
    for path in &house.components {
        if !files.iter().any(|file| file.path == *path) {
            faults.push(Fault::at(
                KEPT_IN,
                1,
                format!("the component {path} does not exist"),
                "correct or remove its path under `components`",
            ));
        }
    }
    for path in &house.no_outside_check {
        let needed = components
            .iter()
            .any(|file| file.path == *path && !is_checked(file, &parts(&file.text), rust));
        if !needed {
            faults.push(Fault::at(
                KEPT_IN,
                1,
                format!("{path} is no component, or has an outside check now"),
                "remove it from `no_outside_check`",
            ));
        }
    }
    faults
}

fn parts(text: &str) -> Vec<Part<'_>> {
    let mut parts: Vec<Part> = Vec::new();
    let opening = text.lines().zip(1..).map_while(|(line, number)| {
        let documented = line.strip_prefix("//!")?;
        Some((documented.strip_prefix(' ').unwrap_or(documented), number))
    });
    for (text, line) in opening {
        if let Some(heading) = text.strip_prefix("# ") {
            parts.push(Part {
                heading: heading.trim(),
                line,
                body: Vec::new(),
            });
        } else if let Some(part) = parts.last_mut() {
            part.body.push((text, line));
        }
    }
    parts
}

fn headings(file: &RustFile, parts: &[Part], house: &House) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut last = 0;
    for heading in &house.component_headings {
        let Some(part) = parts.iter().find(|part| part.heading == heading) else {
            faults.push(Fault::at(
                &file.path,
                1,
                format!("the component has no `# {heading}`"),
                "write that part, even when it is one line",
            ));
            continue;
        };
        if part.line < last {
            faults.push(Fault::at(
                &file.path,
                part.line,
                format!("`# {heading}` stands out of order"),
                format!("the order is {}", house.component_headings.join(", ")),
            ));
        }
        if part.body.iter().all(|(text, _)| text.trim().is_empty()) {
            faults.push(Fault::at(
                &file.path,
                part.line,
                format!("`# {heading}` is empty"),
                "say it, or say that there is nothing to say and why",
            ));
        }
        last = part.line;
    }
    faults
}

fn sources(file: &RustFile, parts: &[Part], keys: &[(String, usize)]) -> Vec<Fault> {
    let cited = parts
        .iter()
        .filter(|part| part.heading == "Sources")
        .flat_map(|part| {
            part.body.iter().flat_map(|(text, line)| {
                text.split('`')
                    .skip(1)
                    .step_by(2)
                    .map(|key| (key.to_owned(), *line))
            })
        });
    cited
        .filter(|(key, _)| bibliography::is_key(key) && !keys.iter().any(|(known, _)| known == key))
        .map(|(key, line)| {
            Fault::at(
                &file.path,
                line,
                format!("the source `{key}` is not in the bibliography"),
                format!("add it to {}, or correct the key", bibliography::KEPT_IN),
            )
        })
        .collect()
}

fn missing_checks(file: &RustFile, parts: &[Part], files: &[TextFile]) -> Vec<Fault> {
    let there = |path: &str| files.iter().any(|other| is_at(&other.path, path));
    pointed_at(parts)
        .into_iter()
        .filter(|(path, _)| !there(path))
        .map(|(path, line)| {
            Fault::at(
                &file.path,
                line,
                format!("`# Checked by` names {path}, which does not exist"),
                "name the file that checks it, or remove the claim",
            )
        })
        .collect()
}

/// Whether the file is the one named, or lies in the folder named.
fn is_at(file: &str, named: &str) -> bool {
    let below = file.strip_prefix(named.trim_end_matches('/'));
    below.is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
}

fn pointed_at(parts: &[Part]) -> Vec<(String, usize)> {
    let mut paths = Vec::new();
    for (text, line) in parts
        .iter()
        .filter(|part| part.heading == "Checked by")
        .flat_map(|part| &part.body)
    {
        for word in text.split(|letter: char| letter.is_whitespace() || "`(),;[]".contains(letter))
        {
            let word = word
                .trim_end_matches(['.', ':'])
                .split("::")
                .next()
                .unwrap_or_default();
            if FOLDERS.iter().any(|folder| word.starts_with(folder)) {
                paths.push((word.to_owned(), *line));
            }
        }
    }
    paths
}

/// Whether the file, or one it names under `# Checked by`, has a test against the outside.
fn is_checked(file: &RustFile, parts: &[Part], rust: &[RustFile]) -> bool {
    let pointed = pointed_at(parts);
    let named = |other: &&RustFile| {
        other.path == file.path || pointed.iter().any(|(path, _)| is_at(&other.path, path))
    };
    let from_outside =
        |line: &Line| line.code.contains("fn published_") || line.code.contains("fn peer_");
    rust.iter()
        .filter(named)
        .any(|file| file.lines.iter().any(from_outside))
}

#[cfg(test)]
mod tests {
    use super::super::rust_text::rust_files;
    use super::*;
    use crate::trouble::Trouble;

    const COMPLETE: &str = "\
//! Shelf: pellets lying still.
//! # Equations
//! None.
//! # Symbols
//! None.
//! # Holds for
//! Shelves.
//! # Sources
//! `crank1975`
//! # Checked by
//! `tests/published/crank.rs`
";

    /// The rules of the house, of which no component is let off its outside check.
    fn house() -> Result<House, Trouble> {
        Ok(House {
            no_outside_check: Vec::new(),
            ..House::kept()?
        })
    }

    fn found(text: &str) -> Result<Vec<Fault>, Trouble> {
        let file = |path: &str, text: &str| TextFile {
            path: path.to_owned(),
            text: text.to_owned(),
        };
        let files = [
            file("crates/bed/src/shelf.rs", text),
            file(bibliography::KEPT_IN, "@book{crank1975,\n}\n"),
            file("tests/published/crank.rs", "fn published_sheet() {}\n"),
        ];
        Ok(faults(&files, &rust_files(&files), &[], &house()?))
    }

    #[test]
    fn holds_a_complete_component_has_no_fault() -> Result<(), Trouble> {
        assert_eq!(found(COMPLETE)?, []);
        assert_eq!(
            found("//! A file that is no component.\n//! # Equations\n")?,
            []
        );
        Ok(())
    }

    #[test]
    fn holds_a_listed_file_stays_a_component() -> Result<(), Trouble> {
        let path = "crates/bed/src/shelf.rs";
        let house = House {
            components: vec![path.to_owned()],
            ..house()?
        };
        let text = "//! Shelf: pellets lying still.\n".to_owned();
        let files = [TextFile {
            path: path.to_owned(),
            text,
        }];
        // Five headings and the outside check are missing.
        assert_eq!(faults(&files, &rust_files(&files), &[], &house).len(), 6);
        assert_eq!(faults(&[], &[], &[], &house).len(), 1);
        Ok(())
    }

    #[test]
    fn holds_a_missing_empty_or_misplaced_part_is_found() -> Result<(), Trouble> {
        assert_eq!(found(&COMPLETE.replace("# Symbols", "# Letters"))?.len(), 1);
        assert_eq!(found(&COMPLETE.replace("//! Shelves.\n", ""))?.len(), 1);
        let swapped = COMPLETE
            .replace("# Equations", "# X")
            .replace("# Symbols", "# Equations")
            .replace("# X", "# Symbols");
        assert_eq!(found(&swapped)?.len(), 1);
        Ok(())
    }

    #[test]
    fn holds_sources_and_checks_exist() -> Result<(), Trouble> {
        assert_eq!(
            found(&COMPLETE.replace("crank1975", "nobody1999"))?.len(),
            1
        );
        // The named file does not exist, and so nothing outside checks the component either.
        assert_eq!(found(&COMPLETE.replace("crank.rs", "nobody.rs"))?.len(), 2);
        Ok(())
    }

    #[test]
    fn holds_a_component_needs_a_check_from_outside() -> Result<(), Trouble> {
        let inside = COMPLETE.replace("`tests/published/crank.rs`", "The tests below.");
        assert_eq!(found(&inside)?.len(), 1);
        let with_test = format!("{inside}#[test]\nfn published_crank_table() {{}}\n");
        assert_eq!(found(&with_test)?, []);
        Ok(())
    }

    #[test]
    fn holds_a_component_crate_without_component_is_found() -> Result<(), Trouble> {
        let bed = Member {
            name: "bed".to_owned(),
            folder: "crates/bed".to_owned(),
            uses: Vec::new(),
            programs: Vec::new(),
        };
        assert_eq!(faults(&[], &[], &[bed], &house()?).len(), 1);
        Ok(())
    }
}
