//! Seeded chance: the same seed, the same draws, on every machine.

use glam::DVec3;

/// SplitMix64: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable
/// pseudorandom number generators", 2014.
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    /// Draws of their own for every pair of seeds.
    pub fn new(seed: u64, attempt: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0xd134_2543_de82_ef95) ^ attempt.rotate_left(32));
        chance.bits();
        chance
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Uniform in `low..high`.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Uniform in `low..high`, to a tenth of a mm, as measures are typed.
    pub fn typed(&mut self, low: f64, high: f64) -> f64 {
        (10.0 * self.within(low, high)).round() / 10.0
    }

    /// Uniform in `0..count`.
    pub fn below(&mut self, count: usize) -> usize {
        (self.bits() % count as u64) as usize
    }

    /// True so often.
    pub fn happens(&mut self, share: f64) -> bool {
        self.within(0.0, 1.0) < share
    }

    /// One of a list that is not empty.
    pub fn pick<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }

    /// A list in another order.
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            list.swap(last, self.below(last + 1));
        }
    }

    /// A point of an upright box.
    pub fn point(&mut self, low: DVec3, high: DVec3) -> DVec3 {
        let mut axis = |i: usize| self.within(low[i], high[i]);
        DVec3::new(axis(0), axis(1), axis(2))
    }
}
