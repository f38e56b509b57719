//! Invented figures of every kind; no number here was computed or measured.

use figure::{
    Axis, Balance, BandPoint, Contour, Cross, Ellipse, Extent, Figure, Grade, Grid, MeasuredPoint,
    Moment, Outline, Panel, Part, Place, Point, Scale, Series, Tone, Weight,
};

/// Stands under every picture of the specimen.
const INVENTED: &str = "Values in data are invented for the specimen.";

/// A list of numbers from `low` to `high`.
fn steps(low: f64, high: f64, count: usize) -> Vec<f64> {
    let step = |i: usize| low + (high - low) * i as f64 / (count - 1) as f64;
    (0..count).map(step).collect()
}

fn curve(xs: &[f64], value: impl Fn(f64) -> f64) -> Vec<Point> {
    xs.iter().map(|x| Point::new(*x, value(*x))).collect()
}

fn range(xs: &[f64], low: impl Fn(f64) -> f64, high: impl Fn(f64) -> f64) -> Vec<BandPoint> {
    let point = |x: &f64| BandPoint {
        along: *x,
        low: low(*x),
        high: high(*x),
    };
    xs.iter().map(point).collect()
}

fn line(name: &str, points: Vec<Point>, tone: Tone, weight: Weight) -> Series {
    Series::Line {
        name: name.into(),
        points,
        grade: Grade::Computed,
        tone,
        weight,
    }
}

fn invented(mut figure: Figure) -> Figure {
    figure.sources.push(INVENTED.into());
    figure
}

fn smooth(x: f64, from: f64, to: f64, at: f64, width: f64) -> f64 {
    from + (to - from) / (1.0 + (-(x - at) / width).exp())
}

fn mean(t: f64) -> f64 {
    let heated = (t - 0.7).max(0.0);
    88.0 + 1890.0 * (-(heated * 1.12)).exp() - 20.0 * (t / 5.0)
}

/// Temperature, frost point and moisture of one pellet from the loader to the machine.
pub(crate) fn journey() -> Figure {
    let t = steps(0.0, 5.0, 240);
    let pellet = |x: f64| smooth(x, 24.0, 120.0, 0.75, 0.13) - 6.0 * ((x - 4.4).max(0.0) / 0.6);
    let air = |x: f64| smooth(x, 58.0, 120.0, 0.55, 0.16) - 3.0 * ((x - 4.4).max(0.0) / 0.6);
    let frost = |x: f64| smooth(x, 6.0, -38.0, 1.1, 0.3) + 12.0 * smooth(x, 0.0, 1.0, 4.55, 0.05);
    let surface = |x: f64| 60.0 + (mean(x) - 60.0) * smooth(x, 1.0, 0.16, 0.8, 0.12);
    let centre = |x: f64| mean(x) * smooth(x, 1.0, 1.75, 1.2, 0.25);
    let temperature = Panel::new(
        Axis::linear("temperature", "°C"),
        vec![
            line("pellet", curve(&t, pellet), Tone::Heat, Weight::Leading),
            line("air", curve(&t, air), Tone::Heat, Weight::Light),
        ],
    );
    let dryness = Panel::new(
        Axis::linear("air frost point", "°C"),
        vec![
            Series::Band {
                name: "frost point at the pellet".into(),
                points: range(&t, |x| frost(x) - 4.0, |x| frost(x) + 5.0),
                grade: Grade::CommonPractice,
                tone: Tone::Water,
            },
            line("frost point", curve(&t, frost), Tone::Water, Weight::Plain),
        ],
    );
    let samples = [(1.5, 930.0), (2.5, 410.0), (4.3, 118.0)];
    let measured = samples.map(|(along, value)| MeasuredPoint {
        along,
        value,
        low: value * 0.85,
        high: value * 1.15,
    });
    let mut moisture = Panel::new(
        Axis::log10("moisture, dry basis", "ppm"),
        vec![
            Series::Band {
                name: "9 of 10 pellets".into(),
                points: range(&t, |x| mean(x) * 0.62, |x| mean(x) * 1.75),
                grade: Grade::Computed,
                tone: Tone::Water,
            },
            line("centre", curve(&t, centre), Tone::Water, Weight::Light),
            line("mean", curve(&t, mean), Tone::Water, Weight::Leading),
            line("surface", curve(&t, surface), Tone::Water, Weight::Light),
            Series::limit("limit 200 ppm", 200.0),
            Series::Measured {
                name: "samples from the side port".into(),
                points: measured.to_vec(),
                tone: Tone::Ink,
            },
        ],
    );
    moisture.share = 1.5;
    let mut figure = Figure::stacked(
        "PC is warm after 1.2 h; from there on the way out of the pellet decides, and 200 ppm is met after 3.5 h",
        Axis::linear("time since entering", "h"),
        vec![temperature, dryness, moisture],
    );
    let places = [
        ("loader", 0.0, 0.1),
        ("hopper, top to air inlet", 0.1, 4.4),
        ("throat", 4.4, 4.6),
        ("machine hopper", 4.6, 5.0),
    ];
    figure.places = places
        .map(|(name, from, to)| Place {
            name: name.into(),
            from,
            to,
        })
        .to_vec();
    figure.caption =
        "One pellet of middle size on the mean path. The band holds nine of ten pellets, \
                      by size and by residence time; the hatched band is a rule of the trade."
            .into();
    invented(figure)
}

