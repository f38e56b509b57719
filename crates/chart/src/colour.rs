//! Two maps from a share to a colour: one for water, one for heat.
//!
//! Both run from light (little) to dark (much) with steadily falling lightness, so they read the
//! same in greyscale and to readers who do not tell red from green.

/// Points of the cividis map: index of 256, red, green, blue (0 to 255).
///
/// J. R. Nuñez, C. R. Anderton, R. S. Renslow (2018), "Optimizing colormaps with consideration for
/// color vision deficiency to enable accurate interpretation of scientific data", PLoS ONE 13(7)
/// e0199239, doi:10.1371/journal.pone.0199239; the 256 entries as published with it, thinned so
/// that straight lines between these stay within 2 of 255 in each channel.
const CIVIDIS: [[f64; 4]; 15] = [
    [0.0, 0.0, 34.0, 78.0],
    [17.0, 0.0, 46.0, 108.0],
    [22.0, 0.0, 49.0, 113.0],
    [28.0, 18.0, 53.0, 112.0],
    [35.0, 32.0, 58.0, 111.0],
    [53.0, 56.0, 71.0, 108.0],
    [86.0, 88.0, 94.0, 109.0],
    [125.0, 122.0, 122.0, 120.0],
    [152.0, 147.0, 142.0, 120.0],
    [175.0, 170.0, 160.0, 115.0],
    [203.0, 199.0, 183.0, 103.0],
    [234.0, 233.0, 211.0, 78.0],
    [246.0, 247.0, 222.0, 62.0],
    [251.0, 253.0, 227.0, 52.0],
    [255.0, 254.0, 232.0, 56.0],
];

/// Red, green and blue for an amount of water, 0 (driest, yellow) to 1 (wettest, deep blue): the
/// cividis map read from its light end. A share outside 0 to 1 takes the colour of the end.
pub fn water(share: f64) -> [u8; 3] {
    let index = 255.0 * (1.0 - within(share));
    let above = CIVIDIS.iter().position(|point| point[0] >= index);
    let upper = above.unwrap_or(CIVIDIS.len() - 1).max(1);
    let (from, to) = (CIVIDIS[upper - 1], CIVIDIS[upper]);
    let t = (index - from[0]) / (to[0] - from[0]);
    [1, 2, 3].map(|channel| byte(from[channel] + t * (to[channel] - from[channel])))
}

/// Red, green and blue for an amount of heat, 0 (coldest, cream) to 1 (hottest, dark red-brown).
///
/// Our own map: a straight fall of lightness from 0.96 to 0.32 while the hue turns from 92° to 25°
/// and the chroma swells and fades, in the `OKLab` space of B. Ottosson (2020), "A perceptual color
/// space for image processing". A share outside 0 to 1 takes the colour of the end.
pub fn heat(share: f64) -> [u8; 3] {
    let t = within(share);
    let lightness = 0.96 - 0.64 * t;
    let hue = (92.0 - 67.0 * t).to_radians();
    let chroma = 0.03 + 0.105 * libm::sin(std::f64::consts::PI * 0.95 * t);
    oklab(lightness, chroma * libm::cos(hue), chroma * libm::sin(hue))
        .map(|linear| byte(255.0 * encoded(linear.clamp(0.0, 1.0))))
}

/// `OKLab` to linear sRGB; matrices of B. Ottosson (2020).
fn oklab(lightness: f64, a: f64, b: f64) -> [f64; 3] {
    let cube = |root: f64| root * root * root;
    let l = cube(lightness + 0.3963377774 * a + 0.2158037573 * b);
    let m = cube(lightness - 0.1055613458 * a - 0.0638541728 * b);
    let s = cube(lightness - 0.0894841775 * a - 1.2914855480 * b);
    [
        4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
        -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
        -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s,
    ]
}

/// Linear light to the sRGB signal, IEC 61966-2-1.
fn encoded(linear: f64) -> f64 {
    if linear <= 0.0031308 {
        12.92 * linear
    } else {
        1.055 * libm::pow(linear, 1.0 / 2.4) - 0.055
    }
}

fn within(share: f64) -> f64 {
    if share.is_finite() {
        share.clamp(0.0, 1.0)
    } else {
        0.0
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "bounded just before the cast"
)]
fn byte(value: f64) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lightness CIE L*, from the luminance of sRGB (IEC 61966-2-1).
    fn lightness(colour: [u8; 3]) -> f64 {
        let linear = colour.map(|channel| {
            let signal = f64::from(channel) / 255.0;
            if signal <= 0.04045 {
                signal / 12.92
            } else {
                ((signal + 0.055) / 1.055).powf(2.4)
            }
        });
        let y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
        116.0 * y.cbrt() - 16.0
    }

    #[test]
    fn published_cividis_ends_and_middle() {
        assert_eq!(water(1.0), [0, 34, 78]);
        assert_eq!(water(0.0), [254, 232, 56]);
        // Entry 128 of the published table is (125, 124, 120).
        let middle = water(1.0 - 128.0 / 255.0);
        for (ours, theirs) in middle.into_iter().zip([125_u8, 124, 120]) {
            assert!(ours.abs_diff(theirs) <= 2, "{middle:?}");
        }
    }

    #[test]
    fn holds_lightness_falls_in_even_steps() {
        for (map, tolerance) in [(water as fn(f64) -> [u8; 3], 3.5), (heat, 3.5)] {
            let steps: Vec<f64> = (0..=20)
                .map(|i| lightness(map(f64::from(i) / 20.0)))
                .collect();
            let mean = (steps[0] - steps[20]) / 20.0;
            assert!(mean > 2.5);
            for pair in steps.windows(2) {
                let step = pair[0] - pair[1];
                assert!(
                    step > 0.5 && (step - mean).abs() < tolerance,
                    "{step} {mean}"
                );
            }
        }
    }

    #[test]
    fn holds_heat_stays_within_what_screens_show() {
        for index in 0..=100 {
            let t = f64::from(index) / 100.0;
            let hue = (92.0 - 67.0 * t).to_radians();
            let chroma = 0.03 + 0.105 * (std::f64::consts::PI * 0.95 * t).sin();
            let linear = oklab(0.96 - 0.64 * t, chroma * hue.cos(), chroma * hue.sin());
            assert!(
                linear.iter().all(|c| (-0.002..=1.002).contains(c)),
                "{t} {linear:?}"
            );
        }
        assert_eq!(heat(f64::NAN), heat(0.0));
        assert_eq!(heat(7.0), heat(1.0));
    }
}
