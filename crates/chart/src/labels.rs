//! Names on the plot itself, each in the emptiest place near what it names.

use crate::canvas::Canvas;
use crate::gutter;
use crate::marks::{band_edges, contour_lines, ellipse_line, limit_line};
use crate::number;
use crate::plot::Plot;
use crate::ruler::{Frame, Spot};
use crate::svg::{self, Anchor, Svg, class_of};
use crate::text::{self, LEADING, SIZE};
use figure::{Contour, Grade, Scale, Series, Tone, Weight};

/// The widest a name on the plot may be before it wraps, px.
const WIDEST: f64 = 128.0;
/// Room a sample of a band takes before its name, px.
pub(crate) const SWATCH: f64 = 19.0;
/// Places tried along a line.
const TRIES: usize = 48;
/// What a cell of another name costs, against 1 for a cell of a line.
const NAME_WEIGHT: f64 = 12.0;

/// A name with the mark of an estimate where it is one.
pub(crate) fn marked(name: &str, grade: Grade) -> String {
    if grade.is_estimate() {
        format!("≈ {name} ({})", grade.word())
    } else {
        name.to_owned()
    }
}

/// A number and its unit, short enough for a line.
pub(crate) fn with_unit(number: &str, unit: &str) -> String {
    if unit == "1" {
        number.to_owned()
    } else {
        format!("{number}\u{202f}{unit}")
    }
}

/// The number on a contour line; on a linear scale all lines have the same decimals.
pub(crate) fn level_number(value: f64, contour: &Contour) -> String {
    let decimals = |written: &str| written.find('.').map_or(0, |dot| written.len() - dot - 1);
    let most = contour
        .levels
        .iter()
        .map(|level| decimals(&number::short(*level)));
    match contour.scale {
        Scale::Linear => number::fixed(value, most.max().unwrap_or(0)),
        Scale::Log10 => number::short(value),
    }
}

/// A place for a name: its box, and what speaks against it besides ink.
type Place = (Frame, f64);

/// Draws the names of all series of a plot.
pub(crate) fn draw(plot: &Plot<'_>, svg: &mut Svg<'_>, mut canvas: Canvas) {
    let outside = gutter::outside(plot);
    gutter::draw(plot, &outside, svg);
    let series = plot.panel.series.iter().enumerate();
    let inside: Vec<&Series> = series
        .filter(|(index, one)| !outside.contains(index) && !one.goes_on())
        .map(|(_, one)| one)
        .collect();
    for line in &plot.hairlines {
        canvas.line(&plot.across(line.at), 1.0);
    }
    for line in &plot.hairlines {
        if let Some(words) = line.name {
            hairline(plot, words, plot.across(line.at), &mut canvas, svg);
        }
    }
    for rank in 0..=4 {
        for one in inside.iter().filter(|one| rank_of(one) == rank) {
            match one {
                Series::Contours(contour) => on_contours(plot, contour, &mut canvas, svg),
                Series::Field { .. } => {}
                other => name(plot, other, &mut canvas, svg),
            }
        }
    }
}

/// The name of a position on a vertical shared axis, on its hairline.
fn hairline(plot: &Plot<'_>, words: &str, ends: [Spot; 2], canvas: &mut Canvas, svg: &mut Svg<'_>) {
    let places = beside_line(&ends, text::width(words, SIZE), LEADING);
    if let Some(found) = emptiest(plot, canvas, &places) {
        let y = found.top + 0.78 * LEADING;
        svg.text(
            "c-halo c-soft",
            Spot { x: found.left, y },
            Anchor::Start,
            words,
        );
        canvas.block(&found, NAME_WEIGHT);
    }
}

/// Names with the least choice come first.
fn rank_of(series: &Series) -> usize {
    match series {
        Series::Cross(cross) if cross.weight != Weight::Leading => 1,
        Series::Cross(_) | Series::Recommended { .. } | Series::Note { .. } => 0,
        Series::Measured { .. } | Series::Line { .. } => 1,
        Series::Limit { .. } | Series::Region { .. } => 2,
        Series::Band { .. } => 3,
        Series::Contours(_) | Series::Field { .. } => 4,
    }
}

