//! The figure in words, for readers who do not see it.

use crate::number::short;
use figure::{Extent, Figure, Layout, Panel, Point, Series};

/// One sentence for the axes, one for each panel.
pub(crate) fn describe(figure: &Figure) -> String {
    let how = match figure.layout {
        Layout::Stacked => "over",
        Layout::SideBySide => "along",
    };
    let mut words = format!(
        "{} panel(s) {how} {}",
        figure.panels.len(),
        figure.shared.label()
    );
    if let Some(extent) = figure.shared_extent() {
        let (low, high) = (short(extent.low), short(extent.high));
        words = format!("{words} from {low} to {high}");
    }
    words.push('.');
    for (index, panel) in figure.panels.iter().enumerate() {
        words.push_str(&panel_words(index + 1, panel));
    }
    if !figure.caption.trim().is_empty() {
        words.push(' ');
        words.push_str(figure.caption.trim());
    }
    words
}

fn panel_words(number: usize, panel: &Panel) -> String {
    let named = panel.series.iter().filter(|series| !series.goes_on());
    let parts: Vec<String> = named.map(series_words).collect();
    format!(
        " Panel {number}, {}: {}.",
        panel.axis.label(),
        parts.join("; ")
    )
}

fn series_words(series: &Series) -> String {
    match series {
        Series::Line {
            name,
            points,
            grade,
            ..
        } => {
            format!("line {name} ({}){}", grade.word(), ends(points))
        }
        Series::Band { name, grade, .. } => format!("range {name} ({})", grade.word()),
        Series::Measured { name, points, .. } => {
            format!("{} measured points {name}", points.len())
        }
        Series::Limit { name, value } => format!("limit {name} at {}", short(*value)),
        Series::Region { name, .. } => format!("area {name}"),
        Series::Contours(contour) => format!(
            "lines of equal {} in {} ({})",
            contour.name,
            contour.unit,
            contour.grade.word()
        ),
        Series::Field { name, unit, .. } => format!("colour field of {name} in {unit}"),
        Series::Cross(cross) => format!(
            "point {} ({}) at {} ({}), {} ({})",
            cross.name,
            cross.grade.word(),
            short(cross.at.along),
            from_to(cross.along),
            short(cross.at.value),
            from_to(cross.value)
        ),
        Series::Recommended { name, at, .. } => {
            format!("{name} at {}, {}", short(at.along), short(at.value))
        }
        Series::Note { text, .. } => format!("note {text}"),
    }
}

fn from_to(range: Extent) -> String {
    format!("{} to {}", short(range.low), short(range.high))
}

fn ends(points: &[Point]) -> String {
    match (points.first(), points.last()) {
        (Some(first), Some(last)) => {
            format!(", from {} to {}", short(first.value), short(last.value))
        }
        _ => String::new(),
    }
}
