//! Rust source as lines of code: comments and the contents of strings blanked, tests marked.

use crate::workspace::TextFile;

/// A source file with its lines of code.
#[derive(Debug, Clone)]
pub(super) struct RustFile {
    /// Path from the root of the repository.
    pub(super) path: String,
    /// The file as it is written.
    pub(super) text: String,
    /// Its lines of code; every one of them `in_tests` when the file is a module for tests.
    pub(super) lines: Vec<Line>,
}

impl RustFile {
    /// The code that ends up in the crate itself.
    pub(super) fn shipped(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| !line.in_tests)
    }

    /// The code that is only compiled for tests.
    pub(super) fn tests(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.in_tests)
    }
}

/// Reads every Rust file among these.
pub(super) fn rust_files(files: &[TextFile]) -> Vec<RustFile> {
    let mut read: Vec<RustFile> = files
        .iter()
        .filter(|file| file.is("rs"))
        .map(|file| RustFile {
            path: file.path.clone(),
            text: file.text.clone(),
            lines: lines(&file.text),
        })
        .collect();
    let for_tests: Vec<String> = read.iter().flat_map(test_modules).collect();
    for file in &mut read {
        if file.path.contains("/tests/") || for_tests.contains(&file.path) {
            file.lines.iter_mut().for_each(|line| line.in_tests = true);
        }
    }
    read
}

/// Paths of the modules this file declares for tests and keeps in files of their own.
fn test_modules(file: &RustFile) -> Vec<String> {
    let stem = file.path.strip_suffix(".rs").unwrap_or(&file.path);
    let (folder, name) = stem.rsplit_once('/').unwrap_or(("", stem));
    let inside = if ["lib", "main", "mod"].contains(&name) {
        folder
    } else {
        stem
    };
    let declared = file.tests().filter_map(|line| {
        let name = line.code.trim().rsplit_once("mod ")?.1.strip_suffix(';')?;
        Some([
            format!("{inside}/{name}.rs"),
            format!("{inside}/{name}/mod.rs"),
        ])
    });
    declared.flatten().collect()
}

/// One line of a source file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line {
    /// Counted from 1.
    pub(super) number: usize,
    /// The line without comments and without what stands in strings.
    pub(super) code: String,
    /// Whether it belongs to an item that is only compiled for tests.
    pub(super) in_tests: bool,
}

fn lines(text: &str) -> Vec<Line> {
    let mut reader = TestReader::default();
    blanked(text)
        .lines()
        .zip(1..)
        .map(|(code, number)| Line {
            number,
            code: code.to_owned(),
            in_tests: reader.read(code),
        })
        .collect()
}

/// The text with comments gone and strings emptied; line breaks stay where they were.
fn blanked(text: &str) -> String {
    let mut code = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let (skipped, kept) = match first {
            '/' if rest.starts_with("//") => (rest.find('\n').unwrap_or(rest.len()), ""),
            '/' if rest.starts_with("/*") => (block_comment(rest), " "),
            '"' => (string(rest), "\"\""),
            'r' | 'b' | 'c' if !code.ends_with(is_name) && raw_string(rest).is_some() => {
                (raw_string(rest).unwrap_or(1), "\"\"")
            }
            '\'' => (character(rest), "' '"),
            _ => {
                code.push(first);
                rest = &rest[first.len_utf8()..];
                continue;
            }
        };
        let (gone, left) = rest.split_at(skipped);
        if first == '\'' && skipped == 1 {
            code.push('\''); // a lifetime
        } else {
            code.push_str(kept);
        }
        code.extend(gone.chars().filter(|&character| character == '\n'));
        rest = left;
    }
    code
}

/// Whether the character can stand in a name.
pub(super) fn is_name(character: char) -> bool {
    character.is_alphanumeric() || character == '_'
}

fn block_comment(text: &str) -> usize {
    let mut depth = 0_usize;
    let mut at = 0;
    while at < text.len() {
        let here = &text.as_bytes()[at..];
        if here.starts_with(b"/*") {
            depth += 1;
            at += 2;
        } else if here.starts_with(b"*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return at;
            }
        } else {
            at += 1;
        }
    }
    text.len()
}

