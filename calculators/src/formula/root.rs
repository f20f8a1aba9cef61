//! A bracketed root finder: bisection made faster by false position, which
//! always keeps the root between its bounds and always ends.

/// Width of the bracket, relative to its ends, at which the search ends.
const CLOSE: f64 = 1e-14;
/// Some 60 halvings reach `CLOSE`, and where the curve is all but level each takes six tries.
const MOST_TRIES: usize = 400;

/// The x between `low` and `high` where `f` is zero; `None` where the ends
/// have the same sign.
pub(super) fn find<E>(
    low: f64,
    high: f64,
    mut f: impl FnMut(f64) -> Result<f64, E>,
) -> Result<Option<f64>, E> {
    let (mut a, mut b) = (low, high);
    let (mut at_a, mut at_b) = (f(a)?, f(b)?);
    if at_a == 0.0 {
        return Ok(Some(a));
    }
    if at_b == 0.0 {
        return Ok(Some(b));
    }
    if (at_a < 0.0) == (at_b < 0.0) {
        return Ok(None);
    }
    // Which end stayed at the last try, and how wide it was three tries ago.
    let (mut stayed, mut was) = (None, f64::INFINITY);
    for turn in 0..MOST_TRIES {
        let width = b - a;
        let close = CLOSE * a.abs().max(b.abs());
        if width.abs() <= close {
            break;
        }
        // Three tries that don't halve the width are followed by one that does, whatever the
        // shape.
        let mut slow = false;
        if turn % 3 == 2 {
            slow = width.abs() > was / 2.0;
            was = width.abs();
        }
        let guess = if slow {
            a + width / 2.0
        } else {
            a - at_a * width / (at_b - at_a)
        };
        // A hair inside the ends: where one of them is as good as the root, the other side of it
        // is met at once, and nothing is left to search.
        let hair = close / 2.0;
        let (least, most) = (a.min(b) + hair, a.max(b) - hair);
        let inside = guess.is_finite() && least < most;
        let x = match inside {
            true => guess.max(least).min(most),
            false => a + width / 2.0,
        };
        let at_x = f(x)?;
        if at_x == 0.0 {
            return Ok(Some(x));
        }
        // An end that stays put twice weighs half (the Illinois rule).
        let stays_b = (at_x < 0.0) == (at_a < 0.0);
        let again = stayed.replace(stays_b) == Some(stays_b);
        let weight = if again { 0.5 } else { 1.0 };
        if stays_b {
            (a, at_a) = (x, at_x);
            at_b *= weight;
        } else {
            (b, at_b) = (x, at_x);
            at_a *= weight;
        }
    }
    Ok(Some(a + (b - a) / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn root(low: f64, high: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
        find(low, high, |x| Ok::<f64, ()>(f(x))).unwrap()
    }

    #[test]
    fn roots_are_found_to_the_last_digits() {
        assert!(
            (root(0.0, 2.0, |x| x * x - 2.0).unwrap() - std::f64::consts::SQRT_2).abs() < 1e-13
        );
        assert!(
            (root(0.0, 10.0, |x| libm::cos(x / 4.0)).unwrap() - 2.0 * std::f64::consts::PI).abs()
                < 1e-12
        );
        assert!((root(-1.0, 1e6, |x| libm::atan(x - 3.0)).unwrap() - 3.0).abs() < 1e-12);
    }

    #[test]
    fn a_root_where_the_curve_is_all_but_level_is_found_as_near() {
        let level = |x: f64| -12.0 * libm::pow(x, 19.0);
        assert!(root(-1.71, 12.0, level).unwrap().abs() < 1e-16);
    }

    #[test]
    fn a_root_of_a_smooth_curve_costs_few_tries() {
        let tries = |low, high, f: &dyn Fn(f64) -> f64| {
            let tries = std::cell::Cell::new(0);
            let counted = |x| {
                tries.set(tries.get() + 1);
                f(x)
            };
            root(low, high, counted).unwrap();
            tries.get()
        };
        assert!(tries(0.0, 2.0, &|x| x * x - 2.0) < 16);
        assert!(tries(0.0, 9.0, &|x| 1.0 - libm::exp(2.0 - x)) < 16);
        assert!(tries(-1.0, 1e6, &|x| libm::atan(x - 3.0)) < 60);
    }

    #[test]
    fn without_a_change_of_sign_there_is_no_root() {
        assert_eq!(root(1.0, 2.0, |x| x), None);
    }
}
