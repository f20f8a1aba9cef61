//! What each function takes, for whoever writes a formula: the page's engine, which is handed
//! formulas already read, carries none of it.

use super::functions::{CallRule, Function};

pub(super) struct Signature {
    pub usage: &'static str,
    least: usize,
    most: usize,
}

impl Function {
    pub(super) fn signature(&self) -> &'static Signature {
        let own = |one: &&Signature| one.usage.split('(').next() == Some(self.name);
        SIGNATURES.iter().find(own).unwrap_or(&SIGNATURES[0])
    }

    pub(super) fn takes(&self, count: usize) -> bool {
        let Signature { least, most, .. } = self.signature();
        (*least..=*most).contains(&count)
            && match self.rule {
                CallRule::Lookup => count.is_multiple_of(2),
                CallRule::Found => !count.is_multiple_of(2),
                _ => true,
            }
    }
}

const fn signature(usage: &'static str, least: usize, most: usize) -> Signature {
    Signature { usage, least, most }
}

static SIGNATURES: &[Signature] = &[
    signature("sqrt(x)", 1, 1),
    signature("abs(x)", 1, 1),
    signature("min(a, b, …)", 2, 16),
    signature("max(a, b, …)", 2, 16),
    signature("floor(x)", 1, 1),
    signature("ceil(x)", 1, 1),
    signature("round(x)", 1, 1),
    signature("sin(angle)", 1, 1),
    signature("cos(angle)", 1, 1),
    signature("tan(angle)", 1, 1),
    signature("asin(x)", 1, 1),
    signature("acos(x)", 1, 1),
    signature("atan(x)", 1, 1),
    signature("atan2(y, x)", 2, 2),
    signature("exp(x)", 1, 1),
    signature("ln(x)", 1, 1),
    signature("log10(x)", 1, 1),
    signature("darcy_friction(Reynolds number, roughness / bore)", 2, 2),
    signature(
        "lookup(\"table\", \"column\", \"key column\", value, …)",
        4,
        8,
    ),
    signature("found(\"table\", \"key column\", value, …)", 3, 9),
    signature("lattice_row(layout, centre, reach, lane, j)", 5, 5),
    signature("lattice_end(layout, centre, reach)", 3, 3),
    signature("tolerance(input)", 1, 1),
    signature("water_density(temperature, absolute pressure)", 2, 2),
    signature("water_viscosity(temperature, absolute pressure)", 2, 2),
    signature("water_heat_capacity(temperature, absolute pressure)", 2, 2),
    signature("water_expansion(temperature, absolute pressure)", 2, 2),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::FUNCTIONS;

    #[test]
    fn each_function_says_what_it_takes() {
        assert_eq!(FUNCTIONS.len(), SIGNATURES.len());
        for function in FUNCTIONS {
            let usage = function.signature().usage;
            assert!(usage.starts_with(&format!("{}(", function.name)), "{usage}");
        }
    }
}
