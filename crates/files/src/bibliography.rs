//! Sources in BibTeX form, and whether each is cited and each citation known.

use crate::bag::Entry;
use crate::text::Text;
use quantity::{Fault, FaultKind, Faults, Place, did_you_mean};

/// One source.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Reference {
    /// The key it is cited by.
    pub key: String,
    /// What it is: article, book, standard.
    pub kind: String,
    /// Name and content of each field, outer braces taken off.
    pub fields: Vec<(String, String)>,
    /// Where it is listed.
    #[serde(skip)]
    pub place: Place,
}

/// A list of sources.
#[derive(Clone, Debug, Default)]
pub struct Bibliography {
    /// The sources in the order of their files.
    pub references: Vec<Reference>,
}

impl Reference {
    /// The content of a field, braces left out.
    pub fn get(&self, name: &str) -> Option<String> {
        let (_, content) = self.fields.iter().find(|(field, _)| field == name)?;
        Some(content.replace(['{', '}'], ""))
    }

    /// As it is cited in a margin: authors, year, title, where it stood, and how it was read; by its
    /// title where no author is known, by its key where there is no title either.
    pub fn cite(&self) -> String {
        let get = |name: &str| self.get(name);
        let author = get("author").map(|author| author.replace(" and ", "; "));
        let title = get("title");
        let first = author.as_ref().or(title.as_ref()).unwrap_or(&self.key);
        let mut text = first.clone();
        if let Some(year) = get("year") {
            text = format!("{text} ({year})");
        }
        let title = title.clone().filter(|_| author.is_some());
        let others = ["journal", "booktitle", "publisher", "institution"];
        for content in [title].into_iter().chain(others.map(get)).flatten() {
            text = format!("{text}, {content}");
        }
        for (name, before) in [
            ("volume", " "),
            ("number", " no. "),
            ("pages", ", "),
            ("doi", ", doi "),
        ] {
            if let Some(content) = get(name) {
                text = format!("{text}{before}{}", content.replace("--", "-"));
            }
        }
        match get("note") {
            Some(note) => format!("{text} ({note})"),
            None => text,
        }
    }
}

impl Bibliography {
    /// Reads a list of sources.
    ///
    /// # Errors
    /// Every entry that is not closed or has no key, and every key that stands twice.
    pub fn read(text: &Text) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let mut references: Vec<Reference> = Vec::new();
        let content = &text.content;
        let mut from = 0;
        while let Some(found) = content[from..].find('@') {
            let at = from + found;
            let place = text.place(at, "");
            let refuse = |cause: &str, mend: &str| {
                let value = text.line(at);
                Fault::new(FaultKind::Unreadable, place.clone(), value, cause, mend)
            };
            from = at + 1;
            // A comment line may hold an @ of its own.
            if text.line(at).trim_start().starts_with('%') {
                continue;
            }
            let Some(open) = content[at..].find('{').map(|i| at + i) else {
                faults.push(refuse("the entry has no brace", "write @article{key, ...}"));
                continue;
            };
            let Some(close) = closing(content, open) else {
                faults.push(refuse("the entry is not closed", "add its closing brace"));
                continue;
            };
            from = close + 1;
            let kind = content[at + 1..open].trim().to_lowercase();
            if kind == "comment" {
                continue;
            }
            let body = &content[open + 1..close];
            let (key, rest) = body.split_once(',').unwrap_or((body, ""));
            let key = key.trim();
            if key.is_empty() || key.contains(['=', '\n']) {
                faults.push(refuse("the entry has no key", "write @article{key, ...}"));
                continue;
            }
            if let Some(first) = references.iter().find(|r| r.key == key) {
                let cause = format!("{key} stands already in line {}", first.place.line);
                faults.push(refuse(&cause, "keep one of the two"));
                continue;
            }
            references.push(Reference {
                key: key.to_owned(),
                kind,
                fields: fields(rest),
                place: Place {
                    path: key.to_owned(),
                    ..place
                },
            });
        }
        faults.or(Self { references })
    }

    /// The source of that key.
    pub fn get(&self, key: &str) -> Option<&Reference> {
        self.references.iter().find(|r| r.key == key)
    }

    /// Adds the sources of another list; those of the same key give way to it.
    pub fn extend(&mut self, other: Self) {
        self.references
            .retain(|known| other.references.iter().all(|new| new.key != known.key));
        self.references.extend(other.references);
    }

    /// Every citation without a source.
    pub(crate) fn missing(&self, cited: &[Entry]) -> Faults {
        let mut faults = Faults::none();
        let keys: Vec<&str> = self.references.iter().map(|r| r.key.as_str()).collect();
        for entry in cited {
            if !keys.contains(&entry.written.as_str()) {
                faults.push(Fault::new(
                    FaultKind::Source,
                    entry.place.clone(),
                    format!("{:?}", entry.written),
                    "this source is not in the bibliography",
                    did_you_mean(&entry.written, &keys),
                ));
            }
        }
        faults
    }

    /// Every source without a citation.
    pub(crate) fn idle(&self, cited: &[Entry]) -> Faults {
        let mut faults = Faults::none();
        for reference in &self.references {
            if cited.iter().all(|entry| entry.written != reference.key) {
                faults.push(Fault::new(
                    FaultKind::Source,
                    reference.place.clone(),
                    "",
                    "no value cites this source",
                    "cite it, or remove it from the bibliography",
                ));
            }
        }
        faults
    }
}

