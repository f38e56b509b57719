//! Links between pages: each relative link leads to a file or folder that exists.

use crate::fault::Fault;
use crate::workspace::TextFile;

/// Relative links in Markdown that lead nowhere.
pub(super) fn faults(files: &[TextFile]) -> Vec<Fault> {
    let root = crate::workspace::root();
    let exists = |path: &str| root.join(path).exists();
    files
        .iter()
        .filter(|file| file.is("md"))
        .flat_map(|file| broken(file, exists))
        .collect()
}

fn broken(file: &TextFile, exists: impl Fn(&str) -> bool) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (target, line) in links(&file.text) {
        let elsewhere = target.contains("://") || target.starts_with("mailto:");
        let (path, anchor) = target.split_once('#').unwrap_or((&target, ""));
        if elsewhere {
            continue;
        }
        if path.is_empty() {
            if !anchors(&file.text).iter().any(|known| known == anchor) {
                faults.push(Fault::at(
                    &file.path,
                    line,
                    format!("the link #{anchor} leads to no heading of this page"),
                    "correct the link or the heading",
                ));
            }
        } else if !resolved(&file.path, path).is_some_and(|path| exists(&path)) {
            faults.push(Fault::at(
                &file.path,
                line,
                format!("the link {path} leads nowhere"),
                "correct the path, counted from the folder of this page",
            ));
        }
    }
    faults
}

/// Targets of `[text](target)`, outside code, each with its line.
fn links(page: &str) -> Vec<(String, usize)> {
    let mut links = Vec::new();
    let mut in_code = false;
    for (text, line) in page.lines().zip(1..) {
        if text.trim_start().starts_with("```") {
            in_code = !in_code;
        }
        if in_code {
            continue;
        }
        let prose: String = text.split('`').step_by(2).collect::<Vec<_>>().join("``");
        for (at, _) in prose.match_indices("](") {
            let target = &prose[at + 2..];
            let end = target.find([')', ' ']).unwrap_or(target.len());
            links.push((target[..end].trim_matches(['<', '>']).to_owned(), line));
        }
    }
    links
}

/// The anchors of a page's headings: lower case, blanks as hyphens, no other punctuation.
fn anchors(page: &str) -> Vec<String> {
    let headings = page.lines().filter(|line| line.starts_with('#'));
    headings
        .map(|heading| {
            let text = heading.trim_start_matches('#').trim().to_lowercase();
            let kept = text
                .chars()
                .filter(|&c| c.is_alphanumeric() || " -_".contains(c));
            kept.map(|c| if c == ' ' { '-' } else { c }).collect()
        })
        .collect()
}

/// The target as a path from the root, or nothing when it leaves the repository.
fn resolved(page: &str, target: &str) -> Option<String> {
    let mut parts: Vec<&str> = page.split('/').collect();
    parts.pop();
    for part in target.split('/') {
        match part {
            "" | "." => {}
            ".." => {
                parts.pop()?;
            }
            name => parts.push(name),
        }
    }
    Some(parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(text: &str) -> usize {
        let file = TextFile {
            path: "docs/page.md".to_owned(),
            text: text.to_owned(),
        };
        broken(&file, |path| {
            ["docs/other.md", "README.md", "docs"].contains(&path)
        })
        .len()
    }

    #[test]
    fn holds_links_that_lead_somewhere() {
        assert_eq!(
            count("[a](other.md) [b](../README.md#top) [c](https://x.y/z) [d](./)"),
            0
        );
        assert_eq!(count("`[a](none.md)`\n```\n[b](none.md)\n```\n"), 0);
        assert_eq!(count("# Two words, no more\n[a](#two-words-no-more)"), 0);
    }

    #[test]
    fn holds_links_that_lead_nowhere_are_found() {
        assert_eq!(count("[a](none.md)\n![b](none.svg \"title\")"), 2);
        assert_eq!(count("[a](../../README.md)"), 1);
        assert_eq!(count("# Heading\n[a](#none)"), 1);
    }
}
