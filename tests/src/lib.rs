//! Whole-program checks: published sources, peers and closed forms, each row one comparison.
//!
//! A check file has `pub fn rows() -> Vec<Row>` and one test that hands them to [`check`]; the binary
//! `validation` prints the same rows as a table. To add a file, name it in the `mod.rs` of its folder,
//! once as a module and once in the list of `rows`.

pub mod exact;
pub mod isothermal;
pub mod journeys;
pub mod peers;
pub mod published;
pub mod tower_case;
pub mod wheel_case;

/// One comparison of a number computed here with one from elsewhere.
#[derive(Clone, Debug)]
pub struct Row {
    /// Where the expected number comes from: author and year, standard, or program and version.
    pub source: &'static str,
    /// What is compared, at which state.
    pub what: String,
    /// Unit of both numbers.
    pub unit: &'static str,
    /// The number from elsewhere.
    pub expected: f64,
    /// The number from here.
    pub computed: f64,
    /// What they may differ by: relative to `expected`, or in `unit` when `absolute`.
    pub tolerance: f64,
    /// Whether the tolerance is in `unit`.
    pub absolute: bool,
    /// Why this tolerance.
    pub why: &'static str,
    /// What stands behind the expected number.
    pub kind: Kind,
    /// Why the expected number is doubted; such a row is shown and not enforced.
    pub disputed: Option<&'static str>,
}

/// What stands behind an expected number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A paper or a standard.
    Published,
    /// Another program, its script committed.
    Peer,
    /// A closed form, a limit or a manufactured solution.
    Exact,
}

impl Row {
    /// The difference in the measure of the tolerance; infinite when either number is not one.
    pub fn difference(&self) -> f64 {
        let difference = (self.computed - self.expected).abs();
        let measured = if self.absolute {
            difference
        } else {
            difference / self.expected.abs()
        };
        if measured.is_nan() {
            f64::INFINITY
        } else {
            measured
        }
    }

    /// Whether the row is within its tolerance.
    pub fn holds(&self) -> bool {
        self.difference() <= self.tolerance
    }
}

/// Every row there is, in the order published, peers, exact.
pub fn all_rows() -> Vec<Row> {
    let mut rows = published::rows();
    rows.extend(peers::rows());
    rows.extend(exact::rows());
    rows
}

/// Stops a test with every row that is out of tolerance and not disputed.
///
/// # Panics
/// When there is such a row, or no row at all.
pub fn check(rows: &[Row]) {
    assert!(!rows.is_empty(), "a check without rows proves nothing");
    let failures: Vec<String> = rows
        .iter()
        .filter(|row| !row.holds() && row.disputed.is_none())
        .map(|row| {
            format!(
                "{}: {}\n  computed {:.9e} {unit}, expected {:.9e} {unit}, ratio {:.9}\n  \
                 off by {:.3e}, allowed {:.1e} ({}): {}",
                row.source,
                row.what,
                row.computed,
                row.expected,
                row.computed / row.expected,
                row.difference(),
                row.tolerance,
                if row.absolute { "absolute" } else { "relative" },
                row.why,
                unit = row.unit,
            )
        })
        .collect();
    assert!(
        failures.is_empty(),
        "{} of {} rows fail\n{}",
        failures.len(),
        rows.len(),
        failures.join("\n")
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(computed: f64) -> Row {
        Row {
            source: "two and two",
            what: "sum".to_owned(),
            unit: "",
            expected: 4.0,
            computed,
            tolerance: 1e-9,
            absolute: false,
            why: "arithmetic",
            kind: Kind::Exact,
            disputed: None,
        }
    }

    #[test]
    fn holds_within_the_tolerance() {
        check(&[row(4.0)]);
    }

    #[test]
    #[should_panic(expected = "1 of 2 rows fail")]
    fn holds_back_a_wrong_row() {
        check(&[row(4.0), row(4.1)]);
    }

    #[test]
    #[should_panic(expected = "1 of 1 rows fail")]
    fn holds_back_not_a_number() {
        check(&[row(f64::NAN)]);
    }

    #[test]
    fn holds_a_disputed_row_only_for_show() {
        check(&[Row {
            disputed: Some("five by another count"),
            ..row(5.0)
        }]);
    }
}
