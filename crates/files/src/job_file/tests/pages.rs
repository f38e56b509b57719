//! The generated pages of the job file are those in `docs`.
//!
//! `DRYBED_WRITE_PAGES=1 cargo test -p files pages` writes them anew.

use super::*;
use crate::{reference, schema};
use std::fs;

fn page(name: &str, fresh: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../docs")
        .join(name);
    if std::env::var_os("DRYBED_WRITE_PAGES").is_some() {
        fs::write(&path, fresh).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == fresh,
        "docs/{name} is old: write it with DRYBED_WRITE_PAGES=1 cargo test -p files pages"
    );
}

#[test]
fn pinned_the_reference_page_is_that_of_the_description() {
    page("job-file.md", &reference::page(&JOB));
    page("cell-file.md", &reference::page(&CELL));
}

#[test]
fn pinned_the_schema_is_that_of_the_description() {
    let schema = serde_json::to_string_pretty(&schema::schema(&JOB)).unwrap();
    page("job.schema.json", &format!("{schema}\n"));
}