/// Moisture through the middle of a pellet at several moments, and a cut along it.
pub(crate) fn pellet() -> Figure {
    let r = steps(-1.25, 1.25, 81);
    let profile = |time: f64| {
        move |x: f64| {
            let shape = (std::f64::consts::FRAC_PI_2 * x / 1.25).cos().max(0.0);
            let young = 1.0 - (x / 1.25).abs().powf(1.5 + 9.0 / (1.0 + 4.0 * time));
            let blend = (time / 1.5).min(1.0);
            let inner = young * (1.0 - blend) + shape * blend;
            55.0 + 1950.0 * (-(time * 0.72)).exp() * inner
        }
    };
    let moment =
        |name: &str, time: f64, weight| line(name, curve(&r, profile(time)), Tone::Water, weight);
    let profiles = Panel::new(
        Axis::linear("moisture, dry basis", "ppm").ranging(0.0, 2000.0),
        vec![
            moment("0.2 h", 0.2, Weight::Light),
            moment("1 h", 1.0, Weight::Plain),
            moment("2 h", 2.0, Weight::Leading),
            moment("4 h", 4.0, Weight::Plain),
            Series::limit("limit 200 ppm", 200.0),
        ],
    );
    let z = steps(-1.5, 1.5, 61);
    let cut = Grid::from_function(r.clone(), z, |x, y| {
        let ends = (std::f64::consts::FRAC_PI_2 * y / 1.5).cos().max(0.0);
        55.0 + (profile(2.0)(x) - 55.0) * ends.powf(0.6)
    });
    let mut section = Panel::new(
        Axis::linear("along the cylinder", "mm"),
        vec![Series::Field {
            name: "after 2 h".into(),
            unit: "ppm".into(),
            grid: cut,
            scale: Scale::Linear,
            tone: Tone::Water,
        }],
    );
    section.to_scale = true;
    let mut figure = Figure::side_by_side(
        "After 2 h the mean is 330 ppm, but the middle still holds 520 and the skin 55",
        Axis::linear("distance from the middle", "mm").ranging(-1.25, 1.25),
        vec![profiles, section],
    );
    figure.caption =
        "Left: moisture through the middle of the pellet at four moments. Right: a cut \
                      along the cylinder, to scale."
            .into();
    invented(figure)
}

/// Height against temperature, humidity and moisture, with the vessel beside it.
pub(crate) fn bed() -> Figure {
    let h = steps(0.0, 1.4, 141);
    let front = |at: f64, width: f64| move |x: f64| smooth(x, 120.0, 30.0, at, width);
    let temperature = Panel::new(
        Axis::linear("temperature", "°C"),
        vec![
            line(
                "pellets",
                curve(&h, front(1.18, 0.035)),
                Tone::Heat,
                Weight::Leading,
            ),
            line(
                "air",
                curve(&h, front(1.24, 0.045)),
                Tone::Heat,
                Weight::Light,
            ),
        ],
    );
    let humidity = Panel::new(
        Axis::linear("air frost point", "°C"),
        vec![line(
            "air",
            curve(&h, |x| smooth(x, -40.0, 4.0, 0.85, 0.16)),
            Tone::Water,
            Weight::Plain,
        )],
    );
    let moisture =
        |shift: f64| move |x: f64| 90.0 + 1900.0 / (1.0 + (-(x - 1.02 - shift) / 0.13).exp());
    let water = Panel::new(
        Axis::log10("moisture, dry basis", "ppm"),
        vec![
            line(
                "after 1 h",
                curve(&h, moisture(-0.62)),
                Tone::Water,
                Weight::Light,
            ),
            line("2 h", curve(&h, moisture(-0.3)), Tone::Water, Weight::Light),
            line(
                "steady",
                curve(&h, moisture(0.0)),
                Tone::Water,
                Weight::Leading,
            ),
            Series::limit("limit", 200.0),
        ],
    );
    let mut figure = Figure::side_by_side(
        "The pellets are warm within the top 0.3 m; the lower half of the hopper works on the last 200 ppm",
        Axis::linear("height above the outlet", "m").ranging(0.0, 1.5),
        vec![temperature, humidity, water],
    );
    figure.moments.push(Moment {
        name: "air inlet".into(),
        at: 0.28,
    });
    figure.moments.push(Moment {
        name: "level".into(),
        at: 1.4,
    });
    let profile = [(0.0, 0.05), (0.36, 0.24), (1.5, 0.24)];
    figure.outline = Some(Outline {
        half_profile: profile.map(|(z, r)| Point::new(z, r)).to_vec(),
        filled_to: Some(1.4),
    });
    figure.caption = "Steady state, and the front on its way down after a cold start.".into();
    invented(figure)
}

