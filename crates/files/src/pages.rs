//! The generated pages of job, cell and schedule files and of records of dryers are those in `docs`.
//!
//! `DRYBED_WRITE_PAGES=1 cargo test -p files pages` writes them anew.

use crate::{CELL, EQUIPMENT, FileKind, JOB, SCHEDULE, reference, schema};
use std::fs;
use std::path::Path;

fn page(name: &str, fresh: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../docs")
        .join(name);
    if std::env::var_os("DRYBED_WRITE_PAGES").is_some() {
        assert!(
            fs::write(&path, fresh).is_ok(),
            "docs/{name} cannot be written"
        );
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == fresh,
        "docs/{name} is old: write it with DRYBED_WRITE_PAGES=1 cargo test -p files pages"
    );
}

fn schema_of(kind: &FileKind) -> String {
    match serde_json::to_string_pretty(&schema::schema(kind)) {
        Ok(schema) => format!("{schema}\n"),
        Err(error) => panic!("{error}"),
    }
}

#[test]
fn pinned_the_reference_pages_are_those_of_the_descriptions() {
    page("job-file.md", &reference::page(&JOB));
    page("cell-file.md", &reference::page(&CELL));
    page("schedule.md", &crate::schedule_page());
    page("equipment.md", &crate::equipment_page());
}

#[test]
fn pinned_the_schemas_are_those_of_the_descriptions() {
    page("job.schema.json", &schema_of(&JOB));
    page("schedule.schema.json", &schema_of(&SCHEDULE));
    page("equipment.schema.json", &schema_of(&EQUIPMENT));
}
