//! The map of settings: outlet moisture and heat over temperature and residence, and its borders.

use super::nice_above;
use crate::plan::PlanAnswer;
use crate::speech::{Measure, Speech, hours, ppm};
use figure::{
    Axis, Contour, Ellipse, Figure, Grade, Grid, Panel, Point, Scale, Series, Tone, Weight,
};
use quantity::Units;

/// Half axes of the ellipse that holds nine in ten of a normal spread, in standard deviations:
/// the square root of `-2 ln(1 - 0.9)`.
const NINE_IN_TEN: f64 = 2.145_966_026_289_347;

/// Outlet moisture over air temperature and residence; nothing where no map was made.
pub(crate) fn settings_map(answer: &PlanAnswer, speech: Speech) -> Option<Figure> {
    let (plan, map) = (&answer.plan, &answer.plan.map);
    if map.temperature_c.len() < 2 || map.residence_h.len() < 2 {
        return None;
    }
    let degrees = |c: f64| speech.number(Measure::Temperature, c);
    let temperature: Vec<f64> = map.temperature_c.iter().map(|c| degrees(*c)).collect();
    let over = |rows: &[Vec<f64>], shown: &dyn Fn(f64) -> f64| Grid {
        along: temperature.clone(),
        across: map.residence_h.clone(),
        values: rows
            .iter()
            .map(|row| row.iter().map(|v| shown(*v)).collect())
            .collect(),
    };
    // A dry corner is drawn as a thousandth of a ppm, which no contour reaches.
    let grid = over(&map.mean_ppm_wet, &|v| v.max(1e-3));
    let (left, right) = ends(&temperature)?;
    let (least, most) = ends(&map.residence_h)?;
    let mut series = borders(answer, (left, right), (least, most), &degrees);
    series.extend(heat(
        over(&map.closed_loop_kwh_kg, &|v| {
            speech.number(Measure::Energy, v)
        }),
        speech,
    ));
    let limit = plan.outlet.limit_ppm_wet;
    let contour = |levels: Vec<f64>, name: &str, tone, weight| {
        Series::Contours(Contour {
            name: name.into(),
            unit: "ppm".into(),
            grid: grid.clone(),
            scale: Scale::Log10,
            levels,
            grade: Grade::Computed,
            tone,
            weight,
        })
    };
    let others = levels(&grid, limit);
    if !others.is_empty() {
        series.push(contour(
            others,
            "outlet moisture",
            Tone::Water,
            Weight::Plain,
        ));
    }
    series.push(contour(vec![limit], "limit", Tone::Water, Weight::Leading));
    if let Some(edge) = plan.outlet.lower_edge_ppm_wet.filter(|e| *e > 0.0) {
        series.push(contour(vec![edge], "lower edge", Tone::Ink, Weight::Plain));
    }
    let step = speech.number(Measure::Step, map.temperature_spread_k);
    let chosen = plan.settings;
    let name = if plan.chosen.is_empty() {
        "as given"
    } else {
        "recommended"
    };
    series.push(Series::Recommended {
        name: name.into(),
        at: Point::new(degrees(chosen.air_temperature_c), chosen.residence_h),
        ellipse: Some(Ellipse {
            half_along: (NINE_IN_TEN * step).max(1e-6),
            half_value: (NINE_IN_TEN * map.residence_spread_h).max(1e-6),
            correlation: 0.0,
        }),
    });
    if let Some(safe) = plan.nearest_safe {
        series.push(Series::Recommended {
            name: "nearest safe".into(),
            at: Point::new(degrees(safe.air_temperature_c), safe.residence_h),
            ellipse: None,
        });
    }
    let mut figure = Figure::stacked(
        title(answer, speech),
        Axis::linear("air temperature", speech.unit(Measure::Temperature)).ranging(left, right),
        vec![Panel::new(
            Axis::linear("residence time", "h").ranging(least, most),
            series,
        )],
    );
    figure.caption = caption(answer, speech);
    Some(figure)
}

/// Lines of equal heat; nothing where it is the same all over.
fn heat(grid: Grid, speech: Speech) -> Option<Series> {
    let levels = round_levels(&grid);
    (!levels.is_empty()).then(|| {
        Series::Contours(Contour {
            name: "heat, closed loop".into(),
            unit: speech.unit(Measure::Energy).into(),
            grid,
            scale: Scale::Linear,
            levels,
            grade: Grade::Computed,
            tone: Tone::Energy,
            weight: Weight::Plain,
        })
    })
}

/// The multiples of 1, 2 or 5 times a power of ten inside the grid, with the finest step that gives
/// no more than five.
fn round_levels(grid: &Grid) -> Vec<f64> {
    let values = grid.values.iter().flatten().filter(|v| v.is_finite());
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| {
        (low.min(*v), high.max(*v))
    });
    let width = high - low;
    if !(width > 1e-9 * high.abs().max(low.abs())) {
        return Vec::new();
    }
    let step = nice_above(width / 5.0);
    let first = (low / step).floor() + 1.0;
    (0..5)
        .map(|k| (first + f64::from(k)) * step)
        .filter(|level| *level < high)
        .collect()
}