/// Outlet moisture and energy over temperature and residence time.
pub(crate) fn map() -> Figure {
    let t = steps(95.0, 135.0, 61);
    let h = steps(1.0, 8.0, 57);
    let outlet = |temperature: f64, hours: f64| {
        let rate = 0.92 * ((temperature - 115.0) / 21.0).exp();
        40.0 + 2000.0 * (-(rate * (hours - 0.6).max(0.0))).exp()
    };
    let energy =
        |temperature: f64, hours: f64| 0.02 + 0.00075 * (temperature - 25.0) + 0.0042 * hours;
    let contour = |name: &str, unit: &str, grid, scale, levels: &[f64], tone, weight| {
        Series::Contours(Contour {
            name: name.into(),
            unit: unit.into(),
            grid,
            scale,
            levels: levels.to_vec(),
            grade: Grade::Computed,
            tone,
            weight,
        })
    };
    let moisture = || Grid::from_function(t.clone(), h.clone(), outlet);
    let corner = |points: &[(f64, f64)]| points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    let series = vec![
        Series::Region {
            name: "pellets stick".into(),
            outline: corner(&[
                (128.0, 1.0),
                (127.0, 4.0),
                (125.5, 8.0),
                (135.0, 8.0),
                (135.0, 1.0),
            ]),
            tone: Tone::Heat,
        },
        Series::Region {
            name: "longer than the resin maker allows".into(),
            outline: corner(&[
                (95.0, 7.3),
                (112.0, 7.0),
                (126.0, 5.9),
                (125.5, 8.0),
                (95.0, 8.0),
            ]),
            tone: Tone::Ink,
        },
        contour(
            "outlet moisture",
            "ppm",
            moisture(),
            Scale::Log10,
            &[50.0, 100.0, 500.0, 1000.0],
            Tone::Water,
            Weight::Plain,
        ),
        contour(
            "limit",
            "ppm",
            moisture(),
            Scale::Log10,
            &[200.0],
            Tone::Water,
            Weight::Leading,
        ),
        contour(
            "energy",
            "kWh/kg",
            Grid::from_function(t.clone(), h.clone(), energy),
            Scale::Linear,
            &[0.08, 0.09, 0.1, 0.11],
            Tone::Energy,
            Weight::Light,
        ),
        Series::Recommended {
            name: "recommended: 120 °C, 4 h".into(),
            at: Point::new(120.0, 4.0),
            ellipse: Some(Ellipse {
                half_along: 2.5,
                half_value: 0.55,
                correlation: -0.45,
            }),
        },
    ];
    let mut figure = Figure::stacked(
        "At 120 °C there is room of half an hour and 7 K before something goes wrong",
        Axis::linear("air temperature", "°C"),
        vec![Panel::new(Axis::linear("residence time", "h"), series)],
    );
    figure.caption = "The ellipse holds nine of ten draws of the evidence.".into();
    invented(figure)
}

/// Outlet moisture and energy against the delivered frost point.
pub(crate) fn dew_point() -> Figure {
    let f = steps(-60.0, 0.0, 121);
    let outlet = |x: f64| 72.0 + 260.0 * ((x + 8.0) / 11.0).exp();
    let energy = |x: f64| 0.082 + 0.03 * ((-x - 34.0) / 13.0).exp() * 0.6;
    let moisture = Panel::new(
        Axis::log10("outlet moisture, dry basis", "ppm"),
        vec![
            Series::Band {
                name: "range of the evidence".into(),
                points: range(&f, |x| outlet(x) * 0.6, |x| outlet(x) * 1.8),
                grade: Grade::Computed,
                tone: Tone::Water,
            },
            line(
                "mean of a shot",
                curve(&f, outlet),
                Tone::Water,
                Weight::Leading,
            ),
            Series::limit("limit 200 ppm", 200.0),
            Series::Note {
                text: "below -30 °C nothing is gained".into(),
                at: Point::new(-30.0, outlet(-30.0)),
            },
        ],
    );
    let cost = Panel::new(
        Axis::linear("electricity", "kWh/kg"),
        vec![
            line(
                "hopper air and regeneration",
                curve(&f, energy),
                Tone::Energy,
                Weight::Plain,
            ),
            Series::Line {
                name: "older wheel".into(),
                points: curve(&f, |x| energy(x) * 1.18 + 0.004),
                grade: Grade::Analogy,
                tone: Tone::Energy,
                weight: Weight::Plain,
            },
        ],
    );
    let mut axis = Axis::linear("delivered frost point", "°C");
    axis.reversed = true;
    let figure = Figure::stacked(
        "Drier air than -30 °C buys 5 ppm and costs a third more electricity",
        axis,
        vec![moisture, cost],
    );
    invented(figure)
}

