//! The numbers of a resin in groups, in the order in which one asks for them.

use crate::plan::EvidenceRow;

/// The groups, each with the beginnings of the names of its numbers.
const GROUPS: &[(&str, &[&str])] = &[
    ("Pellet", &["pellet", "filler"]),
    (
        "Density and heat",
        &[
            "density",
            "bulk density",
            "heat capacity",
            "its rise with temperature",
            "thermal conductivity",
        ],
    ),
    (
        "Transitions",
        &[
            "glass transition",
            "its fall with moisture",
            "melting",
            "sticking",
        ],
    ),
    ("Sorption", &["isotherm", "heat of sorption"]),
    ("Diffusion", &["diffusivity"]),
    ("Drying", &["customary", "longest stay", "hold"]),
    ("Limits", &["limit", "lower edge"]),
    ("As received", &["as received"]),
    ("Harm", &["hydrolysis", "oxidation", "degradation"]),
];

/// Where a number stands that no group claims.
const OTHERS: &str = "Others";

/// The name of the group of a number.
pub(crate) fn group(what: &str) -> &'static str {
    GROUPS
        .iter()
        .find(|(_, begins)| begins.iter().any(|begin| what.starts_with(begin)))
        .map_or(OTHERS, |(name, _)| name)
}

/// The numbers group by group; a group without any is left out.
pub(crate) fn grouped(rows: &[EvidenceRow]) -> Vec<(&'static str, Vec<EvidenceRow>)> {
    let names = GROUPS.iter().map(|(name, _)| *name).chain([OTHERS]);
    names
        .map(|name| {
            let own = rows.iter().filter(|row| group(&row.what) == name);
            (name, own.cloned().collect::<Vec<_>>())
        })
        .filter(|(_, own)| !own.is_empty())
        .collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;
    use crate::plan::evidence_rows;

    #[test]
    fn holds_every_number_of_the_library_has_its_group() {
        let library = files::Library::shipped().unwrap();
        for record in &library.records {
            let rows = evidence_rows(&record.resin);
            let groups = grouped(&rows);
            let all: usize = groups.iter().map(|(_, own)| own.len()).sum();
            assert_eq!(all, rows.len());
            for row in &rows {
                assert_ne!(group(&row.what), OTHERS, "{}", row.what);
            }
        }
    }
}
