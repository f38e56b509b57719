//! A balance as bars in text: each side, each part with its amount, its share and a bar.

use crate::spark::{shortened, trimmed};
use crate::terminal::{WIDTH, clean, columns, right};
use figure::{Balance, Part};

/// The widest a name may be, columns.
const NAME: usize = 34;
/// The longest bar, columns.
const BAR: usize = 28;

/// The lines that stand for a balance, title excepted.
pub(crate) fn lines(balance: &Balance) -> Vec<String> {
    let whole = balance.whole();
    let amount = |part: &Part| {
        let about = if part.grade.is_estimate() { "≈ " } else { "" };
        clean(&format!("{about}{}", trimmed(part.amount)))
    };
    let amounts = balance.sides().map(|(_, parts)| {
        let widths = parts.iter().map(|part| columns(&amount(part)));
        widths.max().unwrap_or(0)
    });
    let wide = amounts.into_iter().max().unwrap_or(0);
    let room = WIDTH.saturating_sub(2 + NAME + 1 + wide + 1).min(BAR);
    let mut out = Vec::new();
    for (side, parts) in balance.sides() {
        out.push(clean(&format!("  {side} / {}", balance.unit)));
        for part in parts.iter().filter(|part| part.amount > 0.0) {
            let name = shortened(&clean(&part.name), NAME);
            let bar = bar(part, whole, room);
            let line = format!("  {name} {} {bar}", right(&amount(part), wide));
            out.push(line);
        }
    }
    out
}

/// A bar as long as the part is of the whole, light when it is an estimate.
fn bar(part: &Part, whole: f64, room: usize) -> String {
    let share = part.amount / whole;
    let filled = (0..room).take_while(|at| *at as f64 + 0.5 <= share * room as f64);
    let ink = if part.grade.is_estimate() {
        "▒"
    } else {
        "█"
    };
    match filled.count() {
        0 => "▏".to_owned(),
        long => ink.repeat(long),
    }
}
