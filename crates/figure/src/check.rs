//! What makes a figure unreadable, found all at once.

use crate::{Axis, BandPoint, Contour, Extent, Figure, Grid, MeasuredPoint, Panel, Scale, Series};

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
    /// A share of the figure that is not a positive number.
    #[error("panel {panel}: its share of the figure is {share}, not a positive number")]
    NotAShare {
        /// Counted from 1.
        panel: usize,
        /// The stated share.
        share: f64,
    },
}

/// All faults of a figure, in reading order.
pub(crate) fn faults(figure: &Figure) -> Vec<FigureFault> {
    let mut found = Vec::new();
    if figure.title.trim().is_empty() {
        found.push(FigureFault::NoTitle);
    }
    axis("shared axis", &figure.shared, &mut found);
    shared_marks(figure, &mut found);
    if figure.panels.is_empty() {
        found.push(FigureFault::NoPanel);
    }
    for (index, one) in figure.panels.iter().enumerate() {
        panel(index + 1, one, &figure.shared, &mut found);
    }
    found
}

fn shared_marks(figure: &Figure, found: &mut Vec<FigureFault>) {
    let places = figure.places.iter();
    for place in places {
        let label = format!("place \"{}\"", place.name);
        let extent = Extent {
            low: place.from,
            high: place.to,
        };
        range(&label, extent, figure.shared.scale, found);
    }
    for moment in &figure.moments {
        let label = format!("moment \"{}\"", moment.name);
        numbers(&label, &[moment.at], figure.shared.scale, found);
    }
    if let Some(outline) = &figure.outline {
        let profile = &outline.half_profile;
        if profile.len() < 2 {
            found.push(FigureFault::EmptySeries {
                place: "outline".into(),
            });
        }
        let mut all: Vec<f64> = profile.iter().flat_map(|p| [p.along, p.value]).collect();
        all.extend(outline.filled_to);
        numbers("outline", &all, Scale::Linear, found);
    }
}

fn panel(number: usize, panel: &Panel, shared: &Axis, found: &mut Vec<FigureFault>) {
    axis(&format!("panel {number}"), &panel.axis, found);
    if !(panel.share.is_finite() && panel.share > 0.0) {
        found.push(FigureFault::NotAShare {
            panel: number,
            share: panel.share,
        });
    }
    if panel.series.is_empty() {
        found.push(FigureFault::EmptyPanel { panel: number });
    }
    for (index, one) in panel.series.iter().enumerate() {
        let place = format!(
            "panel {number}, series {} \"{}\"",
            index + 1,
            one.name().trim()
        );
        series(&place, one, shared.scale, panel.axis.scale, found);
    }
}

fn axis(place: &str, axis: &Axis, found: &mut Vec<FigureFault>) {
    if axis.name.trim().is_empty() {
        found.push(FigureFault::AxisWithoutName {
            place: place.into(),
        });
    }
    unit(place, &axis.unit, found);
    if let Some(extent) = axis.range {
        range(place, extent, axis.scale, found);
    }
}

fn unit(place: &str, unit: &str, found: &mut Vec<FigureFault>) {
    if unit.trim().is_empty() {
        found.push(FigureFault::WithoutUnit {
            place: place.into(),
        });
    }
}

fn range(place: &str, extent: Extent, scale: Scale, found: &mut Vec<FigureFault>) {
    let Extent { low, high } = extent;
    if !(low.is_finite() && high.is_finite() && low < high) {
        found.push(FigureFault::NotARange {
            place: place.into(),
            low,
            high,
        });
    }
    if scale == Scale::Log10 && low <= 0.0 {
        found.push(FigureFault::NotPositive {
            place: place.into(),
            value: low,
        });
    }
}

fn series(place: &str, series: &Series, along: Scale, own: Scale, found: &mut Vec<FigureFault>) {
    if series.name().trim().is_empty() {
        found.push(FigureFault::SeriesWithoutName {
            place: place.into(),
        });
    }
    let (places, values) = (series.places(), series.values());
    let is_limit = matches!(series, Series::Limit { .. });
    if values.is_empty() || (places.is_empty() && !is_limit) {
        found.push(FigureFault::EmptySeries {
            place: place.into(),
        });
    }
    numbers(place, &places, along, found);
    numbers(place, &values, own, found);
    match series {
        Series::Band { points, .. } => band(place, points, found),
        Series::Measured { points, .. } => measured(place, points, found),
        Series::Contours(contour) => contours(place, contour, found),
        Series::Field {
            unit: name,
            grid: values,
            scale,
            ..
        } => {
            unit(place, name, found);
            grid(place, values, *scale, found);
        }
        Series::Recommended {
            ellipse: Some(ellipse),
            ..
        } => {
            let (along, value, r) = (ellipse.half_along, ellipse.half_value, ellipse.correlation);
            let positive = along.is_finite() && value.is_finite() && along > 0.0 && value > 0.0;
            if !(positive && r.abs() < 1.0) {
                found.push(FigureFault::NotAnEllipse {
                    place: place.into(),
                    half_along: along,
                    half_value: value,
                    correlation: r,
                });
            }
        }
        _ => {}
    }
}

