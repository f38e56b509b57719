//! Answers as committed.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::path::Path;

/// Compares a text with the committed one; writes it instead where `WRITE_ANSWERS` is set.
pub(crate) fn stands(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/answers/{name}.txt"));
    if std::env::var_os("WRITE_ANSWERS").is_some() {
        std::fs::write(&path, text).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(
        text, committed,
        "{name} has changed; look at it, then run with WRITE_ANSWERS=1"
    );
}
