//! Rules for Rust files: opening, size, test names, and what may not be called or named.

use super::house::{House, KEPT_IN};
use super::rust_text::{RustFile, is_name};
use super::whole::stands_in;
use crate::fault::Fault;
use crate::workspace::Member;

fn of_a_library(file: &RustFile) -> bool {
    file.path.starts_with("crates/") && file.path.contains("/src/")
}

/// Files that do not open with what they are.
pub(super) fn without_opening(files: &[RustFile]) -> Vec<Fault> {
    files
        .iter()
        .filter(|file| {
            let opening = file
                .text
                .lines()
                .next()
                .unwrap_or_default()
                .strip_prefix("//!");
            opening.is_none_or(|sentence| sentence.trim().is_empty())
        })
        .map(|file| {
            Fault::at(
                &file.path,
                1,
                "the file does not open with `//!`",
                "say in one sentence on the first line what the file is",
            )
        })
        .collect()
}

/// Files above the ceiling without an excuse, and excuses nobody needs.
pub(super) fn too_long(files: &[RustFile], house: &House) -> Vec<Fault> {
    let length = |file: &RustFile| file.text.lines().count();
    let mut faults: Vec<Fault> = files
        .iter()
        .filter(|file| length(file) > house.longest_file && !house.long_files.contains(&file.path))
        .map(|file| {
            Fault::at(
                &file.path,
                house.longest_file + 1,
                format!(
                    "{} lines, the ceiling is {}",
                    length(file),
                    house.longest_file
                ),
                format!("split it by idea, or list it under `long_file` in {KEPT_IN} and say why"),
            )
        })
        .collect();
    for path in &house.long_files {
        let needed = files
            .iter()
            .any(|file| file.path == *path && length(file) > house.longest_file);
        if !needed {
            faults.push(Fault::at(
                KEPT_IN,
                1,
                format!("{path} needs no excuse for its length"),
                "remove it from `long_file`",
            ));
        }
    }
    faults
}

/// Tests whose name does not say what stands behind the number.
pub(super) fn test_names(files: &[RustFile], house: &House) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files {
        let mut awaits_name = false;
        for line in &file.lines {
            let code = line.code.trim();
            awaits_name |= code.contains("#[test]");
            let Some(name) = function_name(code).filter(|_| awaits_name) else {
                continue;
            };
            awaits_name = false;
            if !house
                .test_prefixes
                .iter()
                .any(|prefix| name.starts_with(prefix.as_str()))
            {
                faults.push(Fault::at(
                    &file.path,
                    line.number,
                    format!("the test `{name}` does not say what it proves"),
                    format!(
                        "begin its name with one of {}",
                        house.test_prefixes.join(" ")
                    ),
                ));
            }
        }
    }
    faults
}

fn function_name(code: &str) -> Option<&str> {
    let at = code
        .find("fn ")
        .filter(|&at| at == 0 || code[..at].ends_with(' '))?;
    let name = code[at + 3..].trim_start();
    let end = name.find(|letter| !is_name(letter))?;
    Some(&name[..end])
}

/// Error variants that give up on naming what happened.
pub(super) fn other_variants(files: &[RustFile]) -> Vec<Fault> {
    find(
        files,
        &["Other("],
        |file| of_a_library(file) || file.path.starts_with("apps/"),
        |_| {
            (
                "`Other(` says nothing about what happened".to_owned(),
                "name the situation in a variant of its own, with its numbers".to_owned(),
            )
        },
    )
}

/// Print macros in crates that only compute.
pub(super) fn printing(files: &[RustFile]) -> Vec<Fault> {
    let macros = ["println!", "print!", "eprintln!", "eprint!", "dbg!"];
    find(files, &macros, of_a_library, |name| {
        (
            format!("`{name}` in a library"),
            "return the text or the number; a surface under apps/ shows it".to_owned(),
        )
    })
}

/// Calls into the platform's mathematics where results must be the same on every machine.
pub(super) fn platform_functions(
    files: &[RustFile],
    members: &[Member],
    house: &House,
) -> Vec<Fault> {
    let folders: Vec<String> = members
        .iter()
        .filter(|member| house.same_on_every_machine.contains(&member.name))
        .map(|member| format!("{}/src/", member.folder))
        .collect();
    let calls: Vec<String> = house
        .platform_functions
        .iter()
        .flat_map(|name| [format!(".{name}("), format!("f64::{name}")])
        .collect();
    let calls: Vec<&str> = calls.iter().map(String::as_str).collect();
    let inside = |file: &RustFile| folders.iter().any(|folder| file.path.starts_with(folder));
    find(files, &calls, inside, |call| {
        let name = call.trim_start_matches("f64::").trim_matches(['.', '(']);
        let mend = match name {
            "powi" => "multiply it out".to_owned(),
            "powf" => "call `libm::pow`, or `libm::exp(b * libm::log(a))`".to_owned(),
            "ln" => "call `libm::log`".to_owned(),
            "ln_1p" => "call `libm::log1p`".to_owned(),
            "exp_m1" => "call `libm::expm1`".to_owned(),
            "log" => "call `libm::log`, and divide by the logarithm of the base".to_owned(),
            "sin_cos" => "call `libm::sincos`".to_owned(),
            "gamma" => "call `libm::tgamma`".to_owned(),
            "ln_gamma" => "call `libm::lgamma`".to_owned(),
            same => format!("call `libm::{same}`"),
        };
        (
            format!("`{name}` of the platform: its last digits differ between machines"),
            mend,
        )
    })
}

