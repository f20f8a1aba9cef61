//! What a value stands on: whether somebody measured it, whether a plate gives it, or nobody.

use serde::{Deserialize, Serialize};

/// What a value is worth; the weaker is the lesser, and a result has the weakest of all that it
/// was worked out from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Ground {
    /// Nobody has measured or set it.
    None,
    /// Another job's value, or one that only shows how something is used.
    Example,
    /// A newer entry was refused, and nobody has said that the older one still holds.
    Doubted,
    /// A usual value that nobody took, from a closed list.
    Assumed,
    /// A constant of nature, or a published table.
    Public,
    /// The equipment's plate or its maker's sheet gives it.
    Rated,
    /// Taken on this job, or given by the one who asks.
    Measured,
}

impl Ground {
    pub fn word(self) -> &'static str {
        match self {
            Ground::None => "none",
            Ground::Example => "example",
            Ground::Doubted => "doubted",
            Ground::Assumed => "assumed",
            Ground::Public => "public",
            Ground::Rated => "rated",
            Ground::Measured => "measured",
        }
    }

    /// Whether a verdict may stand on it without another look.
    pub fn bears(self) -> bool {
        self >= Ground::Public
    }
}

/// A value's ground, and what keeps it from a firmer one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Footing {
    pub ground: Ground,
    /// Everything beneath it that doesn't bear a verdict, by name: a measurement, a rating, or
    /// `calculator.input`. In the order of names.
    pub weak: Vec<String>,
}

/// Nothing beneath yet: as firm as can be.
impl Default for Footing {
    fn default() -> Footing {
        Footing::of(Ground::Measured)
    }
}

impl Footing {
    pub fn of(ground: Ground) -> Footing {
        Footing {
            ground,
            weak: Vec::new(),
        }
    }

    /// The ground of a value that others are worked out from.
    pub fn on(ground: Ground, name: &str) -> Footing {
        let weak = if ground.bears() {
            Vec::new()
        } else {
            vec![name.to_string()]
        };
        Footing { ground, weak }
    }

    /// Puts another value beneath the same result.
    pub fn join(&mut self, other: &Footing) {
        self.ground = self.ground.min(other.ground);
        for name in &other.weak {
            if let Err(at) = self.weak.binary_search(name) {
                self.weak.insert(at, name.clone());
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_result_has_the_weakest_ground_and_names_what_is_weak() {
        let mut result = Footing::default();
        result.join(&Footing::on(Ground::Rated, "jaw_max"));
        assert_eq!((result.ground, result.weak.len()), (Ground::Rated, 0));
        result.join(&Footing::on(Ground::Assumed, "water_temperature"));
        result.join(&Footing::on(Ground::None, "channel_depth"));
        result.join(&Footing::on(Ground::Assumed, "water_temperature"));
        assert_eq!(result.ground, Ground::None);
        assert_eq!(result.weak, ["channel_depth", "water_temperature"]);
    }

    #[test]
    fn only_what_was_published_rated_or_measured_bears_a_verdict() {
        let bears: Vec<&str> = [
            Ground::None,
            Ground::Example,
            Ground::Doubted,
            Ground::Assumed,
            Ground::Public,
            Ground::Rated,
            Ground::Measured,
        ]
        .into_iter()
        .filter(|ground| ground.bears())
        .map(Ground::word)
        .collect();
        assert_eq!(bears, ["public", "rated", "measured"]);
    }
}
