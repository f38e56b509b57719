//! Where everything goes on the sheet.

use crate::gutter;
use crate::plot::{Hairline, Plot};
use crate::ruler::{Frame, Ruler, Spot};
use crate::text::{self, LEADING, SIZE};
use crate::ticks::{self, Run, Tick};
use crate::{Sheet, axes};
use figure::{Extent, Figure, Layout, Panel, Series};

/// Below this width a sheet is a hand-held screen: names stand inside, panels wrap.
const ROOMY: f64 = 560.0;
/// Room on the right when there is no gutter, px.
const RIGHT: f64 = 14.0;
/// Room below a plot for tick labels and the name of an axis, px.
const FOOT: f64 = 38.0;
/// The highest a cut to scale may be, px.
const HIGHEST_CUT: f64 = 380.0;
/// Between stacked panels, px.
const BETWEEN: f64 = 14.0;

/// Everything in its place.
pub(crate) struct Arrangement<'a> {
    pub(crate) plots: Vec<Plot<'a>>,
    /// Where the lowest mark ends, px.
    pub(crate) bottom: f64,
    /// The vessel beside each row of panels.
    pub(crate) vessels: Vec<Vessel>,
}

/// Where a vessel stands.
pub(crate) struct Vessel {
    pub(crate) frame: Frame,
    /// Only its right half is drawn, from its centre line on.
    pub(crate) halved: bool,
}

/// Arranges a figure below `top` px of heading.
pub(crate) fn arrange<'a>(figure: &'a Figure, sheet: &Sheet<'_>, top: f64) -> Arrangement<'a> {
    match figure.layout {
        Layout::Stacked => {
            let gutter = if sheet.width >= ROOMY {
                gutter::room(figure)
            } else {
                0.0
            };
            let first = stacked(figure, sheet, top, gutter);
            let used = first
                .plots
                .iter()
                .any(|plot| !gutter::outside(plot).is_empty());
            if gutter > 0.0 && !used {
                return stacked(figure, sheet, top, 0.0);
            }
            first
        }
        Layout::SideBySide => beside(figure, sheet, top),
    }
}

fn stacked<'a>(figure: &'a Figure, sheet: &Sheet<'_>, top: f64, gutter: f64) -> Arrangement<'a> {
    let shared = ticks::fitted(&figure.shared, figure.shared_extent(), false);
    let guess = narrowed(figure, shared, sheet.width - 46.0 - gutter.max(RIGHT));
    let single = figure.panels.len() == 1;
    let sized: Vec<_> = figure
        .panels
        .iter()
        .map(|panel| {
            let extent = own_extent(panel);
            let height = height(panel, extent, shared, guess, single);
            (
                panel,
                extent,
                height,
                ticks::ticks(&panel.axis, extent, height, Run::Up),
            )
        })
        .collect();
    let widths = sized.iter().map(|(_, _, _, ticks)| widest(ticks));
    let left = (widths.fold(0.0, f64::max) + 10.0).max(28.0);
    let width = narrowed(figure, shared, sheet.width - left - gutter.max(RIGHT));
    let ruler = Ruler::new(&figure.shared, shared, left, left + width);
    let along_ticks = ticks::ticks(&figure.shared, shared, width, Run::Across);
    let mut y = top + axes::rows_of_names(figure, &ruler) as f64 * LEADING + 8.0;
    let last = sized.len() - 1;
    let mut plots = Vec::new();
    for (index, (panel, extent, height, own_ticks)) in sized.into_iter().enumerate() {
        let head = Spot { x: 0.0, y };
        y += axes::head_height(panel, sheet.width - RIGHT, false);
        let frame = Frame {
            left,
            top: y,
            width,
            height,
        };
        plots.push(Plot {
            panel,
            frame,
            along: ruler,
            along_ticks: along_ticks.clone(),
            own: Ruler::new(&panel.axis, extent, frame.bottom(), frame.top),
            own_ticks,
            upright: false,
            labels_shared: index == last,
            head,
            gutter,
            hairlines: hairlines(figure, false),
        });
        y += height + BETWEEN;
    }
    Arrangement {
        plots,
        bottom: y - BETWEEN + FOOT,
        vessels: Vec::new(),
    }
}

/// The width of stacked panels, less where a cut to scale would become too high.
fn narrowed(figure: &Figure, shared: Extent, width: f64) -> f64 {
    let cuts = figure.panels.iter().filter(|panel| panel.to_scale);
    let limits = cuts.map(|panel| {
        let own = own_extent(panel);
        HIGHEST_CUT * (shared.high - shared.low) / (own.high - own.low)
    });
    limits.fold(width, f64::min).max(120.0)
}

/// How high a stacked panel is.
fn height(panel: &Panel, own: Extent, shared: Extent, width: f64, single: bool) -> f64 {
    if panel.to_scale {
        return (width * (own.high - own.low) / (shared.high - shared.low))
            .clamp(40.0, 2.0 * HIGHEST_CUT);
    }
    let maps = |s: &Series| matches!(s, Series::Contours(_) | Series::Field { .. });
    let map = panel.series.iter().any(maps);
    let usual = match (single, map) {
        (true, true) => (0.66 * width).clamp(260.0, 400.0),
        (true, false) => (0.5 * width).clamp(200.0, 320.0),
        (false, _) => (0.24 * width).clamp(110.0, 150.0),
    };
    usual * panel.share.clamp(0.3, 4.0)
}

