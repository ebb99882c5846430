//! Chance with a fixed seed: the same numbers in every run.

/// The generator splitmix64 (Steele, Lea, Flood, "Fast splittable pseudorandom
/// number generators", 2014; constants from memory).
pub(crate) struct Chance(u64);

impl Chance {
    /// A generator that starts at a given place.
    pub fn new(seed: u64) -> Chance {
        Chance(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 (included) to 1 (not).
    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A number from -1 to 1.
    fn signed(&mut self) -> f64 {
        2.0 * self.unit() - 1.0
    }

    /// A number above 0 that follows the exponential law of mean 1, by
    /// comparisons only (J. von Neumann, "Various techniques used in connection
    /// with random digits", 1951, from memory): no logarithm, which may round
    /// differently on another machine.
    pub fn exponential(&mut self) -> f64 {
        let mut whole = 0.0;
        loop {
            let first = self.unit();
            let mut last = first;
            let mut falling = 1;
            loop {
                let next = self.unit();
                if next >= last {
                    break;
                }
                last = next;
                falling += 1;
            }
            if falling % 2 == 1 {
                return whole + first;
            }
            whole += 1.0;
        }
    }

    /// A point of the disc of radius 1, anywhere alike.
    pub fn in_disc(&mut self) -> (f64, f64) {
        loop {
            let (x, y) = (self.signed(), self.signed());
            if x * x + y * y < 1.0 {
                return (x, y);
            }
        }
    }

    /// One of the numbers below `count`, which must not be 0.
    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count as u64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_gives_the_same_numbers_in_their_range() {
        let (mut one, mut other) = (Chance::new(3), Chance::new(3));
        let mut sum = 0.0;
        for _ in 0..10_000 {
            let unit = one.unit();
            assert_eq!(unit, other.unit());
            assert!((0.0..1.0).contains(&unit));
            sum += unit;
        }
        assert!((sum / 10_000.0 - 0.5).abs() < 0.02);
        let (mut mean, mut beyond_two) = (0.0, 0);
        for _ in 0..10_000 {
            let number = one.exponential();
            mean += number / 10_000.0;
            beyond_two += usize::from(number > 2.0);
        }
        assert!((mean - 1.0).abs() < 0.05);
        assert!((beyond_two as f64 / 10_000.0 - (-2f64).exp()).abs() < 0.01);
        assert!((0..1000).all(|_| one.below(7) < 7));
    }
}