fn name(plot: &Plot<'_>, series: &Series, canvas: &mut Canvas, svg: &mut Svg<'_>) {
    let (words, class) = wording(plot, series);
    let indent = swatch_of(series).map_or(0.0, |_| SWATCH);
    // Crosses stand close, and the letters of some screens run wider.
    let slack = match series {
        Series::Cross(_) => 1.12,
        _ => 1.0,
    };
    let within = |room: f64| {
        let lines = text::wrap(&words, SIZE, room);
        let (width, height) = (
            text::widest(&lines, SIZE) * slack + indent,
            lines.len() as f64 * LEADING,
        );
        let places = places(plot, series, width, height);
        emptiest(plot, canvas, &places).map(|found| (lines, found))
    };
    // A name that finds no place beside its line on a narrow plot stands in two or three lines.
    let room = WIDEST.min(plot.frame.width * 0.8);
    let Some((lines, found)) = within(room).or_else(|| within(0.45 * plot.frame.width)) else {
        return;
    };
    match series {
        Series::Note { at, .. } => lead(plot.at(*at), &found, 0.0, svg),
        Series::Cross(cross) => lead(plot.at(cross.at), &found, 14.0, svg),
        _ => {}
    }
    swatch(
        series,
        Spot {
            x: found.left,
            y: found.top + LEADING / 2.0,
        },
        svg,
    );
    for (row, line) in lines.iter().enumerate() {
        let at = Spot {
            x: found.left + indent,
            y: found.top + (row as f64 + 0.78) * LEADING,
        };
        svg.text(&format!("c-halo {class}"), at, Anchor::Start, line);
    }
    canvas.block(&found, NAME_WEIGHT);
}

/// A hairline from a spot to its name, where the name is further away than `near` px.
fn lead(spot: Spot, name: &Frame, near: f64, svg: &mut Svg<'_>) {
    let to = nearest(name, spot);
    if libm::hypot(to.x - spot.x, to.y - spot.y) > near {
        svg.line("c-lead", spot, to);
    }
}

/// The tone and the hatching of a sample of a band, which stands before its name.
fn swatch_of(series: &Series) -> Option<(Tone, bool)> {
    match series {
        Series::Band { tone, grade, .. } => Some((*tone, grade.is_estimate())),
        _ => None,
    }
}

/// Draws a sample of a band with the middle of its left side at a spot; nothing for others.
pub(crate) fn swatch(series: &Series, at: Spot, svg: &mut Svg<'_>) {
    let Some((tone, hatched)) = swatch_of(series) else {
        return;
    };
    let corners = corners(&Frame {
        left: at.x,
        top: at.y - 4.5,
        width: SWATCH - 5.0,
        height: 9.0,
    });
    let shape = svg::around(&corners);
    if hatched {
        svg.hatched(tone, &shape, series.name());
        svg.path(&format!("{} c-edge", class_of(tone)), &shape, None);
    } else {
        svg.path(&format!("{} c-tint", class_of(tone)), &shape, None);
    }
}

/// Below this width of a plot the word of a grade stands in the caption, and a name has "≈" alone.
const WORDY: f64 = 420.0;

fn wording(plot: &Plot<'_>, series: &Series) -> (String, String) {
    match series {
        Series::Cross(cross) => {
            let words = if cross.grade.is_estimate() && plot.frame.width < WORDY {
                format!("≈ {}", cross.name)
            } else {
                marked(&cross.name, cross.grade)
            };
            (words, class_of(cross.tone))
        }
        Series::Line {
            name, grade, tone, ..
        }
        | Series::Band {
            name, grade, tone, ..
        } => (marked(name, *grade), class_of(*tone)),
        Series::Measured { name, tone, .. } | Series::Region { name, tone, .. } => {
            (name.clone(), class_of(*tone))
        }
        Series::Limit { name, .. } => (name.clone(), "c-stop".to_owned()),
        other => (other.name().to_owned(), String::new()),
    }
}

