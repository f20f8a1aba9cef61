//! Spans: what a value may be, between two bounds. Every operation rounds
//! outward, so that the true value never lies outside.

/// From `low` to `high`, both included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    pub low: f64,
    pub high: f64,
}

/// Without a remainder of floats, which takes the page's engine two kilobytes.
pub(crate) fn is_even(number: f64) -> bool {
    libm::floor(number / 2.0) * 2.0 == number
}

/// The elementary functions used are good to a unit or two in the last place.
const FUNCTION_ULPS: f64 = 4.0;

impl Span {
    pub fn point(value: f64) -> Span {
        Span {
            low: value,
            high: value,
        }
    }

    pub fn new(a: f64, b: f64) -> Span {
        Span {
            low: a.min(b),
            high: a.max(b),
        }
    }

    #[must_use]
    pub fn hull(self, other: Span) -> Span {
        Span {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
        }
    }

    pub fn width(self) -> f64 {
        self.high - self.low
    }

    /// The middle; of a count the whole number below it.
    pub fn middle(self, count: bool) -> f64 {
        let middle = self.low + self.width() / 2.0;
        if count { libm::floor(middle) } else { middle }
    }

    /// Only as far as its whole numbers, where it has any.
    #[must_use]
    pub fn whole_numbers(self) -> Span {
        let (low, high) = (libm::ceil(self.low), libm::floor(self.high));
        if low <= high {
            Span { low, high }
        } else {
            self
        }
    }

    pub fn holds(self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Wider by so many units in the last place, at each end.
    #[must_use]
    fn wider(self, ulps: f64) -> Span {
        let room = |bound: f64| bound.abs() * ulps * f64::EPSILON + f64::MIN_POSITIVE;
        Span {
            low: self.low - room(self.low),
            high: self.high + room(self.high),
        }
    }

    /// A sum or a product, a little wider: but whole numbers don't round.
    #[must_use]
    fn unless_whole(self, a: Span, b: Span) -> Span {
        let whole = |x: f64| x == libm::floor(x);
        let exact = [a.low, a.high, b.low, b.high].into_iter().all(whole)
            && self.low.abs().max(self.high.abs()) < 9e15;
        if exact { self } else { self.wider(1.0) }
    }

    pub fn plus(self, other: Span) -> Span {
        Span {
            low: self.low + other.low,
            high: self.high + other.high,
        }
        .unless_whole(self, other)
    }

    pub fn minus(self, other: Span) -> Span {
        self.plus(other.negated())
    }

    pub fn negated(self) -> Span {
        Span {
            low: -self.high,
            high: -self.low,
        }
    }

    pub fn times(self, other: Span) -> Span {
        corners(self, other, |a, b| a * b).unless_whole(self, other)
    }

    /// `None` where the divisor may be zero.
    pub fn over(self, other: Span) -> Option<Span> {
        (!other.holds(0.0)).then(|| corners(self, other, |a, b| a / b).wider(1.0))
    }

    /// A function that only rises, or only falls, over the span.
    pub fn monotone(self, f: impl Fn(f64) -> f64) -> Span {
        Span::new(f(self.low), f(self.high)).wider(FUNCTION_ULPS)
    }

    /// A step function that only rises: its values are exact.
    pub fn stepped(self, f: impl Fn(f64) -> f64) -> Span {
        Span::new(f(self.low), f(self.high))
    }

    pub fn abs(self) -> Span {
        let (a, b) = (self.low.abs(), self.high.abs());
        Span {
            low: if self.holds(0.0) { 0.0 } else { a.min(b) },
            high: a.max(b),
        }
    }

    pub fn min(self, other: Span) -> Span {
        Span {
            low: self.low.min(other.low),
            high: self.high.min(other.high),
        }
    }

    pub fn max(self, other: Span) -> Span {
        Span {
            low: self.low.max(other.low),
            high: self.high.max(other.high),
        }
    }

    pub fn sin(self) -> Span {
        use std::f64::consts::{FRAC_PI_2, TAU};
        let mut span = self.monotone(libm::sin);
        // A crest or a trough inside, or within rounding of an end.
        let has = |phase: f64| {
            let turns = libm::ceil((self.low - phase) / TAU - 1e-9);
            phase + turns * TAU <= self.high + 1e-9
        };
        if has(FRAC_PI_2) {
            span.high = 1.0;
        }
        if has(-FRAC_PI_2) {
            span.low = -1.0;
        }
        Span {
            low: span.low.max(-1.0),
            high: span.high.min(1.0),
        }
    }

    pub fn cos(self) -> Span {
        self.plus(Span::point(std::f64::consts::FRAC_PI_2))
            .wider(FUNCTION_ULPS)
            .sin()
    }

    /// `None` where the tangent may be without bound.
    pub fn tan(self) -> Option<Span> {
        use std::f64::consts::{FRAC_PI_2, PI};
        let turns = libm::ceil((self.low - FRAC_PI_2) / PI - 1e-9);
        (FRAC_PI_2 + turns * PI > self.high + 1e-9).then(|| self.monotone(libm::tan))
    }

    /// The angle of the point (x, y).
    pub fn atan2(self, x: Span) -> Span {
        if x.low <= 0.0 && self.holds(0.0) {
            return Span::new(-std::f64::consts::PI, std::f64::consts::PI).wider(1.0);
        }
        corners(self, x, libm::atan2).wider(FUNCTION_ULPS)
    }

    /// `None` where the power may not exist.
    pub fn power(self, exponent: Span) -> Option<Span> {
        let whole = exponent.low == exponent.high
            && exponent.low == libm::floor(exponent.low)
            && exponent.low.abs() <= 64.0;
        if whole {
            let n = exponent.low;
            let raise = |x: f64| libm::pow(x, n.abs());
            let even = is_even(n);
            let raised = if even { self.abs() } else { self }
                .monotone(raise)
                .wider(8.0);
            let raised = if even {
                Span {
                    low: raised.low.max(0.0),
                    ..raised
                }
            } else {
                raised
            };
            return if n < 0.0 {
                Span::point(1.0).over(raised)
            } else {
                Some(raised)
            };
        }
        (self.low > 0.0).then(|| corners(self, exponent, libm::pow).wider(FUNCTION_ULPS))
    }

    pub fn is_finite(self) -> bool {
        self.low.is_finite() && self.high.is_finite()
    }
}

/// The hull of a function's values at the four corners: enough wherever the
/// function is monotone in each of its arguments.
fn corners(a: Span, b: Span, f: impl Fn(f64, f64) -> f64) -> Span {
    let one = Span::new(f(a.low, b.low), f(a.low, b.high));
    one.hull(Span::new(f(a.high, b.low), f(a.high, b.high)))
}
