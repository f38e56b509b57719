//! The shapes of the states, drawn: two hairlines are the window, and the dot is within, on the upper
//! one, above or below it, burnt through both, a block across both, or open.

use crate::State;
use chart::escape;

/// The shape and the word of a state.
pub(crate) fn sign(state: State) -> String {
    let window = "M3 8H21M3 16H21";
    let (class, shape) = match state {
        State::InWindow => (
            "s-in",
            "<circle class=\"s-dot\" cx=\"12\" cy=\"12\" r=\"2.9\"/>",
        ),
        State::NotSure => (
            "s-in",
            "<circle class=\"s-dot\" cx=\"12\" cy=\"8\" r=\"2.9\"/>",
        ),
        State::Wet => (
            "s-wet",
            "<circle class=\"s-dot\" cx=\"12\" cy=\"3.4\" r=\"2.9\"/>",
        ),
        State::TooDry => (
            "s-dry",
            "<circle class=\"s-dot\" cx=\"12\" cy=\"20.6\" r=\"2.9\"/>",
        ),
        State::Cooked => (
            "s-hot",
            "<path class=\"s-dot\" d=\"M12 3L18 12L12 21L6 12Z\"/>",
        ),
        State::Fuses => ("s-hot", "<path class=\"s-dot\" d=\"M6 5H18V19H6Z\"/>"),
        State::Unknown => (
            "s-open",
            "<circle class=\"s-ring\" cx=\"12\" cy=\"12\" r=\"7\"/>",
        ),
    };
    format!(
        "<span class=\"state {class}\"><svg viewBox=\"0 0 24 24\" width=\"24\" height=\"24\" aria-hidden=\"true\">\
         <path class=\"s-line\" d=\"{window}\"/>{shape}</svg><span>{}</span></span>",
        escape(state.word())
    )
}
