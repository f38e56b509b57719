//! Axes, their ticks and names, named places, and the vessel beside them.

use crate::arrange::{Arrangement, Vessel};
use crate::key::{Key, keys};
use crate::marks;
use crate::plot::Plot;
use crate::ruler::{Frame, Ruler, Spot};
use crate::svg::{self, Anchor, Svg};
use crate::text::{self, LEADING, SIZE};
use crate::ticks::Tick;
use figure::{Figure, Layout, Panel};

/// Least distance between two names on one line, px.
const APART: f64 = 10.0;
/// The widest a name beside the panels may be, px.
const BESIDE: f64 = 92.0;

/// Draws all that is not data.
pub(crate) fn draw(figure: &Figure, arranged: &Arrangement<'_>, svg: &mut Svg<'_>) {
    for plot in &arranged.plots {
        grid(plot, svg);
        marks::fields(plot, svg);
        foot_and_side(plot, svg);
        head(figure, plot, svg);
    }
    match figure.layout {
        Layout::Stacked => names_above(figure, arranged, svg),
        Layout::SideBySide => names_to_the_right(figure, arranged, svg),
    }
    for place in &arranged.vessels {
        vessel(figure, arranged, place, svg);
    }
}

/// Room a panel's heading takes, px.
pub(crate) fn head_height(panel: &Panel, width: f64, upright: bool) -> f64 {
    let keys = keys(panel);
    if keys.is_empty() {
        return 24.0;
    }
    let beside = !upright && one_row(panel, &keys, width);
    let rows = keys.iter().map(Key::height);
    if beside {
        rows.fold(20.0, f64::max) + 6.0
    } else {
        22.0 + rows.sum::<f64>() + 4.0
    }
}

