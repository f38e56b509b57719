//! Drawings of one figure that holds every kind of mark, kept beside this test as plain files.
#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use chart::{ChartFault, Sheet, draw, draw_balance};
use figure::{
    Axis, Balance, BandPoint, Contour, Cross, Ellipse, Extent, Figure, FigureFault, Grade, Grid,
    MeasuredPoint, Moment, Outline, Panel, Part, Place, Point, Scale, Series, Tone, Weight,
};
use std::path::Path;

fn falling() -> Vec<Point> {
    let point = |i: u32| Point::new(f64::from(i) / 4.0, 1000.0 / f64::from(1 + i * i));
    (0..17).map(point).collect()
}

/// Invented numbers: a line, a band, measured points, a limit, a note and an estimate over time.
fn over_time() -> Figure {
    let band = falling().into_iter().map(|p| BandPoint {
        along: p.along,
        low: p.value * 0.7,
        high: p.value * 1.6,
    });
    let upper = vec![
        Series::Band {
            name: "nine of ten".into(),
            points: band.collect(),
            grade: Grade::Computed,
            tone: Tone::Water,
        },
        Series::line("mean", falling()),
        Series::limit("limit 200 ppm", 200.0),
        Series::Measured {
            name: "samples".into(),
            points: vec![MeasuredPoint {
                along: 2.0,
                value: 18.0,
                low: 12.0,
                high: 25.0,
            }],
            tone: Tone::Ink,
        },
    ];
    let lower = vec![
        Series::Line {
            name: "air".into(),
            points: vec![Point::new(0.0, 40.0), Point::new(4.0, 118.0)],
            grade: Grade::Analogy,
            tone: Tone::Heat,
            weight: Weight::Plain,
        },
        Series::Note {
            text: "heater at its end".into(),
            at: Point::new(2.0, 79.0),
        },
    ];
    let mut figure = Figure::stacked(
        "Everything <about> time & \"more\"",
        Axis::linear("time", "h"),
        vec![
            Panel::new(Axis::log10("moisture", "ppm"), upper),
            Panel::new(Axis::linear("temperature", "°C"), lower),
        ],
    );
    figure.places.push(Place {
        name: "hopper".into(),
        from: 0.0,
        to: 3.5,
    });
    figure.moments.push(Moment {
        name: "sample".into(),
        at: 2.0,
    });
    figure.caption = "Values in data are invented.".into();
    figure
}

/// Invented numbers: contours, an area and a recommended point.
fn settings() -> Figure {
    let rising = |n: u32| (0..n).map(f64::from).collect::<Vec<f64>>();
    let grid = Grid::from_function(rising(11), rising(9), |x, y| 1.0 + x * y);
    let series = vec![
        Series::Region {
            name: "sticks".into(),
            outline: vec![
                Point::new(8.0, 0.0),
                Point::new(10.0, 0.0),
                Point::new(10.0, 8.0),
            ],
            tone: Tone::Heat,
        },
        Series::Contours(Contour {
            name: "outlet moisture".into(),
            unit: "ppm".into(),
            grid,
            scale: Scale::Log10,
            levels: vec![5.0, 20.0],
            grade: Grade::Computed,
            tone: Tone::Water,
            weight: Weight::Plain,
        }),
        Series::Recommended {
            name: "recommended".into(),
            at: Point::new(5.0, 4.0),
            ellipse: Some(Ellipse {
                half_along: 0.8,
                half_value: 0.6,
                correlation: -0.5,
            }),
        },
    ];
    Figure::stacked(
        "There is room",
        Axis::linear("temperature", "°C"),
        vec![Panel::new(Axis::linear("residence time", "h"), series)],
    )
}

