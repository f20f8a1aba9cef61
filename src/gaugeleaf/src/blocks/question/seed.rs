//! A small generator whose draws are the same on every publish: its seed is the question's text.

use sha2::{Digest, Sha256};

/// Where the draws stand.
pub struct Draw(u64);

impl Draw {
    /// Starts from a text.
    pub fn of(text: &str) -> Draw {
        let digest = Sha256::digest(text.as_bytes());
        Draw(
            digest
                .iter()
                .take(8)
                .fold(0, |seed, byte| seed << 8 | u64::from(*byte)),
        )
    }

    /// The next draw, by a multiplication and mixed shifts (SplitMix64).
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `count`; 0 where there is nothing to draw from.
    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % (count.max(1) as u64)) as usize
    }

    /// Puts items into an order of chance.
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }

    /// So many distinct numbers below `of`, in an order of chance; all where there are no more.
    pub fn distinct(&mut self, count: usize, of: usize) -> Vec<usize> {
        let mut drawn = Vec::new();
        if of <= 4 * count {
            drawn.extend(0..of);
            self.shuffle(&mut drawn);
            drawn.truncate(count);
            return drawn;
        }
        while drawn.len() < count {
            let one = self.below(of);
            if !drawn.contains(&one) {
                drawn.push(one);
            }
        }
        drawn
    }
}

#[cfg(test)]
mod tests {
    use crate::blocks::question::seed::Draw;

    #[test]
    fn the_same_text_draws_the_same_and_another_text_does_not() {
        let drawn = |text: &str| Draw::of(text).distinct(20, 1000);
        assert_eq!(drawn("a"), drawn("a"));
        assert_ne!(drawn("a"), drawn("b"));
    }

    #[test]
    fn draws_are_distinct_and_in_reach_and_all_where_there_are_few() {
        for of in [0, 1, 7, 20, 81, 1_000_000] {
            let mut drawn = Draw::of("x").distinct(20, of);
            assert_eq!(drawn.len(), of.min(20));
            drawn.sort_unstable();
            drawn.dedup();
            assert_eq!(
                (drawn.len(), drawn.iter().all(|one| *one < of)),
                (of.min(20), true)
            );
        }
    }
}