fn one_row(panel: &Panel, keys: &[Key<'_>], width: f64) -> bool {
    let all: f64 = keys.iter().map(|key| key.width() + 18.0).sum();
    text::width(&heading(panel), SIZE) + 20.0 + all <= width
}

fn heading(panel: &Panel) -> String {
    match &panel.name {
        Some(name) => format!("{name}: {}", panel.axis.label()),
        None => panel.axis.label(),
    }
}

fn grid(plot: &Plot<'_>, svg: &mut Svg<'_>) {
    let frame = &plot.frame;
    let mut rule = |ruler: &Ruler, ticks: &[Tick], upright: bool| {
        for tick in ticks.iter().filter(|tick| tick.label.is_some()) {
            let at = ruler.px(tick.value);
            let (from, to) = across(frame, at, upright);
            svg.line("c-grid", from, to);
        }
    };
    rule(&plot.along, &plot.along_ticks, !plot.upright);
    rule(&plot.own, &plot.own_ticks, plot.upright);
}

/// The ends of a line through a frame, vertical or horizontal.
fn across(frame: &Frame, at: f64, vertical: bool) -> (Spot, Spot) {
    if vertical {
        (
            Spot {
                x: at,
                y: frame.top,
            },
            Spot {
                x: at,
                y: frame.bottom(),
            },
        )
    } else {
        (
            Spot {
                x: frame.left,
                y: at,
            },
            Spot {
                x: frame.right(),
                y: at,
            },
        )
    }
}

fn foot_and_side(plot: &Plot<'_>, svg: &mut Svg<'_>) {
    let frame = &plot.frame;
    let corner = Spot {
        x: frame.left,
        y: frame.bottom(),
    };
    svg.line(
        "c-axis",
        Spot {
            x: frame.left,
            y: frame.top,
        },
        corner,
    );
    svg.line(
        "c-axis",
        corner,
        Spot {
            x: frame.right(),
            y: frame.bottom(),
        },
    );
    let (side, foot) = if plot.upright {
        (
            (&plot.along, &plot.along_ticks),
            (&plot.own, &plot.own_ticks),
        )
    } else {
        (
            (&plot.own, &plot.own_ticks),
            (&plot.along, &plot.along_ticks),
        )
    };
    let side_labelled = !plot.upright || plot.labels_shared;
    for tick in side.1 {
        let y = side.0.px(tick.value);
        let long = if tick.label.is_some() { 5.0 } else { 3.0 };
        svg.line(
            "c-axis",
            Spot {
                x: frame.left - long,
                y,
            },
            Spot { x: frame.left, y },
        );
        if let (Some(label), true) = (&tick.label, side_labelled) {
            let at = Spot {
                x: frame.left - 8.0,
                y: y + 4.0,
            };
            svg.text("c-soft", at, Anchor::End, label);
        }
    }
    let foot_labelled = plot.upright || plot.labels_shared;
    for tick in foot.1 {
        let x = foot.0.px(tick.value);
        let long = if tick.label.is_some() { 5.0 } else { 3.0 };
        let y = frame.bottom();
        svg.line("c-axis", Spot { x, y }, Spot { x, y: y + long });
        if let (Some(label), true) = (&tick.label, foot_labelled) {
            // A label at the end keeps away from those of the next panel.
            let half = text::width(label, SIZE) / 2.0;
            let x = x
                .min(frame.right() + 12.0 - half)
                .max(frame.left - 14.0 + half);
            svg.text("c-soft", Spot { x, y: y + 17.0 }, Anchor::Middle, label);
        }
    }
}

fn head(figure: &Figure, plot: &Plot<'_>, svg: &mut Svg<'_>) {
    let frame = &plot.frame;
    let below = |row: usize| Spot {
        x: frame.left,
        y: frame.bottom() + 33.0 + row as f64 * LEADING,
    };
    let room = frame.right() - plot.head.x;
    let baseline = plot.head.y + 11.0;
    if plot.upright {
        let lines = text::wrap(&plot.panel.axis.label(), SIZE, frame.width + 12.0);
        for (row, line) in lines.iter().enumerate() {
            svg.text("", below(row), Anchor::Start, line);
        }
        if plot.labels_shared {
            let widest = plot.along_ticks.iter().filter_map(|t| t.label.as_deref());
            let widest = widest.map(|l| text::width(l, SIZE)).fold(0.0, f64::max);
            let at = Spot {
                x: frame.left - 8.0 - widest,
                y: baseline,
            };
            svg.text("", at, Anchor::Start, &figure.shared.label());
        } else if let Some(name) = &plot.panel.name {
            svg.text(
                "",
                Spot {
                    x: frame.left,
                    y: baseline,
                },
                Anchor::Start,
                name,
            );
        }
    } else {
        let at = Spot {
            x: plot.head.x,
            y: baseline,
        };
        svg.text("", at, Anchor::Start, &heading(plot.panel));
        if plot.labels_shared {
            svg.text("", below(0), Anchor::Start, &figure.shared.label());
        }
    }
    let keys = keys(plot.panel);
    if !plot.upright && one_row(plot.panel, &keys, room) {
        let mut x = frame.right();
        for key in keys.iter().rev() {
            x -= key.width();
            key.draw(Spot { x, y: baseline }, svg);
            x -= 18.0;
        }
    } else {
        let mut y = baseline + 18.0;
        for key in &keys {
            let x = frame.left.min(frame.right() - key.width()).max(0.0);
            key.draw(Spot { x, y }, svg);
            y += key.height();
        }
    }
}

/// A name above the panels: where, how wide, on which row.
struct Name<'a> {
    words: &'a str,
    /// What it names, px.
    wish: f64,
    middle: f64,
    row: usize,
}

