//! What a field makes of doubtful texts, and that it reads back what the program writes into it.

use proptest::prelude::*;
use std::sync::LazyLock;

use super::{Entry, Field, FieldKind};
use crate::message::in_english;
use crate::quantity::{Rounding, UnitFormat, Want, in_unit};
use crate::unit::{ScaleKind, Unit};
use crate::{Catalog, builtin};

/// A field with hard limits and nothing else of interest.
fn field(unit: &str, least: &str, most: &str) -> Field {
    let main = UnitFormat::parse(unit, "1", Rounding::Nearest).unwrap();
    let want = Want::of(main.unit.clone());
    let limit = |text: &str| Some(crate::quantity::read(text, &want).unwrap().si);
    Field {
        called: Vec::new(),
        name: "size".into(),
        label: "Size".into(),
        help: String::new(),
        symbol: "s".into(),
        why: String::new(),
        kind: FieldKind::Number {
            format: super::NumberFormat { main, also: None },
            least: limit(least),
            most: limit(most),
            want,
            usual: None,
        },
        file: String::new(),
        span: 0..0,
    }
}

fn taken(field: &Field, text: &str) -> Result<f64, String> {
    match field.take(text, None, true) {
        Ok(Entry::Number(typed)) => Ok(typed.value),
        Ok(Entry::Choice(_)) => panic!("a number"),
        Err(refusal) => Err(format!(
            "{}: {}",
            in_english(&refusal.message),
            in_english(&refusal.help.unwrap_or_default())
        )),
    }
}

#[test]
fn a_lone_mark_is_asked_back_only_where_both_readings_lie_in_the_limits() {
    let wide = field("mm", "0", "5000");
    let pressures = field("psi", "100", "60000");
    let small = field("in", "0.1", "60");
    for (field, text, expected) in [
        (&pressures, "10,000 psi", 10_000.0),
        (&pressures, "10.000 psi", 10_000.0),
        (&small, "1.125 in", 1.125),
        (&small, "1,125 in", 1.125),
        (&small, "12.500 in", 12.5),
        (&wide, "0.675", 0.675),
        (&wide, "0,675", 0.675),
        (&wide, "1250", 1250.0),
        (&wide, "1.2500", 1.25),
        (&wide, "1,234.5", 1234.5),
        (&wide, "1250.125", 1250.125),
        (&small, "14 in ± 1.125", 14.0),
        (&field("count", "1", "400"), "1,250.0", f64::NAN),
        (&field("count", "1", "400"), "11.000", 11.0),
        (&field("count", "1", "4000"), "1,250", 1250.0),
    ] {
        if expected.is_nan() {
            assert!(taken(field, text).is_err(), "{text}");
        } else {
            assert_eq!(taken(field, text), Ok(expected), "{text}");
        }
    }
    let both = |text: &str, plain: &str, decimal: &str| {
        let said =
            format!("`{text}` may be read as {plain} or as {decimal}: write {plain} or {decimal}");
        assert_eq!(taken(&wide, text), Err(said));
    };
    both("1.250 mm", "1250 mm", "1.25 mm");
    both("1,250 mm", "1250 mm", "1.25 mm");
    both("1.125", "1125", "1.1250");
    both("2.000 mm", "2000 mm", "2 mm");
    assert_eq!(
        taken(&field("in", "2", "100"), "1,250 in"),
        Err("`1,250 in` may be read as 1250 in or as 1.25 in, and neither is taken: check the sign, the digits and the unit: what is taken is 2 in to 100 in".into())
    );
}

static CATALOG: LazyLock<Catalog> = LazyLock::new(|| Catalog::load(&builtin()).0);

/// Every number that is typed anywhere in the built-in catalog.
fn fields() -> Vec<&'static Field> {
    let named = CATALOG.named.values().map(|named| &named.field);
    let calculators = CATALOG.calculators.values();
    let inputs =
        calculators.flat_map(|calculator| calculator.inputs.iter().map(|input| &input.field));
    named
        .chain(inputs)
        .filter(|field| matches!(field.kind, FieldKind::Number { .. }))
        .collect()
}

