//! Pressure rise of a blower over its volume flow, at rated speed and density.
//!
//! Points are joined by piecewise cubics whose slopes are weighted harmonic means of the neighbours
//! (Fritsch and Butland (1984), SIAM J. Sci. Stat. Comput. 5, 300; the weighting by Brodlie as
//! documented for `scipy.interpolate.PchipInterpolator`), which add no wiggle between the points.

use crate::asked::Asked;
use numeric::root;
use quantity::{ActualVolumeFlow, Faults, PressureDifference, Quantity, Range};

/// Pressure rises a blower of a dryer may have: fans to side channel and claw machines.
pub const RISE_HOLDS: Range = Range::new("pressure rise", 1.0, 1e5, "Pa");
/// Volume flows a blower of a dryer may have.
pub const BLOWER_FLOW_HOLDS: Range = Range::new("volume flow", 1e-4, 50.0, "m3/s");

/// A curve as it is known.
#[derive(Clone, Debug, PartialEq)]
pub enum FanCurveSpec {
    /// `rise = shut_off (1 - (flow/free_flow)^2)`: two numbers of a name plate.
    Parabola {
        /// Rise at no flow.
        shut_off: PressureDifference,
        /// Flow at no rise.
        free_flow: ActualVolumeFlow,
    },
    /// Points of a measured curve, by rising flow.
    Points(Vec<(ActualVolumeFlow, PressureDifference)>),
}

/// A checked curve.
#[derive(Clone, Debug, PartialEq)]
pub struct FanCurve {
    shape: Shape,
    free_flow: f64,
}

#[derive(Clone, Debug, PartialEq)]
enum Shape {
    Parabola(f64),
    Points {
        flow: Vec<f64>,
        rise: Vec<f64>,
        slope: Vec<f64>,
    },
}

impl FanCurveSpec {
    /// The curve, or every mistake in it.
    ///
    /// # Errors
    /// Numbers outside [`RISE_HOLDS`] or [`BLOWER_FLOW_HOLDS`], fewer than three points, flows that
    /// do not rise, and a curve that does not fall at its end.
    pub fn check(&self) -> Result<FanCurve, Faults> {
        let mut asked = Asked::new();
        match self {
            Self::Parabola {
                shut_off,
                free_flow,
            } => {
                let shut_off = asked.number("shut_off", shut_off.si(), &RISE_HOLDS);
                let free_flow = asked.number("free_flow", free_flow.si(), &BLOWER_FLOW_HOLDS);
                asked.give(Some(FanCurve {
                    shape: Shape::Parabola(shut_off),
                    free_flow,
                }))
            }
            Self::Points(points) => {
                let curve = of_points(points, &mut asked);
                asked.give(curve)
            }
        }
    }
}

fn of_points(
    points: &[(ActualVolumeFlow, PressureDifference)],
    asked: &mut Asked,
) -> Option<FanCurve> {
    if points.len() < 3 {
        asked.contradiction(
            "points",
            points.len() as f64,
            "so few points do not make a curve",
            "give at least three, or shut_off and free_flow",
        );
        return None;
    }
    let flow: Vec<f64> = points.iter().map(|(flow, _)| flow.si()).collect();
    let rise: Vec<f64> = points.iter().map(|(_, rise)| rise.si()).collect();
    let last = flow.len() - 1;
    let flows = Range {
        low: 0.0,
        ..BLOWER_FLOW_HOLDS
    };
    let rises = Range {
        low: 0.0,
        ..RISE_HOLDS
    };
    let mut sound = true;
    for index in 0..=last {
        let at = |what: &str| format!("points[{index}].{what}");
        asked.number(&at("flow"), flow[index], &flows);
        asked.number(&at("rise"), rise[index], &rises);
        sound &= flows.contains(flow[index]) && rises.contains(rise[index]);
        if index > 0 && !(flow[index] > flow[index - 1]) {
            sound = false;
            asked.contradiction(
                &at("flow"),
                flow[index],
                "the flow does not rise from point to point",
                "order the points by rising flow, each flow once",
            );
        }
    }
    if !(rise[last] < rise[last - 1]) || !(rise[0] > 0.0) {
        sound = false;
        asked.contradiction(
            "points",
            rise[last],
            "a blower's rise begins above zero and falls at high flow",
            "carry the curve on to where its rise falls",
        );
    }
    if !sound {
        return None;
    }
    let slope = slopes(&flow, &rise);
    let mut curve = FanCurve {
        // Past the last point the curve goes on straight.
        free_flow: flow[last] - rise[last] / slope[last],
        shape: Shape::Points { flow, rise, slope },
    };
    let beyond = curve.free_flow;
    // A curve that already touches zero inside ends there.
    if let Ok(inside) = root::bracketed(0.0, beyond, 1e-12 * beyond, |v| curve.rise(v)) {
        curve.free_flow = inside;
    }
    Some(curve)
}

/// Slopes at the points, (Pa s)/m3; the last is never flatter than half the last chord.
fn slopes(flow: &[f64], rise: &[f64]) -> Vec<f64> {
    let step: Vec<f64> = flow.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let chord: Vec<f64> = rise
        .windows(2)
        .zip(&step)
        .map(|(pair, step)| (pair[1] - pair[0]) / step)
        .collect();
    let last = chord.len() - 1;
    let end = |near: usize, next: usize| {
        let (h0, h1) = (step[near], step[next]);
        let slope = ((2.0 * h0 + h1) * chord[near] - h0 * chord[next]) / (h0 + h1);
        if slope * chord[near] <= 0.0 {
            0.0
        } else if chord[near] * chord[next] <= 0.0 && slope.abs() > 3.0 * chord[near].abs() {
            3.0 * chord[near]
        } else {
            slope
        }
    };
    let mut slopes = vec![end(0, 1)];
    for index in 1..=last {
        let (before, after) = (chord[index - 1], chord[index]);
        slopes.push(if before * after <= 0.0 {
            0.0
        } else {
            let (w1, w2) = (
                2.0 * step[index] + step[index - 1],
                step[index] + 2.0 * step[index - 1],
            );
            (w1 + w2) / (w1 / before + w2 / after)
        });
    }
    slopes.push(end(last, last - 1).min(0.5 * chord[last]));
    slopes
}

