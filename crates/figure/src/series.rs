//! What can be drawn on a panel.

use crate::{Extent, Grade, Grid, Scale};
use serde::{Deserialize, Serialize};

/// One thing drawn on a panel.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Series {
    /// A curve: plain when computed, dashed when its grade is an estimate.
    Line {
        /// Written at its end; empty for a line that goes on with the one before it after a gap.
        name: String,
        /// Its points, in drawing order.
        points: Vec<Point>,
        /// What stands behind it.
        grade: Grade,
        /// What it is about.
        tone: Tone,
        /// How much it matters.
        weight: Weight,
    },
    /// A range along the shared axis: a tint, hatched when its grade is an estimate.
    Band {
        /// What the range is ("90 % of pellets").
        name: String,
        /// Its points, in drawing order.
        points: Vec<BandPoint>,
        /// What stands behind it.
        grade: Grade,
        /// What it is about.
        tone: Tone,
    },
    /// Measured points: filled dots with error bars.
    Measured {
        /// Whose measurement.
        name: String,
        /// The points.
        points: Vec<MeasuredPoint>,
        /// What it is about.
        tone: Tone,
    },
    /// A limit on the panel's own axis: a hairline with its name on it.
    Limit {
        /// Written on the hairline ("limit 200 ppm").
        name: String,
        /// Where it lies on the panel's own axis.
        value: f64,
    },
    /// A named area, hatched: forbidden by sticking, over-dried.
    Region {
        /// Written inside.
        name: String,
        /// Its corners; closed by itself.
        outline: Vec<Point>,
        /// What it is about.
        tone: Tone,
    },
    /// Lines of equal value on a grid, labelled on the line.
    Contours(Contour),
    /// A colour field on a grid, with its own colour scale beside it.
    Field {
        /// What the colour means ("loading").
        name: String,
        /// Its unit as printed.
        unit: String,
        /// The values.
        grid: Grid,
        /// How values are laid out along the colour map.
        scale: Scale,
        /// Which colour map: water or heat.
        tone: Tone,
    },
    /// A point with its range on both axes: a cross around a ring, its arms dashed when its grade is
    /// an estimate.
    Cross(Cross),
    /// The recommended point.
    Recommended {
        /// Written beside it.
        name: String,
        /// Where it is.
        at: Point,
        /// How sure; `None` draws the point alone.
        ellipse: Option<Ellipse>,
    },
    /// A remark at a point.
    Note {
        /// The remark, a few words.
        text: String,
        /// What it points at.
        at: Point,
    },
}

impl Series {
    /// A computed line about water.
    pub fn line(name: impl Into<String>, points: Vec<Point>) -> Self {
        Self::Line {
            name: name.into(),
            points,
            grade: Grade::Computed,
            tone: Tone::Water,
            weight: Weight::Plain,
        }
    }

    /// A limit on the panel's own axis.
    pub fn limit(name: impl Into<String>, value: f64) -> Self {
        Self::Limit {
            name: name.into(),
            value,
        }
    }

    /// Whether it is a line without a name, which goes on with the named line before it after a gap.
    pub fn goes_on(&self) -> bool {
        matches!(self, Self::Line { name, .. } if name.is_empty())
    }

    /// The name as written on the picture.
    pub fn name(&self) -> &str {
        match self {
            Self::Line { name, .. }
            | Self::Band { name, .. }
            | Self::Measured { name, .. }
            | Self::Limit { name, .. }
            | Self::Region { name, .. }
            | Self::Field { name, .. }
            | Self::Recommended { name, .. } => name,
            Self::Contours(contour) => &contour.name,
            Self::Cross(cross) => &cross.name,
            Self::Note { text, .. } => text,
        }
    }