/// What the lines and the ellipse are.
fn caption(answer: &PlanAnswer, speech: Speech) -> String {
    let map = &answer.plan.map;
    format!(
        "Plain lines: mean moisture at the outlet. Dotted lines: the heat that brings the return \
         air back to the inlet, for each {} of wet resin, at the air flow of the plan ({} at the \
         point; blower and regeneration not in it). The ellipse holds nine in ten of what is left \
         open about the point: {} of the sensor at the inlet and {} of the residence, one standard \
         deviation each.",
        match speech.0 {
            Units::Metric => "kg",
            Units::UsCustomary => "lb",
        },
        speech.say(Measure::Energy, answer.plan.energy.closed_loop_kwh_kg),
        speech.say(Measure::Step, map.temperature_spread_k),
        hours(map.residence_spread_h),
    )
}

/// Where pellets fuse, and where they stay longer than they bear in air that hot.
fn borders(
    answer: &PlanAnswer,
    (left, right): (f64, f64),
    (least, most): (f64, f64),
    degrees: &dyn Fn(f64) -> f64,
) -> Vec<Series> {
    let map = &answer.plan.map;
    let area = |name: &str, from: Point, to: Point, tone| Series::Region {
        name: name.into(),
        outline: vec![
            from,
            Point::new(to.along, from.value),
            to,
            Point::new(from.along, to.value),
        ],
        tone,
    };
    let mut found = Vec::new();
    let stick = degrees(map.sticking_c).max(left);
    if stick < right {
        found.push(area(
            "pellets stick",
            Point::new(stick, least),
            Point::new(right, most),
            Tone::Heat,
        ));
    }
    let borne: Vec<Point> = map
        .temperature_c
        .iter()
        .zip(&map.hold_over_temperature_h)
        .map(|(c, hold)| Point::new(degrees(*c), *hold))
        .collect();
    let outline = too_long(&borne, (left, stick.min(right)), (least, most));
    if outline.len() > 2 {
        found.push(Series::Region {
            name: "longer than they bear".into(),
            outline,
            tone: Tone::Ink,
        });
    }
    found
}

/// Points of the border between two temperatures of the map.
const BORDER_STEPS: u32 = 60;

/// Outline of what lies above the stay that is borne, which falls or stays level with temperature,
/// within a part of the map; empty where nothing does.
fn too_long(borne: &[Point], (left, right): (f64, f64), (least, most): (f64, f64)) -> Vec<Point> {
    if !(right > left) {
        return Vec::new();
    }
    let step = (right - left) / f64::from(BORDER_STEPS);
    let border: Vec<Point> = (0..=BORDER_STEPS)
        .map(|k| left + step * f64::from(k))
        .filter_map(|along| Some(Point::new(along, between(borne, along)?)))
        .collect();
    let Some(first) = border.iter().position(|point| point.value < most) else {
        return Vec::new();
    };
    let mut outline = Vec::with_capacity(border.len() + 2);
    // Where the border comes in through the upper edge, or the corner it begins under.
    match first.checked_sub(1).and_then(|before| border.get(before)) {
        Some(above) => {
            let below = border[first];
            let share = (above.value - most) / (above.value - below.value);
            let along = above.along + share * (below.along - above.along);
            outline.push(Point::new(along, most));
        }
        None => outline.push(Point::new(left, most)),
    }
    let inside = border[first..].iter();
    outline.extend(inside.map(|point| Point::new(point.along, point.value.max(least))));
    outline.push(Point::new(right, most));
    outline
}

/// The stay at a temperature between points of a rising row, straight in its logarithm as
/// Arrhenius has it over a few kelvin.
fn between(borne: &[Point], along: f64) -> Option<f64> {
    let above = borne.partition_point(|point| point.along < along);
    let after = borne.get(above.clamp(1, borne.len().max(2) - 1))?;
    let before = borne.get(above.clamp(1, borne.len().max(2) - 1) - 1)?;
    let share = ((along - before.along) / (after.along - before.along)).clamp(0.0, 1.0);
    Some(before.value * (after.value / before.value).powf(share))
}

/// One, two and five times powers of ten about the limit, those the map holds, no more than six
/// and none so near the limit that its name would lie on it.
fn levels(grid: &Grid, limit: f64) -> Vec<f64> {
    let values = grid.values.iter().flatten();
    let (low, high) = values.fold((f64::INFINITY, 0.0_f64), |(low, high), v| {
        (low.min(*v), high.max(*v))
    });
    let inside = |level: &f64| {
        *level > low.max(limit / 50.0)
            && *level < high.min(limit * 50.0)
            && (level / limit).ln().abs() > 0.5
    };
    let all: Vec<f64> = (-1..6)
        .flat_map(|power| [1.0, 2.0, 5.0].map(|step| step * 10_f64.powi(power)))
        .filter(inside)
        .collect();
    if all.len() <= 6 {
        return all;
    }
    all.into_iter().step_by(2).collect()
}

