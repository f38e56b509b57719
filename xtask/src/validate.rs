//! docs/validation.md: every row our tests compare with the outside, printed by the same code.

use crate::bench;
use crate::command::{Call, cargo};
use crate::trouble::Trouble;
use crate::workspace;
use std::path::Path;

const PAGE: &str = "docs/validation.md";
const LONG_PAGE: &str = "docs/validation-long.md";

/// Writes the page from what the program computes now.
pub(crate) fn write() -> Result<(), Trouble> {
    let root = workspace::root();
    workspace::write(&root.join(PAGE), &generated(&root)?)?;
    println!("wrote {PAGE}");
    Ok(())
}

/// Compares the page that is kept with what the program computes now.
pub(crate) fn compare() -> Result<(), Trouble> {
    let root = workspace::root();
    let kept = workspace::read(&root.join(PAGE))?;
    match first_difference(&kept, &generated(&root)?) {
        None => Ok(()),
        Some((line, kept, generated)) => Err(Trouble::Stale {
            path: PAGE.to_owned(),
            line,
            kept,
            generated,
        }),
    }
}

/// Writes the page, then measures speed here and in other solvers, and writes that with its date.
pub(crate) fn write_long() -> Result<(), Trouble> {
    write()?;
    let root = workspace::root();
    let day = Call::new(&root, "date", &["-u", "+%Y-%m-%d"]).read()?;
    let commit = Call::new(&root, "git", &["rev-parse", "HEAD"]).read()?;
    let changed = !Call::new(
        &root,
        "git",
        &["status", "--porcelain", "--untracked-files=no"],
    )
    .read()?
    .trim()
    .is_empty();
    let mut page = format!(
        "# Long validation\n\n\
         Written by `cargo xtask validate --long`; times differ from run to run and machine to \
         machine, ratios less so.\n\n\
         - date: {}\n- commit: {}{}\n- machine: {}\n",
        day.trim(),
        commit.trim(),
        if changed {
            " with changes not committed"
        } else {
            ""
        },
        machine()
    );
    for run in bench::runs(&root, true)? {
        page.extend([
            "
## ",
            &run.name,
            "

",
            &fenced(&run.printed),
            "
",
        ]);
    }
    workspace::write(&root.join(LONG_PAGE), &page)?;
    println!("wrote {LONG_PAGE}");
    Ok(())
}

fn generated(root: &Path) -> Result<String, Trouble> {
    cargo(
        root,
        &[
            "run",
            "--quiet",
            "--locked",
            "-p",
            "proof",
            "--bin",
            "validation",
        ],
    )
    .read()
}

fn machine() -> String {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    format!(
        "{} {}, {cores} cores",
        std::env::consts::OS,
        std::env::consts::ARCH
    )
}

/// Output that is Markdown already stays so; anything else is shown as it was printed.
fn fenced(printed: &str) -> String {
    let printed = printed.trim_end();
    if printed.lines().any(|line| line.starts_with("| ")) {
        printed.to_owned()
    } else {
        format!("```text\n{printed}\n```")
    }
}

/// The first line that differs, with what stands there on either side.
fn first_difference(kept: &str, generated: &str) -> Option<(usize, String, String)> {
    let mut ours = kept.lines();
    let mut theirs = generated.lines();
    for number in 1.. {
        match (ours.next(), theirs.next()) {
            (None, None) => break,
            (one, other) if one == other => {}
            (one, other) => {
                let shown = |line: Option<&str>| line.unwrap_or("(the page ends)").to_owned();
                return Some((number, shown(one), shown(other)));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_the_first_difference_is_named() {
        assert_eq!(first_difference("a\nb\n", "a\nb\n"), None);
        let second = first_difference("a\nb\n", "a\nc\n");
        assert_eq!(second, Some((2, "b".to_owned(), "c".to_owned())));
        assert_eq!(
            first_difference("a\n", "a\nc\n").map(|found| found.0),
            Some(2)
        );
        assert_eq!(
            first_difference("a\nc\n", "a\n").map(|found| found.0),
            Some(2)
        );
    }

    #[test]
    fn holds_tables_are_left_as_they_are() {
        assert_eq!(fenced("| a |\n"), "| a |");
        assert_eq!(fenced("a\n"), "```text\na\n```");
    }
}
