//! Chance that is the same on every machine.

/// A generator of the kind `SplitMix64`.
#[derive(Clone, Debug)]
pub struct Chance {
    state: u64,
}

impl Chance {
    /// The chances of that seed.
    pub fn new(seed: u64) -> Self {
        Self { state: seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5851_f42d_4c95_7f2d }
    }

    fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.state ^ (self.state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Anything between the two, each as likely as another.
    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "53 bits are exact")]
        let share = (self.bits() >> 11) as f64 / (1_u64 << 53) as f64;
        least + (most - least) * share
    }

    /// A standard normal deviate.
    pub fn normal(&mut self) -> f64 {
        let (radius, turn) = (self.between(1e-12, 1.0), self.between(0.0, 1.0));
        (-2.0 * libm::log(radius)).sqrt() * libm::cos(core::f64::consts::TAU * turn)
    }
}
