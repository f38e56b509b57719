//! Days on one dryer: what the press draws, what air the hopper gets, what the pellets carry; the inside of the
//! hopper over time; and one pellet's journey.

use super::{line, moisture_range, positive};
use crate::speech::{Measure, Speech, percent, ppm};
use decide::shift::{Place as Where, Row, Shift};
use figure::{Axis, Figure, Grid, Moment, Panel, Place, Point, Scale, Series, Tone, Weight};

/// A panel of numbers over the hours.
fn over(rows: &[Row], value: impl Fn(&Row) -> Option<f64>) -> Vec<Point> {
    let points = rows.iter();
    points
        .filter_map(|row| value(row).map(|value| Point::new(row.hour, value)))
        .collect()
}

/// A line broken where nothing is known for a while; its longest part is named.
fn broken(name: &str, points: &[Point], tone: Tone, weight: Weight, step: f64) -> Vec<Series> {
    let mut parts: Vec<Vec<Point>> = Vec::new();
    for point in points {
        match parts.last_mut() {
            Some(part)
                if part
                    .last()
                    .is_some_and(|last| point.along - last.along < 2.5 * step) =>
            {
                part.push(*point);
            }
            _ => parts.push(vec![*point]),
        }
    }
    let longest = (0..parts.len()).max_by_key(|&k| parts[k].len());
    // The named part stands first; the others go on with it.
    if let Some(longest) = longest {
        parts.swap(0, longest);
    }
    let kept = parts.into_iter().filter(|part| part.len() > 1);
    kept.enumerate()
        .map(|(k, part)| line(if k == 0 { name } else { "" }, part, tone, weight))
        .collect()
}

/// The timeline: draw, temperatures, dew point and moisture, under one another.
pub(crate) fn timeline(shift: &Shift, speech: Speech, days: &[(String, f64, f64)]) -> Figure {
    let rows = &shift.rows;
    let rate = |kg_h: f64| speech.number(Measure::Rate, kg_h);
    let degrees = |c: f64| speech.number(Measure::Temperature, c);
    let temperature = speech.unit(Measure::Temperature);
    let press = Panel::new(
        Axis::linear("press draws", speech.unit(Measure::Rate)),
        vec![
            line(
                "wanted",
                over(rows, |row| Some(rate(row.wanted_kg_h))),
                Tone::Ink,
                Weight::Light,
            ),
            line(
                "drawn",
                over(rows, |row| Some(rate(row.drawn_kg_h))),
                Tone::Water,
                Weight::Leading,
            ),
        ],
    );
    let air = Panel::new(
        Axis::linear("air", temperature),
        vec![
            line(
                "into the hopper",
                over(rows, |row| Some(degrees(row.inlet_c))),
                Tone::Heat,
                Weight::Leading,
            ),
            line(
                "return",
                over(rows, |row| Some(degrees(row.return_c))),
                Tone::Heat,
                Weight::Light,
            ),
        ],
    );
    let dew = Panel::new(
        Axis::linear("dew point", temperature),
        vec![line(
            "delivered",
            over(rows, |row| row.frost_point_c.map(degrees)),
            Tone::Water,
            Weight::Plain,
        )],
    );
    let mut figure = Figure::stacked(
        title(shift),
        Axis::linear("hours since the beginning", "h").ranging(0.0, shift.hours),
        vec![press, air, dew, moisture(shift)],
    );
    figure.places = days
        .iter()
        .map(|(name, from, to)| Place {
            name: name.clone(),
            from: *from,
            to: *to,
        })
        .collect();
    figure.caption = format!(
        "Moisture is that of the resin as it comes to the screw, mean and the wetter end of its pellets \
         (five in a hundred are wetter). Between two points {} pass.",
        crate::speech::hours(shift.hours / rows.len().max(1) as f64)
    );
    figure
}

fn moisture(shift: &Shift) -> Panel {
    let rows = &shift.rows;
    let limit = shift.limit_ppm_wet;
    let values = rows
        .iter()
        .filter_map(|row| row.moisture_ppm_wet)
        .chain(rows.iter().filter_map(|row| row.high_ppm_wet));
    let range = moisture_range(values, limit);
    let mean = over(rows, |row| row.moisture_ppm_wet);
    let high = over(rows, |row| row.high_ppm_wet);
    let step = shift.hours / rows.len().max(1) as f64;
    let (mean, high) = (positive(mean), positive(high));
    let mut series = broken("wetter end", &high, Tone::Water, Weight::Light, step);
    series.extend(broken("mean", &mean, Tone::Water, Weight::Leading, step));
    series.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    if let Some(edge) = shift.lower_edge_ppm_wet.filter(|edge| *edge > 0.0) {
        series.push(Series::limit(format!("too dry below {}", ppm(edge)), edge));
    }
    Panel::new(
        Axis::log10("moisture at the screw, wet basis", "ppm").ranging(range.0, range.1),
        series,
    )
}

fn title(shift: &Shift) -> String {
    let masses = &shift.masses;
    if masses.all_kg <= 0.0 {
        return "Nothing came to the screw".to_owned();
    }
    let share = |kg: f64| percent(kg / masses.all_kg);
    let amiss = [
        (masses.wet_kg, "comes wet"),
        (masses.overstayed_kg, "was hot for too long"),
        (masses.too_dry_kg, "is too dry"),
    ];
    let worst = amiss.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    match worst {
        Some((kg, what)) if masses.is_much(*kg) => {
            format!("{} of the resin {what}", share(*kg))
        }
        _ => "All of the resin comes to the screw in its window".to_owned(),
    }
}

