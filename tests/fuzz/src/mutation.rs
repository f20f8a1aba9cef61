//! Bytes made from others: the same from the same seed.

/// Marks that readers look for.
const TOKENS: [&str; 40] = [
    "\n", "\"", "'", "[", "]", "[[", "{", "}", "(", ")", "=", "#", "|", "`", "```", "*", "<", ">",
    "&", "\\", "/", "±", "−", "½", "″", "°", "\u{202f}", "\u{feff}", "é", "😀", "0", "1e308", "-1",
    "1/0", "NaN", ",", ".", "..", " ", "\r\n",
];

/// Numbers that look like chance (xorshift).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Chance {
        Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A number below this one; 0 where there is none.
    pub fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 16).unwrap_or(0) % bound.max(1)
    }
}

/// A seed with a few changes: letters and marks put in, parts taken out, doubled, or brought from another.
pub fn mutated(seed: &[u8], other: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=chance.below(4) {
        let at = chance.below(bytes.len() + 1);
        match chance.below(6) {
            0 if at < bytes.len() => bytes[at] ^= 1 << chance.below(8),
            1 => {
                let token = TOKENS[chance.below(TOKENS.len())];
                bytes.splice(at..at, token.bytes());
            }
            2 => drop(bytes.drain(at..(at + 1 + chance.below(16)).min(bytes.len()).max(at))),
            3 => {
                let part = bytes[at..(at + 1 + chance.below(40)).min(bytes.len())].to_vec();
                bytes.splice(at..at, part);
            }
            4 => {
                let from = chance.below(other.len() + 1);
                let to = (from + 1 + chance.below(60)).min(other.len());
                bytes.splice(at..at, other[from..to].iter().copied());
            }
            _ => bytes.truncate(bytes.len() - chance.below(bytes.len() / 8 + 1)),
        }
    }
    bytes
}
