//! How a quantity is shown: rounded for print, echoed as typed, in both systems.

use crate::message::in_english;
use gaugeleaf_finding::settings::Settings;
use gaugeleaf_finding::{Code, Placed};
use serde::{Deserialize, Serialize};

use crate::quantity::{Rounding, Typed, UnitFormat, in_unit, rounded_reading, understood};
use crate::span::Span;
use crate::unit::System;

/// How a quantity is shown: in its own unit, and in the other unit system.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NumberFormat {
    pub main: UnitFormat,
    pub also: Option<UnitFormat>,
}

/// A quantity as printed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Printed {
    /// The exact value in coherent SI units.
    pub si: f64,
    /// The unit of `value`, in machine spelling.
    pub unit: String,
    /// The exact value in that unit.
    pub value: f64,
    pub text: String,
    /// The same in the other unit system.
    pub also: Option<String>,
}

impl NumberFormat {
    /// Rounded as the format says.
    pub fn print(&self, si: f64) -> Printed {
        Printed {
            si,
            unit: self.main.unit.symbol.clone(),
            value: crate::quantity::tidy(self.main.unit.from_si_as(si, self.main.kind)),
            text: self.main.print(si).text,
            also: self.also.as_ref().map(|form| form.print(si).text),
        }
    }

    /// As it was typed, unrounded; in the other unit system as the format rounds.
    pub fn echo(&self, typed: &Typed) -> Printed {
        let other = match &self.also {
            Some(form)
                if typed.unit.system == form.unit.system && typed.unit.system != System::Both =>
            {
                Some(&self.main)
            }
            other => other.as_ref(),
        };
        Printed {
            si: typed.si,
            unit: typed.unit.symbol.clone(),
            value: typed.value,
            text: in_unit(typed.si, &typed.unit, self.main.kind),
            also: other
                .map(|form| form.print(typed.si).text)
                .filter(|_| self.also.is_some()),
        }
    }

    /// The echo under a field: as typed, and in both unit systems.
    pub fn understood(&self, typed: &Typed) -> String {
        let also = self.also.as_ref().map(|form| &form.unit);
        let kind = self.main.kind;
        let mut text = understood(typed.si, &typed.unit, &self.main.unit, also, kind);
        if let Some(Span { low, high }) = typed.span {
            let ends = [low, high].map(|si| rounded_reading(si, &typed.unit, kind));
            text.push_str(&format!(", from {} to {}", ends[0], ends[1]));
        }
        text
    }

    /// The units that a reader may switch between.
    pub fn units(&self) -> Vec<String> {
        let mut units = vec![self.main.unit.symbol.clone()];
        units.extend(self.also.as_ref().map(|form| form.unit.symbol.clone()));
        for (group, members) in SWITCHES {
            if units.iter().any(|unit| group.contains(&unit.as_str())) {
                for member in *members {
                    if !units.iter().any(|unit| unit == member) {
                        units.push((*member).to_string());
                    }
                }
            }
        }
        units
    }

    pub(crate) fn read(settings: &mut Settings) -> Option<NumberFormat> {
        let unit = settings.text("unit")?;
        let print = settings.quantity("print");
        let also_print = settings.quantity("also_print");
        let rounding = Rounding::parse(&settings.plain("round")).unwrap_or(Rounding::Nearest);
        let main = form(&unit, print.as_ref(), rounding, settings);
        let Some(unit) = settings.text("also") else {
            return Some(NumberFormat {
                main: main?,
                also: None,
            });
        };
        let also = form(&unit, also_print.as_ref(), rounding, settings);
        let (main, also) = (main?, also?);
        if also.unit.dimension != main.unit.dimension {
            let message = format!(
                "`{}` is {}, and `unit` is {}",
                unit.value,
                in_english(&also.unit.dimension.a_name()),
                in_english(&main.unit.dimension.a_name())
            );
            settings.error(Code::Unit, &unit.span, message);
            return None;
        }
        let kind = main.kind;
        Some(NumberFormat {
            main,
            also: Some(UnitFormat { kind, ..also }),
        })
    }
}

/// Units of one size range, offered together.
const SWITCHES: &[(&[&str], &[&str])] = &[
    (&["in", "mm"], &["in", "mm"]),
    (&["ft", "m"], &["ft", "m"]),
    (&["psi", "bar"], &["psi", "bar", "MPa"]),
    (&["gal/min", "L/min"], &["gal/min", "L/min"]),
    (&["degC", "degF"], &["degC", "degF"]),
];

fn form(
    unit: &Placed<String>,
    print: Option<&Placed<String>>,
    rounding: Rounding,
    settings: &mut Settings,
) -> Option<UnitFormat> {
    let step = print.map_or("1", |print| print.value.as_str());
    if unit.value == "count" && step.contains('.') {
        let at = print.unwrap_or(unit);
        settings
            .error(Code::Unit, &at.span, "a count is whole")
            .help = Some("write unit = \"1\" for a plain number with decimals".into());
        return None;
    }
    match UnitFormat::parse(&unit.value, step, rounding) {
        Ok(form) => Some(form),
        Err(fault) => {
            let bad_step = crate::quantity::RoundingStep::parse(step).is_none();
            let at = if bad_step {
                print.unwrap_or(unit)
            } else {
                unit
            };
            let finding = settings.error(Code::Unit, &at.span, in_english(&fault.message));
            finding.help = fault.help.as_ref().map(in_english);
            None
        }
    }
}
