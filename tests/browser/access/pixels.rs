//! The colours that are really on the screen, and how they look to others.

use serde_json::json;

use crate::harness::page::Page;

/// Red, green and blue, 0 to 255.
pub type Colour = [f64; 3];

/// A colour, and how much of the picture it covers.
pub type Share = (Colour, f64);

/// The colours of the left part of the screen, this much of its width, the commonest first.
pub async fn colours(page: &Page, part: f64) -> Vec<Share> {
    let png = page.png().await;
    let count = format!(
        "(async () => {{
            const picture = await createImageBitmap(new Blob([new Uint8Array({})]));
            const across = Math.max(1, Math.round(picture.width * {part}));
            const draw = new OffscreenCanvas(across, picture.height).getContext('2d');
            draw.drawImage(picture, 0, 0);
            const {{ data }} = draw.getImageData(0, 0, across, picture.height);
            const counts = new Map();
            for (let at = 0; at < data.length; at += 4) {{
                const key = (data[at] << 16) | (data[at + 1] << 8) | data[at + 2];
                counts.set(key, (counts.get(key) ?? 0) + 1);
            }}
            return [...counts].sort((one, other) => other[1] - one[1]).slice(0, 8).map(([key, count]) =>
                [[key >> 16, (key >> 8) & 255, key & 255], (4 * count) / data.length]);
        }})()",
        json!(png)
    );
    serde_json::from_value(page.eval(&count).await).expect("colours")
}

/// The ground of a screen, and the ink: of what covers at least one pixel in five hundred, what
/// differs most.
pub fn ground_and_ink(shares: &[Share]) -> (Colour, Colour) {
    let ground = shares[0].0;
    let far = |share: &&Share| share.1 > 0.002;
    let ink = shares.iter().filter(far).map(|share| share.0);
    let ink = ink.max_by(|one, other| contrast(ground, *one).total_cmp(&contrast(ground, *other)));
    (ground, ink.unwrap_or(ground))
}

/// Contrast by relative luminance, 1 to 21.
///
/// # Source
///
/// WCAG 2.2, definitions of *contrast ratio* and *relative luminance*.
pub fn contrast(one: Colour, other: Colour) -> f64 {
    let (one, other) = (luminance(linear(one)), luminance(linear(other)));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

fn linear(colour: Colour) -> Colour {
    colour.map(|part| {
        let part = part / 255.0;
        if part <= 0.04045 { part / 12.92 } else { libm::pow((part + 0.055) / 1.055, 2.4) }
    })
}

fn luminance([red, green, blue]: Colour) -> f64 {
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// How colours look to somebody, as a matrix on linear red, green and blue.
pub struct Sight {
    /// Its name.
    pub name: &'static str,
    matrix: [Colour; 3],
}

/// Full colour sight, three deficiencies at severity 1.0, and a picture in grey.
///
/// # Source
///
/// G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A Physiologically-based Model for
/// Simulation of Color Vision Deficiency", IEEE TVCG 15(6), 2009, table of matrices at severity 1.0
/// (protanopia and deuteranopia as found in public code that cites it; tritanopia from memory). Grey:
/// relative luminance by WCAG 2.2.
pub const SIGHTS: [Sight; 5] = [
    Sight { name: "full", matrix: [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]] },
    Sight {
        name: "protanopia",
        matrix: [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    },
    Sight {
        name: "deuteranopia",
        matrix: [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    },
    Sight {
        name: "tritanopia",
        matrix: [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    },
    Sight {
        name: "grey",
        matrix: [[0.2126, 0.7152, 0.0722], [0.2126, 0.7152, 0.0722], [0.2126, 0.7152, 0.0722]],
    },
];

impl Sight {
    /// The contrast of two colours as they look to this somebody.
    pub fn contrast(&self, one: Colour, other: Colour) -> f64 {
        let seen = |colour: Colour| {
            let colour = linear(colour);
            let part = |row: Colour| (0..3).map(|at| row[at] * colour[at]).sum::<f64>();
            luminance(self.matrix.map(|row| part(row).clamp(0.0, 1.0)))
        };
        let (one, other) = (seen(one), seen(other));
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }
}