    /// All its numbers on the shared axis.
    pub fn places(&self) -> Vec<f64> {
        match self {
            Self::Line { points, .. } => points.iter().map(|p| p.along).collect(),
            Self::Region { outline, .. } => outline.iter().map(|p| p.along).collect(),
            Self::Band { points, .. } => points.iter().map(|p| p.along).collect(),
            Self::Measured { points, .. } => points.iter().map(|p| p.along).collect(),
            Self::Limit { .. } => Vec::new(),
            Self::Contours(Contour { grid, .. }) | Self::Field { grid, .. } => grid.along.clone(),
            Self::Cross(Cross { at, along, .. }) => vec![along.low, at.along, along.high],
            Self::Recommended { at, .. } | Self::Note { at, .. } => vec![at.along],
        }
    }

    /// All its numbers on the panel's own axis.
    pub fn values(&self) -> Vec<f64> {
        match self {
            Self::Line { points, .. } => points.iter().map(|p| p.value).collect(),
            Self::Region { outline, .. } => outline.iter().map(|p| p.value).collect(),
            Self::Band { points, .. } => points.iter().flat_map(|p| [p.low, p.high]).collect(),
            Self::Measured { points, .. } => {
                let all = points.iter().flat_map(|p| [p.low, p.value, p.high]);
                all.collect()
            }
            Self::Limit { value, .. } => vec![*value],
            Self::Contours(Contour { grid, .. }) | Self::Field { grid, .. } => grid.across.clone(),
            Self::Cross(Cross { at, value, .. }) => vec![value.low, at.value, value.high],
            Self::Recommended { at, .. } | Self::Note { at, .. } => vec![at.value],
        }
    }
}

/// Lines of equal value on a grid.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Contour {
    /// What the lines are lines of ("outlet moisture").
    pub name: String,
    /// Its unit as printed on the lines.
    pub unit: String,
    /// The values.
    pub grid: Grid,
    /// How values are interpolated between grid points.
    pub scale: Scale,
    /// The values that get a line, rising.
    pub levels: Vec<f64>,
    /// What stands behind it.
    pub grade: Grade,
    /// What it is about.
    pub tone: Tone,
    /// How much it matters.
    pub weight: Weight,
}

/// A point with its range on both axes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Cross {
    /// Written beside it.
    pub name: String,
    /// Where it is.
    pub at: Point,
    /// Its range on the shared axis.
    pub along: Extent,
    /// Its range on the panel's own axis.
    pub value: Extent,
    /// What stands behind it.
    pub grade: Grade,
    /// What it is about.
    pub tone: Tone,
    /// How much it matters.
    pub weight: Weight,
}

/// A point of a figure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// On the shared axis.
    pub along: f64,
    /// On the panel's own axis.
    pub value: f64,
}

impl Point {
    /// A point from its place on the shared axis and its value on the panel's own.
    pub fn new(along: f64, value: f64) -> Self {
        Self { along, value }
    }
}

/// One point of a range.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct BandPoint {
    /// On the shared axis.
    pub along: f64,
    /// The low end on the panel's own axis.
    pub low: f64,
    /// The high end on the panel's own axis.
    pub high: f64,
}

/// A measured point with its error bar; `low == value == high` when no error is known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MeasuredPoint {
    /// On the shared axis.
    pub along: f64,
    /// The measured value on the panel's own axis.
    pub value: f64,
    /// The low end of the error bar.
    pub low: f64,
    /// The high end of the error bar.
    pub high: f64,
}

/// How sure a point is: an ellipse around it, in the units of the two axes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ellipse {
    /// Half its extent on the shared axis.
    pub half_along: f64,
    /// Half its extent on the panel's own axis (on a logarithmic axis: as a ratio minus one).
    pub half_value: f64,
    /// Correlation between the two, from -1 to 1.
    pub correlation: f64,
}

/// What a series is about; it decides the family of colour, never the meaning alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tone {
    /// Water: moisture, humidity, frost point.
    Water,
    /// Heat: temperature.
    Heat,
    /// Energy and money.
    Energy,
    /// Anything else, in ink.
    Ink,
}

/// How much a line matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// The line the title speaks of.
    Leading,
    /// An ordinary line.
    Plain,
    /// A companion: an earlier moment, a single pellet.
    Light,
}