#[test]
fn every_limit_of_the_catalog_is_read_back_as_it_is_shown() {
    for field in fields() {
        let FieldKind::Number {
            format,
            want,
            least,
            most,
            usual,
        } = &field.kind
        else {
            continue;
        };
        let ends = usual.map(|(low, high)| [low, high]).into_iter().flatten();
        for si in least.iter().chain(most).copied().chain(ends) {
            let text = field.sure(in_unit(si, &want.unit, format.main.kind), want);
            read_back(field, &text, None, si);
        }
    }
}

/// The field takes the text, without a question, for the value that it was made from.
fn read_back(field: &Field, text: &str, bare: Option<&str>, si: f64) {
    match field.take(text, bare, true) {
        Ok(Entry::Number(typed)) => assert!(
            (typed.si - si).abs() <= 1e-8 * si.abs().max(1e-9),
            "{}: {text} was read as {} and not {si}",
            field.name,
            typed.si
        ),
        other => panic!("{}: {text}: {other:?}", field.name),
    }
}

proptest! {
    #[test]
    fn what_the_program_writes_into_a_field_is_read_back(
        which in any::<prop::sample::Index>(),
        share in 0.0f64..1.0,
        grain in prop::sample::select(vec![1.0, 0.1, 0.01, 0.001, 1.0 / 64.0]),
    ) {
        let fields = fields();
        let field = fields[which.index(fields.len())];
        let FieldKind::Number { format, want, least, most, .. } = &field.kind else {
            unreachable!("numbers alone");
        };
        let unit = &want.unit;
        let value = |si: f64| unit.from_si_as(si, want.kind);
        let low = least.map_or(0.0, value);
        let high = most.map_or(low + 5000.0, value);
        let grain = if want.count { 1.0 } else { grain };
        let steps = libm::round((low + (high - low) * share * share * share) / grain);
        let si = unit.to_si_as((steps * grain).clamp(low, high), want.kind);
        // what the echo puts into the field
        read_back(field, &field.sure(in_unit(si, unit, want.kind), want), None, si);
        // a change of unit there and back
        for name in format.units() {
            let Ok(other) = Unit::parse(&name) else { continue };
            let text = field.sure(in_unit(si, &other, want.kind), want);
            read_back(field, &text, None, si);
            let typed = field.switch(&text, &unit.symbol, &name).unwrap();
            read_back(field, &typed, Some(&name), si);
        }
        // what another calculator's result is printed as
        let mut printed = format.print(si);
        printed.text = field.sure(printed.text, want);
        let close = unit.to_si_as(format.main.print(si).value, want.kind);
        let inside = least.is_none_or(|least| close >= least) && most.is_none_or(|most| close <= most);
        if inside {
            read_back(field, &printed.text, None, close);
        }
    }

    #[test]
    fn a_field_takes_or_refuses_any_text_without_a_panic(text in "\\PC{0,40}", digits in "[0-9.,' ftin/-]{0,24}") {
        let wide = field("mm", "0", "5000");
        for text in [text, digits] {
            let _ = wide.take(&text, None, false);
            let _ = wide.take(&text, Some("in"), true);
            let _ = wide.switch(&text, "mm", "in");
            let _ = wide.sure(text, &Want::of(Unit::parse("mm").unwrap()));
        }
    }
}

#[test]
fn the_kind_of_a_field_tells_what_a_letter_means() {
    let water = field("degC", "0", "90");
    assert_eq!(taken(&water, "60 F"), Ok(60.0));
    let kind = ScaleKind::Absolute;
    let typed = water.take("60F", None, true).unwrap();
    let Entry::Number(typed) = typed else {
        panic!("a number")
    };
    assert_eq!(in_unit(typed.si, &typed.unit, kind), "60 °F");
}