/// The place with the least ink under and around it; `None` when no place lies on the plot.
fn emptiest(plot: &Plot<'_>, canvas: &Canvas, places: &[Place]) -> Option<Frame> {
    let room = grown(&plot.frame, 0.5);
    let mut best: Option<(f64, Frame)> = None;
    for (frame, toll) in places.iter().filter(|(frame, _)| room.encloses(frame)) {
        let ink = canvas.under(&grown(frame, -1.0)) * 2.0;
        let near = canvas.under(&grown(frame, 7.0)) * 0.5;
        let cost = toll + ink + near;
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, *frame));
        }
    }
    best.map(|(_, frame)| frame)
}

fn places(plot: &Plot<'_>, series: &Series, width: f64, height: f64) -> Vec<Place> {
    let along = |spots: &[Spot]| {
        let parts = plot.visible(spots);
        let beside = |part: &Vec<Spot>| beside_line(part, width, height);
        parts.iter().flat_map(beside).collect::<Vec<Place>>()
    };
    match series {
        Series::Line { points, .. } => along(&plot.spots(points)),
        Series::Band { points, .. } => {
            let (low, high) = band_edges(plot, points);
            let mut all = along(&high);
            all.extend(along(&low));
            all
        }
        Series::Limit { value, .. } => along(&limit_line(plot, *value)),
        Series::Measured { points, .. } => points
            .iter()
            .flat_map(|p| {
                let spot = plot.spot(p.along, p.value);
                let near = around(spot, 7.0, 5.0, width, height);
                let far = around(spot, 12.0, 14.0, width, height);
                near.into_iter()
                    .chain(far.into_iter().map(|(frame, toll)| (frame, toll + 3.0)))
            })
            .collect(),
        Series::Recommended { at, ellipse, .. } => {
            let centre = plot.at(*at);
            let (mut dx, mut dy) = (9.0_f64, 7.0_f64);
            if let Some(ellipse) = ellipse {
                for spot in ellipse_line(plot, *at, *ellipse) {
                    dx = dx.max((spot.x - centre.x).abs() + 4.0);
                    dy = dy.max((spot.y - centre.y).abs() + 3.0);
                }
            }
            around(centre, dx, dy, width, height)
        }
        Series::Note { at, .. } => {
            let rings = [(18.0, 12.0), (34.0, 22.0), (56.0, 36.0)];
            ringed(plot.at(*at), &rings, 4.0, width, height)
        }
        Series::Cross(cross) => {
            let rings = [(8.0, 6.0), (9.0, 18.0), (26.0, 30.0), (50.0, 46.0)];
            ringed(plot.at(cross.at), &rings, 10.0, width, height)
        }
        Series::Region { outline, .. } => inside(plot, &plot.spots(outline), width, height),
        Series::Contours(_) | Series::Field { .. } => Vec::new(),
    }
}

/// Boxes beside a line, the later the better.
fn beside_line(line: &[Spot], width: f64, height: f64) -> Vec<Place> {
    let length = arc(line);
    let mut all = Vec::new();
    for index in 0..=TRIES {
        let share = index as f64 / TRIES as f64;
        if let Some((spot, _)) = along(line, share * length) {
            for (frame, toll) in around(spot, 6.0, 3.5, width, height) {
                all.push((frame, toll + 3.0 * (1.0 - share)));
            }
        }
    }
    all
}

/// Boxes around a spot in rings, each ring by `toll` worse than the one inside it.
fn ringed(spot: Spot, rings: &[(f64, f64)], toll: f64, width: f64, height: f64) -> Vec<Place> {
    let ring = |(index, (dx, dy)): (usize, &(f64, f64))| {
        let all = around(spot, *dx, *dy, width, height);
        all.into_iter()
            .map(move |(frame, own)| (frame, own + toll * index as f64))
    };
    rings.iter().enumerate().flat_map(ring).collect()
}

/// Boxes around a spot, `dx` and `dy` px away from it.
fn around(spot: Spot, dx: f64, dy: f64, width: f64, height: f64) -> Vec<Place> {
    let (left, middle, right) = (spot.x - dx - width, spot.x - width / 2.0, spot.x + dx);
    let (above, level, below) = (spot.y - dy - height, spot.y - height / 2.0, spot.y + dy);
    [
        (right, level, 0.0),
        (middle, above, 0.2),
        (right, above, 0.4),
        (left, level, 0.5),
        (middle, below, 0.6),
        (right, below, 0.8),
        (left, above, 0.8),
        (left, below, 1.0),
    ]
    .into_iter()
    .map(|(left, top, toll)| {
        (
            Frame {
                left,
                top,
                width,
                height,
            },
            toll,
        )
    })
    .collect()
}

