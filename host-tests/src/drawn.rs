//! Seeded random numbers, the same on every machine and in every run.

/// A generator (SplitMix64).
#[derive(Clone, Debug)]
pub struct Drawn(u64);

impl Drawn {
    /// A generator that always gives the same numbers for the same seed.
    #[must_use]
    pub const fn seeded(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from `low` to `high`, evenly.
    pub fn between(&mut self, low: f32, high: f32) -> f32 {
        let part = (self.bits() >> 11) as f64 / (1u64 << 53) as f64;
        (f64::from(low) + part * (f64::from(high) - f64::from(low))) as f32
    }

    /// A number from `low` to `high`, evenly over its decades.
    pub fn over_decades(&mut self, low: f32, high: f32) -> f32 {
        let (low, high) = (f64::from(low).log10(), f64::from(high).log10());
        let exponent = self.between(low as f32, high as f32);
        10f64.powf(f64::from(exponent)) as f32
    }

    /// One of several.
    ///
    /// # Panics
    /// When there are none.
    pub fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[(self.bits() % choices.len() as u64) as usize]
    }
}
