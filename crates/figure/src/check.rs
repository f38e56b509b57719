//! The faults of a figure, found all at once.

use crate::{
    Axis, BandPoint, Contour, Cross, Extent, Figure, FigureFault, Grid, MeasuredPoint, Panel,
    Scale, Series,
};

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
        // A line may go on after a gap, but something must go before it.
        let goes_on = one.goes_on()
            && panel.series[..index]
                .iter()
                .any(|before| matches!(before, Series::Line { .. }) && !before.goes_on());
        if one.name().trim().is_empty() && !goes_on {
            found.push(FigureFault::SeriesWithoutName {
                place: place.clone(),
            });
        }
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
        Series::Cross(one) => cross(place, one, found),
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

fn cross(place: &str, cross: &Cross, found: &mut Vec<FigureFault>) {
    let middles = [(cross.along, cross.at.along), (cross.value, cross.at.value)];
    for (Extent { low, high }, middle) in middles {
        if low > middle || middle > high {
            found.push(FigureFault::RangeReversed {
                place: place.into(),
                along: cross.at.along,
                low,
                high,
            });
        }
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
        Axis, BandPoint, Contour, Cross, Ellipse, Extent, Figure, FigureFault, Grade, Grid,
        MeasuredPoint, Moment, Outline, Panel, Place, Point, Scale, Series, Tone, Weight,
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
            Series::Cross(Cross {
                name: "wheel".into(),
                at: Point::new(1.5, 1.5),
                along: Extent {
                    low: 1.4,
                    high: 1.5,
                },
                value: Extent {
                    low: 1.0,
                    high: 2.0,
                },
                grade: Grade::CommonPractice,
                tone: Tone::Water,
                weight: Weight::Leading,
            }),
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
    fn holds_a_point_lies_within_its_range_on_both_axes() {
        let crossed = |change: fn(&mut Cross)| {
            faults(|f| match &mut f.panels[0].series[9] {
                Series::Cross(cross) => change(cross),
                other => unreachable!("{other:?}"),
            })
        };
        assert_eq!(crossed(|_| ()), []);
        for found in [
            crossed(|cross| cross.along.high = 1.49),
            crossed(|cross| cross.value.low = 1.51),
        ] {
            assert!(matches!(found[..], [FigureFault::RangeReversed { .. }]));
        }
        assert!(matches!(
            crossed(|cross| cross.value.low = 0.0)[..],
            [FigureFault::NotPositive { .. }]
        ));
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
