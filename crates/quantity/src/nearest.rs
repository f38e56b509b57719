//! The known names nearest to one that was written.

/// Up to three of `known` that `written` is likely to have meant, nearest first.
///
/// Distance counts insertions, deletions, replacements and swaps of neighbours, letter case aside;
/// a name is offered when at most a third of its letters differ (at least one), or when one of the
/// two begins with the other.
pub fn nearest<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let wanted = fold(written);
    let mut near: Vec<(usize, usize, &str)> = Vec::new();
    for (order, name) in known.into_iter().enumerate() {
        let candidate = fold(name);
        let allowed = (wanted.len().max(candidate.len()) / 3).max(1);
        let apart = distance(&wanted, &candidate);
        let shorter = wanted.len().min(candidate.len());
        let opens = shorter >= 2 && wanted[..shorter] == candidate[..shorter];
        if apart <= allowed {
            near.push((apart, order, name));
        } else if opens {
            near.push((allowed + 1, order, name));
        }
    }
    near.sort_unstable();
    near.into_iter().take(3).map(|(_, _, name)| name).collect()
}

/// "did you mean ...?" with the nearest names, or the whole list of names when none is near.
pub fn did_you_mean(written: &str, known: &[&str]) -> String {
    let near = nearest(written, known.iter().copied());
    match near.as_slice() {
        [] if known.is_empty() => "leave it out".to_owned(),
        [] => format!("known are {}", known.join(", ")),
        [one] => format!("did you mean {one}?"),
        [first @ .., last] => format!("did you mean {} or {last}?", first.join(", ")),
    }
}

fn fold(text: &str) -> Vec<char> {
    text.chars()
        .take(64)
        .filter(|c| !matches!(c, ' ' | '-' | '_'))
        .flat_map(char::to_lowercase)
        .collect()
}

/// Optimal string alignment distance: each letter takes part in at most one swap.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, &from) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, &to) in b.iter().enumerate() {
            let replaced = above[j] + usize::from(from != to);
            let mut best = replaced.min(above[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && from == b[j - 1] && a[i - 1] == to {
                best = best.min(before[j - 1] + 1);
            }
            row.push(best);
        }
        before = above;
        above = row;
    }
    above[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_slips_of_the_pen_are_found() {
        let known = ["rate", "limit", "dew_point", "pellet"];
        assert_eq!(nearest("raet", known), ["rate"]);
        assert_eq!(nearest("dewpoint", known), ["dew_point"]);
        assert_eq!(nearest("pellets", known), ["pellet"]);
        assert!(nearest("colour", known).is_empty());
    }

    #[test]
    fn exact_distance_of_known_pairs() {
        let d = |a: &str, b: &str| distance(&fold(a), &fold(b));
        assert_eq!(d("kitten", "sitting"), 3);
        assert_eq!(d("ab", "ba"), 1);
        assert_eq!(d("", "abc"), 3);
    }

    #[test]
    fn holds_the_offer_reads_as_a_sentence() {
        assert_eq!(
            did_you_mean("PA67", &["PA66", "PA6"]),
            "did you mean PA66 or PA6?"
        );
        assert_eq!(did_you_mean("steel", &["PC", "PLA"]), "known are PC, PLA");
    }
}