fn contours(place: &str, contour: &Contour, found: &mut Vec<FigureFault>) {
    unit(place, &contour.unit, found);
    grid(place, &contour.grid, contour.scale, found);
    if contour.levels.is_empty() {
        found.push(FigureFault::EmptySeries {
            place: format!("{place}, levels"),
        });
    }
    numbers(place, &contour.levels, contour.scale, found);
}

fn grid(place: &str, grid: &Grid, scale: Scale, found: &mut Vec<FigureFault>) {
    let (along, across) = (grid.along.len(), grid.across.len());
    let shaped = along >= 2
        && across >= 2
        && grid.values.len() == across
        && grid.values.iter().all(|row| row.len() == along);
    let rising = |list: &[f64]| list.windows(2).all(|pair| pair[0] < pair[1]);
    if !(shaped && rising(&grid.along) && rising(&grid.across)) {
        found.push(FigureFault::GridMismatch {
            place: place.into(),
            along,
            across,
        });
    }
    numbers(place, &grid.values.concat(), scale, found);
}

fn band(place: &str, points: &[BandPoint], found: &mut Vec<FigureFault>) {
    for point in points.iter().filter(|point| point.low > point.high) {
        found.push(FigureFault::RangeReversed {
            place: place.into(),
            along: point.along,
            low: point.low,
            high: point.high,
        });
    }
}

fn measured(place: &str, points: &[MeasuredPoint], found: &mut Vec<FigureFault>) {
    let outside = |p: &&MeasuredPoint| p.low > p.value || p.value > p.high;
    for point in points.iter().filter(outside) {
        found.push(FigureFault::RangeReversed {
            place: place.into(),
            along: point.along,
            low: point.low,
            high: point.high,
        });
    }
}

