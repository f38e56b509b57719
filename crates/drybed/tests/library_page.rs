//! The generated page of the library is the one in `docs`.
//!
//! `DRYBED_WRITE_PAGES=1 cargo test -p drybed --test library_page` writes it anew.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use drybed::{desiccant_page, desiccants, library, library_page};
use std::fs;
use std::path::Path;

#[test]
fn pinned_the_page_is_that_of_the_library() {
    let fresh = library_page(&library(None).unwrap());
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/library.md");
    if std::env::var_os("DRYBED_WRITE_PAGES").is_some() {
        fs::write(&path, &fresh).unwrap();
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == fresh,
        "docs/library.md is old: write it with DRYBED_WRITE_PAGES=1 cargo test -p drybed --test \
         library_page"
    );
}

/// What stands between backquotes.
fn quoted(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}

#[test]
fn exact_the_readme_of_the_records_counts_as_the_page_does() {
    let page = library_page(&library(None).unwrap());
    let (_, evidence) = page.split_once("## The evidence").unwrap();
    let (both, _) = evidence.split_once("One of the two").unwrap();
    let rows = both.lines().filter(|line| line.starts_with("| `"));
    let mut counted: Vec<&str> = rows.map(|row| quoted(row)[0]).collect();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../materials/README.md");
    let readme = fs::read_to_string(path).unwrap();
    let (_, section) = readme.split_once("## Read on both sides").unwrap();
    let first = section.lines().find(|line| line.starts_with("- ")).unwrap();
    let mut listed = quoted(first);
    counted.sort_unstable();
    listed.sort_unstable();
    assert_eq!(listed, counted);
}

#[test]
fn holds_the_page_has_every_resin_and_every_source() {
    let library = library(None).unwrap();
    let page = library_page(&library);
    for record in &library.records {
        let start = format!("| `{}` | {}: ", record.resin.key, record.resin.name);
        assert_eq!(page.matches(&start).count(), 1, "{start}");
    }
    let beside = desiccant_page(&desiccants().unwrap(), &library);
    for reference in &library.bibliography.references {
        assert!(
            page.contains(&format!("- `{}` (", reference.key))
                || beside.contains(&format!("- `{}`: ", reference.key)),
            "{}",
            reference.key
        );
    }
    // PC has both; no polyamide has its diffusivity read in a source of its own.
    let (_, evidence) = page.split_once("## The evidence").unwrap();
    let (both, rest) = evidence.split_once("One of the two").unwrap();
    assert!(both.contains("| `pc` | measured"), "{both}");
    let (_, gaps) = rest.split_once("## The gaps").unwrap();
    let gap = gaps
        .lines()
        .find(|line| line.starts_with("| `pbt` |"))
        .unwrap();
    assert!(gap.contains("*practice*"), "{gap}");
    for line in page.lines() {
        assert!(!line.contains("  "), "{line}");
    }
}
