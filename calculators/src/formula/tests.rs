//! The formula language as a whole: text in, value or fault out.

use crate::message::Message;
use proptest::prelude::*;

use super::*;
use crate::unit::{Dimension, ScaleKind};

struct Job;

impl Scope for Job {
    fn name(&self, name: &str) -> Option<Type> {
        match name {
            "stock" | "depth" => Some(Type::Number(Dimension::LENGTH, ScaleKind::Plain)),
            "p" => Some(Type::Number(Dimension::PRESSURE, ScaleKind::Plain)),
            "density" => Some(Type::Number(Dimension::DENSITY, ScaleKind::Plain)),
            "water" => Some(Type::Number(Dimension::TEMPERATURE, ScaleKind::Absolute)),
            "layout" => Some(Type::Choice(vec!["30".into(), "90".into()])),
            _ => None,
        }
    }

    fn is_told(&self, name: &str) -> bool {
        name != "depth"
    }

    fn names(&self) -> Vec<String> {
        ["stock", "depth", "p", "density", "water", "layout"]
            .map(String::from)
            .to_vec()
    }

    fn column(&self, table: &str, column: &str) -> Result<Type, String> {
        match (table, column) {
            ("hex", "bolt" | "wrench") => Ok(Type::Number(Dimension::LENGTH, ScaleKind::Plain)),
            _ => Err(format!("there is no {table}.{column}")),
        }
    }
}

impl Values for Job {
    fn value(&self, name: &str) -> Option<Value> {
        Some(match name {
            "stock" => Value::Number(0.3),
            "depth" => Value::Number(0.2),
            "p" => Value::Number(8e6),
            "density" => Value::Number(1000.0),
            "water" => Value::Number(288.15),
            "layout" => Value::Choice("30".into()),
            _ => return None,
        })
    }

    fn lookup(&self, _: &str, _: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        match keys {
            [("bolt", Value::Number(bolt))] => Ok(Value::Number(bolt * 1.5)),
            _ => Err(Message::data("no row fits")),
        }
    }

    fn found(&self, _: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        Ok(matches!(keys, [("bolt", _)]))
    }
}

fn value(text: &str) -> f64 {
    let formula = Formula::parse(text).unwrap();
    formula.check(&Job).unwrap();
    match formula.evaluate(&Job).unwrap() {
        Value::Number(value) => value,
        Value::Truth(value) => f64::from(u8::from(value)),
        Value::Choice(word) => panic!("{word}"),
    }
}

fn refused(text: &str) -> (String, String) {
    let formula = Formula::parse(text).unwrap();
    let fault = formula.check(&Job).unwrap_err();
    (text[fault.span].to_string(), fault.message)
}

#[test]
fn arithmetic_binds_as_on_paper() {
    assert_eq!(value("2 + 3 * 4"), 14.0);
    assert_eq!(value("-2 ^ 2"), -4.0);
    assert_eq!(value("2 ^ 3 ^ 2"), 512.0);
    assert_eq!(value("10 - 3 - 2"), 5.0);
    assert_eq!(value("2 ^ -1"), 0.5);
    assert_eq!(value("12 / 3 / 2"), 2.0);
    assert_eq!(value("√(16) + π - pi"), 4.0);
    assert_eq!(value("if layout = \"30\" then 1 else 2"), 1.0);
    assert_eq!(value("1 < 2 and not 2 <= 1 or 1 = 2"), 1.0);
}

#[test]
fn units_in_a_formula_convert_and_a_spaced_slash_divides() {
    assert!((value("1 in + stock") - 0.3254).abs() < 1e-15);
    assert!((value("9.80665 m/s2 / (1 m/s2)") - 9.80665).abs() < 1e-12);
    assert!((value("stock / 2 in") - 0.3 / 0.0508).abs() < 1e-12);
    assert!((value("sin(30°)") - 0.5).abs() < 1e-15);
    assert!((value("sqrt(2 * p / density) / (1 m/s)") - 126.491_106).abs() < 1e-5);
}

