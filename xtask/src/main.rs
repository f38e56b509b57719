//! House keeping for drybed: `cargo xtask check`, `tidy`, `licences`, `validate`, `bench`.
#![expect(
    clippy::print_stdout,
    reason = "a house-keeping program talks on the terminal"
)]
#![expect(
    clippy::print_stderr,
    reason = "a house-keeping program talks on the terminal"
)]

mod bench;
mod check;
mod command;
mod fault;
mod licences;
mod licences_expression;
mod python;
mod tidy;
mod trouble;
mod validate;
mod workspace;

use std::process::ExitCode;
use trouble::Trouble;

const HELP: &str = "\
cargo xtask check                       everything that must hold before a change lands
cargo xtask tidy                        the rules of this house that the compiler does not know
cargo xtask licences                    every dependency's licence against deny.toml
cargo xtask validate [--check] [--long] write docs/validation.md, compare it, or measure as well
cargo xtask bench [--peers]             measure our speed, and that of other solvers beside it";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match run(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(trouble) => {
            eprintln!("\nfailed: {trouble}");
            ExitCode::FAILURE
        }
    }
}

fn run(words: &[String]) -> Result<(), Trouble> {
    let (task, flags) = match words.split_first() {
        None => ("help", &[][..]),
        Some((task, flags)) => (task.as_str(), flags),
    };
    let known: &[&str] = match task {
        "validate" => &["--check", "--long"],
        "bench" => &["--peers"],
        _ => &[],
    };
    if let Some(flag) = flags.iter().find(|flag| !known.contains(&flag.as_str())) {
        return Err(Trouble::UnknownFlag {
            task: task.to_owned(),
            flag: flag.clone(),
        });
    }
    let has = |flag: &str| flags.iter().any(|given| given == flag);
    match task {
        "help" | "--help" | "-h" => {
            println!("{HELP}");
            Ok(())
        }
        "check" => check::check(),
        "tidy" => tidy::tidy(),
        "licences" => licences::licences(),
        "validate" if has("--check") && has("--long") => Err(Trouble::NotComparable),
        "validate" if has("--check") => validate::compare(),
        "validate" if has("--long") => validate::write_long(),
        "validate" => validate::write(),
        "bench" => bench::bench(has("--peers")),
        other => Err(Trouble::UnknownTask {
            task: other.to_owned(),
        }),
    }
}
