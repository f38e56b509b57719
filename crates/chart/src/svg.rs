//! The writer of SVG text: fixed decimals, escaped words, nothing else.

use crate::ruler::{Frame, Spot};
use crate::text::escape;
use crate::{STYLE, Sheet};
use figure::{Figure, Series, Tone};
use std::fmt::Write as _;

/// An SVG element being written.
pub(crate) struct Svg<'a> {
    out: String,
    id: &'a str,
    clips: usize,
}

/// From which side a text is anchored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

impl<'a> Svg<'a> {
    pub(crate) fn open(title: &str, described: &str, sheet: &Sheet<'a>, height: f64) -> Self {
        let (width, height) = (px(sheet.width), px(height.ceil()));
        let id = sheet.id;
        let mut out = format!(
            "<svg class=\"c-chart\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" \
             width=\"{width}\" height=\"{height}\" role=\"img\" aria-labelledby=\"{id}-t {id}-d\">\n\
             <title id=\"{id}-t\">{}</title>\n<desc id=\"{id}-d\">{}</desc>\n",
            escape(title),
            escape(described),
        );
        if sheet.alone {
            let _ = write!(
                out,
                "<style>\n{STYLE}</style>\n<rect class=\"c-sheet\" width=\"{width}\" height=\"{height}\"/>\n"
            );
        }
        Self { out, id, clips: 0 }
    }

    pub(crate) fn close(mut self) -> String {
        self.out.push_str("</svg>\n");
        self.out
    }

    /// A straight line.
    pub(crate) fn line(&mut self, class: &str, from: Spot, to: Spot) {
        let _ = writeln!(
            self.out,
            "<line class=\"{class}\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"/>",
            px(from.x),
            px(from.y),
            px(to.x),
            px(to.y)
        );
    }

    /// A path, with a name that shows on pointing at it.
    pub(crate) fn path(&mut self, class: &str, shape: &str, name: Option<&str>) {
        let _ = match name {
            Some(name) => writeln!(
                self.out,
                "<path class=\"{class}\" d=\"{shape}\"><title>{}</title></path>",
                escape(name)
            ),
            None => writeln!(self.out, "<path class=\"{class}\" d=\"{shape}\"/>"),
        };
    }

    /// A path filled with one colour of a map.
    pub(crate) fn coloured(&mut self, shape: &str, colour: [u8; 3]) {
        let [red, green, blue] = colour;
        let _ = writeln!(
            self.out,
            "<path fill=\"#{red:02x}{green:02x}{blue:02x}\" fill-rule=\"evenodd\" d=\"{shape}\"/>"
        );
    }

    /// A path filled with the hatching of a tone.
    pub(crate) fn hatched(&mut self, tone: Tone, shape: &str, name: &str) {
        let _ = writeln!(
            self.out,
            "<path fill=\"url(#{}-{})\" d=\"{shape}\"><title>{}</title></path>",
            self.id,
            tone_word(tone),
            escape(name)
        );
    }

    /// A filled dot.
    pub(crate) fn dot(&mut self, class: &str, at: Spot, radius: f64) {
        let _ = writeln!(
            self.out,
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            px(at.x),
            px(at.y),
            px(radius)
        );
    }

    /// One line of text; `at` is the baseline.
    pub(crate) fn text(&mut self, class: &str, at: Spot, anchor: Anchor, words: &str) {
        let side = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let class = if class.is_empty() {
            String::new()
        } else {
            format!(" class=\"{class}\"")
        };
        let _ = writeln!(
            self.out,
            "<text{class} x=\"{}\" y=\"{}\"{side}>{}</text>",
            px(at.x),
            px(at.y),
            escape(words)
        );
    }

    /// One line of text centred on a spot and turned by an angle in degrees.
    pub(crate) fn turned(&mut self, class: &str, at: Spot, degrees: f64, words: &str) {
        let _ = writeln!(
            self.out,
            "<text class=\"{class}\" text-anchor=\"middle\" dy=\"4\" transform=\"translate({} {}) rotate({})\">{}</text>",
            px(at.x),
            px(at.y),
            px(degrees),
            escape(words)
        );
    }

    /// Begins a group moved to the right.
    pub(crate) fn shift(&mut self, by: f64) {
        let _ = match px(by).as_str() {
            "0" => writeln!(self.out, "<g>"),
            by => writeln!(self.out, "<g transform=\"translate({by} 0)\">"),
        };
    }

    /// Begins a group that shows only what lies in a frame.
    pub(crate) fn clip(&mut self, frame: &Frame) {
        self.clips += 1;
        let _ = writeln!(
            self.out,
            "<clipPath id=\"{id}-c{n}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>\n\
             <g clip-path=\"url(#{id}-c{n})\">",
            px(frame.left),
            px(frame.top),
            px(frame.width),
            px(frame.height),
            id = self.id,
            n = self.clips,
        );
    }

    /// Ends the group.
    pub(crate) fn unclip(&mut self) {
        self.out.push_str("</g>\n");
    }