fn beside<'a>(figure: &'a Figure, sheet: &Sheet<'_>, top: f64) -> Arrangement<'a> {
    let roomy = sheet.width >= ROOMY;
    let tall = if roomy { 340.0 } else { 300.0 };
    let shared = ticks::fitted(&figure.shared, figure.shared_extent(), false);
    let usual = ticks::ticks(&figure.shared, shared, tall, Run::Up);
    let vessel = vessel_width(figure, shared, tall, roomy);
    let left = vessel + widest(&usual) + 12.0;
    let right = if roomy {
        axes::names_beside(figure).max(RIGHT)
    } else {
        RIGHT
    };
    let gap = if roomy { 34.0 } else { 26.0 };
    let room = sheet.width - left - right;
    let natural = |panel: &Panel| {
        let own = own_extent(panel);
        let drawn = (own.high - own.low) / (shared.high - shared.low) * tall;
        panel.to_scale.then_some(drawn)
    };
    let mut y = top + 4.0;
    let (mut plots, mut vessels) = (Vec::new(), Vec::new());
    for row in rows(&figure.panels, room, gap, roomy, natural) {
        let free = room - gap * (row.len() - 1) as f64;
        let fixed: f64 = row.iter().filter_map(&natural).sum();
        // A cut to scale that is wider than the sheet makes its row lower.
        let shrink = (free / fixed.max(1.0)).min(1.0);
        let tall = tall * shrink;
        let heads = row.iter().map(|panel| axes::head_height(panel, room, true));
        let frame_top = y + heads.fold(0.0, f64::max).max(22.0);
        let others = row.iter().filter(|panel| natural(panel).is_none());
        let shares: f64 = others.map(|panel| panel.share).sum();
        let mut x = left;
        let mut foot: f64 = FOOT;
        for (index, panel) in row.iter().enumerate() {
            let by_share = (free - fixed * shrink) * panel.share / shares.max(1e-9);
            let frame = Frame {
                left: x,
                top: frame_top,
                width: natural(panel).map_or(by_share, |drawn| drawn * shrink),
                height: tall,
            };
            let extent = own_extent(panel);
            let name = text::wrap(&panel.axis.label(), SIZE, frame.width + gap / 2.0);
            foot = foot.max(FOOT - LEADING + name.len() as f64 * LEADING);
            plots.push(Plot {
                panel,
                frame,
                along: Ruler::new(&figure.shared, shared, frame.bottom(), frame.top),
                along_ticks: ticks::ticks(&figure.shared, shared, tall, Run::Up),
                own: Ruler::new(&panel.axis, extent, frame.left, frame.right()),
                own_ticks: ticks::ticks(&panel.axis, extent, frame.width, Run::Across),
                upright: true,
                labels_shared: index == 0,
                head: Spot { x, y },
                gutter: if roomy { right } else { 0.0 },
                hairlines: hairlines(figure, !roomy && plots.len() + 1 == row.len()),
            });
            x = frame.right() + gap;
        }
        vessels.push(Vessel {
            frame: Frame {
                left: 0.0,
                top: frame_top,
                width: vessel,
                height: tall,
            },
            halved: !roomy,
        });
        y = frame_top + tall + foot + 8.0;
    }
    Arrangement {
        plots,
        bottom: y - 8.0,
        vessels,
    }
}

/// The hairlines of places and moments, with their names where the plot has to carry them.
fn hairlines(figure: &Figure, named: bool) -> Vec<Hairline<'_>> {
    let hairline = |name, at| Hairline {
        at,
        name: Some(name).filter(|_| named),
    };
    let begins = figure
        .places
        .iter()
        .map(|place| hairline(place.name.as_str(), place.from));
    let ends = figure.places.iter().map(|place| Hairline {
        at: place.to,
        name: None,
    });
    let moments = figure
        .moments
        .iter()
        .map(|moment| hairline(moment.name.as_str(), moment.at));
    begins.chain(ends).chain(moments).collect()
}

/// Panels in rows, each row as full as the narrowest widths allow.
fn rows(
    panels: &[Panel],
    room: f64,
    gap: f64,
    roomy: bool,
    natural: impl Fn(&Panel) -> Option<f64>,
) -> Vec<&[Panel]> {
    let least = if roomy { 120.0 } else { 104.0 };
    let mut rows = Vec::new();
    let (mut first, mut used) = (0, 0.0);
    for (index, panel) in panels.iter().enumerate() {
        let needs = natural(panel).unwrap_or(least);
        if index > first && used + gap + needs > room {
            rows.push(&panels[first..index]);
            (first, used) = (index, 0.0);
        }
        used += needs + if index > first { gap } else { 0.0 };
    }
    rows.push(&panels[first..]);
    rows
}

/// Room the vessel takes at the scale of the vertical axis, px; 0 without one. Where there is
/// little room only its right half is drawn.
fn vessel_width(figure: &Figure, shared: Extent, tall: f64, roomy: bool) -> f64 {
    let Some(outline) = &figure.outline else {
        return 0.0;
    };
    let radii = outline.half_profile.iter().map(|point| point.value);
    let widest = radii.fold(0.0, f64::max) * tall / (shared.high - shared.low);
    let drawn = if roomy { 2.0 * widest } else { widest };
    drawn.min(120.0) + 16.0
}

fn own_extent(panel: &Panel) -> Extent {
    let filled = |s: &Series| matches!(s, Series::Contours(_) | Series::Field { .. });
    let air = !panel.to_scale && !panel.series.iter().any(filled);
    ticks::fitted(&panel.axis, panel.extent(), air)
}

fn widest(ticks: &[Tick]) -> f64 {
    let labels = ticks.iter().filter_map(|tick| tick.label.as_deref());
    labels
        .map(|label| text::width(label, SIZE))
        .fold(0.0, f64::max)
}