fn string(text: &str) -> usize {
    let mut escaped = false;
    for (at, character) in text.char_indices().skip(1) {
        match character {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

/// Length of a raw string such as `r#"…"#`, when one starts here.
fn raw_string(text: &str) -> Option<usize> {
    let after_prefix = text.strip_prefix("br").or_else(|| text.strip_prefix("cr"));
    let marks = after_prefix.or_else(|| text.strip_prefix('r'))?;
    let body = marks.trim_start_matches('#');
    let hashes = marks.len() - body.len();
    let body = body.strip_prefix('"')?;
    let close = format!("\"{}", "#".repeat(hashes));
    let start = text.len() - body.len();
    Some(
        body.find(&close)
            .map_or(text.len(), |at| start + at + close.len()),
    )
}

/// Length of a character literal, or 1 for the mark of a lifetime.
fn character(text: &str) -> usize {
    let mut following = text.char_indices().skip(1);
    match (following.next(), following.next()) {
        (Some((_, '\\')), Some((escape, _))) => {
            let after = escape + text[escape..].chars().next().map_or(1, char::len_utf8);
            text[after..]
                .find('\'')
                .map_or(text.len(), |at| after + at + 1)
        }
        (Some((_, inside)), Some((at, '\''))) if inside != '\'' => at + 1,
        _ => 1,
    }
}

/// Follows `#[cfg(test)]` to the end of the item it stands on.
#[derive(Default)]
struct TestReader {
    awaits_item: bool,
    depth: usize,
}

impl TestReader {
    fn read(&mut self, code: &str) -> bool {
        let mut inside = self.depth > 0 || self.awaits_item;
        let mut rest = code;
        if self.depth == 0
            && !self.awaits_item
            && let Some(at) = code.find("#[cfg(test)]")
        {
            self.awaits_item = true;
            inside = true;
            rest = &code[at + "#[cfg(test)]".len()..];
        }
        for character in rest.chars() {
            match character {
                '{' if self.awaits_item || self.depth > 0 => {
                    self.awaits_item = false;
                    self.depth += 1;
                }
                '}' if self.depth > 0 => self.depth -= 1,
                ';' if self.awaits_item => self.awaits_item = false,
                _ => {}
            }
        }
        inside
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_comments_and_strings_are_gone_and_lines_stay() {
        let text = "a // x.exp()\nb /* one\n /* two */ \n*/ c \"d\n\\\" e\" f\n'\"' 'x g \"\" r#\"h\"i\"# j\n";
        let code: Vec<String> = lines(text).into_iter().map(|line| line.code).collect();
        assert_eq!(
            code,
            ["a ", "b  ", "", " c \"\"", " f", "' ' 'x g \"\" \"\" j"]
        );
    }

    #[test]
    fn holds_test_items_are_marked_to_their_end() {
        let text = "fn a() {}\n#[cfg(test)]\nmod tests {\n fn b() {}\n}\nfn c() {}\n";
        let marks: Vec<bool> = lines(text).iter().map(|line| line.in_tests).collect();
        assert_eq!(marks, [false, true, true, true, true, false]);
    }

    #[test]
    fn holds_a_test_module_in_a_file_of_its_own_is_marked() {
        let file = |path: &str, text: &str| TextFile {
            path: path.to_owned(),
            text: text.to_owned(),
        };
        let files = rust_files(&[
            file("a/src/lib.rs", "mod one;\n#[cfg(test)]\nmod tests;\n"),
            file("a/src/one.rs", "#[cfg(test)]\nmod deep;\n"),
            file("a/src/one/deep.rs", "fn f() {}\n"),
            file("a/src/tests.rs", "fn g() {}\n"),
            file("a/tests/whole.rs", "fn h() {}\n"),
        ]);
        let shipped: Vec<usize> = files.iter().map(|file| file.shipped().count()).collect();
        assert_eq!(shipped, [1, 0, 0, 0, 0]);
    }

    #[test]
    fn holds_a_test_module_in_another_file_ends_at_its_semicolon() {
        let text = "#[cfg(test)]\nmod tests;\nfn c() {}\n";
        let marks: Vec<bool> = lines(text).iter().map(|line| line.in_tests).collect();
        assert_eq!(marks, [true, true, false]);
    }
}
