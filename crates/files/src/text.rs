//! A text with its name, and the line and column of any place in it.

use quantity::{Fault, FaultKind, Faults, Place};
use std::ops::Range;
use std::path::Path;

/// Longest file that is read, in bytes: far above any file a person writes.
const LONGEST: u64 = 16 << 20;
/// Longest file that a person wrote, in bytes and in lines: ten times the longest that is usual.
pub(crate) const LONGEST_WRITTEN: usize = 64 << 10;
pub(crate) const MOST_LINES: usize = 4000;
/// Longest piece of a file that is quoted back, in characters.
const QUOTED: usize = 60;

/// What a file says, and the name the user knows it by.
#[derive(Clone, Debug)]
pub struct Text {
    /// The name as the user gave it.
    pub name: String,
    /// Everything in it.
    pub content: String,
}

impl Text {
    /// A text that did not come from a disk.
    pub fn new(name: impl Into<String>, content: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            content: content.into(),
        }
    }

    /// Reads a file; its name is shown as given.
    ///
    /// # Errors
    /// One fault when the file is missing (files of like name in its folder are offered), cannot be
    /// opened, is longer than 16 MiB, or is not UTF-8 text (with the line of the first bad byte).
    pub fn open(path: &Path) -> Result<Self, Faults> {
        let name = path.display().to_string();
        let unreadable = |place: Place, cause: String, mend: String| {
            Faults::from(Fault::new(FaultKind::Unreadable, place, "", cause, mend))
        };
        let here = Place::of(name.clone(), "");
        let size = std::fs::metadata(path)
            .map_err(|error| unreadable(here.clone(), why_not(&error), offer(path)))?;
        if size.is_dir() {
            let cause = "this is a folder, and a file is wanted".to_owned();
            return Err(unreadable(here, cause, "name a file in it".to_owned()));
        }
        if size.len() > LONGEST {
            let cause = format!(
                "the file has {} bytes, more than the 16 MiB read",
                size.len()
            );
            return Err(unreadable(here, cause, "give a shorter file".to_owned()));
        }
        let bytes = std::fs::read(path)
            .map_err(|error| unreadable(here.clone(), why_not(&error), offer(path)))?;
        match String::from_utf8(bytes) {
            Ok(content) => Ok(Self { name, content }),
            Err(error) => {
                let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
                let line = good.split(|byte| *byte == b'\n').count();
                Err(unreadable(
                    Place { line, ..here },
                    "the file is not UTF-8 text".to_owned(),
                    "save it as UTF-8".to_owned(),
                ))
            }
        }
    }

    /// The place of a byte of the text, for a field of that path.
    pub fn place(&self, at: usize, path: impl Into<String>) -> Place {
        let mut at = at.min(self.content.len());
        while !self.content.is_char_boundary(at) {
            at -= 1;
        }
        let before = &self.content[..at];
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        Place {
            file: self.name.clone(),
            line: 1 + before.matches('\n').count(),
            column: 1 + before[line_start..].chars().count(),
            path: path.into(),
        }
    }

    /// What is written in a span: its first line, shortened when it is long.
    pub fn quote(&self, span: Range<usize>) -> String {
        let piece = self.content.get(span).unwrap_or_default();
        let line = piece.lines().next().unwrap_or_default().trim();
        let cut = piece.trim().lines().nth(1).is_some() || line.chars().count() > QUOTED;
        let mut quoted: String = line.chars().take(QUOTED).collect();
        if cut {
            quoted.push_str(" ...");
        }
        quoted
    }

    /// The line that a byte stands in, without its end.
    pub fn line(&self, at: usize) -> &str {
        let at = at.min(self.content.len());
        let Some(before) = self.content.get(..at) else {
            return "";
        };
        let start = before.rfind('\n').map_or(0, |end| end + 1);
        self.content[start..].lines().next().unwrap_or_default()
    }
}

/// The fault of a file too long to have been written by a person, so that no reading takes long.
pub(crate) fn too_long(file: &str, text: &str, what: &str, mend: &str) -> Option<Fault> {
    if text.len() <= LONGEST_WRITTEN && text.lines().nth(MOST_LINES).is_none() {
        return None;
    }
    let cause = format!(
        "the file has {} bytes in {} lines, more than the {LONGEST_WRITTEN} bytes and {MOST_LINES} \
         lines that {what} is read from",
        text.len(),
        text.lines().count()
    );
    let place = Place::of(file, "");
    Some(Fault::new(FaultKind::Unreadable, place, "", cause, mend))
}

/// Every file of a folder whose name ends in `.toml`, in the order of their names.
///
/// # Errors
/// One fault when the folder is missing or cannot be listed, and one for each file that cannot be
/// read.
pub fn folder(path: &Path) -> Result<Vec<Text>, Faults> {
    let (texts, faults) = folder_and_faults(path)?;
    faults.or(texts)
}

/// Every file of a folder whose name ends in `.toml`, in the order of their names, and one fault for
/// each that cannot be read.
///
/// # Errors
/// One fault when the folder is missing or cannot be listed.
pub(crate) fn folder_and_faults(path: &Path) -> Result<(Vec<Text>, Faults), Faults> {
    let listing = std::fs::read_dir(path).map_err(|error| {
        let place = Place::of(path.display().to_string(), "");
        let mend = "name a folder that exists";
        Fault::new(FaultKind::Unreadable, place, "", why_not(&error), mend)
    })?;
    let mut paths: Vec<_> = listing
        .filter_map(|entry| entry.ok().map(|e| e.path()))
        .filter(|file| file.extension().is_some_and(|end| end == "toml"))
        .collect();
    paths.sort();
    let mut faults = Faults::none();
    let mut texts = Vec::new();
    for file in &paths {
        match Text::open(file) {
            Ok(text) => texts.push(text),
            Err(mistakes) => faults.extend(mistakes),
        }
    }
    Ok((texts, faults))
}

fn why_not(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "it is not there".to_owned(),
        std::io::ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        _ => format!("it cannot be read ({error})"),
    }
}

/// Files of like name in the same folder.
fn offer(path: &Path) -> String {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty());
    let listing = std::fs::read_dir(folder.unwrap_or_else(|| Path::new(".")));
    let mut names: Vec<String> = listing
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    names.sort();
    let wanted = path.file_name().map(|n| n.to_string_lossy().into_owned());
    let near = quantity::nearest(
        &wanted.unwrap_or_default(),
        names.iter().map(String::as_str),
    );
    if near.is_empty() {
        "check the name of the file".to_owned()
    } else {
        format!("did you mean {}?", near.join(" or "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_line_and_column_count_characters() {
        let text = Text::new("f", "a = 1\n# µ °\nb = \"°C\" x");
        let at = text.content.find('x').unwrap_or_default();
        let place = text.place(at, "b");
        assert_eq!((place.line, place.column), (3, 10));
        assert_eq!(text.place(usize::MAX, "").line, 3);
        assert_eq!(text.line(at), "b = \"°C\" x");
    }

    #[test]
    fn holds_a_quote_is_one_short_line() {
        let text = Text::new("f", format!("a = [\n1,\n2]\nb = \"{}\"", "x".repeat(200)));
        assert_eq!(text.quote(4..12), "[ ...");
        let long = text.content.len();
        assert_eq!(text.quote(17..long).chars().count(), QUOTED + 4);
        assert_eq!(text.quote(5..999_999), "");
    }
}
