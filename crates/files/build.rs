//! Lists the shipped resin records so that they can be built into the program.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let here = env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?;
    let folder = Path::new(&here).join("../../materials");
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut records: Vec<PathBuf> = fs::read_dir(&folder)?
        .filter_map(|entry| entry.ok().map(|e| e.path()))
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    records.sort();
    let mut code = String::from("const RECORDS: &[(&str, &str)] = &[\n");
    for path in &records {
        println!("cargo:rerun-if-changed={}", path.display());
        let file = path.file_name().unwrap_or_default().to_string_lossy();
        // Writing to a string cannot fail.
        let _ = writeln!(
            code,
            "    ({:?}, include_str!({:?})),",
            format!("materials/{file}"),
            path.display().to_string()
        );
    }
    let sources = folder.join("sources.bib");
    println!("cargo:rerun-if-changed={}", sources.display());
    let _ = writeln!(
        code,
        "];\nconst SOURCES: (&str, &str) = (\"materials/sources.bib\", include_str!({:?}));",
        sources.display().to_string()
    );
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join("library.rs"), code)
}
