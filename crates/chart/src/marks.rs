//! The series of a panel as marks.

use crate::canvas::Canvas;
use crate::key::{self, COLOURS};
use crate::labels;
use crate::level;
use crate::plot::{Plot, scaled};
use crate::ruler::Spot;
use crate::svg::{self, Svg, class_of};
use figure::{
    BandPoint, Contour, Cross, Ellipse, Extent, Grade, Grid, MeasuredPoint, Point, Scale, Series,
    Tone, Weight,
};

/// Lines lose spots that are nearer to the line than this, px.
const SLACK: f64 = 0.12;

/// Draws the colour fields of a panel, which lie below everything but the grid.
pub(crate) fn fields(plot: &Plot<'_>, svg: &mut Svg<'_>) {
    for one in &plot.panel.series {
        if let Series::Field {
            grid, scale, tone, ..
        } = one
        {
            svg.clip(&plot.frame);
            field(plot, grid, *scale, *tone, svg);
            svg.unclip();
        }
    }
}

/// Draws all other series of a panel and the names of all.
pub(crate) fn draw(plot: &Plot<'_>, svg: &mut Svg<'_>) {
    let mut canvas = Canvas::around(plot.frame);
    svg.clip(&plot.frame);
    let series = &plot.panel.series;
    for rank in 0..=4 {
        for one in series.iter().filter(|one| rank_of(one) == rank) {
            mark(plot, one, svg, &mut canvas);
        }
    }
    svg.unclip();
    labels::draw(plot, svg, canvas);
}

/// What lies below what: fields, areas, hairlines, curves, points.
fn rank_of(series: &Series) -> usize {
    match series {
        Series::Field { .. } => 0,
        Series::Band { .. } | Series::Region { .. } => 1,
        Series::Limit { .. } => 2,
        Series::Line { .. } | Series::Contours(_) => 3,
        Series::Measured { .. }
        | Series::Cross(_)
        | Series::Recommended { .. }
        | Series::Note { .. } => 4,
    }
}

fn mark(plot: &Plot<'_>, series: &Series, svg: &mut Svg<'_>, canvas: &mut Canvas) {
    match series {
        Series::Line {
            name,
            points,
            grade,
            tone,
            weight,
        } => {
            let class = line_class(*tone, *weight, *grade);
            let title = format!("{name} ({})", grade.word());
            let spots = plot.spots(points);
            svg.path(
                &class,
                &svg::through(&svg::simplified(&spots, SLACK)),
                Some(&title),
            );
            for part in plot.visible(&spots) {
                canvas.line(&part, 1.0);
            }
        }
        Series::Band {
            name,
            points,
            grade,
            tone,
        } => {
            band(plot, name, points, *grade, *tone, svg, canvas);
        }
        Series::Measured { points, tone, .. } => measured(plot, points, *tone, svg, canvas),
        Series::Limit { value, .. } => {
            let spots = limit_line(plot, *value);
            svg.path("c-limit", &svg::through(&spots), None);
            canvas.line(&spots, 1.0);
        }
        Series::Region {
            name,
            outline,
            tone,
        } => {
            let spots = plot.spots(outline);
            let shape = svg::around(&spots);
            svg.hatched(*tone, &shape, name);
            svg.path(&format!("{} c-edge", class_of(*tone)), &shape, None);
            canvas.line(&spots, 0.6);
        }
        Series::Contours(contour) => contours(plot, contour, svg, canvas),
        Series::Field { .. } => {}
        Series::Cross(one) => cross(plot, one, svg, canvas),
        Series::Recommended { at, ellipse, .. } => {
            recommended(plot, *at, *ellipse, svg, canvas);
        }
        Series::Note { at, .. } => {
            let spot = plot.at(*at);
            svg.dot("c-soft c-axis", spot, 2.0);
            canvas.line(
                &[
                    spot,
                    Spot {
                        x: spot.x + 1.0,
                        y: spot.y,
                    },
                ],
                2.0,
            );
        }
    }
}

/// The classes of a line.
pub(crate) fn line_class(tone: Tone, weight: Weight, grade: Grade) -> String {
    let weight = match weight {
        Weight::Leading => " c-leading",
        Weight::Plain => "",
        Weight::Light => " c-light",
    };
    let estimate = if grade.is_estimate() {
        " c-estimate"
    } else {
        ""
    };
    format!("{}{weight}{estimate}", class_of(tone))
}

/// The classes of contour lines: those of energy and money are dotted, so that they stand apart from
/// those of water and heat on the same map without their colour.
pub(crate) fn contour_class(contour: &Contour) -> String {
    let dotted = if contour.tone == Tone::Energy {
        " c-dotted"
    } else {
        ""
    };
    let class = line_class(contour.tone, contour.weight, contour.grade);
    format!("{class}{dotted}")
}

