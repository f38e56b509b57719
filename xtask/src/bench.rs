//! Speed: our programs under bench/ours, and other solvers' scripts under bench/peers.

use crate::command::cargo;
use crate::python;
use crate::trouble::Trouble;
use crate::workspace;
use std::path::Path;

const OURS: &str = "bench-ours";

/// What one program or script printed.
pub(crate) struct Run {
    /// Name of the program, or path of the script.
    pub(crate) name: String,
    /// Its standard output.
    pub(crate) printed: String,
}

/// Runs them and prints what they print.
pub(crate) fn bench(with_peers: bool) -> Result<(), Trouble> {
    for run in runs(&workspace::root(), with_peers)? {
        println!("## {}\n\n{}", run.name, run.printed);
    }
    Ok(())
}

/// Runs our programs, optimised, and after them the scripts, one at a time on a quiet machine.
pub(crate) fn runs(root: &Path, with_peers: bool) -> Result<Vec<Run>, Trouble> {
    let members = workspace::members(root)?;
    let programs = members
        .iter()
        .filter(|member| member.name == OURS)
        .flat_map(|ours| &ours.programs);
    let mut runs = Vec::new();
    for name in programs {
        eprintln!("running {name}");
        let call = [
            "run",
            "--quiet",
            "--release",
            "--locked",
            "-p",
            OURS,
            "--bin",
            name,
        ];
        runs.push(Run {
            name: name.clone(),
            printed: cargo(root, &call).read()?,
        });
    }
    if runs.is_empty() {
        return Err(Trouble::NothingToRun {
            folder: "bench/ours".to_owned(),
        });
    }
    if with_peers {
        runs.extend(python::peers(root)?);
    }
    Ok(runs)
}