fn names<'a>(figure: &'a Figure, ruler: &Ruler) -> Vec<Name<'a>> {
    let mut wishes: Vec<(&str, f64)> = Vec::new();
    for place in &figure.places {
        wishes.push((
            &place.name,
            f64::midpoint(ruler.px(place.from), ruler.px(place.to)),
        ));
    }
    let shown = figure
        .moments
        .iter()
        .filter(|moment| ruler.shows(moment.at));
    wishes.extend(shown.map(|moment| (moment.name.as_str(), ruler.px(moment.at))));
    wishes.sort_by(|a, b| a.1.total_cmp(&b.1));
    let (left, right) = (
        ruler.px(ruler.extent.low).min(ruler.px(ruler.extent.high)),
        ruler.px(ruler.extent.low).max(ruler.px(ruler.extent.high)),
    );
    let mut ends: Vec<f64> = Vec::new();
    let mut names = Vec::new();
    for (words, wish) in wishes {
        let half = text::width(words, SIZE) / 2.0;
        let middle = wish.min(right + 8.0 - half).max(left - 20.0 + half);
        let free = ends.iter().position(|end| end + APART <= middle - half);
        let row = free.unwrap_or(ends.len());
        if row == ends.len() {
            ends.push(0.0);
        }
        ends[row] = middle + half;
        names.push(Name {
            words,
            wish,
            middle,
            row,
        });
    }
    names
}

/// How many lines the names above stacked panels take.
pub(crate) fn rows_of_names(figure: &Figure, ruler: &Ruler) -> usize {
    names(figure, ruler)
        .iter()
        .map(|name| name.row + 1)
        .max()
        .unwrap_or(0)
}

fn names_above(figure: &Figure, arranged: &Arrangement<'_>, svg: &mut Svg<'_>) {
    let (Some(first), Some(last)) = (arranged.plots.first(), arranged.plots.last()) else {
        return;
    };
    let ruler = &first.along;
    let base = first.head.y - 4.0;
    for at in borders(figure) {
        for plot in &arranged.plots {
            let (from, to) = across(&plot.frame, ruler.px(at), true);
            svg.line("c-place", from, to);
        }
    }
    for place in &figure.places {
        let (from, to) = (ruler.px(place.from), ruler.px(place.to));
        let (from, to) = (from.min(to) + 1.5, from.max(to) - 1.5);
        svg.line(
            "c-moment",
            Spot { x: from, y: base },
            Spot { x: to, y: base },
        );
    }
    for moment in figure.moments.iter().filter(|m| ruler.shows(m.at)) {
        let x = ruler.px(moment.at);
        svg.line(
            "c-moment",
            Spot { x, y: base },
            Spot {
                x,
                y: last.frame.bottom(),
            },
        );
    }
    for name in names(figure, ruler) {
        let y = base - 5.0 - name.row as f64 * LEADING;
        if name.row > 0 {
            let foot = Spot {
                x: name.wish,
                y: base,
            };
            svg.line(
                "c-lead",
                Spot {
                    x: name.wish,
                    y: y + 3.0,
                },
                foot,
            );
        }
        svg.text(
            "c-soft",
            Spot { x: name.middle, y },
            Anchor::Middle,
            name.words,
        );
    }
}

