//! From a value on an axis to a place on the sheet, and the frame a plot lives in.

use figure::{Axis, Extent, Scale};

/// A place on the sheet, px from its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spot {
    pub(crate) x: f64,
    pub(crate) y: f64,
}

/// A rectangle on the sheet, px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Frame {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

impl Frame {
    pub(crate) fn right(&self) -> f64 {
        self.left + self.width
    }

    pub(crate) fn bottom(&self) -> f64 {
        self.top + self.height
    }

    /// Whether a spot lies inside, with a margin of `slack` px.
    pub(crate) fn holds(&self, spot: Spot, slack: f64) -> bool {
        spot.x >= self.left - slack
            && spot.x <= self.right() + slack
            && spot.y >= self.top - slack
            && spot.y <= self.bottom() + slack
    }

    /// Whether another frame lies wholly inside.
    pub(crate) fn encloses(&self, other: &Self) -> bool {
        other.left >= self.left
            && other.top >= self.top
            && other.right() <= self.right()
            && other.bottom() <= self.bottom()
    }
}

/// A ruler along one axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ruler {
    pub(crate) extent: Extent,
    scale: Scale,
    low_px: f64,
    high_px: f64,
}

impl Ruler {
    /// A ruler that shows the low end at `low_px` and the high end at `high_px`, or the reverse
    /// when the axis is reversed.
    pub(crate) fn new(axis: &Axis, extent: Extent, low_px: f64, high_px: f64) -> Self {
        let (low_px, high_px) = if axis.reversed {
            (high_px, low_px)
        } else {
            (low_px, high_px)
        };
        Self {
            extent,
            scale: axis.scale,
            low_px,
            high_px,
        }
    }

    /// Where a value lies, px; far outside values are kept within a few sheets of the plot.
    pub(crate) fn px(&self, value: f64) -> f64 {
        let along = |v: f64| match self.scale {
            Scale::Linear => v,
            Scale::Log10 => libm::log10(v.max(f64::MIN_POSITIVE)),
        };
        let (low, high) = (along(self.extent.low), along(self.extent.high));
        let share = (along(value) - low) / (high - low);
        self.low_px + share.clamp(-5.0, 6.0) * (self.high_px - self.low_px)
    }

    /// Whether a value lies on the ruler, with a hair of slack at its ends.
    pub(crate) fn shows(&self, value: f64) -> bool {
        let at = self.px(value);
        let (near, far) = (self.low_px.min(self.high_px), self.low_px.max(self.high_px));
        at >= near - 0.01 && at <= far + 0.01
    }

    /// How values are laid out along it.
    pub(crate) fn scale(&self) -> Scale {
        self.scale
    }

    /// Its length, px.
    pub(crate) fn length(&self) -> f64 {
        (self.high_px - self.low_px).abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ruler(axis: &Axis, low: f64, high: f64) -> Ruler {
        Ruler::new(axis, Extent { low, high }, 100.0, 300.0)
    }

    #[test]
    fn exact_ends_and_middles() {
        let linear = ruler(&Axis::linear("t", "h"), 0.0, 10.0);
        assert!((linear.px(5.0) - 200.0).abs() < 1e-12);
        let log = ruler(&Axis::log10("w", "ppm"), 10.0, 1000.0);
        assert!((log.px(100.0) - 200.0).abs() < 1e-9);
        let mut axis = Axis::linear("t", "h");
        axis.reversed = true;
        assert!((ruler(&axis, 0.0, 10.0).px(0.0) - 300.0).abs() < 1e-12);
    }

    #[test]
    fn holds_ends_are_shown_and_beyond_is_not() {
        let log = ruler(&Axis::log10("w", "ppm"), 10.0, 1000.0);
        assert!(log.shows(10.0) && log.shows(1000.0));
        assert!(!log.shows(9.9) && !log.shows(1010.0));
        assert!(log.px(0.0).is_finite());
    }
}
