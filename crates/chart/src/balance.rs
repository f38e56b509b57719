//! A balance as two columns of stacked parts, what enters on the left and what leaves on the right.

use crate::gutter;
use crate::number::significant;
use crate::ruler::{Frame, Spot};
use crate::svg::{self, Anchor, Svg, class_of};
use crate::text::{self, LEADING, SIZE};
use figure::{Balance, Part};

/// From here on the names have room for one line each.
const ROOMY: f64 = 560.0;
/// Height of both columns, px.
const TALL: f64 = 260.0;
/// Room for the heads of the columns, px.
const HEAD: f64 = 24.0;
/// From a column to the names beside it, px.
const LEAD: f64 = 22.0;
/// Share of the room beside a column that names fill, since the letters of some screens run wider.
const FILLED: f64 = 0.9;
/// The least a part is drawn, px, so that none is lost.
const LEAST: f64 = 0.8;
/// Steps of lightness that follow one another down a column.
const STEPS: usize = 4;

/// Everything of a balance in its place.
pub(crate) struct Laid<'a> {
    balance: &'a Balance,
    sides: Vec<Side<'a>>,
    /// The baseline of the heads, px.
    head: f64,
    /// Where the lowest mark ends, px.
    pub(crate) bottom: f64,
}

struct Side<'a> {
    head: &'static str,
    frame: Frame,
    stripes: Vec<Stripe<'a>>,
}

/// One part: its box, and its words with their middle.
struct Stripe<'a> {
    part: &'a Part,
    top: f64,
    height: f64,
    lines: Vec<String>,
    middle: f64,
}

/// Lays a balance out below `top` px of heading on a sheet of a width.
pub(crate) fn lay(balance: &Balance, width: f64, top: f64) -> Laid<'_> {
    let roomy = width >= ROOMY;
    let (column, between) = if roomy { (64.0, 40.0) } else { (36.0, 16.0) };
    let left = (width - between) / 2.0 - column;
    let room = FILLED * (left - LEAD);
    let whole = balance.whole();
    let mut sides: Vec<Side<'_>> = balance
        .sides()
        .into_iter()
        .zip([left, left + column + between])
        .map(|((head, parts), x)| {
            let frame = Frame {
                left: x,
                top: 0.0,
                width: column,
                height: TALL,
            };
            let stripes = stripes(balance, parts, whole, room);
            Side {
                head,
                frame,
                stripes,
            }
        })
        .collect();
    // Names that are higher than the columns make room above and below them.
    let all = || sides.iter().flat_map(|side| &side.stripes);
    let high = |stripe: &Stripe<'_>| stripe.lines.len() as f64 * LEADING / 2.0;
    let above = all().map(|s| s.middle - high(s)).fold(0.0, f64::min);
    let below = all().map(|s| s.middle + high(s)).fold(TALL, f64::max);
    let down = top + HEAD - above;
    for side in &mut sides {
        side.frame.top = down;
        for stripe in &mut side.stripes {
            stripe.top += down;
            stripe.middle += down;
        }
    }
    Laid {
        balance,
        sides,
        head: down - 8.0,
        bottom: down + below + 6.0,
    }
}

/// The parts of one side from the top down, the column beginning at 0.
fn stripes<'a>(balance: &Balance, parts: &'a [Part], whole: f64, room: f64) -> Vec<Stripe<'a>> {
    let mut top = 0.0;
    let mut stripes: Vec<Stripe<'_>> = Vec::new();
    for part in parts.iter().filter(|part| part.amount > 0.0) {
        let height = TALL * part.amount / whole;
        stripes.push(Stripe {
            part,
            top,
            height: height.max(LEAST),
            lines: text::wrap(&words(balance, part, whole), SIZE, room),
            middle: 0.0,
        });
        top += height;
    }
    let wishes: Vec<f64> = stripes.iter().map(|s| s.top + s.height / 2.0).collect();
    let heights: Vec<f64> = stripes
        .iter()
        .map(|s| s.lines.len() as f64 * LEADING + 3.0)
        .collect();
    for (stripe, middle) in stripes.iter_mut().zip(gutter::spread(&wishes, &heights)) {
        stripe.middle = middle;
    }
    stripes
}

