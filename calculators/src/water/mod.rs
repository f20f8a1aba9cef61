//! Properties of liquid water, from IAPWS-95 (R6-95, 2018) and the IAPWS
//! formulation of 2008 for viscosity (R12-08, without the critical enhancement).
//!
//! ```
//! use gaugeleaf_calc::water::Water;
//! let tap = Water::at(288.15, 101_325.0).unwrap();
//! assert!((tap.density() - 999.1026).abs() < 1e-3);
//! ```

mod terms;

use terms::{IDEAL, IDEAL_LOG, SeriesTerm, TERMS, VISCOSITY_DENSE, VISCOSITY_DILUTE};

const CRITICAL_TEMPERATURE: f64 = 647.096;
const CRITICAL_DENSITY: f64 = 322.0;
/// The specific gas constant that IAPWS-95 uses, J/(kg·K).
const GAS_CONSTANT: f64 = 461.518_05;

/// Where the properties hold: liquid from the ice point to 100 °C, up to 300 MPa.
pub const LEAST_TEMPERATURE: f64 = 273.15;
pub const MOST_TEMPERATURE: f64 = 373.15;
pub const LEAST_PRESSURE: f64 = 101_325.0;
pub const MOST_PRESSURE: f64 = 300e6;

/// Water at one temperature and absolute pressure.
#[derive(Debug, Clone, Copy)]
pub struct Water {
    temperature: f64,
    density: f64,
    /// Each term's n·τ^t.
    scaled: [f64; 51],
}

/// The residual Helmholtz energy's derivatives, each times its powers of δ and τ.
#[derive(Default)]
struct Residual {
    d: f64,
    dd: f64,
    tt: f64,
    dt: f64,
}

impl Water {
    /// Liquid water at a temperature in K and an absolute pressure in Pa;
    /// `None` outside the range in which the properties hold.
    pub fn at(temperature: f64, pressure: f64) -> Option<Water> {
        let inside = (LEAST_TEMPERATURE..=MOST_TEMPERATURE).contains(&temperature)
            && (LEAST_PRESSURE * (1.0 - 1e-9)..=MOST_PRESSURE).contains(&pressure);
        if !inside {
            return None;
        }
        let tau = CRITICAL_TEMPERATURE / temperature;
        let scaled = scaled(tau);
        // Expanded from 4 °C and compressed by its bulk modulus, water is near enough for
        // Newton's method.
        let warm = temperature - 277.0;
        let mut density = 1000.0 * (1.0 - 4.6e-6 * warm * warm) * (1.0 + pressure / 2.5e9);
        for _ in 0..20 {
            let delta = density / CRITICAL_DENSITY;
            let (mut d, mut dd) = (0.0, 0.0);
            each_term(delta, &scaled, |_, value, first, second| {
                d += value * first;
                dd += value * second;
            });
            let scale = density * GAS_CONSTANT * temperature;
            let excess = scale * (1.0 + d) - pressure;
            let slope = GAS_CONSTANT * temperature * (1.0 + 2.0 * d + dd);
            let step = excess / slope;
            density -= step;
            if step.abs() < 1e-12 * density {
                break;
            }
        }
        density.is_finite().then_some(Water {
            temperature,
            density,
            scaled,
        })
    }

    /// kg/m³
    pub fn density(&self) -> f64 {
        self.density
    }

    /// Pa·s
    pub fn viscosity(&self) -> f64 {
        let reduced = self.temperature / CRITICAL_TEMPERATURE;
        let below: f64 = (0..)
            .zip(&VISCOSITY_DILUTE)
            .map(|(power, h)| h / whole_power(reduced, power))
            .sum();
        let dilute = 100.0 * libm::sqrt(reduced) / below;
        let (x, y) = (1.0 / reduced - 1.0, self.density / CRITICAL_DENSITY - 1.0);
        let sum: f64 = VISCOSITY_DENSE
            .iter()
            .map(|(i, j, h)| h * whole_power(x, *i) * whole_power(y, *j))
            .sum();
        1e-6 * dilute * libm::exp((y + 1.0) * sum)
    }

    /// Isobaric heat capacity, J/(kg·K).
    pub fn heat_capacity(&self) -> f64 {
        let residual = self.residual();
        let above = 1.0 + residual.d - residual.dt;
        let below = 1.0 + 2.0 * residual.d + residual.dd;
        GAS_CONSTANT * (-(self.ideal_tt() + residual.tt) + above * above / below)
    }

