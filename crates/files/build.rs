//! Lists the shipped resin records, families and desiccants so that they can be built into the program.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let here = env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?;
    let folder = Path::new(&here).join("../../materials");
    println!("cargo:rerun-if-changed={}", folder.display());
    let mut code = listed("RECORDS", &folder, "materials")?;
    let families = folder.join("families");
    if families.is_dir() {
        println!("cargo:rerun-if-changed={}", families.display());
    }
    code.push_str(&listed("FAMILIES", &families, "materials/families")?);
    let desiccants = folder.join("desiccants");
    if desiccants.is_dir() {
        println!("cargo:rerun-if-changed={}", desiccants.display());
    }
    code.push_str(&listed("DESICCANTS", &desiccants, "materials/desiccants")?);
    let sources = folder.join("sources.bib");
    println!("cargo:rerun-if-changed={}", sources.display());
    let _ = writeln!(
        code,
        "const SOURCES: (&str, &str) = (\"materials/sources.bib\", include_str!({:?}));",
        sources.display().to_string()
    );
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join("library.rs"), code)
}

/// A constant that holds name and content of every record of a folder; none where there is none.
fn listed(constant: &str, folder: &Path, shown: &str) -> io::Result<String> {
    let mut paths: Vec<PathBuf> = Vec::new();
    if folder.is_dir() {
        let entries = fs::read_dir(folder)?.filter_map(|entry| entry.ok().map(|e| e.path()));
        paths.extend(entries.filter(|path| path.extension().is_some_and(|end| end == "toml")));
    }
    paths.sort();
    let mut code = format!("const {constant}: &[(&str, &str)] = &[\n");
    for path in &paths {
        println!("cargo:rerun-if-changed={}", path.display());
        let file = path.file_name().unwrap_or_default().to_string_lossy();
        // Writing to a string cannot fail.
        let _ = writeln!(
            code,
            "    ({:?}, include_str!({:?})),",
            format!("{shown}/{file}"),
            path.display().to_string()
        );
    }
    code.push_str("];\n");
    Ok(code)
}
