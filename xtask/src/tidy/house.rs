//! What the rules need to know beyond themselves, read from `xtask/tidy.toml`.

use crate::trouble::Trouble;

/// Where the names, limits and excuses are kept.
pub(super) const KEPT_IN: &str = "xtask/tidy.toml";

/// Names, limits and excuses.
#[derive(Debug, Default)]
pub(super) struct House {
    pub(super) test_prefixes: Vec<String>,
    pub(super) longest_file: usize,
    pub(super) same_on_every_machine: Vec<String>,
    pub(super) platform_functions: Vec<String>,
    pub(super) component_crates: Vec<String>,
    pub(super) component_headings: Vec<String>,
    /// Paths of components, whatever their headings.
    pub(super) components: Vec<String>,
    pub(super) keys_without_entry: Vec<String>,
    /// Paths of files that may be longer.
    pub(super) long_files: Vec<String>,
    /// Paths of components that nothing outside this repository has checked.
    pub(super) no_outside_check: Vec<String>,
    pub(super) words: Vec<Word>,
}

/// A word that does not belong here.
#[derive(Debug)]
pub(super) struct Word {
    pub(super) not: String,
    pub(super) write: String,
}

impl House {
    /// As kept in this repository when xtask was built.
    pub(super) fn kept() -> Result<Self, Trouble> {
        Self::from_text(include_str!("../../tidy.toml"))
    }

    /// From the text of such a file; an excuse without a reason is no excuse.
    pub(super) fn from_text(text: &str) -> Result<Self, Trouble> {
        let table: toml::Table = text
            .parse()
            .map_err(|cause: toml::de::Error| not_data(cause.to_string()))?;
        Ok(Self {
            test_prefixes: names(&table, "test_prefixes")?,
            longest_file: table
                .get("longest_file")
                .and_then(toml::Value::as_integer)
                .and_then(|lines| usize::try_from(lines).ok())
                .ok_or_else(|| not_data("`longest_file` is no number of lines".to_owned()))?,
            same_on_every_machine: names(&table, "same_on_every_machine")?,
            platform_functions: names(&table, "platform_functions")?,
            component_crates: names(&table, "component_crates")?,
            component_headings: names(&table, "component_headings")?,
            components: names(&table, "components")?,
            keys_without_entry: names(&table, "keys_without_entry")?,
            long_files: pairs(&table, "long_file", "path", "because")?
                .into_iter()
                .map(|(path, _)| path)
                .collect(),
            no_outside_check: pairs(&table, "no_outside_check", "path", "because")?
                .into_iter()
                .map(|(path, _)| path)
                .collect(),
            words: pairs(&table, "word", "not", "write")?
                .into_iter()
                .map(|(not, write)| Word { not, write })
                .collect(),
        })
    }
}

fn not_data(cause: String) -> Trouble {
    Trouble::NotData {
        what: KEPT_IN.to_owned(),
        cause,
    }
}

fn list<'a>(table: &'a toml::Table, key: &str) -> Result<&'a Vec<toml::Value>, Trouble> {
    table
        .get(key)
        .and_then(toml::Value::as_array)
        .ok_or_else(|| not_data(format!("`{key}` is missing or is no list")))
}

fn names(table: &toml::Table, key: &str) -> Result<Vec<String>, Trouble> {
    let words = list(table, key)?.iter();
    Ok(words
        .filter_map(toml::Value::as_str)
        .map(str::to_owned)
        .collect())
}

fn pairs(
    table: &toml::Table,
    key: &str,
    first: &str,
    second: &str,
) -> Result<Vec<(String, String)>, Trouble> {
    let text = |entry: &toml::Value, field: &str| {
        entry
            .get(field)
            .and_then(toml::Value::as_str)
            .filter(|text| !text.trim().is_empty())
            .map(str::to_owned)
            .ok_or_else(|| not_data(format!("an entry of `{key}` has no `{field}`")))
    };
    list(table, key)?
        .iter()
        .map(|entry| Ok((text(entry, first)?, text(entry, second)?)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_the_kept_file_is_read() -> Result<(), Trouble> {
        let house = House::kept()?;
        assert_eq!(house.longest_file, 600);
        assert!(house.platform_functions.iter().any(|name| name == "exp"));
        assert!(!house.words.is_empty());
        Ok(())
    }

    #[test]
    fn holds_an_excuse_without_a_reason_is_refused() {
        let kept = include_str!("../../tidy.toml");
        let excuse = kept.replace("long_file = []", "long_file = [{ path = \"a.rs\" }]");
        assert_ne!(kept, excuse);
        assert!(House::from_text(&excuse).is_err());
    }
}