    /// Volume expansion at constant pressure, 1/K.
    pub fn expansion(&self) -> f64 {
        let residual = self.residual();
        let above = 1.0 + residual.d - residual.dt;
        above / (1.0 + 2.0 * residual.d + residual.dd) / self.temperature
    }

    fn residual(&self) -> Residual {
        let mut sum = Residual::default();
        let delta = self.density / CRITICAL_DENSITY;
        each_term(delta, &self.scaled, |term, value, first, second| {
            sum.d += value * first;
            sum.dd += value * second;
            sum.tt += value * term.t * (term.t - 1.0);
            sum.dt += value * first * term.t;
        });
        sum
    }

    /// τ²·φ⁰_ττ
    fn ideal_tt(&self) -> f64 {
        let tau = CRITICAL_TEMPERATURE / self.temperature;
        let sum: f64 = IDEAL
            .iter()
            .map(|(n, gamma)| {
                let e = libm::exp(-gamma * tau);
                n * gamma * gamma * e / ((1.0 - e) * (1.0 - e))
            })
            .sum();
        -IDEAL_LOG - tau * tau * sum
    }
}

/// Each term's n·τ^t. Every t is a number of eighths, so three square roots and whole
/// powers of them give it.
fn scaled(tau: f64) -> [f64; 51] {
    let eighth = libm::sqrt(libm::sqrt(libm::sqrt(tau)));
    TERMS.each_ref().map(|term| {
        let whole = libm::floor(term.t);
        let eighths = (term.t - whole) * 8.0;
        let power = whole_power(tau, whole.abs() as i32);
        let power = if whole < 0.0 { 1.0 / power } else { power };
        term.n * power * whole_power(eighth, eighths as i32)
    })
}

/// Each term's value at a reduced density, with the factors of its first and second
/// derivatives by δ; the terms are already scaled by τ^t.
fn each_term(delta: f64, scaled: &[f64; 51], mut take: impl FnMut(&SeriesTerm, f64, f64, f64)) {
    let mut rising = [1.0; 16];
    for d in 1..rising.len() {
        rising[d] = rising[d - 1] * delta;
    }
    // no decay where c is 0
    let mut powers = [0.0; 7];
    powers[1..].copy_from_slice(&rising[1..7]);
    let decays = powers.map(|power| libm::exp(-power));
    for (term, n) in TERMS.iter().zip(scaled) {
        let (d, c) = (term.d as f64, term.c as f64);
        let value = n * rising[term.d] * decays[term.c];
        let first = d - c * powers[term.c];
        let second = first * (first - 1.0) - c * c * powers[term.c];
        take(term, value, first, second);
    }
}

/// By squaring: the same bits on every target.
fn whole_power(base: f64, exponent: i32) -> f64 {
    let (mut result, mut base, mut left) = (1.0, base, exponent);
    while left > 0 {
        if left % 2 == 1 {
            result *= base;
        }
        base *= base;
        left /= 2;
    }
    result
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IAPWS R6-95, table 7: pressure and isochoric values at 300 K, here put
    /// the other way round: 996.5560 kg/m³ at 0.099 241 835 2 MPa lies below the
    /// range, 1005.308 kg/m³ at 20.002 251 4 MPa and 1188.202 kg/m³ at
    /// 700.004 704 MPa at its ends.
    #[test]
    fn density_agrees_with_the_release_at_300_kelvin() {
        let water = Water::at(300.0, 20.002_251_4e6).unwrap();
        assert!(
            (water.density() / 1005.308 - 1.0).abs() < 1e-9,
            "{}",
            water.density()
        );
        assert!(Water::at(300.0, 0.099e6).is_none());
        assert!(Water::at(300.0, 700e6).is_none());
    }

    /// IAPWS R12-08, table 4: 298.15 K and 998 kg/m³ give 889.735 100 µPa·s.
    #[test]
    fn viscosity_agrees_with_the_release() {
        let water = Water {
            temperature: 298.15,
            density: 998.0,
            scaled: scaled(CRITICAL_TEMPERATURE / 298.15),
        };
        assert!(
            (water.viscosity() / 889.735_100e-6 - 1.0).abs() < 1e-9,
            "{}",
            water.viscosity()
        );
    }

    #[test]
    fn properties_change_smoothly_over_the_range() {
        for kelvin in 274..=373 {
            let mut before = 0.0;
            for megapascal in 1..=300 {
                let water = Water::at(f64::from(kelvin), f64::from(megapascal) * 1e6).unwrap();
                assert!(water.density() > before);
                before = water.density();
                assert!((3500.0..4400.0).contains(&water.heat_capacity()));
            }
        }
    }
}
