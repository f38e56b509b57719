//! What makes a figure unreadable.

/// One thing that makes a figure unreadable.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum FigureFault {
    /// The title says nothing.
    #[error("the figure has no title; a title states what the picture shows")]
    NoTitle,
    /// There is nothing to draw on.
    #[error("the figure has no panel")]
    NoPanel,
    /// A panel without series.
    #[error("panel {panel} holds no series")]
    EmptyPanel {
        /// Counted from 1.
        panel: usize,
    },
    /// An axis without a name.
    #[error("{place}: the axis has no name")]
    AxisWithoutName {
        /// Which axis.
        place: String,
    },
    /// An axis or a colour scale without a unit.
    #[error("{place}: no unit; write \"1\" for a number without unit")]
    WithoutUnit {
        /// Which axis or series.
        place: String,
    },
    /// A stated range that is empty, reversed or not finite.
    #[error("{place}: range from {low} to {high} is not a range; low must be below high")]
    NotARange {
        /// Which axis.
        place: String,
        /// Its low end.
        low: f64,
        /// Its high end.
        high: f64,
    },
    /// A series without points.
    #[error("{place}: the series is empty")]
    EmptySeries {
        /// Which series.
        place: String,
    },
    /// A series without a name.
    #[error("{place}: the series has no name")]
    SeriesWithoutName {
        /// Which series.
        place: String,
    },
    /// A number that is not finite.
    #[error("{place}: entry {entry} is {value}, not a finite number")]
    NotFinite {
        /// Which series.
        place: String,
        /// Which number of it, counted from 1.
        entry: usize,
        /// The number.
        value: f64,
    },
    /// A value that a logarithmic axis cannot show.
    #[error("{place}: {value} on a logarithmic axis; only positive values have a place there")]
    NotPositive {
        /// Which axis or series.
        place: String,
        /// The first such value.
        value: f64,
    },
    /// A low end above its high end, or a value outside its error bar.
    #[error(
        "{place}: at {along}, low {low} and high {high} are the wrong way round or miss the value"
    )]
    RangeReversed {
        /// Which series.
        place: String,
        /// Where on the shared axis.
        along: f64,
        /// Its low end.
        low: f64,
        /// Its high end.
        high: f64,
    },
    /// A grid whose values do not match its coordinates.
    #[error(
        "{place}: a grid of {along} by {across} points (2 by 2 at least, rising) does not match its values"
    )]
    GridMismatch {
        /// Which series.
        place: String,
        /// Number of coordinates on the shared axis.
        along: usize,
        /// Number of coordinates on the panel's own axis.
        across: usize,
    },
    /// An ellipse that is not one.
    #[error(
        "{place}: half axes {half_along} and {half_value} with correlation {correlation} make no ellipse"
    )]
    NotAnEllipse {
        /// Which series.
        place: String,
        /// Half the extent on the shared axis.
        half_along: f64,
        /// Half the extent on the panel's own axis.
        half_value: f64,
        /// The correlation.
        correlation: f64,
    },
    /// A part of a balance below zero.
    #[error("{place}: {amount} is below zero; it belongs to the other side")]
    BelowZero {
        /// Which side and part.
        place: String,
        /// Its amount.
        amount: f64,
    },
    /// A balance whose sides differ.
    #[error("{entering} enters and {leaving} leaves; the sides of a balance are equal")]
    NotClosed {
        /// All that enters.
        entering: f64,
        /// All that leaves.
        leaving: f64,
    },
    /// A share of the figure that is not a positive number.
    #[error("panel {panel}: its share of the figure is {share}, not a positive number")]
    NotAShare {
        /// Counted from 1.
        panel: usize,
        /// The stated share.
        share: f64,
    },
}