    /// The hatchings that are needed, each tone with its own slope so that they differ in grey.
    pub(crate) fn hatches(&mut self, needed: impl Fn(Tone) -> bool) {
        for (tone, slope) in [
            (Tone::Water, 45),
            (Tone::Heat, -45),
            (Tone::Energy, 15),
            (Tone::Ink, 75),
        ] {
            if needed(tone) {
                let _ = writeln!(
                    self.out,
                    "<pattern id=\"{}-{word}\" width=\"7\" height=\"7\" patternUnits=\"userSpaceOnUse\" \
                     patternTransform=\"rotate({slope})\"><line class=\"c-hatch c-{word}\" x1=\"0\" y1=\"3.5\" x2=\"7\" y2=\"3.5\"/></pattern>",
                    self.id,
                    word = tone_word(tone)
                );
            }
        }
    }
}

/// Whether a figure has anything that is hatched in a tone.
pub(crate) fn hatches(figure: &Figure, tone: Tone) -> bool {
    let mut all = figure.panels.iter().flat_map(|panel| &panel.series);
    all.any(|series| match series {
        Series::Region { tone: used, .. } => *used == tone,
        Series::Band {
            tone: used, grade, ..
        } => *used == tone && grade.is_estimate(),
        _ => false,
    })
}

/// The class of a tone, for marks of any kind.
pub(crate) fn class_of(tone: Tone) -> String {
    format!("c-{}", tone_word(tone))
}

fn tone_word(tone: Tone) -> &'static str {
    match tone {
        Tone::Water => "water",
        Tone::Heat => "heat",
        Tone::Energy => "energy",
        Tone::Ink => "ink",
    }
}

/// A length with one decimal, none when it is whole.
pub(crate) fn px(value: f64) -> String {
    // Data near the ends of f64 can make a span infinite; nothing is drawn from that.
    let written = format!("{:.1}", if value.is_finite() { value } else { 0.0 });
    let short = written.strip_suffix(".0").unwrap_or(&written);
    if short == "-0" {
        "0".to_owned()
    } else {
        short.to_owned()
    }
}

/// The path through spots.
pub(crate) fn through(spots: &[Spot]) -> String {
    let mut shape = String::new();
    for (index, spot) in spots.iter().enumerate() {
        let sign = if index == 0 { 'M' } else { 'L' };
        let _ = write!(shape, "{sign}{} {}", px(spot.x), px(spot.y));
    }
    shape
}

/// The closed path through spots.
pub(crate) fn around(spots: &[Spot]) -> String {
    let mut shape = through(spots);
    shape.push('Z');
    shape
}

/// The same line with fewer spots, none of which is missed by more than `slack` px
/// (U. Ramer 1972, Computer Graphics and Image Processing 1(3) 244-256).
pub(crate) fn simplified(spots: &[Spot], slack: f64) -> Vec<Spot> {
    if spots.len() < 3 {
        return spots.to_vec();
    }
    let mut kept = vec![false; spots.len()];
    kept[0] = true;
    kept[spots.len() - 1] = true;
    let mut open = vec![(0, spots.len() - 1)];
    while let Some((first, last)) = open.pop() {
        let mut worst = (0.0, first);
        for index in first + 1..last {
            let away = distance(spots[index], spots[first], spots[last]);
            if away > worst.0 {
                worst = (away, index);
            }
        }
        if worst.0 > slack {
            kept[worst.1] = true;
            open.push((first, worst.1));
            open.push((worst.1, last));
        }
    }
    let pairs = spots.iter().zip(kept);
    pairs
        .filter(|(_, keep)| *keep)
        .map(|(spot, _)| *spot)
        .collect()
}

/// How far a spot is from the piece of line between two others.
fn distance(spot: Spot, from: Spot, to: Spot) -> f64 {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let squared = dx * dx + dy * dy;
    let t = if squared > 0.0 {
        (((spot.x - from.x) * dx + (spot.y - from.y) * dy) / squared).clamp(0.0, 1.0)
    } else {
        0.0
    };
    libm::hypot(spot.x - from.x - t * dx, spot.y - from.y - t * dy)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_lengths_have_one_decimal_at_most() {
        assert_eq!(px(12.0), "12");
        assert_eq!(px(12.04), "12");
        assert_eq!(px(-0.04), "0");
        assert_eq!(px(1.25), "1.2");
        assert_eq!(px(f64::NAN), "0");
    }

    #[test]
    fn holds_simplified_lines_stay_close() {
        let wave = |i: i32| Spot {
            x: f64::from(i),
            y: 20.0 * (f64::from(i) / 15.0).sin(),
        };
        let full: Vec<Spot> = (0..200).map(wave).collect();
        let few = simplified(&full, 0.2);
        assert!(few.len() < 60 && few.first() == full.first() && few.last() == full.last());
        let nearest = |spot: &Spot| {
            let pieces = few.windows(2).map(|p| distance(*spot, p[0], p[1]));
            pieces.fold(f64::INFINITY, f64::min)
        };
        assert!(full.iter().all(|spot| nearest(spot) <= 0.2 + 1e-12));
    }
}