/// The hairline of a limit, from border to border.
pub(crate) fn limit_line(plot: &Plot<'_>, value: f64) -> [Spot; 2] {
    let at = plot.own.px(value);
    let frame = &plot.frame;
    if plot.upright {
        [
            Spot {
                x: at,
                y: frame.bottom(),
            },
            Spot {
                x: at,
                y: frame.top,
            },
        ]
    } else {
        [
            Spot {
                x: frame.left,
                y: at,
            },
            Spot {
                x: frame.right(),
                y: at,
            },
        ]
    }
}

fn band(
    plot: &Plot<'_>,
    name: &str,
    points: &[BandPoint],
    grade: Grade,
    tone: Tone,
    svg: &mut Svg<'_>,
    canvas: &mut Canvas,
) {
    let (low, high) = band_edges(plot, points);
    let (low, high) = (svg::simplified(&low, SLACK), svg::simplified(&high, SLACK));
    let outline: Vec<Spot> = low.iter().chain(high.iter().rev()).copied().collect();
    let shape = svg::around(&outline);
    let title = format!("{name} ({})", grade.word());
    let class = class_of(tone);
    if grade.is_estimate() {
        svg.hatched(tone, &shape, &title);
        let edge = format!("{class} c-edge c-estimate");
        svg.path(&edge, &svg::through(&low), None);
        svg.path(&edge, &svg::through(&high), None);
    } else {
        svg.path(&format!("{class} c-tint"), &shape, Some(&title));
    }
    for edge in [&low, &high] {
        for part in plot.visible(edge) {
            canvas.line(&part, 0.35);
        }
    }
}

/// The lower and the upper edge of a band.
pub(crate) fn band_edges(plot: &Plot<'_>, points: &[BandPoint]) -> (Vec<Spot>, Vec<Spot>) {
    let edge =
        |end: fn(&BandPoint) -> f64| points.iter().map(|p| plot.spot(p.along, end(p))).collect();
    (edge(|p| p.low), edge(|p| p.high))
}

fn measured(
    plot: &Plot<'_>,
    points: &[MeasuredPoint],
    tone: Tone,
    svg: &mut Svg<'_>,
    canvas: &mut Canvas,
) {
    let class = class_of(tone);
    for point in points {
        let at = plot.spot(point.along, point.value);
        let (low, high) = (
            plot.spot(point.along, point.low),
            plot.spot(point.along, point.high),
        );
        let long = libm::hypot(high.x - low.x, high.y - low.y);
        if long > 7.0 {
            let bar = format!("{class} c-bar");
            svg.line(&bar, low, high);
            for end in [low, high] {
                let (dx, dy) = if plot.upright { (0.0, 3.0) } else { (3.0, 0.0) };
                let from = Spot {
                    x: end.x - dx,
                    y: end.y - dy,
                };
                svg.line(
                    &bar,
                    from,
                    Spot {
                        x: end.x + dx,
                        y: end.y + dy,
                    },
                );
            }
            canvas.line(&[low, high], 1.0);
        }
        svg.dot(&format!("c-dot {class}"), at, 3.2);
        canvas.line(
            &[
                Spot {
                    x: at.x - 3.0,
                    y: at.y,
                },
                Spot {
                    x: at.x + 3.0,
                    y: at.y,
                },
            ],
            2.0,
        );
    }
}

/// The four ends of a cross: two along the shared axis, two along the own.
pub(crate) fn cross_ends(plot: &Plot<'_>, cross: &Cross) -> [[Spot; 2]; 2] {
    let (at, along, value) = (cross.at, cross.along, cross.value);
    [
        [along.low, along.high].map(|place| plot.spot(place, at.value)),
        [value.low, value.high].map(|value| plot.spot(at.along, value)),
    ]
}

/// Two arms and a ring where they meet; each arm runs outwards, so that dashes stay dashes.
fn cross(plot: &Plot<'_>, cross: &Cross, svg: &mut Svg<'_>, canvas: &mut Canvas) {
    let centre = plot.at(cross.at);
    let arms = cross_ends(plot, cross);
    let shape: String = arms
        .iter()
        .flatten()
        .map(|end| svg::through(&[centre, *end]))
        .collect();
    let title = format!("{} ({})", cross.name, cross.grade.word());
    let class = line_class(cross.tone, cross.weight, cross.grade);
    svg.path(&class, &shape, Some(&title));
    let leads = cross.weight == Weight::Leading;
    let ring = format!("c-ring {}", class_of(cross.tone));
    svg.dot(&ring, centre, if leads { 4.2 } else { 3.4 });
    for arm in &arms {
        for part in plot.visible(arm) {
            canvas.line(&part, 1.0);
        }
    }
    canvas.line(
        &[
            Spot {
                x: centre.x - 4.0,
                ..centre
            },
            Spot {
                x: centre.x + 4.0,
                ..centre
            },
        ],
        4.0,
    );
}