fn ends(rising: &[f64]) -> Option<(f64, f64)> {
    rising.first().copied().zip(rising.last().copied())
}

/// What is borne from which on nobody asks, h.
const BORNE_FOR_LONG_H: f64 = 96.0;

fn title(answer: &PlanAnswer, speech: Speech) -> String {
    let (plan, map) = (&answer.plan, &answer.plan.map);
    let here = plan.settings;
    let to_stick = map.sticking_c - here.air_temperature_c;
    let to_hold = map.hold_h - here.residence_h;
    let point = format!(
        "{}, {}",
        speech.say(Measure::Temperature, here.air_temperature_c),
        hours(here.residence_h)
    );
    let stick = if to_stick > 0.0 {
        format!(
            "{} before the pellets stick",
            speech.say(Measure::Step, to_stick)
        )
    } else {
        format!(
            "{} above the temperature at which they stick",
            speech.say(Measure::Step, -to_stick)
        )
    };
    let hold = if map.hold_h > BORNE_FOR_LONG_H {
        "no stay here is too long".to_owned()
    } else if to_hold > 0.0 {
        format!("{} before they stay too long", hours(to_hold))
    } else {
        format!("{} more than they bear", hours(-to_hold))
    };
    format!(
        "{point} gives {}: {stick}, {hold}",
        ppm(plan.outlet.mean_ppm_wet.value)
    )
}

#[cfg(test)]
#[expect(
    clippy::unwrap_used,
    clippy::float_cmp,
    reason = "a test stops at the first surprise"
)]
mod tests {
    use super::*;

    /// A stay that halves every 10 degrees, 8 h at 100.
    fn halving() -> Vec<Point> {
        let hold = |t: f64| 8.0 * 2_f64.powf((100.0 - t) / 10.0);
        let points = (0..15).map(|k| 80.0 + 5.0 * f64::from(k));
        points.map(|t| Point::new(t, hold(t))).collect()
    }

    #[test]
    fn exact_what_is_borne_bends_with_temperature() {
        for (along, wanted) in [(80.0, 32.0), (100.0, 8.0), (107.5, 8.0 / 2_f64.powf(0.75))] {
            let found = between(&halving(), along).unwrap();
            assert!((found - wanted).abs() < 1e-9, "{along} {found}");
        }
        let outline = too_long(&halving(), (80.0, 140.0), (1.0, 16.0));
        // In through the upper edge at 90, along the lower edge from 130 on.
        let (first, last) = (outline[0], outline[outline.len() - 1]);
        assert!(
            (first.along - 90.0).abs() < 1e-9 && first.value == 16.0,
            "{first:?}"
        );
        assert!(last.along == 140.0 && last.value == 16.0, "{last:?}");
        let lowest = outline.iter().filter(|point| point.value == 1.0);
        assert!(lowest.clone().all(|point| point.along > 129.9) && lowest.count() > 5);
        assert!(
            outline
                .windows(2)
                .all(|pair| pair[0].along <= pair[1].along)
        );
    }

    #[test]
    fn exact_a_level_border_is_an_oblong_or_nothing() {
        let level: Vec<Point> = (0..3).map(|k| Point::new(f64::from(k), 4.0)).collect();
        let outline = too_long(&level, (0.0, 2.0), (1.0, 9.0));
        assert!(
            (outline[0].value, outline[1].value) == (9.0, 4.0),
            "{outline:?}"
        );
        assert!(
            outline[1..outline.len() - 1]
                .iter()
                .all(|p| (p.value - 4.0).abs() < 1e-12)
        );
        assert!(too_long(&level, (0.0, 2.0), (1.0, 3.0)).is_empty());
        assert!(too_long(&[], (0.0, 2.0), (1.0, 3.0)).is_empty());
        assert!(too_long(&level, (2.0, 2.0), (1.0, 9.0)).is_empty());
    }

    #[test]
    fn exact_levels_are_round_and_inside() {
        let grid = |low: f64, high: f64| Grid {
            along: vec![0.0, 1.0],
            across: vec![0.0, 1.0],
            values: vec![vec![low, high], vec![low, high]],
        };
        let tenths = |levels: Vec<f64>| -> Vec<f64> {
            levels.iter().map(|v| (v * 1e4).round() / 1e4).collect()
        };
        assert_eq!(
            tenths(round_levels(&grid(0.021, 0.07))),
            [0.03, 0.04, 0.05, 0.06]
        );
        assert_eq!(tenths(round_levels(&grid(-0.5, 0.6))), [0.0, 0.5]);
        assert!(round_levels(&grid(0.3, 0.3)).is_empty());
    }
}