impl FanCurve {
    /// Flow at which there is no rise left, m3/s.
    pub fn free_flow(&self) -> f64 {
        self.free_flow
    }

    /// Rise at a flow (m3/s) at rated speed and density, Pa; negative past the free flow, where the
    /// blower is in the way of the air. What is no number stands for no flow.
    pub fn rise(&self, volume_flow: f64) -> f64 {
        let volume_flow = if volume_flow.is_nan() {
            0.0
        } else {
            volume_flow
        };
        match &self.shape {
            Shape::Parabola(shut_off) => {
                let share = volume_flow / self.free_flow;
                shut_off * (1.0 - share * share.abs())
            }
            Shape::Points { flow, rise, slope } => {
                let last = flow.len() - 1;
                if volume_flow <= flow[0] {
                    return rise[0];
                }
                if volume_flow >= flow[last] {
                    return rise[last] + slope[last] * (volume_flow - flow[last]);
                }
                let above = flow.partition_point(|at| *at <= volume_flow);
                let (low, high) = (above - 1, above);
                let width = flow[high] - flow[low];
                let t = (volume_flow - flow[low]) / width;
                let u = 1.0 - t;
                let (from, to) = (u * u * (1.0 + 2.0 * t), t * t * (1.0 + 2.0 * u));
                rise[low] * from
                    + rise[high] * to
                    + width * t * u * (u * slope[low] - t * slope[high])
            }
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
mod tests {
    use super::*;

    fn points(points: &[(f64, f64)]) -> FanCurveSpec {
        FanCurveSpec::Points(
            points
                .iter()
                .map(|(flow, rise)| {
                    (
                        ActualVolumeFlow::from_si(*flow),
                        PressureDifference::from_si(*rise),
                    )
                })
                .collect(),
        )
    }

    const CURVE: [(f64, f64); 5] = [
        (0.0, 4000.0),
        (0.02, 3900.0),
        (0.05, 3200.0),
        (0.08, 1500.0),
        (0.09, 600.0),
    ];

    #[test]
    fn peer_points_are_joined_as_scipy_does() {
        // scipy 1.17.1, PchipInterpolator(flow, rise) at 0.01, 0.035, 0.07 and 0.085 m3/s.
        let curve = points(&CURVE).check().unwrap();
        for (flow, expected) in SCIPY {
            assert!((curve.rise(flow) - expected).abs() < 1e-8, "{flow}");
        }
    }

    const SCIPY: [(f64, f64); 4] = [
        (0.01, 3969.736842105263),
        (0.035, 3644.3530701754385),
        (0.07, 2188.543793136969),
        (0.085, 1082.5623359580045),
    ];

    #[test]
    fn exact_parabola() {
        let curve = FanCurveSpec::Parabola {
            shut_off: PressureDifference::from_si(3000.0),
            free_flow: ActualVolumeFlow::from_si(0.1),
        }
        .check()
        .unwrap();
        assert!((curve.rise(0.05) - 2250.0).abs() < 1e-9);
        assert!(curve.rise(0.1).abs() < 1e-9 && curve.rise(0.2) < 0.0);
        assert!((curve.rise(f64::NAN) - 3000.0).abs() < 1e-9);
    }

    #[test]
    fn holds_points_are_met_and_the_end_goes_on_falling() {
        let curve = points(&CURVE).check().unwrap();
        for (flow, rise) in CURVE {
            assert!((curve.rise(flow) - rise).abs() < 1e-9);
        }
        assert!(curve.rise(curve.free_flow()).abs() < 1e-6);
        assert!((curve.rise(f64::NAN) - 4000.0).abs() < 1e-9);
        let mut last = f64::INFINITY;
        for step in 0..200 {
            let rise = curve.rise(f64::from(step) * 7e-4);
            assert!(rise <= last);
            last = rise;
        }
    }

    #[test]
    fn holds_ranges_at_their_ends_and_every_mistake_told() {
        let parabola = |shut_off, free_flow| {
            FanCurveSpec::Parabola {
                shut_off: PressureDifference::from_si(shut_off),
                free_flow: ActualVolumeFlow::from_si(free_flow),
            }
            .check()
        };
        assert!(parabola(RISE_HOLDS.low, BLOWER_FLOW_HOLDS.low).is_ok());
        assert!(parabola(RISE_HOLDS.high, BLOWER_FLOW_HOLDS.high).is_ok());
        assert_eq!(parabola(0.99, 9.9e-5).unwrap_err().len(), 2);
        assert_eq!(parabola(1.01e5, f64::NAN).unwrap_err().len(), 2);
        assert!(points(&CURVE[..2]).check().is_err());
        assert!(
            points(&[(0.0, 100.0), (0.0, 90.0), (0.1, 50.0)])
                .check()
                .is_err()
        );
        assert!(
            points(&[(0.0, 100.0), (0.1, 90.0), (0.2, 95.0)])
                .check()
                .is_err()
        );
        assert!(
            points(&[(0.0, f64::NAN), (0.1, 90.0), (0.2, 95.0)])
                .check()
                .is_err()
        );
    }
}
