//! The built-in names' limits: a usual band for each, and one unit and one set of limits wherever
//! a calculator takes the same quantity.

use std::sync::LazyLock;

use super::*;
use crate::builtin;
use crate::field::{Field, FieldKind};

static CATALOG: LazyLock<Catalog> = LazyLock::new(|| Catalog::load(&builtin()).0);

/// Inputs that are asked for in their own right, and only start with the quantity that they take.
const WIDER: [(&str, &str); 1] = [
    // the two readings may stand further apart than the rail is long, or closer
    ("rail-level", "span"),
];

#[test]
fn every_named_number_has_a_usual_band_inside_its_limits() {
    for named in CATALOG.named.values() {
        let FieldKind::Number {
            least, most, usual, ..
        } = named.field.kind
        else {
            continue;
        };
        let name = &named.field.name;
        let (low, high) = usual.unwrap_or_else(|| panic!("{name} has no usual band"));
        assert!(low < high, "{name}");
        assert!(least.is_some_and(|least| least <= low), "{name}");
        assert!(most.is_some_and(|most| high <= most), "{name}");
        assert!(!named.field.why.is_empty(), "{name} has no why");
    }
}

/// Hard limits and usual band of a number; none for a choice.
fn limits(field: &Field) -> Option<[(f64, f64); 2]> {
    match field.kind {
        FieldKind::Number {
            least, most, usual, ..
        } => {
            let hard = (
                least.unwrap_or(f64::NEG_INFINITY),
                most.unwrap_or(f64::INFINITY),
            );
            Some([hard, usual.unwrap_or(hard)])
        }
        FieldKind::Choice(_) => None,
    }
}

#[test]
fn an_input_has_the_bare_unit_and_the_limits_of_the_name_that_it_takes() {
    for calculator in CATALOG.calculators.values() {
        for input in &calculator.inputs {
            let named = input.from.as_ref().map(|from| from.value.as_str());
            let Some(named) = named.and_then(|name| CATALOG.named.get(name)) else {
                continue;
            };
            let at = (calculator.name.as_str(), input.field.name.as_str());
            let unit = |field: &Field| match &field.kind {
                FieldKind::Number { want, .. } => want.unit.symbol.clone(),
                FieldKind::Choice(_) => String::new(),
            };
            assert_eq!(unit(&input.field), unit(&named.field), "{at:?}");
            let (Some(own), Some(taken)) = (limits(&input.field), limits(&named.field)) else {
                continue;
            };
            for (own, taken) in std::iter::zip(own, taken) {
                // what the name takes, the input takes
                assert!(own.0 <= taken.0 && taken.1 <= own.1, "{at:?}");
                assert!(own == taken || WIDER.contains(&at), "{at:?}");
            }
        }
    }
}
