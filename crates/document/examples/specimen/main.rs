//! A specimen of everything a document can show, from invented numbers: writes
//! `specimen.html` and `specimen.txt` into the directory named on the command line.
//!
//! `cargo run -p document --example specimen -- target`

mod figures;
mod words;

use std::path::PathBuf;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let directory = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| ".".into()));
    let document = words::specimen();
    let listed = |faults: Vec<document::DocumentFault>| {
        let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
        words.join("\n")
    };
    std::fs::write(
        directory.join("specimen.html"),
        document.html().map_err(listed)?,
    )?;
    std::fs::write(
        directory.join("specimen.txt"),
        document.full_text().map_err(listed)?,
    )?;
    Ok(())
}