/// Boxes inside an area: wholly inside is better, and near its middle.
fn inside(plot: &Plot<'_>, outline: &[Spot], width: f64, height: f64) -> Vec<Place> {
    let shown: Vec<Spot> = outline
        .iter()
        .map(|spot| Spot {
            x: spot.x.clamp(plot.frame.left, plot.frame.right()),
            y: spot.y.clamp(plot.frame.top, plot.frame.bottom()),
        })
        .collect();
    let Some(around) = bounds(&shown) else {
        return Vec::new();
    };
    let middle = Spot {
        x: around.left + around.width / 2.0,
        y: around.top + around.height / 2.0,
    };
    let mut all = Vec::new();
    for row in 0..=16 {
        for column in 0..=16 {
            let centre = Spot {
                x: around.left + around.width * f64::from(column) / 16.0,
                y: around.top + around.height * f64::from(row) / 16.0,
            };
            let frame = Frame {
                left: centre.x - width / 2.0,
                top: centre.y - height / 2.0,
                width,
                height,
            };
            let missing = corners(&grown(&frame, 2.0))
                .iter()
                .filter(|corner| !encloses(&shown, **corner))
                .count();
            let away = libm::hypot(centre.x - middle.x, centre.y - middle.y);
            all.push((frame, 25.0 * missing as f64 + 0.03 * away));
        }
    }
    all
}

/// Numbers on contour lines, turned along them; long lines carry one, very long ones two.
fn on_contours(plot: &Plot<'_>, contour: &Contour, canvas: &mut Canvas, svg: &mut Svg<'_>) {
    let class = format!("c-halo c-wide {}", class_of(contour.tone));
    for (value, lines) in contour_lines(plot, contour) {
        let number = with_unit(&level_number(value, contour), &contour.unit);
        let named = match contour.levels.len() {
            1 => format!("{} {number}", contour.name),
            _ => number,
        };
        let words = if contour.grade.is_estimate() {
            format!("≈ {named}")
        } else {
            named
        };
        let width = text::width(&words, SIZE);
        let longest = lines
            .iter()
            .flat_map(|line| plot.visible(line))
            .max_by(|a, b| arc(a).total_cmp(&arc(b)));
        let Some(line) = longest else { continue };
        if let Some((spot, degrees, frame)) = on_line(plot, &line, width, canvas) {
            svg.turned(&class, spot, degrees, &words);
            canvas.block(&frame, NAME_WEIGHT);
        }
    }
}

/// The best place for a number on a line: straight, empty, and away from the border.
fn on_line(
    plot: &Plot<'_>,
    line: &[Spot],
    width: f64,
    canvas: &Canvas,
) -> Option<(Spot, f64, Frame)> {
    let length = arc(line);
    if length < width * 1.4 {
        return None;
    }
    let mut best: Option<(f64, Spot, f64, Frame)> = None;
    for index in 1..TRIES {
        let at = length * index as f64 / TRIES as f64;
        let ends = (along(line, at - width / 2.0), along(line, at + width / 2.0));
        let (Some((spot, _)), (Some((from, _)), Some((to, _)))) = (along(line, at), ends) else {
            continue;
        };
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let bend = 1.0 - libm::hypot(dx, dy) / width;
        let mut degrees = libm::atan2(dy, dx).to_degrees();
        if degrees.abs() > 90.0 {
            degrees -= 180.0_f64.copysign(degrees);
        }
        let (half_x, half_y) = (dx.abs() / 2.0 + 5.0, dy.abs() / 2.0 + 6.0);
        let frame = Frame {
            left: spot.x - half_x,
            top: spot.y - half_y,
            width: 2.0 * half_x,
            height: 2.0 * half_y,
        };
        if !plot.frame.encloses(&grown(&frame, 1.0)) {
            continue;
        }
        let off_centre = (index as f64 / TRIES as f64 - 0.5).abs();
        let steep = degrees.abs() / 90.0;
        let cost = canvas.under(&frame) + 200.0 * bend + 10.0 * off_centre + 8.0 * steep;
        if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
            best = Some((cost, spot, degrees, frame));
        }
    }
    best.map(|(_, spot, degrees, frame)| (spot, degrees, frame))
}