/// The brace that closes the one at `open`.
fn closing(content: &str, open: usize) -> Option<usize> {
    let mut depth = 0_usize;
    for (at, letter) in content[open..].char_indices() {
        match letter {
            '{' => depth += 1,
            '}' => {
                depth -= 1;
                if depth == 0 {
                    return Some(open + at);
                }
            }
            _ => {}
        }
    }
    None
}

/// `name = {content}, name = "content", name = 1962`
fn fields(body: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut rest = body;
    while let Some((name, after)) = rest.split_once('=') {
        let after = after.trim_start();
        let end = match after.chars().next() {
            Some('{') => closing(after, 0).map_or(after.len(), |at| at + 1),
            Some('"') => after[1..].find('"').map_or(after.len(), |at| at + 2),
            _ => after.find(',').unwrap_or(after.len()),
        };
        let content = after[..end].trim();
        let bare = content
            .strip_prefix(['{', '"'])
            .and_then(|inner| inner.strip_suffix(['}', '"']))
            .unwrap_or(content);
        let name = name.trim().trim_start_matches(',').trim();
        found.push((name.to_lowercase(), bare.trim().to_owned()));
        rest = after[end..].trim_start().trim_start_matches(',');
    }
    found
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use super::*;

    const TWO: &str = "% a comment, me@here\n@article{yasuda1962,\n  author = {Yasuda, H. and Stannett, V.},\n  \
                       title = {{Water in {high} polymers}},\n  year = 1962,\n  pages = \"907--923\",\n}\n\
                       @book{flory1953, author = {Flory}, year = {1953}}\n";

    fn read(content: &str) -> Result<Bibliography, Faults> {
        Bibliography::read(&Text::new("sources.bib", content))
    }

    #[test]
    fn exact_entries_and_fields() {
        let both = read(TWO).unwrap();
        let keys: Vec<&str> = both.references.iter().map(|r| r.key.as_str()).collect();
        assert_eq!(keys, ["yasuda1962", "flory1953"]);
        let first = both.get("yasuda1962").unwrap();
        assert_eq!(first.place.line, 2);
        assert_eq!(
            first.cite(),
            "Yasuda, H.; Stannett, V. (1962), Water in high polymers, 907-923"
        );
    }

    #[test]
    fn exact_what_has_no_author_is_cited_by_its_title() {
        let list = "@misc{page7, title = {Water in pellets}, year = {2011}, note = {read: page}}\n\
                    @misc{page8, year = {2012}}\n";
        let both = read(list).unwrap();
        let cited: Vec<String> = both.references.iter().map(Reference::cite).collect();
        assert_eq!(
            cited,
            ["Water in pellets (2011) (read: page)", "page8 (2012)"]
        );
    }

    #[test]
    fn holds_broken_entries_are_told_with_their_line() {
        let told = |content: &str| {
            let fault = read(content).unwrap_err().0.remove(0);
            (fault.place.line, fault.cause)
        };
        assert_eq!(
            told("\n@book{a, year = {1}"),
            (2, "the entry is not closed".to_owned())
        );
        assert_eq!(
            told("@book{author = {b}}"),
            (1, "the entry has no key".to_owned())
        );
        assert_eq!(
            told("@book{a}\n@book{a}"),
            (2, "a stands already in line 1".to_owned())
        );
    }
}
