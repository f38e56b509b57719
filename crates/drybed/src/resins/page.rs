//! The page of the book that shows the library, its evidence and its gaps, in Markdown.

use super::numbers::diffusivity_at;
use super::reading::{Reading, is_read, reading};
use crate::plan::{EvidenceRow, evidence_rows};
use crate::speech::counted;
use files::Library;
use material::{Evidence, Resin};
use quantity::{MoistureDryBasis, Quantity, digits};
use std::fmt::Write as _;

/// What the size of the sorption law is called in each of its forms.
const CAPACITIES: [&str; 4] = ["capacity", "monolayer", "interaction", "amorphous share"];
/// What carries it from one temperature to another.
const SORPTION_LAWS: [&str; 4] = [
    "mixing heat",
    "surface heat",
    "interaction slope",
    "multilayer heat",
];
/// The values whose parents a reader asks for first: a heading, and the beginnings of their names.
const MATTERS: [(&str, &[&str]); 5] = [
    ("diffusivity", &["diffusivity, reference"]),
    ("its temperature law", &["diffusivity, activation energy"]),
    ("sorption", &[]),
    ("its temperature law", &[]),
    ("harm while hot", &["hydrolysis, rate", "oxidation, rate"]),
];

/// A resin with its evidence.
struct Known<'a> {
    resin: &'a Resin,
    rows: Vec<EvidenceRow>,
}

/// The page.
pub fn library_page(library: &Library) -> String {
    let mut known: Vec<Known<'_>> = library
        .records
        .iter()
        .map(|record| Known {
            resin: &record.resin,
            rows: evidence_rows(&record.resin),
        })
        .collect();
    known.sort_by_key(|k| (k.resin.family.is_none(), &k.resin.family, &k.resin.key));
    let mut page = head(&known);
    practice(&known, library, &mut page);
    evidence(&known, library, &mut page);
    gaps(&known, library, &mut page);
    sources(&known, library, &mut page);
    page
}