fn arc(line: &[Spot]) -> f64 {
    let piece = |p: &[Spot]| libm::hypot(p[1].x - p[0].x, p[1].y - p[0].y);
    line.windows(2).map(piece).sum()
}

/// The spot at a length along a line, and the index of the piece it lies on; `None` beyond its ends.
fn along(line: &[Spot], at: f64) -> Option<(Spot, usize)> {
    let mut left = at;
    if at < -1e-9 {
        return None;
    }
    for (index, pair) in line.windows(2).enumerate() {
        let long = libm::hypot(pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        if left <= long + 1e-9 && long > 0.0 {
            let t = left / long;
            let spot = Spot {
                x: pair[0].x + t * (pair[1].x - pair[0].x),
                y: pair[0].y + t * (pair[1].y - pair[0].y),
            };
            return Some((spot, index));
        }
        left -= long;
    }
    None
}

fn grown(frame: &Frame, by: f64) -> Frame {
    Frame {
        left: frame.left - by,
        top: frame.top - by,
        width: (frame.width + 2.0 * by).max(0.0),
        height: (frame.height + 2.0 * by).max(0.0),
    }
}

fn corners(frame: &Frame) -> [Spot; 4] {
    let (left, right, top, bottom) = (frame.left, frame.right(), frame.top, frame.bottom());
    [(left, top), (right, top), (right, bottom), (left, bottom)].map(|(x, y)| Spot { x, y })
}

/// The point of a frame nearest to a spot.
fn nearest(frame: &Frame, spot: Spot) -> Spot {
    Spot {
        x: spot.x.clamp(frame.left - 2.0, frame.right() + 2.0),
        y: spot.y.clamp(frame.top, frame.bottom()),
    }
}

pub(crate) fn bounds(spots: &[Spot]) -> Option<Frame> {
    let first = spots.first()?;
    let (mut low, mut high) = (*first, *first);
    for spot in spots {
        low = Spot {
            x: low.x.min(spot.x),
            y: low.y.min(spot.y),
        };
        high = Spot {
            x: high.x.max(spot.x),
            y: high.y.max(spot.y),
        };
    }
    Some(Frame {
        left: low.x,
        top: low.y,
        width: high.x - low.x,
        height: high.y - low.y,
    })
}

/// Whether a closed line goes around a spot (even-odd rule).
fn encloses(outline: &[Spot], spot: Spot) -> bool {
    let mut inside = false;
    let mut last = match outline.last() {
        Some(last) => *last,
        None => return false,
    };
    for here in outline {
        if (here.y > spot.y) != (last.y > spot.y) {
            let x = last.x + (spot.y - last.y) / (here.y - last.y) * (here.x - last.x);
            if spot.x < x {
                inside = !inside;
            }
        }
        last = *here;
    }
    inside
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_spots_along_a_line() {
        let line = [
            Spot { x: 0.0, y: 0.0 },
            Spot { x: 3.0, y: 4.0 },
            Spot { x: 3.0, y: 10.0 },
        ];
        assert!((arc(&line) - 11.0).abs() < 1e-12);
        assert_eq!(along(&line, 7.0), Some((Spot { x: 3.0, y: 6.0 }, 1)));
        assert_eq!(along(&line, 12.0), None);
    }

    #[test]
    fn exact_inside_and_outside() {
        let triangle = [
            Spot { x: 0.0, y: 0.0 },
            Spot { x: 10.0, y: 0.0 },
            Spot { x: 0.0, y: 10.0 },
        ];
        assert!(encloses(&triangle, Spot { x: 2.0, y: 2.0 }));
        assert!(!encloses(&triangle, Spot { x: 8.0, y: 8.0 }));
    }

    #[test]
    fn exact_estimates_are_marked() {
        assert_eq!(marked("mean", Grade::Computed), "mean");
        assert_eq!(
            marked("mean", Grade::CommonPractice),
            "≈ mean (common practice)"
        );
    }
}
