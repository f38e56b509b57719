//! Cell files and the jobs they name.

use super::*;
use std::fs;
use std::path::PathBuf;

/// A folder with files of its own, gone at the end.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str, files: &[(&str, &str)]) -> Self {
        let path = std::env::temp_dir().join(format!("drybed-cell-{name}-{}", std::process::id()));
        fs::create_dir_all(&path).unwrap();
        for (file, text) in files {
            fs::write(path.join(file), text).unwrap();
        }
        Self(path)
    }

    fn open(&self, files: &[&str]) -> Result<job::Cell, Faults> {
        let paths: Vec<PathBuf> = files.iter().map(|file| self.0.join(file)).collect();
        open_cell(&paths, &LIBRARY)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn runs(shares: [&str; 2], job: &str) -> String {
    let run =
        |share: &str| format!("[[run]]\nshare = \"{share}\"\n[[run.hopper]]\njob = \"{job}\"\n");
    format!("format = 1\n{}{}", run(shares[0]), run(shares[1]))
}

#[test]
fn holds_a_cell_reads_its_jobs_from_its_own_folder() {
    let cell = runs(["60 %", "40 %"], "a.toml");
    let prices = "[prices]\ncurrency = \"EUR\"\nelectricity = \"0.20 per kWh\"\n";
    let priced = format!("{SOUND}{prices}");
    let folder = Folder::new("reads", &[("cell.toml", &cell), ("a.toml", &priced)]);
    let found = folder.open(&["cell.toml"]).unwrap();
    assert_eq!(found.title, "cell");
    assert_eq!(found.runs.len(), 2);
    assert!((found.runs[0].share - 0.6).abs() < 1e-12);
    // Prices that the cell leaves out are those of its first job.
    assert_eq!(found.plant.prices.unwrap().currency, "EUR");
}

#[test]
fn holds_job_files_alone_are_dried_in_turn() {
    let folder = Folder::new("turn", &[("a.toml", SOUND), ("b.toml", SOUND)]);
    let found = folder.open(&["a.toml", "b.toml"]).unwrap();
    assert!(found.runs.iter().all(|run| run.jobs.len() == 1));
    assert!((found.runs[0].share - found.runs[1].share).abs() < 1e-12);
    assert_eq!(folder.open(&["a.toml"]).unwrap().runs.len(), 1);
}

#[test]
fn holds_mistakes_of_a_cell_and_of_its_jobs_are_told_with_their_place() {
    let short = runs(["60 %", "30 %"], "a.toml");
    let broken = SOUND.replace("12 kg/h", "12 kg");
    let folder = Folder::new(
        "mistakes",
        &[
            ("short.toml", &short),
            ("a.toml", &broken),
            ("lost.toml", &runs(["50 %", "50 %"], "nowhere.toml")),
        ],
    );
    let faults = folder.open(&["short.toml"]).unwrap_err();
    assert!(
        faults
            .iter()
            .any(|fault| fault.cause.contains("10 % too little"))
    );
    assert!(
        faults
            .iter()
            .any(|fault| fault.place.file.ends_with("a.toml"))
    );
    let faults = folder.open(&["lost.toml"]).unwrap_err();
    assert_eq!(faults.len(), 2);
    assert!(faults.0[0].cause.contains("no such file"), "{faults:#?}");
    let faults = folder.open(&["lost.toml", "a.toml"]).unwrap_err();
    let alone = |fault: &Fault| fault.cause.contains("stands alone");
    assert!(faults.iter().any(alone), "{faults:#?}");
}

#[test]
fn holds_the_demonstration_of_a_cell_reads_and_says_it_is_invented() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/cells");
    for text in crate::folder(&folder).unwrap() {
        assert!(text.content.starts_with("# Invented: "), "{}", text.name);
    }
    let cell = open_cell(&[folder.join("two-presses.toml")], &LIBRARY).unwrap();
    assert_eq!(cell.runs[0].jobs.len() + cell.runs[1].jobs.len(), 3);
}