#[test]
fn sums_roots_and_lookups_are_evaluated() {
    assert_eq!(value("sum(k, 1, 100, k)"), 5050.0);
    assert_eq!(value("sum(k, 3, 2, k)"), 0.0);
    assert!((value("root(x, 0, 2, x ^ 2 - 2)") - std::f64::consts::SQRT_2).abs() < 1e-13);
    assert!((value("lookup(\"hex\", \"wrench\", \"bolt\", 3 in)") - 0.1143).abs() < 1e-12);
}

#[test]
fn the_least_and_the_greatest_of_two_zeros_have_one_sign() {
    for text in [
        "min(0, 0 * -1)",
        "min(0 * -1, 0)",
        "max(0, 0 * -1)",
        "max(0 * -1, 0)",
    ] {
        assert!(value(text).is_sign_positive(), "{text}");
    }
    assert!(value("largest(k, 0, 1, -0 * k)").is_sign_positive());
}

#[test]
fn whole_number_functions_forgive_conversion_noise() {
    assert_eq!(value("ceil(0.3 * 3 / 0.9 * 2)"), 2.0);
    assert_eq!(value("ceil(2.1)"), 3.0);
    assert_eq!(value("floor(-2.1)"), -3.0);
    assert_eq!(value("0.1 + 0.2 <= 0.3"), 1.0);
}

#[test]
fn quantities_that_do_not_agree_are_refused_at_the_place() {
    assert_eq!(
        refused("stock + p"),
        (
            "stock + p".into(),
            "a length and a pressure don't go together".into()
        )
    );
    assert_eq!(
        refused("2 * (stock < p)").1,
        "a length and a pressure don't go together"
    );
    assert_eq!(refused("sin(stock)").0, "stock");
    assert_eq!(refused("stock ^ depth").0, "depth");
    assert_eq!(refused("stock ^ layout").0, "layout");
    assert_eq!(refused("water + water").0, "water + water");
    assert_eq!(refused("if stock then 1 else 2").0, "stock");
    assert_eq!(refused("if 1 < 2 then stock else 2").0, "2");
    assert_eq!(
        refused("layout = \"31\"").1,
        "\"31\" is not one of the choices"
    );
    assert_eq!(refused("stok + 1").1, "there is no quantity `stok` here");
    assert_eq!(refused("lookup(\"hex\", \"wrench\", \"bolt\", p)").0, "p");
    assert_eq!(refused("max(stock, 3)").0, "3");
}

#[test]
fn a_temperature_minus_a_temperature_is_a_difference() {
    let of = |text: &str| Formula::parse(text).unwrap().check(&Job).unwrap();
    assert_eq!(
        of("water - 10 degC"),
        Type::Number(Dimension::TEMPERATURE, ScaleKind::Plain)
    );
    assert_eq!(
        of("water + 10 K"),
        Type::Number(Dimension::TEMPERATURE, ScaleKind::Absolute)
    );
}

#[test]
fn broken_text_is_refused_with_its_place() {
    for (text, at) in [
        ("", 0),
        ("2 +", 3),
        ("2 + * 3", 4),
        ("(2", 2),
        ("2)", 1),
        ("2 3", 2),
        ("foo(2)", 0),
        ("sqrt(1, 2)", 0),
        ("1 < 2 < 3", 6),
        ("if 1 then 2", 11),
        ("2 furlongs", 2),
        ("a $ b", 2),
        ("\"open", 0),
        ("sum(2, 1, 3, 4)", 4),
        ("1.2.3", 0),
    ] {
        assert_eq!(Formula::parse(text).unwrap_err().span.start, at, "{text}");
    }
}

#[test]
fn deep_and_long_formulas_are_refused_not_overflowed() {
    assert!(Formula::parse(&"(".repeat(3000)).is_err());
    assert!(Formula::parse(&"-".repeat(3000)).is_err());
    assert!(Formula::parse(&"1+".repeat(1500)).is_err());
    assert!(Formula::parse(&"1 ^ ".repeat(900)).is_err());
    assert!(Formula::parse(&"1 + ".repeat(5000)).is_err());
    assert!(
        Formula::parse("sum(a, 1, 1000, sum(b, 1, 1000, a * b))")
            .unwrap()
            .evaluate(&Job)
            .is_err()
    );
}

