//! The pellet's journey: time since entering against temperature, humidity and moisture.

use super::{crossing, line, moisture_range, positive};
use crate::plan::{PlanAnswer, soon};
use crate::speech::{Measure, Speech, hours, ppm};
use bed::steady::Place as Station;
use figure::{Axis, BandPoint, Figure, Grade, Panel, Place, Point, Series, Tone, Weight};
use quantity::constants::ZERO_CELSIUS;

/// What is worth saying of a pellet's way.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stations {
    /// From when on the pellet is warm, h.
    warm: Option<f64>,
    /// When its mean moisture passes the limit, h.
    dry: Option<f64>,
    /// When it reaches the air inlet, h.
    end: f64,
}

/// The stations of the way.
fn stations(answer: &PlanAnswer) -> Stations {
    let path = &answer.plan.path;
    Stations {
        warm: warm_from(answer).map(|p| p.age / 3600.0),
        dry: crossing(&points(path, total_ppm), answer.plan.outlet.limit_ppm_wet),
        end: path.last().map_or(0.0, |p| p.age / 3600.0),
    }
}

/// Where the pellet has become warm for good.
pub(super) fn warm_from(answer: &PlanAnswer) -> Option<&Station> {
    let path = &answer.plan.path;
    let warm = answer.plan.front.warm_c + ZERO_CELSIUS;
    let rising = path.first()?.temperature <= warm;
    let cold = |p: &Station| (p.temperature < warm) == rising;
    let last_cold = path.iter().rposition(cold);
    path.get(last_cold.map_or(0, |index| index + 1))
}

/// Temperature, humidity and moisture of the mean pellet from the top to below the air inlet.
pub(crate) fn journey(answer: &PlanAnswer, speech: Speech) -> Figure {
    let (plan, path) = (&answer.plan, &answer.plan.path);
    let heat = |value: fn(&Station) -> f64| {
        points(path, |p| {
            speech.number(Measure::Temperature, value(p) - ZERO_CELSIUS)
        })
    };
    let mut temperature = Panel::new(
        Axis::linear("temperature", speech.unit(Measure::Temperature)),
        vec![
            line(
                "air",
                heat(|p| p.air_temperature),
                Tone::Heat,
                Weight::Light,
            ),
            line(
                "pellet",
                heat(|p| p.temperature),
                Tone::Heat,
                Weight::Leading,
            ),
        ],
    );
    temperature.share = 0.8;
    let mut panels = vec![temperature];
    let frost = frost_points(answer, speech);
    if frost.len() > 1 {
        let mut humidity = Panel::new(
            Axis::linear("frost point of air", speech.unit(Measure::Temperature)),
            vec![line("air", frost, Tone::Water, Weight::Plain)],
        );
        humidity.share = 0.6;
        panels.push(humidity);
    }
    panels.push(moisture(answer));
    let mut figure = Figure::stacked(
        title(answer, speech),
        Axis::linear("time since entering", "h"),
        panels,
    );
    figure.places = places(answer);
    figure.caption = caption(answer);
    if plan.samples == 0 {
        figure
            .caption
            .push_str(" No doubt was sampled, so no range is drawn.");
    }
    figure
}

fn moisture(answer: &PlanAnswer) -> Panel {
    let (plan, path) = (&answer.plan, &answer.plan.path);
    let limit = plan.outlet.limit_ppm_wet;
    let surface = points(path, |p| wet_ppm(p.surface));
    let heart: Vec<Point> = answer
        .heart
        .iter()
        .map(|p| Point::new(p.time_h, p.heart_ppm_wet))
        .collect();
    let mean = points(path, |p| wet_ppm(p.moisture));
    let all = [&surface, &heart, &mean];
    let range = moisture_range(all.iter().flat_map(|s| s.iter().map(|p| p.value)), limit);
    let mut series = Vec::new();
    let band = band(answer);
    if !band.is_empty() {
        series.push(Series::Band {
            name: "9 in 10".into(),
            points: band,
            grade: Grade::Computed,
            tone: Tone::Water,
        });
    }
    let wet: Vec<Point> = points(path, total_ppm);
    if path.iter().any(|p| p.free_water > 1e-9) {
        series.push(line(
            "with surface water",
            positive(wet),
            Tone::Ink,
            Weight::Light,
        ));
    }
    for (name, points, weight) in [
        ("heart", heart, Weight::Light),
        ("mean", mean, Weight::Leading),
        ("surface", surface, Weight::Light),
    ] {
        let points = positive(points);
        if points.len() > 1 {
            series.push(line(name, points, Tone::Water, weight));
        }
    }
    series.push(Series::limit(format!("limit {}", ppm(limit)), limit));
    if let Some(edge) = plan.outlet.lower_edge_ppm_wet.filter(|e| *e > 0.0) {
        series.push(Series::limit(format!("too dry below {}", ppm(edge)), edge));
    }
    let axis = Axis::log10("moisture, wet basis", "ppm").ranging(range.0, range.1);
    let mut panel = Panel::new(axis, series);
    panel.share = 1.4;
    panel
}