fn head(known: &[Known<'_>]) -> String {
    let mut families: Vec<&str> = known
        .iter()
        .filter_map(|k| k.resin.family.as_deref())
        .collect();
    families.dedup();
    format!(
        "# The library of resins\n\n\
         This page is generated from the records of [materials](../materials); a test compares it, \
         and `DRYBED_WRITE_PAGES=1 cargo test -p drybed --test library_page` writes it anew.\n\
         It shows {} in {}.\n\
         The data sheet of your grade and your own measurements outrank every number here.\n\
         A number with ≈ is an estimate: carried over from something similar, or common practice.\n",
        counted(known.len(), "resin", "resins"),
        counted(families.len().max(1), "family", "families")
    )
}

/// What the trade does with each, and how fast water moves in it.
fn practice(known: &[Known<'_>], library: &Library, page: &mut String) {
    line(page, "\n## The resins\n");
    line(
        page,
        "Windows in °C, times in h, moistures in ppm by mass on the wet basis.\n\
         Limits are those for moulding, extrusion and fibre; received is from a sealed and from an \
         opened package.\n\
         D is the diffusivity of water in the dry resin at the customary temperature, in m²/s, with \
         the range that holds nine in ten of what the evidence leaves open.",
    );
    let mut before: Option<Option<&str>> = None;
    for one in known {
        let family = one.resin.family.as_deref();
        if before != Some(family) {
            line(page, &format!("\n### {}\n", family.unwrap_or("others")));
            row(
                page,
                &[
                    "key",
                    "resin",
                    "window",
                    "time",
                    "limits",
                    "received",
                    "D",
                    "D from",
                    "sorption from",
                ],
            );
            rule(page, 9);
            before = Some(family);
        }
        let resin = one.resin;
        let drying = &resin.drying;
        let d = diffusivity_at(resin, drying.temperature.value.si());
        row(
            page,
            &[
                &format!("`{}`", resin.key),
                &format!("{}: {}", resin.name, resin.title),
                &format!(
                    "{} ({} to {})",
                    marked(
                        &drying.temperature,
                        drying.temperature.value.celsius().round()
                    ),
                    digits(drying.temperature_low.value.celsius().round(), 4),
                    digits(drying.temperature_high.value.celsius().round(), 4)
                ),
                &marked(&drying.time, drying.time.value.hours()),
                &limits(resin),
                &format!(
                    "{}, {}",
                    water(&resin.received.sealed),
                    water(&resin.received.opened)
                ),
                &format!(
                    "{} ({} to {})",
                    digits(d.value, 2),
                    digits(d.low, 2),
                    digits(d.high, 2)
                ),
                &parent(one.diffusivity(), library),
                &parent(one.sorption(), library),
            ],
        );
    }
}

fn limits(resin: &Resin) -> String {
    let limit = &resin.limit;
    let others = [&limit.extrusion, &limit.fibre];
    let others = others.map(|e| e.as_ref().map_or_else(|| "–".to_owned(), water));
    format!("{}, {}", water(&limit.moulding), others.join(", "))
}

/// Which resins have diffusion and sorption read in a source.
fn evidence(known: &[Known<'_>], library: &Library, page: &mut String) {
    let read = |row: Option<&EvidenceRow>| row.is_some_and(|row| is_read(row, library));
    let whole: Vec<&Known<'_>> = known
        .iter()
        .filter(|k| read(k.diffusivity()) && read(k.sorption()))
        .collect();
    let half: Vec<&Known<'_>> = known
        .iter()
        .filter(|k| read(k.diffusivity()) != read(k.sorption()))
        .collect();
    line(page, "\n## The evidence\n");
    line(
        page,
        "A value counts as read when it was measured or fitted in a source whose abstract or full \
         text was read, when nothing of it is from memory, and when it is the resin's own and not \
         carried over.",
    );
    line(
        page,
        &format!(
            "Diffusion and sorption were both read in a cited source for {}.\n",
            counted(whole.len(), "resin", "resins")
        ),
    );
    both(page, &whole, library);
    line(
        page,
        &format!(
            "\nOne of the two was read for {}.\n",
            counted(half.len(), "resin", "resins")
        ),
    );
    both(page, &half, library);
}

fn both(page: &mut String, known: &[&Known<'_>], library: &Library) {
    if known.is_empty() {
        line(page, "None.");
        return;
    }
    row(page, &["key", "diffusion", "sorption", "numbers read"]);
    rule(page, 4);
    for one in known {
        let read = one.rows.iter().filter(|row| is_read(row, library)).count();
        row(
            page,
            &[
                &format!("`{}`", one.resin.key),
                &parent(one.diffusivity(), library),
                &parent(one.sorption(), library),
                &format!("{read} of {}", one.rows.len()),
            ],
        );
    }
}

/// What is not known of which.
fn gaps(known: &[Known<'_>], library: &Library, page: &mut String) {
    line(page, "\n## The gaps\n");
    line(
        page,
        "Drying settings, limits, hold times and moistures as received are trade habit unless their \
         record says otherwise, and so are most densities and heat capacities.\n\
         Of what decides the drying, a dash is not known at all, and what is in italics was not \
         read in a source of this very resin.\n",
    );
    let heads: Vec<&str> = ["key"]
        .into_iter()
        .chain(MATTERS.iter().map(|(name, _)| *name))
        .collect();
    row(page, &heads);
    rule(page, heads.len());
    for one in known {
        let mut cells = vec![format!("`{}`", one.resin.key)];
        for (index, (_, begins)) in MATTERS.iter().enumerate() {
            let found = match index {
                2 => one.sorption(),
                3 => one.named("isotherm, ", &SORPTION_LAWS),
                _ => one.beginning(begins),
            };
            cells.push(match found {
                None => "–".to_owned(),
                Some(row) if is_read(row, library) => row.grade.to_owned(),
                Some(row) => format!("*{}*", short(row, library)),
            });
        }
        let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
        row(page, &cells);
    }
    let unread: Vec<String> = known
        .iter()
        .filter(|k| {
            let read = |row: Option<&EvidenceRow>| row.is_some_and(|row| is_read(row, library));
            !read(k.diffusivity()) && !read(k.sorption())
        })
        .map(|k| format!("`{}`", k.resin.key))
        .collect();
    if !unread.is_empty() {
        line(
            page,
            &format!(
                "\nNeither diffusion nor sorption was read in a source for {} of them: {}.",
                unread.len(),
                unread.join(", ")
            ),
        );
    }
}

/// The sources, how each was read, and how many numbers lean on it.
fn sources(known: &[Known<'_>], library: &Library, page: &mut String) {
    line(page, "\n## The sources\n");
    let mut references: Vec<_> = library.bibliography.references.iter().collect();
    references.sort_by(|a, b| a.key.cmp(&b.key));
    for reference in references {
        let resins: Vec<&Known<'_>> = known
            .iter()
            .filter(|k| k.rows.iter().any(|row| row.source == reference.key))
            .collect();
        let numbers: usize = resins
            .iter()
            .flat_map(|k| &k.rows)
            .filter(|row| row.source == reference.key)
            .count();
        // What stands behind desiccants alone is told on their own page.
        if numbers == 0 {
            continue;
        }
        line(
            page,
            &format!(
                "- `{}` ({}): {}; behind {} of {}.",
                reference.key,
                Reading::of(reference).words(),
                reference.cite().replace('|', "\\|"),
                counted(numbers, "number", "numbers"),
                counted(resins.len(), "resin", "resins")
            ),
        );
    }
}

impl Known<'_> {
    fn diffusivity(&self) -> Option<&EvidenceRow> {
        self.beginning(&["diffusivity, reference"])
    }

    fn sorption(&self) -> Option<&EvidenceRow> {
        self.named("isotherm, ", &CAPACITIES)
    }

    fn beginning(&self, begins: &[&str]) -> Option<&EvidenceRow> {
        let fits = |row: &&EvidenceRow| begins.iter().any(|begin| row.what == *begin);
        self.rows.iter().find(fits)
    }

    fn named(&self, before: &str, names: &[&str]) -> Option<&EvidenceRow> {
        let of = |name: &&str| {
            let wanted = format!("{before}{name}");
            self.rows.iter().find(|row| row.what == wanted)
        };
        names.iter().find_map(of)
    }
}

/// Where a value comes from, with its source.
fn parent(row: Option<&EvidenceRow>, library: &Library) -> String {
    let Some(row) = row else {
        return "–".to_owned();
    };
    let text = short(row, library);
    if library.bibliography.get(&row.source).is_some() {
        format!("{text}: `{}`", row.source)
    } else {
        text
    }
}

/// Where a value comes from, in a few words.
fn short(row: &EvidenceRow, library: &Library) -> String {
    if let Some(base) = &row.inherited_from {
        return format!("analogy, from {base}");
    }
    match (row.grade, reading(row, library)) {
        ("common practice", _) => "practice".to_owned(),
        (grade, Reading::Unread) if ["measured", "fitted"].contains(&grade) => {
            format!("{grade}, partly from memory")
        }
        (grade, Reading::Unread) => grade.to_owned(),
        (grade, read) => format!("{grade}, {}", read.words()),
    }
}

/// A moisture in ppm wet basis, with the sign of an estimate.
fn water(evidence: &Evidence<MoistureDryBasis>) -> String {
    marked(evidence, evidence.value.wet_basis().ppm())
}

fn marked<T>(evidence: &Evidence<T>, value: f64) -> String {
    let estimate = if evidence.grade.is_estimate() {
        "≈ "
    } else {
        ""
    };
    format!("{estimate}{}", digits(value, 3))
}

fn line(page: &mut String, text: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(page, "{text}");
}

fn row(page: &mut String, cells: &[&str]) {
    let cells: Vec<String> = cells.iter().map(|c| c.replace('|', "\\|")).collect();
    line(page, &format!("| {} |", cells.join(" | ")));
}

fn rule(page: &mut String, columns: usize) {
    line(page, &format!("|{}", " --- |".repeat(columns)));
}
