//! The command line of drybed: parse, call one function, show.
//!
//! Data go to stdout, talk to stderr. The exit code says how it went: 0 met, surely or not, 1 a plan
//! that cannot be
//! met as it stands, 2 bad input (nothing written), 3 something could not be written or computed.

mod air;
mod arguments;
mod check;
mod compare;
mod curve;
mod demo;
mod equipment;
mod outcome;
mod plan;
mod resin;
mod shift;
mod show;
mod size;
mod start;
mod write;

use arguments::{Arguments, Command, JobCommand};
use clap::Parser;
use outcome::{Failure, Outcome};
use std::process::ExitCode;

fn main() -> ExitCode {
    let outcome = match run(Arguments::parse().command) {
        Ok(outcome) => outcome,
        Err(failure) => failure.tell(),
    };
    outcome.into()
}

fn run(command: Command) -> Result<Outcome, Failure> {
    match command {
        Command::Air(asked) => air::run(&asked),
        Command::Curve(asked) => curve::run(&asked),
        Command::Plan(asked) => plan::run(&asked),
        Command::Compare(asked) => compare::run(&asked),
        Command::Check(asked) => check::run(&asked),
        Command::Size(asked) => size::run(&asked),
        Command::Shift(asked) => shift::run(&asked),
        Command::Policy(asked) => shift::policy(&asked),
        Command::Stop(asked) => shift::stop(&asked),
        Command::Changeover(asked) => shift::changeover(&asked),
        Command::Start(asked) => start::run(&asked),
        Command::Resin(asked) => resin::run(&asked.command),
        Command::Job(JobCommand::Fields) => show::say(&drybed::job_fields()),
        Command::Job(JobCommand::Schema) => show::say(&drybed::job_schema()?),
        Command::Equipment(asked) => equipment::run(&asked),
        Command::Demo(asked) => demo::run(&asked),
    }
}