#[test]
fn results_that_do_not_exist_are_faults() {
    for text in [
        "1 / 0",
        "sqrt(-1)",
        "ln(0)",
        "10 ^ 400",
        "root(x, 1, 2, x)",
        "asin(2)",
        "lookup(\"hex\", \"wrench\", \"wrench\", 1 in)",
    ] {
        assert!(
            Formula::parse(text).unwrap().evaluate(&Job).is_err(),
            "{text}"
        );
    }
}

struct Symbols;

impl Notation for Symbols {
    fn name(&self, name: &str) -> String {
        name.to_string()
    }

    fn is_number(&self) -> bool {
        false
    }
}

struct Numbers;

impl Notation for Numbers {
    fn name(&self, _: &str) -> String {
        "11 1/2 in".into()
    }

    fn is_number(&self) -> bool {
        true
    }
}

#[test]
fn plain_text_keeps_only_the_brackets_that_matter() {
    let print = |text: &str| Formula::parse(text).unwrap().plain(&Symbols);
    assert_eq!(print("(stock + depth)"), "stock + depth");
    assert_eq!(print("2 * (stock + depth)"), "2 × (stock + depth)");
    assert_eq!(print("stock - (depth - stock)"), "stock − (depth − stock)");
    assert_eq!(print("(stock ^ 2) ^ 3"), "(stock^2)^3");
    assert_eq!(print("-(stock + 1 in)"), "−(stock + 1 in)");
    assert_eq!(
        print("if stock <= 3 in then 1 else 2"),
        "1 if stock ≤ 3 in, else 2"
    );
    let numbers = Formula::parse("2 * stock + depth").unwrap().plain(&Numbers);
    assert_eq!(numbers, "2 × (11 1/2 in) + 11 1/2 in");
}

#[test]
fn the_working_shows_only_the_branch_taken() {
    let formula = Formula::parse("if layout = \"30\" then stock * 2 else depth").unwrap();
    assert_eq!(formula.taken(&Job).plain(&Symbols), "stock × 2");
}

#[test]
fn mathml_is_well_formed() {
    for text in [
        "sqrt(2 * p / density)",
        "if stock < depth then 1 else if 1 < 2 then 2 else 3",
        "sum(k, 1, 3, k ^ 2)",
    ] {
        let math = format!(
            "<math>{}</math>",
            Formula::parse(text).unwrap().mathml(&Symbols)
        );
        assert!(roxmltree::Document::parse(&math).is_ok(), "{math}");
    }
}

proptest! {
    #[test]
    fn any_text_parses_or_is_refused_within_its_bounds(text in "[a-z0-9 +*/^()<=\",.°-]{0,60}") {
        match Formula::parse(&text) {
            Ok(formula) => {
                let _ = formula.check(&Job);
                let _ = formula.evaluate(&Job);
                let _ = formula.mathml(&Symbols);
            }
            Err(fault) => prop_assert!(text.get(fault.span).is_some()),
        }
    }

    /// Printing keeps the meaning: the plain text of plain arithmetic, with its
    /// signs turned back, evaluates to the same number.
    #[test]
    fn printed_arithmetic_means_the_same(a in 1u8..9, b in 1u8..9, c in 1u8..9, d in 1u8..9,
        ops in prop::collection::vec(prop::sample::select(vec!["+", "-", "*", "/", "^"]), 3), shape in 0u8..5) {
        let [x, y, z] = [ops[0], ops[1], ops[2]];
        let text = match shape {
            0 => format!("{a} {x} {b} {y} {c} {z} {d}"),
            1 => format!("({a} {x} {b}) {y} ({c} {z} {d})"),
            2 => format!("{a} {x} ({b} {y} ({c} {z} {d}))"),
            3 => format!("(({a} {x} {b}) {y} {c}) {z} {d}"),
            _ => format!("-({a} {x} {b}) {y} -({c} {z} {d})"),
        };
        let formula = Formula::parse(&text).unwrap();
        let again = Formula::parse(&formula.plain(&Symbols)).unwrap();
        // A product may be regrouped, which moves the last bits.
        if let (Ok(Value::Number(x)), Ok(Value::Number(y))) = (formula.evaluate(&Job), again.evaluate(&Job)) {
            prop_assert!((x - y).abs() <= 1e-9 * x.abs().max(1e-9), "{text}: {x} and {y}");
        }
    }
}