fn contours(plot: &Plot<'_>, contour: &Contour, svg: &mut Svg<'_>, canvas: &mut Canvas) {
    let class = contour_class(contour);
    for (value, lines) in contour_lines(plot, contour) {
        let title = format!(
            "{} {}",
            contour.name,
            labels::with_unit(&labels::level_number(value, contour), &contour.unit)
        );
        let shape: String = lines
            .iter()
            .map(|line| svg::through(&svg::simplified(line, SLACK)))
            .collect();
        if !shape.is_empty() {
            svg.path(&class, &shape, Some(&title));
        }
        for line in &lines {
            for part in plot.visible(line) {
                canvas.line(&part, 1.0);
            }
        }
    }
}

/// The lines of each level of a contour series.
pub(crate) fn contour_lines(plot: &Plot<'_>, contour: &Contour) -> Vec<(f64, Vec<Vec<Spot>>)> {
    let sheet = plot.sheet(&contour.grid, contour.scale);
    let lines = |level: &f64| (*level, level::lines(&sheet, scaled(*level, contour.scale)));
    contour.levels.iter().map(lines).collect()
}

/// A colour field as filled levels, each laid over the one below.
fn field(plot: &Plot<'_>, grid: &Grid, scale: Scale, tone: Tone, svg: &mut Svg<'_>) {
    let Some(extent) = Extent::around(grid.values.concat()) else {
        return;
    };
    let axis = figure::Axis {
        scale,
        ..figure::Axis::linear("colour", "1")
    };
    let extent = crate::ticks::fitted(&axis, Some(extent), false);
    let sheet = plot.sheet(grid, scale);
    for index in 0..COLOURS {
        let level = key::step_value(index, extent, scale);
        let outlines = if index == 0 {
            level::region(&sheet, f64::MIN)
        } else {
            level::region(&sheet, level)
        };
        let shape: String = outlines
            .iter()
            .map(|line| svg::around(&svg::simplified(line, 2.0 * SLACK)))
            .collect();
        if !shape.is_empty() {
            svg.coloured(&shape, key::step_colour(index, tone));
        }
    }
}

fn recommended(
    plot: &Plot<'_>,
    at: Point,
    ellipse: Option<Ellipse>,
    svg: &mut Svg<'_>,
    canvas: &mut Canvas,
) {
    let centre = plot.at(at);
    if let Some(ellipse) = ellipse {
        let outline = ellipse_line(plot, at, ellipse);
        svg.path("c-sure", &svg::around(&outline), None);
        canvas.line(&outline, 1.5);
        if let Some(around) = labels::bounds(&outline) {
            canvas.block(&around, 1.0);
        }
    }
    svg.dot("c-choice", centre, 5.5);
    svg.dot("c-choice-dot", centre, 2.0);
    canvas.line(
        &[
            Spot {
                x: centre.x - 5.0,
                y: centre.y,
            },
            Spot {
                x: centre.x + 5.0,
                y: centre.y,
            },
        ],
        4.0,
    );
}

/// The outline of an uncertainty ellipse: the correlated pair `(cos t, r cos t + √(1-r²) sin t)`
/// stretched by the two half extents.
pub(crate) fn ellipse_line(plot: &Plot<'_>, at: Point, ellipse: Ellipse) -> Vec<Spot> {
    let r = ellipse.correlation;
    let rest = (1.0 - r * r).sqrt();
    let half = |value: f64, half: f64, scale: Scale| match scale {
        Scale::Linear => value + half,
        Scale::Log10 => value * (1.0 + half),
    };
    let centre = plot.at(at);
    let far = plot.spot(
        half(at.along, ellipse.half_along, plot.along.scale()),
        half(at.value, ellipse.half_value, plot.own.scale()),
    );
    let (dx, dy) = (far.x - centre.x, far.y - centre.y);
    let spot = |step: u32| {
        let t = f64::from(step) * std::f64::consts::TAU / 72.0;
        let (first, second) = (libm::cos(t), r * libm::cos(t) + rest * libm::sin(t));
        let (along, own) = if plot.upright {
            (second, first)
        } else {
            (first, second)
        };
        Spot {
            x: centre.x + dx * along,
            y: centre.y + dy * own,
        }
    };
    (0..72).map(spot).collect()
}
