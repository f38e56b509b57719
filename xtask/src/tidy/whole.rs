//! Finding a word in a text where it stands alone, not as part of a longer one.

/// Whether the word stands in the text with nothing of its own kind before or after it.
///
/// `is_part` says which characters make up words; an end of `word` that is none of them, such as
/// the bracket of `Other(`, may touch anything.
pub(super) fn stands_in(text: &str, word: &str, is_part: fn(char) -> bool) -> bool {
    let opens = word.starts_with(is_part);
    let closes = word.ends_with(is_part);
    text.match_indices(word).any(|(at, _)| {
        let joined_before = opens && text[..at].ends_with(is_part);
        let joined_after = closes && text[at + word.len()..].starts_with(is_part);
        !joined_before && !joined_after
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_only_whole_words_are_found() {
        let found = |text, word| stands_in(text, word, char::is_alphanumeric);
        assert!(found("a key, b", "key"));
        assert!(found("keys, key", "key"));
        assert!(!found("keys monkey", "key"));
        assert!(found("x.exp(1)", ".exp("));
        assert!(!found("AnOther(1)", "Other("));
    }
}
