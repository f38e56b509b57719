//! Prints every row of the checks as Markdown, for `docs/validation.md`.

use proof::{Kind, Row, all_rows};
use std::fmt::Write as _;
use std::io::Write as _;

fn main() -> std::io::Result<()> {
    std::io::stdout().write_all(page(&all_rows()).as_bytes())
}

fn page(rows: &[Row]) -> String {
    let mut page = String::from("# Outside checks\n\n");
    let _ = writeln!(page, "Every row is computed by the tests' own code.");
    let _ = writeln!(
        page,
        "A disputed row is computed and shown, but not enforced.\n"
    );
    for (kind, title) in [
        (Kind::Published, "Papers and standards"),
        (Kind::Peer, "Other programs"),
        (Kind::Exact, "Closed forms and limits"),
    ] {
        let of_kind: Vec<&Row> = rows.iter().filter(|row| row.kind == kind).collect();
        section(&mut page, title, &of_kind);
    }
    page
}

fn section(page: &mut String, title: &str, rows: &[&Row]) {
    let mut sources: Vec<&str> = Vec::new();
    for row in rows {
        if !sources.contains(&row.source) {
            sources.push(row.source);
        }
    }
    let _ = writeln!(
        page,
        "## {title}: {} rows from {} sources\n",
        rows.len(),
        sources.len()
    );
    for source in sources {
        let _ = writeln!(page, "### {source}\n");
        let _ = writeln!(
            page,
            "| What | Unit | Expected | Computed | Off by | Allowed | Why |\n|---|---|---|---|---|---|---|"
        );
        for row in rows.iter().filter(|row| row.source == source) {
            line(page, row);
        }
        page.push('\n');
    }
}

fn line(page: &mut String, row: &Row) {
    let measure = if row.absolute { row.unit } else { "of it" };
    let verdict = match row.disputed {
        Some(why) => format!("{}; **disputed**: {why}", row.why),
        None if row.holds() => row.why.to_owned(),
        None => format!("{}; **fails**", row.why),
    };
    let _ = writeln!(
        page,
        "| {} | {} | {} | {} | {:.1e} {measure} | {:.1e} {measure} | {verdict} |",
        row.what,
        row.unit,
        digits(row.expected),
        digits(row.computed),
        row.difference(),
        row.tolerance,
    );
}

/// Seven digits, with an exponent only where a plain number would be hard to read.
fn digits(value: f64) -> String {
    let size = value.abs();
    if size == 0.0 || !(1e-3..1e7).contains(&size) {
        return format!("{value:.6e}");
    }
    let places = [1.0, 10.0, 100.0, 1e3, 1e4, 1e5, 1e6]
        .iter()
        .filter(|&&bound| size < bound)
        .count();
    format!("{value:.places$}")
}