/// Where places begin and end, each once.
fn borders(figure: &Figure) -> Vec<f64> {
    let mut all: Vec<f64> = figure.places.iter().flat_map(|p| [p.from, p.to]).collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// Room for names to the right of side-by-side panels, px.
pub(crate) fn names_beside(figure: &Figure) -> f64 {
    let places = figure.places.iter().map(|place| &place.name);
    let all = places.chain(figure.moments.iter().map(|moment| &moment.name));
    let lines = all.flat_map(|name| text::wrap(name, SIZE, BESIDE));
    let widths = lines.map(|line| text::width(&line, SIZE) + 12.0);
    widths.fold(0.0, f64::max)
}

fn names_to_the_right(figure: &Figure, arranged: &Arrangement<'_>, svg: &mut Svg<'_>) {
    for plot in &arranged.plots {
        for at in borders(figure) {
            let (from, to) = across(&plot.frame, plot.along.px(at), false);
            svg.line("c-place", from, to);
        }
        for moment in figure.moments.iter().filter(|m| plot.along.shows(m.at)) {
            let (from, to) = across(&plot.frame, plot.along.px(moment.at), false);
            svg.line("c-moment", from, to);
        }
    }
    // Without room on the right the names stand on the hairlines, placed with those of the series.
    let Some(plot) = last_of_first_row(arranged).filter(|plot| plot.gutter > 0.0) else {
        return;
    };
    let middle = |from: f64, to: f64| f64::midpoint(plot.along.px(from), plot.along.px(to));
    let places = figure
        .places
        .iter()
        .map(|p| (p.name.as_str(), middle(p.from, p.to)));
    let shown = figure.moments.iter().filter(|m| plot.along.shows(m.at));
    let moments = shown.map(|m| (m.name.as_str(), plot.along.px(m.at)));
    for (words, y) in places.chain(moments) {
        let lines = text::wrap(words, SIZE, BESIDE);
        let top = y + 4.0 - (lines.len() - 1) as f64 * LEADING / 2.0;
        for (row, line) in lines.iter().enumerate() {
            let at = Spot {
                x: plot.frame.right() + 8.0,
                y: top + row as f64 * LEADING,
            };
            svg.text("c-soft", at, Anchor::Start, line);
        }
    }
}

fn last_of_first_row<'a, 'b>(arranged: &'a Arrangement<'b>) -> Option<&'a Plot<'b>> {
    let top = arranged.plots.first()?.frame.top;
    let row = |plot: &&Plot<'_>| (plot.frame.top - top).abs() < 0.5;
    arranged.plots.iter().take_while(row).last()
}

/// The vessel in thin outline at the scale of the vertical axis, filled as far as it is.
fn vessel(figure: &Figure, arranged: &Arrangement<'_>, place: &Vessel, svg: &mut Svg<'_>) {
    let frame = &place.frame;
    let here = |plot: &&Plot<'_>| (plot.frame.top - frame.top).abs() < 0.5;
    let (Some(outline), Some(plot)) = (&figure.outline, arranged.plots.iter().find(here)) else {
        return;
    };
    let profile: Vec<(f64, f64)> = outline
        .half_profile
        .iter()
        .map(|point| (point.along, point.value))
        .collect();
    let widest = profile.iter().map(|point| point.1).fold(0.0, f64::max);
    let (middle, room) = if place.halved {
        (frame.left + 1.0, frame.width - 16.0)
    } else {
        (
            frame.left + 1.0 + (frame.width - 16.0) / 2.0,
            (frame.width - 16.0) / 2.0,
        )
    };
    let scale = plot.along.length() / (plot.along.extent.high - plot.along.extent.low);
    let scale = scale.min(room / widest.max(1e-12));
    let closed = |half: &[(f64, f64)]| {
        let side = |sign: f64| {
            move |(height, radius): &(f64, f64)| Spot {
                x: middle + sign * radius * scale,
                y: plot.along.px(*height),
            }
        };
        let right = half.iter().map(side(1.0));
        let left = half
            .iter()
            .rev()
            .map(side(if place.halved { 0.0 } else { -1.0 }));
        svg::around(&right.chain(left).collect::<Vec<_>>())
    };
    if let Some(level) = outline.filled_to {
        let filled = filled(&profile, level);
        if filled.len() > 1 {
            svg.path("c-fill", &closed(&filled), None);
        }
    }
    svg.path("c-outline", &closed(&profile), None);
}

/// The part of a profile, given from the bottom up, that lies below a level.
fn filled(profile: &[(f64, f64)], level: f64) -> Vec<(f64, f64)> {
    let mut below: Vec<(f64, f64)> = Vec::new();
    for point in profile {
        if point.0 <= level {
            below.push(*point);
        } else if let Some(last) = below.last().copied() {
            let t = (level - last.0) / (point.0 - last.0);
            below.push((level, last.1 + t * (point.1 - last.1)));
            break;
        }
    }
    below
}
