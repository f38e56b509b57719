//! A plot as data: axes, units, series and a title that concludes.
//!
//! A [`Figure`] is one or more [`Panel`]s that share one [`Axis`]. In a stacked figure the shared
//! axis is horizontal (time, temperature) and the panels lie one under the other; in a side-by-side
//! figure it is vertical (height in a bed) and the panels stand next to each other. Every point is
//! therefore `(along, value)`: its place on the shared axis, then its value on the panel's own axis.
//!
//! Nothing here draws. The figure is what a model hands out; how it looks is decided elsewhere, so
//! the same figure becomes a picture, a line in a terminal, or a table.
//!
//! ```
//! use figure::{Axis, Figure, Panel, Point, Series};
//! let points = vec![Point::new(0.0, 2000.0), Point::new(2.0, 400.0), Point::new(4.0, 90.0)];
//! let figure = Figure::stacked(
//!     "The limit is met after 3 h",
//!     Axis::linear("time since entering", "h"),
//!     vec![Panel::new(
//!         Axis::log10("moisture", "ppm"),
//!         vec![Series::line("mean", points), Series::limit("limit 200 ppm", 200.0)],
//!     )],
//! );
//! assert!(figure.check().is_ok());
//! ```

mod axis;
mod balance;
mod check;
mod fault;
mod grade;
mod grid;
mod series;

pub use axis::{Axis, Extent, Scale};
pub use balance::{Balance, Part};
pub use fault::FigureFault;
pub use grade::Grade;
pub use grid::Grid;
pub use series::{BandPoint, Contour, Cross, Ellipse, MeasuredPoint, Point, Series, Tone, Weight};

use serde::{Deserialize, Serialize};

/// A plot as plain data.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    /// What the picture shows, as a sentence that concludes ("The wall takes a tenth of the heat").
    pub title: String,
    /// How the panels share their axis.
    pub layout: Layout,
    /// The axis all panels share.
    pub shared: Axis,
    /// The panels, in reading order.
    pub panels: Vec<Panel>,
    /// Named stretches of the shared axis: where a pellet is at that time, a sector of a wheel.
    #[serde(default)]
    pub places: Vec<Place>,
    /// Named single positions on the shared axis, drawn as hairlines through every panel.
    #[serde(default)]
    pub moments: Vec<Moment>,
    /// The vessel beside a vertical shared axis, to scale.
    #[serde(default)]
    pub outline: Option<Outline>,
    /// What one has to know to read the picture; may be empty.
    #[serde(default)]
    pub caption: String,
    /// Where the numbers come from, one entry each.
    #[serde(default)]
    pub sources: Vec<String>,
}

impl Figure {
    /// A figure whose panels lie one under the other over a horizontal shared axis.
    pub fn stacked(title: impl Into<String>, shared: Axis, panels: Vec<Panel>) -> Self {
        Self::with_layout(Layout::Stacked, title.into(), shared, panels)
    }

    /// A figure whose panels stand side by side along a vertical shared axis.
    pub fn side_by_side(title: impl Into<String>, shared: Axis, panels: Vec<Panel>) -> Self {
        Self::with_layout(Layout::SideBySide, title.into(), shared, panels)
    }

    /// Whether the figure can be drawn and read.
    ///
    /// # Errors
    /// Every mistake at once: see [`FigureFault`].
    pub fn check(&self) -> Result<(), Vec<FigureFault>> {
        let faults = check::faults(self);
        if faults.is_empty() {
            Ok(())
        } else {
            Err(faults)
        }
    }

    /// The extent of the shared axis: the stated range, or what the panels need.
    ///
    /// `None` when no range is stated and no panel holds a point.
    pub fn shared_extent(&self) -> Option<Extent> {
        self.shared.range.or_else(|| {
            let series = self.panels.iter().flat_map(|panel| &panel.series);
            let mut all: Vec<f64> = series.flat_map(Series::places).collect();
            all.extend(self.places.iter().flat_map(|place| [place.from, place.to]));
            all.extend(self.moments.iter().map(|moment| moment.at));
            if let Some(outline) = &self.outline {
                all.extend(outline.half_profile.iter().map(|point| point.along));
            }
            Extent::around(all)
        })
    }

    fn with_layout(layout: Layout, title: String, shared: Axis, panels: Vec<Panel>) -> Self {
        Self {
            title,
            layout,
            shared,
            panels,
            places: Vec::new(),
            moments: Vec::new(),
            outline: None,
            caption: String::new(),
            sources: Vec::new(),
        }
    }
}

/// How the panels of a figure share their axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Layout {
    /// The shared axis is horizontal; panels lie one under the other.
    Stacked,
    /// The shared axis is vertical; panels stand side by side.
    SideBySide,
}

/// One panel: its own axis and what is drawn on it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Panel {
    /// The panel's own axis.
    pub axis: Axis,
    /// What is drawn, first below last.
    pub series: Vec<Series>,
    /// A short heading of the panel; usually none, since the axis already has a name.
    #[serde(default)]
    pub name: Option<String>,
    /// Its share of the figure relative to the other panels; 1 is the usual.
    #[serde(default = "whole")]
    pub share: f64,
    /// One unit of the own axis is drawn as long as one unit of the shared axis (a cut to scale).
    #[serde(default)]
    pub to_scale: bool,
}

impl Panel {
    /// A panel with the usual share.
    pub fn new(axis: Axis, series: Vec<Series>) -> Self {
        Self {
            axis,
            series,
            name: None,
            share: 1.0,
            to_scale: false,
        }
    }

    /// The extent of the panel's own axis: the stated range, or what the series need.
    ///
    /// `None` when no range is stated and no series holds a value.
    pub fn extent(&self) -> Option<Extent> {
        let values = || self.series.iter().flat_map(Series::values).collect();
        self.axis.range.or_else(|| Extent::around(values()))
    }
}

fn whole() -> f64 {
    1.0
}

/// A named stretch of the shared axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Place {
    /// Its name ("hopper", "throat").
    pub name: String,
    /// Where it begins on the shared axis.
    pub from: f64,
    /// Where it ends on the shared axis.
    pub to: f64,
}

/// A named position on the shared axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Moment {
    /// Its name ("air inlet", "glass transition").
    pub name: String,
    /// Where it is on the shared axis.
    pub at: f64,
}

/// A body of revolution drawn as a thin outline beside a vertical axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Outline {
    /// From the bottom up: `along` is the height on the shared axis, `value` the radius, same unit.
    pub half_profile: Vec<Point>,
    /// How high it is filled, on the shared axis; `None` draws it empty.
    pub filled_to: Option<f64>,
}