fn find(
    files: &[RustFile],
    patterns: &[&str],
    inside: impl Fn(&RustFile) -> bool,
    say: impl Fn(&str) -> (String, String),
) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files.iter().filter(|file| inside(file)) {
        for line in file.shipped() {
            for pattern in patterns
                .iter()
                .filter(|pattern| stands_in(&line.code, pattern, is_name))
            {
                let (what, mend) = say(pattern);
                faults.push(Fault::at(&file.path, line.number, what, mend));
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::super::rust_text::rust_files;
    use super::*;
    use crate::trouble::Trouble;
    use crate::workspace::TextFile;

    fn file(path: &str, text: &str) -> Vec<RustFile> {
        rust_files(&[TextFile {
            path: path.to_owned(),
            text: text.to_owned(),
        }])
    }

    #[test]
    fn holds_a_file_opens_with_a_sentence() {
        assert_eq!(without_opening(&file("a.rs", "//! What it is.\n")).len(), 0);
        assert_eq!(
            without_opening(&file("a.rs", "use std::fmt;\n//! Late.\n")).len(),
            1
        );
        assert_eq!(without_opening(&file("a.rs", "//!\n//! Late.\n")).len(), 1);
        assert_eq!(without_opening(&file("a.rs", "")).len(), 1);
        assert_eq!(without_opening(&file("a.md", "# Page\n")).len(), 0);
    }

    #[test]
    fn holds_the_ceiling_and_its_excuses() {
        let mut house = House {
            longest_file: 2,
            ..House::default()
        };
        assert_eq!(too_long(&file("a.rs", "1\n2\n"), &house).len(), 0);
        assert_eq!(too_long(&file("a.rs", "1\n2\n3\n"), &house).len(), 1);
        house.long_files = vec!["a.rs".to_owned()];
        assert_eq!(too_long(&file("a.rs", "1\n2\n3\n"), &house).len(), 0);
        assert_eq!(too_long(&file("a.rs", "1\n2\n"), &house).len(), 1);
    }

    #[test]
    fn holds_a_test_name_opens_with_a_prefix() -> Result<(), Trouble> {
        let house = House::kept()?;
        let good =
            "#[test]\n#[ignore = \"slow\"]\npub(crate) fn exact_sphere() {}\nfn helper() {}\n";
        assert_eq!(test_names(&file("a.rs", good), &house), []);
        let bad = "proptest! {\n    #[test]\n    fn sphere_works(x in 0..1) {}\n}\n";
        let found = test_names(&file("a.rs", bad), &house);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].line, 3);
        let on_one_line = "#[test] fn works() {}\n";
        assert_eq!(test_names(&file("a.rs", on_one_line), &house).len(), 1);
        Ok(())
    }

    #[test]
    fn holds_unnamed_errors_are_found_in_code_only() {
        let path = "crates/air/src/error.rs";
        assert_eq!(
            other_variants(&file(path, "enum E { Other(String) }\n")).len(),
            1
        );
        assert_eq!(
            other_variants(&file(path, "enum E { AnOther(f64) } // Other(\n")).len(),
            0
        );
    }

    #[test]
    fn holds_printing_is_found_in_libraries_only() {
        let text =
            "fn f() { eprintln!(\"print!\"); }\n#[cfg(test)]\nmod t { fn g() { dbg!(1); } }\n";
        assert_eq!(printing(&file("crates/air/src/lib.rs", text)).len(), 1);
        assert_eq!(printing(&file("apps/cli/src/main.rs", text)).len(), 0);
    }

    #[test]
    fn holds_platform_mathematics_is_found_where_digits_matter() -> Result<(), Trouble> {
        let house = House::kept()?;
        let member = |name: &str| Member {
            name: name.to_owned(),
            folder: format!("crates/{name}"),
            uses: Vec::new(),
            programs: Vec::new(),
        };
        let members = [member("air"), member("chart")];
        let count =
            |path: &str, text: &str| platform_functions(&file(path, text), &members, &house).len();
        let library = "crates/air/src/lib.rs";
        assert_eq!(
            count(library, "let a = b.exp() + b.map(f64::ln) + b.exp_m1();\n"),
            3
        );
        assert_eq!(
            count(
                library,
                "let a = libm::exp(b) + b.sqrt() + b.expect(c) + b.exponent();\n"
            ),
            0
        );
        assert_eq!(
            count(
                library,
                "#[cfg(test)]\nmod t { fn f() { 1.0_f64.exp(); } }\n"
            ),
            0
        );
        assert_eq!(
            count(
                "crates/air/src/tests/deep.rs",
                "fn f() { 1.0_f64.exp(); }\n"
            ),
            0
        );
        assert_eq!(count("crates/chart/src/lib.rs", "let a = b.exp();\n"), 0);
        Ok(())
    }
}
