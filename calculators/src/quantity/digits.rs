//! Digits to the nearest double. The standard library's parser brings a table of powers that
//! weighs a twelfth of the browser's engine; this is slower, and only on long numbers.

use super::number::power_of_ten;

/// Digits that a double holds whatever they are, and powers of ten that it holds exactly.
const SURE_DIGITS: usize = 15;
const SURE_PLACES: usize = 22;

/// The least power of two that a double counts in, and the numbers that fill its bits.
const LEAST_POWER: i32 = -1074;
const FULL: u64 = 1 << 53;

/// The value of digits with at most one point: the nearest double, however many there are.
pub(super) fn value_of(text: &str) -> f64 {
    let mut number = Decimal {
        digits: Vec::new(),
        point: 0,
    };
    let mut places = 0;
    let mut past = false;
    for digit in text.bytes() {
        if digit == b'.' {
            past = true;
            continue;
        }
        places += usize::from(past);
        if digit != b'0' || !number.digits.is_empty() {
            number.digits.push(digit - b'0');
        }
    }
    number.point = number.digits.len() as i32 - places as i32;
    if number.digits.len() <= SURE_DIGITS && places <= SURE_PLACES {
        // both are exact, so their quotient is rounded once
        let digits = number.digits.iter();
        let all = digits.fold(0, |all, digit| all * 10 + u64::from(*digit));
        return all as f64 / power_of_ten(places);
    }
    number.nearest()
}

/// `0.d1d2d3… × 10^point`, the first digit not a zero.
struct Decimal {
    digits: Vec<u8>,
    point: i32,
}

impl Decimal {
    fn nearest(mut self) -> f64 {
        // beyond the largest double, and below half of the least
        if self.point > 309 {
            return f64::INFINITY;
        }
        if self.point < -323 {
            return 0.0;
        }
        let mut power = 0;
        while self.whole() >= FULL {
            self.halve();
            power += 1;
        }
        while self.whole() < FULL / 2 && power > LEAST_POWER {
            self.double();
            power -= 1;
        }
        let whole = self.whole();
        let mut value = (whole + u64::from(self.rounds_up(whole))) as f64;
        // exact at every step: no bit is lost above the least power
        for _ in 0..power.abs() {
            value *= if power > 0 { 2.0 } else { 0.5 };
        }
        value
    }

    /// The digits before the point; no less than `FULL` where there are too many.
    fn whole(&self) -> u64 {
        if self.point > 16 {
            return FULL;
        }
        let digit = |at: i32| u64::from(*self.digits.get(at as usize).unwrap_or(&0));
        (0..self.point).fold(0, |whole, at| whole * 10 + digit(at))
    }

    /// Half and more behind the point; at half itself, to the even number.
    fn rounds_up(&self, whole: u64) -> bool {
        let Some(behind) = usize::try_from(self.point)
            .ok()
            .and_then(|point| self.digits.get(point..))
        else {
            return false;
        };
        match behind {
            [5] => whole % 2 == 1,
            [first, ..] => *first >= 5,
            [] => false,
        }
    }

    fn double(&mut self) {
        let mut carry = 0;
        for digit in self.digits.iter_mut().rev() {
            let doubled = *digit * 2 + carry;
            *digit = doubled % 10;
            carry = doubled / 10;
        }
        if carry > 0 {
            self.digits.insert(0, carry);
            self.point += 1;
        }
        self.trim();
    }

    fn halve(&mut self) {
        let mut rest = 0;
        for digit in &mut self.digits {
            let value = rest * 10 + *digit;
            *digit = value / 2;
            rest = value % 2;
        }
        if rest > 0 {
            self.digits.push(5);
        }
        if self.digits.first() == Some(&0) {
            self.digits.remove(0);
            self.point -= 1;
        }
        self.trim();
    }

    fn trim(&mut self) {
        while self.digits.last() == Some(&0) {
            self.digits.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::value_of;
    use proptest::prelude::*;

    fn same(text: &str) {
        let known: f64 = text.parse().unwrap();
        assert_eq!(value_of(text).to_bits(), known.to_bits(), "{text}");
    }

    #[test]
    fn numbers_at_the_edges_are_the_nearest_doubles() {
        for text in [
            "0",
            "0.0",
            ".5",
            "5.",
            "9007199254740993",
            "9007199254740992.5",
        ] {
            same(text);
        }
        same(&format!("{}.{}", 9_007_199_254_740_993_u64, "0".repeat(40)));
        same(&format!(
            "{}.{}1",
            9_007_199_254_740_993_u64,
            "0".repeat(40)
        ));
        for size in 290..320 {
            for lead in [
                "1",
                "2",
                "17976931348623157",
                "17976931348623158079",
                "5",
                "99999999999999999",
            ] {
                same(&format!("{lead}{}", "0".repeat(size)));
            }
        }
        for size in 300..330 {
            for tail in [
                "1",
                "24703282292062327",
                "24703282292062328",
                "4940656458412465",
                "2225073858507201",
                "3",
                "75",
            ] {
                same(&format!("0.{}{tail}", "0".repeat(size)));
            }
        }
    }

    #[test]
    fn what_lies_between_two_doubles_goes_to_the_even_one() {
        // every digit of half the least double, and a little beside it
        let half = format!("{:.1080}", f64::from_bits(1));
        let half = half.trim_end_matches('0');
        same(half);
        same(&format!("{:.400}", 1.0 + f64::EPSILON));
        for odd in [1.0 + f64::EPSILON, 0.1, 1e-5, 123_456.789] {
            let (low, high) = (format!("{odd:.1100}"), format!("{:.1100}", odd.next_up()));
            let middle: String = middle(low.trim_end_matches('0'), high.trim_end_matches('0'));
            same(&middle);
            same(&format!("{middle}1"));
        }
    }

    /// Half the sum of two numbers below ten million, digit by digit.
    fn middle(low: &str, high: &str) -> String {
        let (whole, other) = (low.find('.').unwrap(), high.find('.').unwrap());
        assert_eq!(whole, other);
        let digit = |text: &str, at: usize| {
            u32::from(*text.replace('.', "").as_bytes().get(at).unwrap_or(&b'0') - b'0')
        };
        let count = low.len().max(high.len()) + 1;
        let mut sum: Vec<u32> = (0..count)
            .map(|at| digit(low, at) + digit(high, at))
            .collect();
        for at in (1..count).rev() {
            sum[at - 1] += sum[at] / 10;
            sum[at] %= 10;
        }
        let (mut text, mut rest) = (String::new(), 0);
        for (at, digit) in sum.into_iter().enumerate() {
            if at == whole {
                text.push('.');
            }
            let value = rest * 10 + digit;
            text.push_str(&(value / 2).to_string());
            rest = value % 2;
        }
        text
    }

    proptest! {
        #[test]
        fn every_number_is_read_to_the_bit(text in "[0-9]{1,40}|[0-9]{0,25}\\.[0-9]{1,40}|0\\.0{0,330}[0-9]{1,30}|[1-9][0-9]{0,315}") {
            same(&text);
        }

        #[test]
        fn what_a_double_prints_reads_back(value in proptest::num::f64::POSITIVE | proptest::num::f64::SUBNORMAL) {
            let value = value.abs();
            prop_assert_eq!(value_of(&format!("{value}")).to_bits(), value.to_bits());
        }
    }
}