/// Invented numbers: five points with their ranges, their names long and their places close.
fn crosses() -> Figure {
    let cross = |name: &str, at: (f64, f64), half: f64, weight| {
        Series::Cross(Cross {
            name: name.into(),
            at: Point::new(at.0, at.1),
            along: Extent {
                low: at.0 * 0.98,
                high: at.0 * 1.02,
            },
            value: Extent {
                low: at.1 / half,
                high: at.1 * half,
            },
            grade: if weight == Weight::Light {
                Grade::Computed
            } else {
                Grade::CommonPractice
            },
            tone: Tone::Water,
            weight,
        })
    };
    let series = vec![
        cross("one of a usual kind", (2.0, 1.0), 9.0, Weight::Plain),
        cross("another much like it", (2.7, 0.8), 12.0, Weight::Plain),
        cross("the dear one", (5.8, 4.0), 2.0, Weight::Plain),
        cross("the simple one", (1.3, 90.0), 1.1, Weight::Light),
        cross("the one to take", (1.2, 9.0), 3.0, Weight::Leading),
        Series::limit("limit 60 ppm", 60.0),
    ];
    Figure::stacked(
        "One is the cheapest that is dry enough",
        Axis::linear("cost", "ct/kg").ranging(0.0, 6.3),
        vec![Panel::new(Axis::log10("moisture leaving", "ppm"), series)],
    )
}

/// Invented numbers: a balance with large, small and estimated parts.
fn balance() -> Balance {
    let part = |name: &str, amount| Part::new(name, amount, Grade::Computed);
    let mut balance = Balance::new("Half of it leaves <hot>", "kW", Tone::Heat);
    balance.entering = vec![
        part("heater before the hopper", 1.6),
        part("regeneration heater", 0.3),
        Part::new("process blower", 0.05, Grade::CommonPractice),
        part("drive of the wheel", 0.02),
        part("regeneration blower", 0.02),
        part("other, 4 parts", 0.01),
    ];
    balance.leaving = vec![
        part("exhaust", 1.0),
        part("resin, warmed and dried", 0.9),
        part("wall", 0.1),
        part("nothing", 0.0),
    ];
    balance.caption = "Values in data are invented.".into();
    balance
}

/// Invented numbers: a vertical shared axis with a vessel, a colour field and a reversed axis.
fn upright() -> Figure {
    let grid = Grid::from_function(vec![0.0, 0.5, 1.0], vec![0.0, 1.0, 2.0], |x, y| x * y);
    let field = Series::Field {
        name: "loading".into(),
        unit: "g/kg".into(),
        grid,
        scale: Scale::Linear,
        tone: Tone::Water,
    };
    let line = Series::line(
        "pellets",
        vec![Point::new(0.0, 120.0), Point::new(1.0, 30.0)],
    );
    let mut axis = Axis::linear("temperature", "°C");
    axis.reversed = true;
    let mut figure = Figure::side_by_side(
        "The top is cold",
        Axis::linear("height", "m"),
        vec![
            Panel::new(axis, vec![line]),
            Panel::new(Axis::linear("radius", "m"), vec![field]),
        ],
    );
    figure.outline = Some(Outline {
        half_profile: vec![
            Point::new(0.0, 0.05),
            Point::new(0.3, 0.2),
            Point::new(1.0, 0.2),
        ],
        filled_to: Some(0.8),
    });
    figure.moments.push(Moment {
        name: "air inlet".into(),
        at: 0.3,
    });
    figure
}