/// Outlet temperature and loading of a desiccant wheel over one turn.
pub(crate) fn wheel() -> Figure {
    let angle = steps(0.0, 360.0, 145);
    let hot = |x: f64| smooth(x, 0.0, 150.0, 262.0, 7.0) * smooth(x, 1.0, 0.1, 318.0, 8.0);
    let outlet = Panel::new(
        Axis::linear("outlet temperature", "°C"),
        vec![line(
            "process air",
            curve(&angle, |x| 42.0 + 26.0 * (-x / 40.0).exp() + hot(x)),
            Tone::Heat,
            Weight::Leading,
        )],
    );
    let depth = steps(0.0, 0.2, 41);
    let loading = Grid::from_function(angle, depth, |x, y| {
        let wave = smooth(y, 0.2, 0.03, 0.02 + x / 255.0 * 0.14, 0.022);
        let regenerated = smooth(x, 1.0, 0.12, 278.0 + 120.0 * (0.2 - y), 9.0);
        0.02 + wave * regenerated
    });
    let colour = Panel::new(
        Axis::linear("depth", "m"),
        vec![Series::Field {
            name: "loading".into(),
            unit: "kg/kg".into(),
            grid: loading,
            scale: Scale::Linear,
            tone: Tone::Water,
        }],
    );
    let mut figure = Figure::stacked(
        "The wet front stops 40 mm before the outlet; the process sector could be slower",
        Axis::linear("angle", "°"),
        vec![outlet, colour],
    );
    let sectors = [
        ("process", 0.0, 255.0),
        ("regeneration", 255.0, 318.0),
        ("cooling", 318.0, 360.0),
    ];
    figure.places = sectors
        .map(|(name, from, to)| Place {
            name: name.into(),
            from,
            to,
        })
        .to_vec();
    invented(figure)
}

/// Three dryers, each with its range of cost and of what leaves.
pub(crate) fn choice() -> Figure {
    let cross = |name: &str, cost: f64, ppm: f64, grade, weight| {
        Series::Cross(Cross {
            name: name.into(),
            at: Point::new(cost, ppm),
            along: Extent {
                low: 0.9 * cost,
                high: 1.15 * cost,
            },
            value: Extent {
                low: ppm / 1.8,
                high: ppm * 2.2,
            },
            grade,
            tone: Tone::Water,
            weight,
        })
    };
    let series = vec![
        cross("wheel", 1.1, 60.0, Grade::Computed, Weight::Leading),
        cross("towers", 1.5, 55.0, Grade::CommonPractice, Weight::Plain),
        cross("hot air", 0.7, 420.0, Grade::Computed, Weight::Plain),
        Series::limit("limit 200 ppm", 200.0),
    ];
    let panel = Panel::new(Axis::log10("moisture leaving", "ppm"), series);
    let cost = Axis::linear("cost", "ct/kg").ranging(0.0, 2.0);
    invented(Figure::stacked(
        "The wheel is the cheapest that is dry enough",
        cost,
        vec![panel],
    ))
}

/// Where the current goes.
pub(crate) fn ledger() -> Balance {
    let part = |name: &str, amount| Part::new(name, amount, Grade::Computed);
    let mut balance = Balance::new(
        "The resin takes two fifths of the heat, the exhaust a third",
        "kW",
        Tone::Heat,
    );
    balance.entering = vec![
        part("heater before the hopper", 1.62),
        part("regeneration heater", 0.61),
        Part::new("blowers", 0.07, Grade::CommonPractice),
    ];
    balance.leaving = vec![
        part("resin, warmed and dried", 0.92),
        part("exhaust of the regeneration", 0.77),
        part("cooler of the return air", 0.53),
        Part::new("wall of the hopper", 0.08, Grade::CommonPractice),
    ];
    balance.sources.push(INVENTED.into());
    balance
}