/// The name of a part, how much it is and which share.
fn words(balance: &Balance, part: &Part, whole: f64) -> String {
    let about = if part.grade.is_estimate() {
        "≈\u{a0}"
    } else {
        ""
    };
    format!(
        "{}, {about}{}\u{a0}{}, {}\u{a0}%",
        part.name,
        significant(part.amount, 2),
        balance.unit,
        share(part.amount / whole)
    )
}

/// A share in percent with the digits that matter.
fn share(share: f64) -> String {
    let percent = 100.0 * share;
    if percent < 0.1 {
        "< 0.1".to_owned()
    } else if percent < 1.0 {
        format!("{percent:.1}")
    } else {
        format!("{percent:.0}")
    }
}

/// Draws both columns.
pub(crate) fn draw(laid: &Laid<'_>, svg: &mut Svg<'_>) {
    let tone = class_of(laid.balance.tone);
    for (place, side) in laid.sides.iter().enumerate() {
        let frame = side.frame;
        let head = Spot {
            x: frame.left + frame.width / 2.0,
            y: laid.head,
        };
        svg.text("c-soft", head, Anchor::Middle, side.head);
        for (index, stripe) in side.stripes.iter().enumerate() {
            let shape = svg::around(&corners(&frame, stripe));
            let name = stripe.part.name.as_str();
            if stripe.part.grade.is_estimate() {
                svg.hatched(laid.balance.tone, &shape, name);
            } else {
                let class = format!("{tone} c-part c-step{}", index % STEPS);
                svg.path(&class, &shape, Some(name));
            }
            if index > 0 {
                let (y, right) = (stripe.top, frame.right());
                svg.line("c-seam", Spot { x: frame.left, y }, Spot { x: right, y });
            }
            named(&frame, stripe, place == 0, svg);
        }
        let whole = Stripe {
            part: &Part::new("", 0.0, figure::Grade::Computed),
            top: frame.top,
            height: frame.height,
            lines: Vec::new(),
            middle: 0.0,
        };
        svg.path("c-outline", &svg::around(&corners(&frame, &whole)), None);
    }
}

/// The words of a part beside its column, with a hairline to it.
fn named(frame: &Frame, stripe: &Stripe<'_>, to_the_left: bool, svg: &mut Svg<'_>) {
    let (edge, out, anchor) = if to_the_left {
        (frame.left, -1.0, Anchor::End)
    } else {
        (frame.right(), 1.0, Anchor::Start)
    };
    let from = Spot {
        x: edge + 2.0 * out,
        y: stripe.top + stripe.height / 2.0,
    };
    let to = Spot {
        x: edge + (LEAD - 5.0) * out,
        y: stripe.middle,
    };
    svg.line("c-lead", from, to);
    let top = stripe.middle - stripe.lines.len() as f64 * LEADING / 2.0;
    for (row, line) in stripe.lines.iter().enumerate() {
        let at = Spot {
            x: edge + LEAD * out,
            y: top + (row as f64 + 0.76) * LEADING,
        };
        svg.text("", at, anchor, line);
    }
}

fn corners(frame: &Frame, stripe: &Stripe<'_>) -> [Spot; 4] {
    let (left, right) = (frame.left, frame.right());
    let (top, bottom) = (stripe.top, stripe.top + stripe.height);
    [(left, top), (right, top), (right, bottom), (left, bottom)].map(|(x, y)| Spot { x, y })
}

/// The balance in words, for readers who do not see it.
pub(crate) fn describe(balance: &Balance) -> String {
    let whole = balance.whole();
    let mut said = String::new();
    for (side, parts) in balance.sides() {
        let each: Vec<String> = parts
            .iter()
            .filter(|part| part.amount > 0.0)
            .map(|part| words(balance, part, whole))
            .collect();
        said = format!("{said}What goes {side}: {}. ", each.join("; "));
    }
    said.push_str(balance.caption.trim());
    said.trim_end().to_owned()
}