/// The range of the outlet carried back along the way: what is not known of the speed of drying
/// weighs in proportion to the decades that have been dried.
fn band(answer: &PlanAnswer) -> Vec<BandPoint> {
    let (plan, path) = (&answer.plan, &answer.plan.path);
    let range = plan.outlet.mean_ppm_wet;
    let first = path.first().map_or(0.0, total_ppm);
    let dried = (first / range.value).ln();
    let sound = range.low > 0.0 && range.high > range.low && dried > 0.0 && dried.is_finite();
    if !sound || plan.samples == 0 {
        return Vec::new();
    }
    let (low, high) = (range.low / range.value, range.high / range.value);
    path.iter()
        .filter(|p| p.moisture > 0.0)
        .map(|p| {
            let value = wet_ppm(p.moisture);
            let share = ((first / value).ln() / dried).clamp(0.0, 1.0);
            BandPoint {
                along: p.age / 3600.0,
                low: value * low.powf(share),
                high: value * high.powf(share),
            }
        })
        .collect()
}

fn title(answer: &PlanAnswer, speech: Speech) -> String {
    let plan = &answer.plan;
    let stations = stations(answer);
    let limit = ppm(plan.outlet.limit_ppm_wet);
    let degrees = speech.say(Measure::Temperature, plan.front.warm_c);
    let warm = match stations.warm {
        Some(time) => {
            let late = if time > 0.5 * stations.end {
                "only "
            } else {
                ""
            };
            format!("{} is at {degrees} {late}after {}", plan.resin, hours(time))
        }
        None => format!("{} does not reach {degrees}", plan.resin),
    };
    let dry = match stations.dry {
        Some(time) => format!("{limit} are met {}", soon(answer, time)),
        None if plan.outlet.arriving_ppm_wet <= plan.outlet.limit_ppm_wet => {
            format!("it is below {limit} from the start")
        }
        None => format!(
            "{limit} are not met in the {} to the air inlet",
            hours(stations.end)
        ),
    };
    format!("{warm}, and {dry}")
}

/// Thirds of the bed by mass, and what lies below the air inlet.
fn places(answer: &PlanAnswer) -> Vec<Place> {
    let plan = &answer.plan;
    let end = stations(answer).end;
    let mut places: Vec<Place> = ["top third of the bed", "middle third", "lowest third"]
        .iter()
        .enumerate()
        .map(|(index, name)| Place {
            name: (*name).into(),
            from: end * index as f64 / 3.0,
            to: end * (index + 1) as f64 / 3.0,
        })
        .collect();
    let below = plan.settings.below_inlet_kg / plan.coefficients.dry_rate_kg_h;
    if below > 0.02 * end && below.is_finite() {
        places.push(Place {
            name: "below the inlet".into(),
            from: end,
            to: end + below,
        });
    }
    places
}

fn caption(answer: &PlanAnswer) -> String {
    let below = answer.plan.settings.below_inlet_kg;
    let whose = match &answer.plan.lot {
        Some(lot) => format!(" of {}", lot.leads),
        None => String::new(),
    };
    let mut caption = format!(
        "The mean pellet{whose} on its way down at steady state; the air meets it from below, so the \
         right end of the bed is the air inlet."
    );
    if !band(answer).is_empty() {
        caption.push_str(
            " The tint is the range of the outlet, carried back in proportion to what has been \
             dried.",
        );
    }
    if below > 0.0 {
        caption.push_str(" Below the inlet no dry air comes, and nothing more is dried.");
    }
    caption
}

/// Frost point of the air that a pellet meets, dew point above 0 degC.
fn frost_points(answer: &PlanAnswer, speech: Speech) -> Vec<Point> {
    let pressure = 1e3 * answer.plan.coefficients.pressure_kpa;
    let path = answer.plan.path.iter();
    path.filter_map(|p| {
        let c = crate::air::mirror_c(p.air_temperature, pressure, p.air_humidity)?;
        Some(Point::new(
            p.age / 3600.0,
            speech.number(Measure::Temperature, c),
        ))
    })
    .collect()
}

fn points(path: &[Station], value: impl Fn(&Station) -> f64) -> Vec<Point> {
    path.iter()
        .map(|p| Point::new(p.age / 3600.0, value(p)))
        .collect()
}

/// Sorbed and free water together.
fn total_ppm(station: &Station) -> f64 {
    wet_ppm(station.moisture + station.free_water)
}

/// kg/kg dry to ppm on the wet basis.
pub(super) fn wet_ppm(dry: f64) -> f64 {
    1e6 * dry / (1.0 + dry)
}