/// The first number that is not finite, and the first that the scale cannot show.
fn numbers(place: &str, all: &[f64], scale: Scale, found: &mut Vec<FigureFault>) {
    if let Some(index) = all.iter().position(|value| !value.is_finite()) {
        found.push(FigureFault::NotFinite {
            place: place.into(),
            entry: index + 1,
            value: all[index],
        });
    }
    let unshown = |value: &&f64| scale == Scale::Log10 && **value <= 0.0;
    if let Some(value) = all.iter().find(unshown) {
        found.push(FigureFault::NotPositive {
            place: place.into(),
            value: *value,
        });
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]
mod tests {
    use crate::{
        Axis, BandPoint, Contour, Ellipse, Extent, Figure, FigureFault, Grade, Grid, MeasuredPoint,
        Moment, Outline, Panel, Place, Point, Scale, Series, Tone, Weight,
    };

    fn one_of_each() -> Figure {
        let grid = || Grid::from_function(vec![1.0, 2.0], vec![1.0, 2.0], |x, y| x * y);
        let series = vec![
            Series::line("mean", vec![Point::new(1.0, 2.0), Point::new(2.0, 1.0)]),
            Series::limit("limit", 1.5),
            Series::Band {
                name: "range".into(),
                points: vec![BandPoint {
                    along: 1.0,
                    low: 1.0,
                    high: 2.0,
                }],
                grade: Grade::Analogy,
                tone: Tone::Water,
            },
            Series::Measured {
                name: "samples".into(),
                points: vec![MeasuredPoint {
                    along: 1.0,
                    value: 1.5,
                    low: 1.2,
                    high: 1.9,
                }],
                tone: Tone::Ink,
            },
            Series::Region {
                name: "sticks".into(),
                outline: vec![
                    Point::new(1.0, 1.0),
                    Point::new(2.0, 1.0),
                    Point::new(2.0, 2.0),
                ],
                tone: Tone::Heat,
            },
            Series::Contours(Contour {
                name: "moisture".into(),
                unit: "ppm".into(),
                grid: grid(),
                scale: Scale::Log10,
                levels: vec![1.0, 2.0],
                grade: Grade::Computed,
                tone: Tone::Water,
                weight: Weight::Plain,
            }),
            Series::Field {
                name: "loading".into(),
                unit: "ppm".into(),
                grid: grid(),
                scale: Scale::Linear,
                tone: Tone::Water,
            },
            Series::Recommended {
                name: "recommended".into(),
                at: Point::new(1.5, 1.5),
                ellipse: Some(Ellipse {
                    half_along: 0.1,
                    half_value: 0.2,
                    correlation: -0.5,
                }),
            },
            Series::Note {
                text: "here".into(),
                at: Point::new(1.5, 1.5),
            },
        ];
        let mut figure = Figure::stacked(
            "Every kind has its place",
            Axis::linear("time", "h"),
            vec![Panel::new(Axis::log10("moisture", "ppm"), series)],
        );
        figure.places.push(Place {
            name: "hopper".into(),
            from: 1.0,
            to: 2.0,
        });
        figure.moments.push(Moment {
            name: "inlet".into(),
            at: 1.2,
        });
        figure.outline = Some(Outline {
            half_profile: vec![Point::new(0.0, 0.1), Point::new(1.0, 0.3)],
            filled_to: Some(0.9),
        });
        figure
    }

    fn faults(change: impl FnOnce(&mut Figure)) -> Vec<FigureFault> {
        let mut figure = one_of_each();
        change(&mut figure);
        figure.check().err().unwrap_or_default()
    }

    fn first_line(figure: &mut Figure) -> &mut Vec<Point> {
        match figure.panels[0].series.first_mut() {
            Some(Series::Line { points, .. }) => points,
            other => unreachable!("the first series is a line, not {other:?}"),
        }
    }

    #[test]
    fn holds_a_sound_figure_passes_and_survives_json() {
        let figure = one_of_each();
        assert_eq!(figure.check(), Ok(()));
        let text = serde_json::to_string(&figure).unwrap();
        assert_eq!(serde_json::from_str::<Figure>(&text).unwrap(), figure);
    }

    #[test]
    fn holds_what_is_missing_is_named() {
        assert_eq!(faults(|f| f.title = " ".into()), [FigureFault::NoTitle]);
        assert_eq!(faults(|f| f.panels.clear()), [FigureFault::NoPanel]);
        let empty = faults(|f| f.panels[0].series.clear());
        assert_eq!(empty, [FigureFault::EmptyPanel { panel: 1 }]);
        assert!(matches!(
            faults(|f| f.shared.name.clear())[..],
            [FigureFault::AxisWithoutName { .. }]
        ));
        assert!(matches!(
            faults(|f| f.panels[0].axis.unit.clear())[..],
            [FigureFault::WithoutUnit { .. }]
        ));
        assert!(matches!(
            faults(|f| first_line(f).clear())[..],
            [FigureFault::EmptySeries { .. }]
        ));
    }

    #[test]
    fn holds_numbers_without_a_place_are_refused() {
        assert!(matches!(
            faults(|f| first_line(f)[1].along = f64::NAN)[..],
            [FigureFault::NotFinite { entry: 2, .. }]
        ));
        assert!(matches!(
            faults(|f| first_line(f)[0].value = f64::INFINITY)[..],
            [FigureFault::NotFinite { entry: 1, .. }]
        ));
        let zero = faults(|f| first_line(f)[1].value = 0.0);
        let place = "panel 1, series 1 \"mean\"".to_owned();
        assert_eq!(zero, [FigureFault::NotPositive { place, value: 0.0 }]);
        let smallest = faults(|f| first_line(f)[1].value = f64::MIN_POSITIVE);
        assert_eq!(smallest, []);
        assert_eq!(faults(|f| f.moments[0].at = f64::NAN).len(), 1);
    }

    #[test]
    fn holds_reversed_ranges_are_refused() {
        let stated = |low, high| Some(Extent { low, high });
        assert_eq!(faults(|f| f.shared.range = stated(1.0, 2.0)), []);
        assert_eq!(faults(|f| f.shared.range = stated(2.0, 2.0)).len(), 1);
        assert_eq!(
            faults(|f| f.panels[0].axis.range = stated(0.0, 2.0)).len(),
            1
        );
        assert_eq!(faults(|f| f.places[0].to = 0.5).len(), 1);
        assert_eq!(faults(|f| f.panels[0].share = 0.0).len(), 1);
        let bar = faults(|f| match &mut f.panels[0].series[3] {
            Series::Measured { points, .. } => points[0].low = 1.6,
            other => unreachable!("{other:?}"),
        });
        assert!(matches!(bar[..], [FigureFault::RangeReversed { .. }]));
        let ellipse = faults(|f| match &mut f.panels[0].series[7] {
            Series::Recommended { ellipse, .. } => ellipse.as_mut().unwrap().correlation = 1.0,
            other => unreachable!("{other:?}"),
        });
        assert!(matches!(ellipse[..], [FigureFault::NotAnEllipse { .. }]));
    }

    #[test]
    fn holds_a_grid_matches_its_coordinates() {
        let ragged = faults(|f| match &mut f.panels[0].series[6] {
            Series::Field { grid, .. } => grid.values[1].truncate(1),
            other => unreachable!("{other:?}"),
        });
        assert!(matches!(ragged[..], [FigureFault::GridMismatch { .. }]));
        let falling = faults(|f| match &mut f.panels[0].series[6] {
            Series::Field { grid, .. } => grid.along.reverse(),
            other => unreachable!("{other:?}"),
        });
        assert!(matches!(falling[..], [FigureFault::GridMismatch { .. }]));
    }

    #[test]
    fn holds_every_mistake_comes_at_once() {
        let all = faults(|f| {
            f.title.clear();
            f.shared.unit.clear();
            first_line(f)[0].value = f64::NAN;
        });
        assert_eq!(all.len(), 3);
    }
}
