//! Other solvers, called through Python in an environment of their own under target/.

use crate::bench::Run;
use crate::command::Call;
use crate::trouble::Trouble;
use std::fs;
use std::path::{Path, PathBuf};

const PEERS: &str = "bench/peers";

/// Runs every script under bench/peers that is meant to be run, in the order of their names.
pub(crate) fn peers(root: &Path) -> Result<Vec<Run>, Trouble> {
    let scripts = scripts(&root.join(PEERS))?;
    if scripts.is_empty() {
        return Err(Trouble::NothingToRun {
            folder: PEERS.to_owned(),
        });
    }
    let python = environment(root)?;
    let mut runs = Vec::new();
    for script in scripts {
        let path = format!("{PEERS}/{script}");
        eprintln!("running {path}");
        let printed = Call::new(root, &python, &[&path]).read()?;
        runs.push(Run {
            name: path,
            printed,
        });
    }
    Ok(runs)
}

/// Python with what bench/peers/requirements.txt names; made once, then kept up to date.
fn environment(root: &Path) -> Result<PathBuf, Trouble> {
    let folder = root.join("target/peers-python");
    let python = folder.join("bin/python");
    if !python.exists() {
        Call::new(root, "python3", &["-m", "venv", &folder.to_string_lossy()]).run()?;
    }
    let wanted = format!("{PEERS}/requirements.txt");
    let install = [
        "-m",
        "pip",
        "install",
        "--quiet",
        "--disable-pip-version-check",
        "--requirement",
        &wanted,
    ];
    Call::new(root, &python, &install).run()?;
    Ok(python)
}

/// Scripts that can be run by themselves, which say so with `__main__`.
fn scripts(folder: &Path) -> Result<Vec<String>, Trouble> {
    let unreadable = |cause| Trouble::Unreadable {
        path: folder.to_path_buf(),
        cause,
    };
    let mut scripts = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        let is_python = path.extension().is_some_and(|extension| extension == "py");
        if is_python && crate::workspace::read(&path)?.contains("__main__") {
            scripts.extend(
                path.file_name()
                    .map(|name| name.to_string_lossy().into_owned()),
            );
        }
    }
    scripts.sort();
    Ok(scripts)
}
