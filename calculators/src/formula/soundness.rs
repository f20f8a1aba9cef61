//! Spans against samples: no value inside the inputs' spans may fall outside
//! the result's.

use crate::message::Message;
use proptest::prelude::*;

use super::functions::Property;
use super::*;

const PROPERTIES: [Property; 4] = [
    Property::Density,
    Property::Viscosity,
    Property::HeatCapacity,
    Property::Expansion,
];

/// Three plain names, each a value or a span.
struct Point([f64; 3]);
struct Box3([Span; 3]);

fn at(name: &str) -> Option<usize> {
    ["a", "b", "c"].iter().position(|known| *known == name)
}

impl Values for Point {
    fn value(&self, name: &str) -> Option<Value> {
        if name == "layout" {
            return Some(Value::Choice("30".into()));
        }
        at(name).map(|at| Value::Number(self.0[at]))
    }

    fn lookup(&self, _: &str, _: &str, _: &[(&str, Value)]) -> Result<Value, Message> {
        Err(Message::default())
    }

    fn found(&self, _: &str, _: &[(&str, Value)]) -> Result<bool, Message> {
        Err(Message::default())
    }
}

impl Spreads for Box3 {
    fn spread(&self, name: &str) -> Option<Spread> {
        if name == "layout" {
            return Some(Spread::Choice(vec!["30".into()]));
        }
        at(name).map(|at| Spread::Number(self.0[at]))
    }

    fn entries(&self, _: &str, _: &str) -> Vec<Value> {
        Vec::new()
    }
}

const FORMULAS: &[&str] = &[
    "a + b * c",
    "a - b - a",
    "a / (b + 10)",
    "(a - b) ^ 2",
    "(a - b) ^ 3",
    "(abs(a) + 1) ^ -2",
    "(abs(a) + 1) ^ b",
    "2 ^ a",
    "sqrt(abs(a * b))",
    "min(a, b, c) + max(a, b)",
    "floor(a) + ceil(b) + round(c)",
    "if a < b then a * c else b - c",
    "if a * b > 0 and c >= 0 or a = b then a else c",
    "if not a > c then exp(a / 4) else ln(abs(c) + 2)",
    "log10(abs(a) + 1) * b",
    "sum(k, 1, 6, k * a - b)",
    "sum(k, floor(a), ceil(a) + 3, k + b)",
    "largest(k, -3, 3, k * a + b)",
    "root(x, -1000, 1000, x ^ 3 + x - a * 10)",
    "root(x, 0, 100, exp(x / 20) - 1 - abs(b))",
    "lattice_row(layout, \"on-tube\", abs(a), abs(b) / 4, 0)",
    "sum(j, -lattice_end(layout, \"between-tubes\", abs(a)), lattice_end(layout, \"between-tubes\", abs(a)), lattice_row(layout, \"between-tubes\", abs(a), 0, j))",
];

const ANGLES: &[&str] = &[
    "sin(a * 1 rad) * cos(b * 3 rad)",
    "tan(a * 0.1 rad)",
    "atan2(a, b) / 1 rad",
    "(asin(a / 20) + acos(b / 20) + atan(c)) / 1 rad",
];

fn span() -> impl Strategy<Value = (f64, f64, f64)> {
    (
        -12.0f64..12.0,
        prop_oneof![Just(0.0), 0.0f64..0.01, 0.0f64..4.0],
        0.0f64..=1.0,
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]

    #[test]
    fn no_sample_falls_outside_the_span(
        which in 0..FORMULAS.len() + ANGLES.len(),
        sides in prop::array::uniform3(span()),
    ) {
        let text = FORMULAS.iter().chain(ANGLES).nth(which).unwrap();
        let formula = Formula::parse(text).unwrap();
        let spans = sides.map(|(low, width, _)| Span::new(low, low + width));
        let inside = sides.map(|(low, width, part)| (low + width * part).min(low + width));
        let Ok(Spread::Number(span)) = formula.enclose(&Box3(spans)) else {
            return Ok(());
        };
        if let Ok(Value::Number(value)) = formula.evaluate(&Point(inside)) {
            prop_assert!(span.holds(value), "{text} at {inside:?} in {spans:?}: {value} outside {span:?}");
        }
    }

    /// Spans that are points give spans that are nearly points.
    #[test]
    fn a_point_stays_narrow(which in 0..FORMULAS.len(), sides in prop::array::uniform3(-12.0f64..12.0)) {
        let formula = Formula::parse(FORMULAS[which]).unwrap();
        let (point, spans) = (formula.evaluate(&Point(sides)), formula.enclose(&Box3(sides.map(Span::point))));
        if let (Ok(Value::Number(value)), Ok(Spread::Number(span))) = (point, spans) {
            prop_assert!(span.high - span.low <= 1e-6 * value.abs().max(1.0), "{value} in {span:?}");
        }
    }
}

/// Each property's second differences, and first ones where it counts as rising or falling.
#[test]
fn waters_properties_never_bend_more_than_the_spans_assume() {
    let pressures: Vec<f64> = (0..20)
        .map(|step| f64::from(step).mul_add(15e6, 1.2e6))
        .collect();
    let mut worst = [[0.0f64; 2]; 4];
    for (property, worst) in PROPERTIES.iter().zip(&mut worst) {
        let (by_temperature, by_pressure) = property.bulge();
        let of = |t: f64, p: f64| property.at(t, p).unwrap();
        for step in 0..198 {
            let t = 273.15 + 0.4 + 0.5 * f64::from(step);
            for p in &pressures {
                let (dt, dp) = (0.4, 1e6);
                let here = of(t, *p);
                let bend = (of(t - dt, *p) - 2.0 * here + of(t + dt, *p)) / (dt * dt);
                let pressed = (of(t, *p - dp) - 2.0 * here + of(t, *p + dp)) / (dp * dp);
                if by_temperature == 0.0 {
                    assert!(
                        of(t - dt, *p) > here && here > of(t + dt, *p),
                        "{property:?} at {t} K, {p} Pa"
                    );
                } else {
                    worst[0] = worst[0].max(bend.abs() / by_temperature);
                }
                if by_pressure == 0.0 {
                    assert!(
                        of(t, *p - dp) < here && here < of(t, *p + dp),
                        "{property:?} at {t} K, {p} Pa"
                    );
                } else {
                    worst[1] = worst[1].max(pressed.abs() / by_pressure);
                }
            }
        }
    }
    assert!(
        worst.as_flattened().iter().all(|share| *share < 0.8),
        "{worst:?}"
    );
}