/// Temperature and moisture inside the hopper over its height and the hours.
pub(crate) fn inside(shift: &Shift, speech: Speech) -> Option<Figure> {
    const HEIGHTS: usize = 25;
    let moments: Vec<_> = shift
        .inside
        .iter()
        .filter(|m| !m.layers.is_empty())
        .collect();
    if moments.len() < 3 {
        return None;
    }
    let heights: Vec<f64> = (0..HEIGHTS)
        .map(|k| (k as f64 + 0.5) / HEIGHTS as f64)
        .collect();
    let stride = moments.len().div_ceil(170);
    let shown: Vec<_> = moments.iter().step_by(stride).collect();
    let at = |layers: &[(f64, f64, f64)], height: f64| {
        let after = layers.partition_point(|layer| layer.0 < height);
        let layer = layers.get(after).or(layers.last());
        layer.map_or((0.0, 0.0), |layer| (layer.1, layer.2))
    };
    let grid = |of: &dyn Fn((f64, f64)) -> f64| Grid {
        along: shown.iter().map(|moment| moment.hour).collect(),
        across: heights.iter().map(|height| 100.0 * height).collect(),
        values: heights
            .iter()
            .map(|&height| {
                let each = shown.iter();
                each.map(|moment| of(at(&moment.layers, height))).collect()
            })
            .collect(),
    };
    let field = |name: &str, unit: &str, grid: Grid, scale: Scale, tone: Tone| {
        Panel::new(
            Axis::linear("resin below", "%").ranging(0.0, 100.0),
            vec![Series::Field {
                name: name.to_owned(),
                unit: unit.to_owned(),
                grid,
                scale,
                tone,
            }],
        )
    };
    let floor = shift.limit_ppm_wet / 100.0;
    let heat = grid(&|(t, _)| speech.number(Measure::Temperature, t));
    let water = grid(&|(_, x)| x.max(floor));
    let mut figure = Figure::stacked(
        inside_title(shift),
        Axis::linear("hours since the beginning", "h").ranging(0.0, shift.hours),
        vec![
            field(
                "pellets",
                speech.unit(Measure::Temperature),
                heat,
                Scale::Linear,
                Tone::Heat,
            ),
            field(
                "moisture, wet basis",
                "ppm",
                water,
                Scale::Log10,
                Tone::Water,
            ),
        ],
    );
    figure.caption = "Height is counted in resin: 0 % lies at the air inlet, 100 % at the level of the full hopper. \
                      Moisture below a hundredth of the limit is drawn as that."
        .into();
    Some(figure)
}

fn inside_title(shift: &Shift) -> String {
    let coldest = shift
        .inside
        .iter()
        .filter(|moment| moment.hour > 1.0)
        .filter_map(|moment| {
            let dry = moment
                .layers
                .iter()
                .take_while(|layer| layer.2 <= shift.limit_ppm_wet);
            dry.last().map(|layer| layer.0)
        })
        .fold(f64::INFINITY, f64::min);
    if coldest.is_finite() {
        format!(
            "At least the lowest {} of the bed stay below the limit once they are dry",
            percent(coldest.min(1.0))
        )
    } else {
        "Nothing in the hopper comes below the limit".to_owned()
    }
}

/// The journey of the wettest lot.
pub(crate) fn journey(shift: &Shift, speech: Speech) -> Option<Figure> {
    let points = &shift.journey;
    if points.len() < 4 {
        return None;
    }
    let degrees = |c: f64| speech.number(Measure::Temperature, c);
    let (first, last) = (points.first()?.hour, points.last()?.hour);
    let heat: Vec<Point> = points
        .iter()
        .map(|p| Point::new(p.hour, degrees(p.temperature_c)))
        .collect();
    let water: Vec<Point> = points
        .iter()
        .map(|p| Point::new(p.hour, p.moisture_ppm_wet))
        .collect();
    let limit = shift.limit_ppm_wet;
    let range = moisture_range(points.iter().map(|p| p.moisture_ppm_wet), limit);
    let mut figure = Figure::stacked(
        format!(
            "The wettest lot comes to the screw with {}",
            ppm(points.last()?.moisture_ppm_wet)
        ),
        Axis::linear("hours since the beginning", "h").ranging(first, last),
        vec![
            Panel::new(
                Axis::linear("pellets", speech.unit(Measure::Temperature)),
                vec![line("pellets", heat, Tone::Heat, Weight::Leading)],
            ),
            Panel::new(
                Axis::log10("moisture, wet basis", "ppm").ranging(range.0, range.1),
                vec![
                    line("mean", positive(water), Tone::Water, Weight::Leading),
                    Series::limit(format!("limit {}", ppm(limit)), limit),
                ],
            ),
        ],
    );
    let begins = |place: Where| points.iter().find(|p| p.place == place).map(|p| p.hour);
    let named = [
        (Where::Cone, "leaves the air"),
        (Where::Press, "on the press"),
    ];
    figure.moments = named
        .iter()
        .filter_map(|&(place, name)| {
            begins(place).map(|at| Moment {
                name: name.to_owned(),
                at,
            })
        })
        .collect();
    figure.caption = "Mean pellet of the lot.".into();
    Some(figure)
}