/// Compares with the kept drawing; `KEEP_DRAWINGS=1` in the environment writes it anew.
fn compare(name: &str, drawn: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/drawings")
        .join(name);
    if std::env::var_os("KEEP_DRAWINGS").is_some() {
        std::fs::write(&path, drawn).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap();
    for (number, (ours, theirs)) in drawn.lines().zip(kept.lines()).enumerate() {
        assert_eq!(ours, theirs, "{name}, line {}", number + 1);
    }
    assert_eq!(drawn.len(), kept.len(), "{name}: length");
}

#[test]
fn pinned_drawings_have_not_moved() {
    compare(
        "time-wide.svg",
        &draw(&over_time(), &Sheet::wide("a")).unwrap(),
    );
    compare(
        "time-narrow.svg",
        &draw(&over_time(), &Sheet::narrow("a")).unwrap(),
    );
    compare(
        "settings-alone.svg",
        &draw(&settings(), &Sheet::alone("b")).unwrap(),
    );
    compare(
        "upright-wide.svg",
        &draw(&upright(), &Sheet::wide("c")).unwrap(),
    );
    compare(
        "upright-narrow.svg",
        &draw(&upright(), &Sheet::narrow("c")).unwrap(),
    );
    for (name, sheet) in [
        ("crosses-wide.svg", Sheet::wide("d")),
        ("crosses-narrow.svg", Sheet::narrow("d")),
    ] {
        compare(name, &draw(&crosses(), &sheet).unwrap());
    }
    for (name, sheet) in [
        ("balance-alone.svg", Sheet::alone("e")),
        ("balance-narrow.svg", Sheet::narrow("e")),
    ] {
        compare(name, &draw_balance(&balance(), &sheet).unwrap());
    }
}

#[test]
fn holds_words_are_escaped_and_described() {
    let svg = draw(&over_time(), &Sheet::alone("a")).unwrap();
    assert!(svg.contains("Everything &lt;about&gt; time &amp; &quot;more&quot;"));
    assert!(!svg.contains("<about>"));
    assert!(
        svg.contains("role=\"img\"") && svg.contains("<desc id=\"a-d\">2 panel(s) over time / h")
    );
    assert!(svg.contains("≈ air (analogy)"));
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
}

#[test]
fn holds_an_estimate_is_dashed_and_a_model_line_plain() {
    let svg = draw(&over_time(), &Sheet::wide("a")).unwrap();
    let line = |name: &str| {
        svg.lines()
            .find(|l| l.contains(&format!("<title>{name}")))
            .unwrap()
    };
    assert!(line("air (analogy)").contains("c-estimate"));
    assert!(!line("mean (computed)").contains("c-estimate"));
}

#[test]
fn holds_a_cross_is_drawn_outwards_and_named_once() {
    for sheet in [Sheet::narrow("d"), Sheet::wide("d")] {
        let svg = draw(&crosses(), &sheet).unwrap();
        let arms = |name: &str| {
            let found = svg
                .lines()
                .find(|l| l.contains(&format!("<title>{name} (")));
            found.unwrap()
        };
        let (estimate, sure) = (arms("the one to take"), arms("the simple one"));
        assert!(estimate.contains("c-leading c-estimate") && !sure.contains("c-estimate"));
        // Four arms, each from the middle out, so that dashes do not fill up.
        assert_eq!(estimate.matches('M').count(), 4, "{estimate}");
        assert_eq!(estimate.matches('L').count(), 4, "{estimate}");
        let texts: String = words(&svg).into_iter().map(|word| word.4 + " ").collect();
        for name in [
            "usual kind",
            "much like it",
            "dear one",
            "simple one",
            "to take",
        ] {
            assert_eq!(texts.matches(name).count(), 1, "{name}: {texts}");
        }
        // Where there is no room for the word of a grade its sign stays.
        assert_eq!(texts.matches('≈').count(), 4, "{texts}");
    }
    let described = draw(&crosses(), &Sheet::wide("d")).unwrap();
    assert!(
        described.contains(
            "point the one to take (common practice) at 1.2 (1.176 to 1.224), 9 (3 to 27)"
        ),
        "{described}"
    );
}

#[test]
fn exact_the_parts_of_a_balance_are_as_high_as_they_are_large() {
    let svg = draw_balance(&balance(), &Sheet::wide("e")).unwrap();
    // Top and bottom of the shape with this name.
    let height = |name: &str| {
        let found = svg.lines().find(|l| l.contains(&format!("<title>{name}<")));
        let shape = found.unwrap().split(" d=\"").nth(1).unwrap();
        let shape = shape.split('"').next().unwrap().trim_end_matches('Z');
        let ys = shape.split(['M', 'L']).skip(1).map(|spot| {
            let y = spot.split(' ').nth(1).unwrap();
            y.parse::<f64>().unwrap()
        });
        let ys: Vec<f64> = ys.collect();
        ys.iter().copied().fold(0.0, f64::max) - ys.iter().copied().fold(1e9, f64::min)
    };
    for (name, amount) in [
        ("heater before the hopper", 1.6),
        ("exhaust", 1.0),
        ("wall", 0.1),
    ] {
        assert!((height(name) - 260.0 * amount / 2.0).abs() < 0.21, "{name}");
    }
    assert!(
        svg.contains("50\u{a0}%") && svg.contains("≈\u{a0}0.050"),
        "{svg}"
    );
    assert!(!svg.contains("nothing"));
    // An estimate is hatched; neighbours differ in lightness.
    assert!(svg.contains("url(#e-heat)") && svg.contains("c-step0") && svg.contains("c-step1"));
    let mut open = balance();
    open.leaving.pop();
    open.leaving.pop();
    assert!(matches!(
        draw_balance(&open, &Sheet::wide("e")),
        Err(ChartFault::Unreadable { .. })
    ));
}

#[test]
fn holds_ids_begin_with_the_word_of_the_sheet() {
    for figure in [over_time(), settings(), upright()] {
        let svg = draw(&figure, &Sheet::wide("left")).unwrap();
        let mut ids = svg.split(" id=\"").skip(1);
        assert!(ids.all(|rest| rest.starts_with("left-")));
        assert!(!svg.contains("url(#c"));
    }
}

#[test]
fn holds_the_least_width_and_a_sound_figure_are_asked_for() {
    let sheet = |width| Sheet {
        width,
        id: "a",
        alone: false,
    };
    assert!(draw(&over_time(), &sheet(chart::LEAST_WIDTH)).is_ok());
    let narrow = draw(&over_time(), &sheet(299.9));
    assert_eq!(
        narrow,
        Err(ChartFault::TooNarrow {
            width: 299.9,
            least: 300.0
        })
    );
    assert!(draw(&over_time(), &sheet(f64::NAN)).is_err());
    let mut silent = over_time();
    silent.title.clear();
    let faults = vec![FigureFault::NoTitle];
    assert_eq!(
        draw(&silent, &sheet(720.0)),
        Err(ChartFault::Unreadable { faults })
    );
}

#[test]
fn holds_thousands_of_points_make_a_small_drawing() {
    let wave = |i: u32| Point::new(f64::from(i) / 1e4, 2.0 + (f64::from(i) / 3e3).sin());
    let line = Series::line("wave", (0..20_000).map(wave).collect());
    let figure = Figure::stacked(
        "Smooth",
        Axis::linear("time", "h"),
        vec![Panel::new(Axis::linear("moisture", "ppm"), vec![line])],
    );
    assert!(draw(&figure, &Sheet::wide("a")).unwrap().len() < 8000);
}

/// Boxes of the upright words of a drawing: left, top, right, bottom, at half an em a letter.
fn words(svg: &str) -> Vec<(f64, f64, f64, f64, String)> {
    let mut found = Vec::new();
    for piece in svg.split("<text").skip(1) {
        let (tag, rest) = piece.split_once('>').unwrap();
        let text = rest.split("</text>").next().unwrap();
        let number = |name: &str| {
            let value = tag.split(&format!(" {name}=\"")).nth(1)?;
            value.split('"').next()?.parse::<f64>().ok()
        };
        let (Some(x), Some(y)) = (number("x"), number("y")) else {
            continue;
        };
        let wide = 6.0 * text.chars().count() as f64;
        let left = match tag {
            t if t.contains("\"middle\"") => x - wide / 2.0,
            t if t.contains("\"end\"") => x - wide,
            _ => x,
        };
        found.push((left, y - 9.0, left + wide, y + 1.0, text.to_owned()));
    }
    found
}

#[test]
fn holds_no_word_lies_on_another_or_beyond_the_sheet() {
    let figures = [over_time(), settings(), upright(), crosses()];
    for width in [300.0, 358.0, 480.0, 720.0, 1000.0] {
        let sheet = Sheet {
            width,
            id: "a",
            alone: false,
        };
        let drawn = figures.iter().map(|figure| draw(figure, &sheet).unwrap());
        for svg in drawn.chain([draw_balance(&balance(), &sheet).unwrap()]) {
            let all = words(&svg);
            for (index, a) in all.iter().enumerate() {
                assert!(a.0 >= -9.0 && a.2 <= width + 9.0, "{width}: {a:?}");
                for b in &all[index + 1..] {
                    let apart = a.2 <= b.0 || b.2 <= a.0 || a.3 <= b.1 || b.3 <= a.1;
                    assert!(apart, "{width}: {} on {}", a.4, b.4);
                }
            }
        }
    }
}

#[test]
fn holds_odd_numbers_are_drawn() {
    let long = "a name so long that no drawing has room for it and the placing has to give way";
    for scale in [Scale::Linear, Scale::Log10] {
        for (low, high) in [
            (1.0, 1.0),
            (1e-300, 1e300),
            (5.0, 5.000_000_1),
            (f64::MIN_POSITIVE, f64::MAX),
        ] {
            let points = vec![Point::new(low, low), Point::new(high, high)];
            let single = vec![Point::new(low, high)];
            let axis = || Axis {
                scale,
                ..Axis::linear(long, "ppm")
            };
            let series = || {
                vec![
                    Series::line(long, points.clone()),
                    Series::line("dot", single.clone()),
                ]
            };
            let panels = || vec![Panel::new(axis(), series()); 6];
            for figure in [
                Figure::stacked(long, axis(), panels()),
                Figure::side_by_side(long, axis(), panels()),
            ] {
                for sheet in [Sheet::narrow("n"), Sheet::wide("w"), Sheet::alone("a")] {
                    let svg = draw(&figure, &sheet).unwrap();
                    for none in ["NaN", "inf"] {
                        let at = svg.find(none).map(|at| &svg[at.saturating_sub(60)..at + 3]);
                        assert_eq!(at, None, "{low:e} {high:e}");
                    }
                    assert!(svg.len() < 200_000, "{low} {high}: {}", svg.len());
                }
            }
        }
    }
}

/// Relative luminance of a colour `#rgb` or `#rrggbb` (WCAG 2.2, from IEC 61966-2-1).
fn luminance(colour: &str) -> f64 {
    let digits = colour.trim_start_matches('#');
    let channel = |index: usize| {
        let pair = match digits.len() {
            3 => digits[index..=index].repeat(2),
            _ => digits[2 * index..2 * index + 2].to_owned(),
        };
        let signal = f64::from(u8::from_str_radix(&pair, 16).unwrap()) / 255.0;
        if signal <= 0.04045 {
            signal / 12.92
        } else {
            ((signal + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(0) + 0.7152 * channel(1) + 0.0722 * channel(2)
}

/// WCAG 2.2 success criteria 1.4.3 (text, 4.5 to 1) and 1.4.11 (graphical objects, 3 to 1).
#[test]
fn published_contrast_holds_on_screen_light_and_dark_and_on_paper() {
    let palettes: Vec<&str> = chart::STYLE.split(":root{").skip(1).collect();
    assert_eq!(palettes.len(), 3);
    for palette in palettes {
        let palette = palette.split('}').next().unwrap();
        let colour = |name: &str| {
            let found = palette
                .split(';')
                .find_map(|pair| pair.strip_prefix(&format!("--c-{name}:")));
            luminance(found.unwrap())
        };
        let paper = colour("paper");
        let contrast = |name: &str| {
            let (a, b) = (colour(name).max(paper), colour(name).min(paper));
            (a + 0.05) / (b + 0.05)
        };
        for text in ["ink", "soft", "water", "heat", "energy", "stop"] {
            assert!(contrast(text) >= 4.5, "{text} {}", contrast(text));
        }
        assert!(contrast("hair") >= 3.0, "hair {}", contrast("hair"));
    }
}
