//! How a quantity is shown: rounded for print, echoed as typed, in both systems.

use gaugeleaf_finding::Code;
use serde::{Deserialize, Serialize};
use std::ops::Range;

use crate::quantity::{Form, Rounding, Typed, in_unit, rounded_reading, understood};
use crate::source::{Fields, Located, Reader};
use crate::span::Span;
use crate::unit::System;

/// How a quantity is shown: in its own unit, and in the other unit system.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Face {
    pub main: Form,
    pub also: Option<Form>,
}

/// A quantity as printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
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

impl Face {
    /// Rounded as the face says.
    pub fn print(&self, si: f64) -> Printed {
        Printed {
            si,
            unit: self.main.unit.symbol.clone(),
            value: crate::quantity::tidy(self.main.unit.from_si_as(si, self.main.kind)),
            text: self.main.print(si).text,
            also: self.also.as_ref().map(|form| form.print(si).text),
        }
    }

    /// As it was typed, unrounded; in the other unit system as the face rounds.
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

    pub(crate) fn read(fields: &mut Fields<'_, '_>, reader: &mut Reader<'_>) -> Option<Face> {
        let unit = fields.wanted("unit", reader)?;
        let rounding = match fields.text("round", reader) {
            None => Rounding::Nearest,
            Some(word) => Rounding::parse(&word.text).unwrap_or_else(|| {
                reader
                    .error(
                        Code::Round,
                        &local(&word.span, reader),
                        format!("`{}` is not a way to round", word.text),
                    )
                    .help = Some("write up, down or nearest".into());
                Rounding::Nearest
            }),
        };
        let print = fields.text("print", reader);
        let also_unit = fields.text("also", reader);
        let also_print = fields.text("also_print", reader);
        let main = form(&unit, print.as_ref(), rounding, reader)?;
        let also = match also_unit {
            None => None,
            Some(unit) => {
                let also = form(&unit, also_print.as_ref(), rounding, reader)?;
                if also.unit.dimension != main.unit.dimension {
                    let message = format!(
                        "`{}` is {}, and `unit` is {}",
                        unit.text,
                        also.unit.dimension.a_name(),
                        main.unit.dimension.a_name()
                    );
                    reader.error(Code::Unit, &local(&unit.span, reader), message);
                    return None;
                }
                Some(Form {
                    kind: main.kind,
                    ..also
                })
            }
        };
        Some(Face { main, also })
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

pub(super) fn local(span: &Range<usize>, reader: &Reader<'_>) -> Range<usize> {
    span.start.saturating_sub(reader.offset)..span.end.saturating_sub(reader.offset)
}

fn form(
    unit: &Located,
    print: Option<&Located>,
    rounding: Rounding,
    reader: &mut Reader<'_>,
) -> Option<Form> {
    let step = print.map_or("1", |print| print.text.as_str());
    if unit.text == "count" && step.contains('.') {
        let at = print.unwrap_or(unit);
        reader
            .error(Code::Unit, &local(&at.span, reader), "a count is whole")
            .help = Some("write unit = \"1\" for a plain number with decimals".into());
        return None;
    }
    match Form::parse(&unit.text, step, rounding) {
        Ok(form) => Some(form),
        Err(fault) => {
            let bad_step = crate::quantity::Step::parse(step).is_none();
            let at = if bad_step {
                print.unwrap_or(unit)
            } else {
                unit
            };
            reader
                .error(Code::Unit, &local(&at.span, reader), fault.message)
                .help = fault.help;
            None
        }
    }
}
