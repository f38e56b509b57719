//! A figure drawn as SVG.
//!
//! [`draw`] turns a [`figure::Figure`] into one SVG element: on its own (with heading, caption and
//! style inside) or to be put into a page (the page brings [`STYLE`] once and writes the heading
//! itself). The same figure and sheet give the same bytes on every machine.
//!
//! The signs are the house's own: a range is a tint, a limit a hairline with its name on it, an
//! estimate is dashed or hatched, a measured point is a filled dot with its error bar, a model line
//! is plain. Lines are named where they run, so nothing depends on colour; colour fields use maps
//! of steadily changing lightness (see [`colour`]).

mod arrange;
mod axes;
mod balance;
mod canvas;
pub mod colour;
mod describe;
mod gutter;
mod heading;
mod key;
mod labels;
mod level;
mod marks;
mod number;
mod plot;
mod ruler;
mod sparkline;
mod svg;
mod text;
mod ticks;

pub use number::{aligned, rounded, short, significant};
pub use sparkline::{sparkline, sparkline_between};
pub use text::escape;

use figure::{Balance, Figure, FigureFault};

/// The style sheet every drawing needs, light and dark: custom properties on `:root`, and classes
/// that begin with `c-`. A drawing on its own carries it inside; a page includes it once.
pub const STYLE: &str = include_str!("chart.css");

/// The narrowest sheet that can be drawn on, in CSS pixels.
pub const LEAST_WIDTH: f64 = 300.0;

/// What the figure is drawn on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet<'a> {
    /// Width in CSS pixels; the height follows from the figure.
    pub width: f64,
    /// A word that no other drawing on the same page has; it begins the ids inside.
    pub id: &'a str,
    /// On its own, with heading, caption and style, or as a part of a page that brings them.
    pub alone: bool,
}

impl<'a> Sheet<'a> {
    /// A part of a page, for a screen or paper with room (720 px).
    pub fn wide(id: &'a str) -> Self {
        Self {
            width: 720.0,
            id,
            alone: false,
        }
    }

    /// A part of a page, for a screen 390 px wide with its margins.
    pub fn narrow(id: &'a str) -> Self {
        Self {
            width: 358.0,
            id,
            alone: false,
        }
    }

    /// A file of its own, 720 px wide.
    pub fn alone(id: &'a str) -> Self {
        Self {
            alone: true,
            ..Self::wide(id)
        }
    }
}

/// Why a figure was not drawn.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ChartFault {
    /// The figure itself cannot be read.
    #[error("the figure cannot be drawn: {}", listed(.faults))]
    Unreadable {
        /// Every mistake of the figure.
        faults: Vec<FigureFault>,
    },
    /// The sheet leaves no room for axes and a plot.
    #[error("a sheet {width} px wide is too narrow; {least} px is the least")]
    TooNarrow {
        /// The asked width.
        width: f64,
        /// The least width.
        least: f64,
    },
}

fn listed(faults: &[FigureFault]) -> String {
    let words: Vec<String> = faults.iter().map(ToString::to_string).collect();
    words.join("; ")
}

/// Draws a figure as one SVG element.
///
/// # Errors
/// [`ChartFault::Unreadable`] when [`Figure::check`] refuses the figure, and
/// [`ChartFault::TooNarrow`] below [`LEAST_WIDTH`] (or when the width is not a number).
///
/// ```
/// use figure::{Axis, Figure, Panel, Point, Series};
/// let points = vec![Point::new(0.0, 2000.0), Point::new(2.0, 400.0), Point::new(4.0, 90.0)];
/// let series = vec![Series::line("mean", points), Series::limit("limit 200 ppm", 200.0)];
/// let panel = Panel::new(Axis::log10("moisture", "ppm"), series);
/// let figure = Figure::stacked("The limit is met", Axis::linear("time", "h"), vec![panel]);
/// let svg = chart::draw(&figure, &chart::Sheet::wide("demo"))?;
/// assert!(svg.starts_with("<svg") && svg.contains("limit 200 ppm"));
/// # Ok::<(), chart::ChartFault>(())
/// ```
pub fn draw(figure: &Figure, sheet: &Sheet<'_>) -> Result<String, ChartFault> {
    wide_enough(sheet)?;
    figure
        .check()
        .map_err(|faults| ChartFault::Unreadable { faults })?;
    let head = heading::Heading::of(&figure.into(), sheet);
    let inner = Sheet {
        width: sheet.width - 2.0 * head.margin,
        ..*sheet
    };
    let arranged = arrange::arrange(figure, &inner, head.above);
    let height = arranged.bottom + head.below;
    let described = describe::describe(figure);
    let mut svg = svg::Svg::open(&figure.title, &described, sheet, height);
    svg.hatches(|tone| svg::hatches(figure, tone));
    svg.shift(head.margin);
    head.draw(&mut svg, arranged.bottom);
    axes::draw(figure, &arranged, &mut svg);
    for plot in &arranged.plots {
        marks::draw(plot, &mut svg);
    }
    svg.unclip();
    Ok(svg.close())
}

/// Draws a balance as one SVG element: two columns of equal height, what enters on the left and what
/// leaves on the right, each part with its name, its amount and its share beside it.
///
/// # Errors
/// [`ChartFault::Unreadable`] when [`Balance::check`] refuses the balance, and
/// [`ChartFault::TooNarrow`] below [`LEAST_WIDTH`] (or when the width is not a number).
///
/// ```
/// use figure::{Balance, Grade, Part, Tone};
/// let mut heat = Balance::new("A third goes out of the wall", "kW", Tone::Heat);
/// heat.entering = vec![Part::new("heater", 3.0, Grade::Computed)];
/// heat.leaving = vec![
///     Part::new("resin", 2.0, Grade::Computed),
///     Part::new("wall", 1.0, Grade::CommonPractice),
/// ];
/// let svg = chart::draw_balance(&heat, &chart::Sheet::wide("demo"))?;
/// assert!(svg.contains("67\u{a0}%") && svg.contains("≈\u{a0}1"));
/// # Ok::<(), chart::ChartFault>(())
/// ```
pub fn draw_balance(balance: &Balance, sheet: &Sheet<'_>) -> Result<String, ChartFault> {
    wide_enough(sheet)?;
    balance
        .check()
        .map_err(|faults| ChartFault::Unreadable { faults })?;
    let head = heading::Heading::of(&balance.into(), sheet);
    let laid = balance::lay(balance, sheet.width - 2.0 * head.margin, head.above);
    let described = balance::describe(balance);
    let mut svg = svg::Svg::open(&balance.title, &described, sheet, laid.bottom + head.below);
    let parts = || balance.entering.iter().chain(&balance.leaving);
    let estimates = parts().any(|part| part.grade.is_estimate());
    svg.hatches(|tone| estimates && tone == balance.tone);
    svg.shift(head.margin);
    head.draw(&mut svg, laid.bottom);
    balance::draw(&laid, &mut svg);
    svg.unclip();
    Ok(svg.close())
}

fn wide_enough(sheet: &Sheet<'_>) -> Result<(), ChartFault> {
    if sheet.width >= LEAST_WIDTH && sheet.width.is_finite() {
        return Ok(());
    }
    Err(ChartFault::TooNarrow {
        width: sheet.width,
        least: LEAST_WIDTH,
    })
}
