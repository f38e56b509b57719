//! Ranges: each published `HOLDS` is named by a test of its crate, which goes to its ends.

use super::rust_text::{RustFile, is_name};
use super::whole::stands_in;
use crate::fault::Fault;

/// Ranges that no test of the same crate, and none of the whole program, names.
pub(super) fn faults(files: &[RustFile]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for file in files {
        let Some((folder, _)) = file.path.split_once("/src/") else {
            continue;
        };
        let near = format!("{folder}/");
        let tested = |name: &str| {
            let tests = files.iter().filter(|file| file.path.starts_with(&near));
            tests
                .flat_map(RustFile::tests)
                .any(|line| stands_in(&line.code, name, is_name))
        };
        for line in file.shipped() {
            let Some(name) = range(&line.code).filter(|name| !tested(name)) else {
                continue;
            };
            faults.push(Fault::at(
                &file.path,
                line.number,
                format!("no test of this crate names the range `{name}`"),
                "call what it guards just inside and just outside each end",
            ));
        }
    }
    faults
}

/// The name of the range this line makes public.
fn range(code: &str) -> Option<&str> {
    let name = code
        .trim()
        .strip_prefix("pub const ")?
        .split(':')
        .next()?
        .trim();
    name.ends_with("HOLDS").then_some(name)
}

#[cfg(test)]
mod tests {
    use super::super::rust_text::rust_files;
    use super::*;
    use crate::workspace::TextFile;

    #[test]
    fn holds_a_range_without_a_test_is_found() {
        let file = |path: &str, text: &str| TextFile {
            path: path.to_owned(),
            text: text.to_owned(),
        };
        let range = "pub const SIZE_HOLDS: Range = RANGE;\nconst OWN_HOLDS: Range = RANGE;\n";
        let test = "#[cfg(test)]\nmod tests { fn f() { SIZE_HOLDS.check(); } }\n";
        let alone = file("crates/a/src/size.rs", range);
        let found = |near: TextFile| faults(&rust_files(&[alone.clone(), near])).len();
        assert_eq!(found(file("crates/a/src/lib.rs", test)), 0);
        assert_eq!(found(file("crates/b/src/lib.rs", test)), 1);
        assert_eq!(
            found(file(
                "crates/a/src/lib.rs",
                "fn f() { SIZE_HOLDS.check(); }\n"
            )),
            1
        );
    }
}
