//! What stands above and below a drawing that is a file of its own: title, caption, sources.

use crate::Sheet;
use crate::ruler::Spot;
use crate::svg::{Anchor, Svg};
use crate::text::{self, LEADING};
use figure::{Balance, Figure};

const TITLE_SIZE: f64 = 15.0;
const TITLE_LEADING: f64 = 20.0;
const SMALL: f64 = 11.0;
const MARGIN: f64 = 14.0;

/// What a drawing is titled, and what stands below it.
pub(crate) struct Words<'a> {
    pub(crate) title: &'a str,
    caption: &'a str,
    sources: &'a [String],
}

impl<'a> From<&'a Figure> for Words<'a> {
    fn from(figure: &'a Figure) -> Self {
        Self {
            title: &figure.title,
            caption: &figure.caption,
            sources: &figure.sources,
        }
    }
}

impl<'a> From<&'a Balance> for Words<'a> {
    fn from(balance: &'a Balance) -> Self {
        Self {
            title: &balance.title,
            caption: &balance.caption,
            sources: &balance.sources,
        }
    }
}

/// The heading and the words below, already in lines.
pub(crate) struct Heading {
    title: Vec<String>,
    below_lines: Vec<(&'static str, String)>,
    /// Room left free on both sides, px.
    pub(crate) margin: f64,
    /// Room taken above the plots, px.
    pub(crate) above: f64,
    /// Room taken below the plots, px.
    pub(crate) below: f64,
}

impl Heading {
    /// Nothing for a part of a page; title, caption and sources for a file of its own.
    pub(crate) fn of(words: &Words<'_>, sheet: &Sheet<'_>) -> Self {
        if !sheet.alone {
            return Self {
                title: Vec::new(),
                below_lines: Vec::new(),
                margin: 0.0,
                above: 0.0,
                below: 0.0,
            };
        }
        let room = sheet.width - 2.0 * MARGIN;
        // Half-bold letters run a twelfth wider than plain ones.
        let title = text::wrap(words.title, TITLE_SIZE * 1.08, room);
        let caption = text::filled(words.caption, text::SIZE, room);
        let mut below_lines: Vec<_> = caption.into_iter().map(|line| ("", line)).collect();
        for source in words.sources {
            let lines = text::filled(source, SMALL, room);
            below_lines.extend(lines.into_iter().map(|line| ("c-small", line)));
        }
        Self {
            margin: MARGIN,
            above: MARGIN + title.len() as f64 * TITLE_LEADING + 10.0,
            below: MARGIN + 8.0 + below_lines.len() as f64 * LEADING,
            title,
            below_lines,
        }
    }

    pub(crate) fn draw(&self, svg: &mut Svg<'_>, bottom: f64) {
        for (index, line) in self.title.iter().enumerate() {
            let y = MARGIN + (index as f64 + 0.75) * TITLE_LEADING;
            svg.text("c-head", Spot { x: 0.0, y }, Anchor::Start, line);
        }
        for (index, (class, line)) in self.below_lines.iter().enumerate() {
            let y = bottom + 8.0 + (index as f64 + 0.9) * LEADING;
            svg.text(class, Spot { x: 0.0, y }, Anchor::Start, line);
        }
    }
}
