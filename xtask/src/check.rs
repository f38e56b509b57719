//! Everything that must hold before a change lands, cheapest first, stopping at the first failure.

use crate::command::cargo;
use crate::licences::licences;
use crate::tidy::tidy;
use crate::trouble::Trouble;
use crate::validate;
use crate::workspace;
use std::path::Path;
use std::time::Instant;

/// Runs every step and prints its time; the last line counts the tests.
pub(crate) fn check() -> Result<(), Trouble> {
    let root = workspace::root();
    let start = Instant::now();
    step("format", || {
        cargo(&root, &["fmt", "--all", "--check"]).run()
    })?;
    step("tidy", tidy)?;
    step("licences", licences)?;
    step("clippy", || {
        let lint = [
            "clippy",
            "--locked",
            "--workspace",
            "--all-targets",
            "--",
            "-D",
            "warnings",
        ];
        cargo(&root, &lint).run()
    })?;
    let mut counted = Count::default();
    step("tests", || {
        counted.add(&tests(&root)?);
        Ok(())
    })?;
    step("examples in the documentation", || {
        counted.add(&cargo(&root, &["test", "--locked", "--workspace", "--doc"]).run_and_listen()?);
        Ok(())
    })?;
    step("documentation", || {
        cargo(&root, &["doc", "--locked", "--workspace", "--no-deps"])
            .with("RUSTDOCFLAGS", "-D warnings")
            .run()
    })?;
    step("docs/validation.md", validate::compare)?;
    if counted.passed == 0 {
        return Err(Trouble::NoTestRan);
    }
    println!(
        "\neverything holds, after {:.0} s",
        start.elapsed().as_secs_f64()
    );
    println!(
        "{} passed, {} failed, {} skipped",
        counted.passed, counted.failed, counted.skipped
    );
    Ok(())
}

fn step(name: &str, run: impl FnOnce() -> Result<(), Trouble>) -> Result<(), Trouble> {
    println!("\n==> {name}");
    let start = Instant::now();
    let outcome = run();
    let seconds = start.elapsed().as_secs_f64();
    match outcome {
        Ok(()) => {
            println!("==> {name}: ok in {seconds:.1} s");
            Ok(())
        }
        Err(trouble) => {
            println!("==> {name}: failed after {seconds:.1} s");
            Err(trouble)
        }
    }
}

/// All tests but those in the documentation, with the faster runner where it is installed.
fn tests(root: &Path) -> Result<Vec<String>, Trouble> {
    let arguments: &[&str] = if cargo(root, &["nextest", "--version"]).succeeds() {
        &["nextest", "run", "--locked", "--workspace"]
    } else {
        &["test", "--locked", "--workspace", "--all-targets"]
    };
    cargo(root, arguments).run_and_listen()
}

/// Tests counted from the closing lines of the runners.
#[derive(Debug, Default, PartialEq, Eq)]
struct Count {
    passed: usize,
    failed: usize,
    skipped: usize,
}

impl Count {
    fn add(&mut self, lines: &[String]) {
        for line in lines {
            let closes = line.starts_with("test result:") || line.contains("tests run:");
            if !closes && !line.contains("test run:") {
                continue;
            }
            self.passed += before(line, "passed");
            self.failed += before(line, "failed");
            self.skipped += before(line, "skipped") + before(line, "ignored");
        }
    }
}

/// The number that stands before a word, as in `12 passed`, or zero.
fn before(line: &str, word: &str) -> usize {
    let words: Vec<&str> = line
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let at = words
        .iter()
        .position(|found| *found == word)
        .and_then(|at| at.checked_sub(1));
    at.and_then(|at| words[at].parse().ok()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_both_runners_are_counted() {
        let lines = [
            "test result: ok. 3 passed; 1 failed; 2 ignored; 0 measured; 0 filtered out",
            "     Summary [   1.20s] 12 tests run: 11 passed (1 slow), 1 failed, 4 skipped",
            "     Summary [   0.20s] 1 test run: 1 passed, 0 skipped",
            "this line says 99 passed and is no closing line",
        ];
        let mut count = Count::default();
        count.add(&lines.map(str::to_owned));
        assert_eq!(
            count,
            Count {
                passed: 15,
                failed: 2,
                skipped: 6
            }
        );
    }
}
