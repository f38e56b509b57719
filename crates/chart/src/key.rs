//! Keys above a panel: what its contours are lines of, and the scale of its colours.

use crate::colour;
use crate::labels::marked;
use crate::marks::contour_class;
use crate::plot::scaled;
use crate::ruler::{Ruler, Spot};
use crate::svg::{self, Anchor, Svg};
use crate::text::{self, SIZE};
use crate::ticks::{self, Run};
use figure::{Axis, Extent, Panel, Scale, Series, Tone};

/// Length of the scale of a colour field, px.
const SCALE_LENGTH: f64 = 132.0;
/// Steps in a colour field and its scale.
pub(crate) const COLOURS: usize = 32;
/// What the contours or the colours of a panel mean.
pub(crate) enum Key<'a> {
    Contours {
        words: String,
        class: String,
    },
    Colours {
        words: String,
        extent: Extent,
        scale: Scale,
        unit: &'a str,
        tone: Tone,
    },
}

/// The keys of a panel, each once.
pub(crate) fn keys(panel: &Panel) -> Vec<Key<'_>> {
    let mut found: Vec<Key<'_>> = Vec::new();
    for one in panel.series.iter().filter_map(key) {
        if !found.iter().any(|other| other.words() == one.words()) {
            found.push(one);
        }
    }
    found
}

fn key(series: &Series) -> Option<Key<'_>> {
    match series {
        // A single line carries its name itself.
        Series::Contours(contour) if contour.levels.len() > 1 => Some(Key::Contours {
            words: marked(
                &format!("{} / {}", contour.name, contour.unit),
                contour.grade,
            ),
            class: contour_class(contour),
        }),
        Series::Field {
            name,
            unit,
            grid,
            scale,
            tone,
        } => Extent::around(grid.values.concat()).map(|extent| Key::Colours {
            words: format!("{name} / {unit}"),
            extent,
            scale: *scale,
            unit,
            tone: *tone,
        }),
        _ => None,
    }
}

impl Key<'_> {
    pub(crate) fn words(&self) -> &str {
        match self {
            Key::Contours { words, .. } | Key::Colours { words, .. } => words,
        }
    }

    /// Room it takes to the right, px.
    pub(crate) fn width(&self) -> f64 {
        text::width(self.words(), SIZE)
            + match self {
                Key::Contours { .. } => 26.0,
                Key::Colours { .. } => 18.0 + SCALE_LENGTH,
            }
    }

    /// Room it takes below, px.
    pub(crate) fn height(&self) -> f64 {
        match self {
            Key::Contours { .. } => 17.0,
            Key::Colours { .. } => 28.0,
        }
    }

    /// Draws it from a baseline on.
    pub(crate) fn draw(&self, at: Spot, svg: &mut Svg<'_>) {
        match self {
            Key::Contours { words, class } => {
                let y = at.y - 4.0;
                svg.line(class, Spot { x: at.x, y }, Spot { x: at.x + 20.0, y });
                let beside = Spot {
                    x: at.x + 26.0,
                    y: at.y,
                };
                svg.text("", beside, Anchor::Start, words);
            }
            Key::Colours {
                words,
                extent,
                scale,
                unit,
                tone,
            } => {
                svg.text("", at, Anchor::Start, words);
                let left = at.x + text::width(words, SIZE) + 10.0;
                let axis = Axis {
                    scale: *scale,
                    ..Axis::linear("colour", *unit)
                };
                let shown = ticks::fitted(&axis, Some(*extent), false);
                let ruler = Ruler::new(&axis, shown, left, left + SCALE_LENGTH);
                colour_scale(left, at.y - 9.0, *tone, svg);
                for tick in ticks::ticks(&axis, shown, SCALE_LENGTH, Run::Across) {
                    let x = ruler.px(tick.value);
                    let y = at.y - 1.0;
                    svg.line("c-axis", Spot { x, y }, Spot { x, y: y + 3.0 });
                    if let Some(label) = tick.label {
                        let at = Spot { x, y: at.y + 13.0 };
                        svg.text("c-small", at, Anchor::Middle, &label);
                    }
                }
            }
        }
    }
}

fn colour_scale(left: f64, top: f64, tone: Tone, svg: &mut Svg<'_>) {
    let step = SCALE_LENGTH / COLOURS as f64;
    for index in 0..COLOURS {
        // Each block reaches under the next, so that no paper shows between them.
        let from = left + index as f64 * step;
        let to = left + SCALE_LENGTH;
        let corners = [
            Spot { x: from, y: top },
            Spot { x: to, y: top },
            Spot {
                x: to,
                y: top + 8.0,
            },
            Spot {
                x: from,
                y: top + 8.0,
            },
        ];
        svg.coloured(&svg::around(&corners), step_colour(index, tone));
    }
}

/// The colour of one step of a colour field.
pub(crate) fn step_colour(index: usize, tone: Tone) -> [u8; 3] {
    let share = (index as f64 + 0.5) / COLOURS as f64;
    match tone {
        Tone::Water | Tone::Ink => colour::water(share),
        Tone::Heat | Tone::Energy => colour::heat(share),
    }
}

/// The value at which a step of a colour field begins.
pub(crate) fn step_value(index: usize, extent: Extent, scale: Scale) -> f64 {
    let (low, high) = (scaled(extent.low, scale), scaled(extent.high, scale));
    low + (high - low) * index as f64 / COLOURS as f64
}
