//! Licence expressions as the SPDX specification writes them, and whether a list permits one.

/// Whether one of the ways to read the expression needs only permitted licences.
///
/// `None` when it is no expression. `/` is read as `OR`, as old manifests mean it.
pub(crate) fn permits(expression: &str, permitted: &[String]) -> Option<bool> {
    let spaced = expression
        .replace('(', " ( ")
        .replace(')', " ) ")
        .replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut reader = Reader {
        words: &words,
        permitted,
    };
    let answer = reader.any()?;
    reader.words.is_empty().then_some(answer)
}

struct Reader<'a> {
    words: &'a [&'a str],
    permitted: &'a [String],
}

impl<'a> Reader<'a> {
    fn any(&mut self) -> Option<bool> {
        let mut answer = self.all()?;
        while self.take_if("OR") {
            answer |= self.all()?;
        }
        Some(answer)
    }

    fn all(&mut self) -> Option<bool> {
        let mut answer = self.one()?;
        while self.take_if("AND") {
            answer &= self.one()?;
        }
        Some(answer)
    }

    fn one(&mut self) -> Option<bool> {
        if self.take_if("(") {
            let answer = self.any()?;
            return self.take_if(")").then_some(answer);
        }
        let name = self.take()?;
        if ["OR", "AND", "WITH", ")"].contains(&name) {
            return None;
        }
        if self.take_if("WITH") {
            let exception = self.take()?;
            return Some(self.permitted.contains(&format!("{name} WITH {exception}")));
        }
        Some(self.permitted.iter().any(|permitted| permitted == name))
    }

    fn take(&mut self) -> Option<&'a str> {
        let (first, rest) = self.words.split_first()?;
        self.words = rest;
        Some(first)
    }

    fn take_if(&mut self, word: &str) -> bool {
        let fits = self.words.first() == Some(&word);
        if fits {
            self.words = &self.words[1..];
        }
        fits
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(expression: &str) -> Option<bool> {
        let permitted = ["MIT", "Unicode-3.0", "Apache-2.0 WITH LLVM-exception"];
        permits(expression, &permitted.map(str::to_owned))
    }

    #[test]
    fn holds_alternatives_and_sums() {
        assert_eq!(asked("MIT"), Some(true));
        assert_eq!(asked("GPL-3.0-only"), Some(false));
        assert_eq!(asked("MIT OR GPL-3.0-only"), Some(true));
        assert_eq!(asked("MIT AND GPL-3.0-only"), Some(false));
        assert_eq!(asked("(MIT OR Apache-2.0) AND Unicode-3.0"), Some(true));
        assert_eq!(asked("GPL-3.0-only OR MIT AND Apache-2.0"), Some(false));
        assert_eq!(asked("Apache-2.0/MIT"), Some(true));
    }

    #[test]
    fn holds_an_exception_is_part_of_the_licence() {
        assert_eq!(asked("Apache-2.0 WITH LLVM-exception"), Some(true));
        assert_eq!(asked("Apache-2.0"), Some(false));
    }

    #[test]
    fn holds_what_is_no_expression_gives_no_answer() {
        for text in ["", "MIT OR", "(MIT", "MIT)", "AND MIT", "MIT MIT"] {
            assert_eq!(asked(text), None, "{text}");
        }
    }
}
