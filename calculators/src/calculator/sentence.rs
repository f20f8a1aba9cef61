//! A check's sentence filled with values: two values that differ never look the same, nor stand
//! the wrong way round, in one sentence.

use super::answer::{Answer, InputSource};
use super::definition::{Calculator, OutputKind};
use super::template::Template;
use crate::field::{FieldKind, NumberFormat};
use crate::formula::Value;
use crate::message::Message;
use crate::message::tell::result as tell;
use crate::names::Names;
use crate::quantity::{RoundingStep, UnitFormat, Want, read};

/// Nearer than this, by share, two values are one: what is left is the noise of conversions.
const NOISE: f64 = 1e-12;

fn order(a: f64, b: f64) -> f64 {
    if (a - b).abs() <= NOISE * a.abs().max(b.abs()) {
        0.0
    } else {
        (a - b).signum()
    }
}

/// A number that a sentence mentions.
pub(super) struct Mentioned<'a> {
    name: &'a str,
    si: f64,
    /// How it is printed now.
    format: UnitFormat,
    /// It stands as it was typed, unrounded.
    exact: bool,
    text: String,
    /// What the text says, in SI.
    said: f64,
    /// It is printed finer than its format says.
    finer: bool,
}

impl<'a> Mentioned<'a> {
    /// A value as it is printed, or as it was typed.
    pub fn new(
        name: &'a str,
        si: f64,
        text: String,
        format: &UnitFormat,
        exact: bool,
    ) -> Mentioned<'a> {
        Mentioned {
            name,
            si,
            said: said(&text, si, format, exact),
            format: format.clone(),
            exact,
            text,
            finer: false,
        }
    }

    /// Prints it in the next finer step, if there is one.
    fn refine(&mut self) -> bool {
        let Some(step) = self.format.step.finer() else {
            return false;
        };
        (self.format.step, self.finer) = (step, true);
        let printed = self.format.print(self.si);
        let said = self.format.unit.to_si_as(printed.value, self.format.kind);
        // what was typed gives way only to decimals that say the same
        if !self.exact || (self.is_decimal() && order(said, self.si) == 0.0) {
            (self.text, self.said) = (printed.text, said);
        }
        true
    }

    fn is_decimal(&self) -> bool {
        matches!(self.format.step, RoundingStep::Decimal { .. })
    }

    /// Whether two texts say what their values don't: `15/16 in is under 15/16 in`.
    fn belies(&self, other: &Mentioned<'_>) -> bool {
        let alike = self.format.unit.dimension == other.format.unit.dimension
            && self.format.kind == other.format.kind;
        let is = order(self.si, other.si);
        alike && is != 0.0 && is != order(self.said, other.said)
    }
}

impl Calculator {
    /// The sentence with the answer's values.
    pub(super) fn sentence(
        &self,
        template: &Template,
        values: &Names<Value>,
        answer: &Answer,
    ) -> Message {
        self.sentence_with(template, None, values, answer)
    }

    /// The same beside a value that isn't the answer's.
    pub(super) fn sentence_with(
        &self,
        template: &Template,
        also: Option<Mentioned<'_>>,
        values: &Names<Value>,
        answer: &Answer,
    ) -> Message {
        let mut mentioned: Vec<Mentioned<'_>> = also.into_iter().collect();
        for (name, _) in template.names() {
            if mentioned.iter().all(|one| one.name != name) {
                mentioned.extend(self.mentioned(name, values, answer));
            }
        }
        tell_apart(&mut mentioned);
        template.told(|name| {
            let mut found = mentioned.iter();
            match (found.find(|one| one.name == name), answer.texts.get(name)) {
                (Some(one), _) => Message::data(&one.text),
                (None, Some(text)) => Message::data(text),
                (None, None) => tell::none(),
            }
        })
    }

    /// A number of the answer, as it is printed.
    fn mentioned<'t>(
        &self,
        name: &'t str,
        values: &Names<Value>,
        answer: &Answer,
    ) -> Option<Mentioned<'t>> {
        let Some(Value::Number(si)) = values.get(name) else {
            return None;
        };
        let format = &self.number_format(name)?.main;
        let inputs = answer.inputs.iter();
        let mut typed = inputs.filter(|input| !matches!(input.source, InputSource::Output(_)));
        let exact = self.output(name).is_none() && typed.any(|input| input.name == name);
        let text = answer.texts.get(name)?.clone();
        Some(Mentioned::new(name, *si, text, format, exact))
    }

    /// How a number of this calculator is printed; an output that repeats an input's name is the
    /// one that is.
    pub(super) fn number_format(&self, name: &str) -> Option<&NumberFormat> {
        match (self.output(name), self.input(name)) {
            (Some(output), _) => match &output.kind {
                OutputKind::Number(format) => Some(format),
                OutputKind::Choice(_) => None,
            },
            (None, Some(input)) => match &input.field.kind {
                FieldKind::Number { format, .. } => Some(format),
                FieldKind::Choice(_) => None,
            },
            (None, None) => None,
        }
    }
}

/// What a text says, in SI: even what was typed is printed to ten digits and no more.
fn said(text: &str, si: f64, format: &UnitFormat, exact: bool) -> f64 {
    if !exact {
        return format.unit.to_si_as(format.print(si).value, format.kind);
    }
    let want = Want {
        kind: format.kind,
        ..Want::of(format.unit.clone())
    };
    read(text, &want).map_or(si, |typed| typed.si)
}

/// Prints in finer and finer steps whatever two belie each other, until the texts stand in the
/// order of the values.
fn tell_apart(mentioned: &mut [Mentioned<'_>]) {
    loop {
        let mut pairs = (0..mentioned.len()).flat_map(|two| (0..two).map(move |one| (one, two)));
        let Some((one, two)) = pairs.find(|&(one, two)| mentioned[one].belies(&mentioned[two]))
        else {
            return;
        };
        // each turn takes a step of at least one, and the steps end
        let refined = [one, two].map(|at| mentioned[at].refine());
        // nobody compares 1.876 in with 1 7/8 in at a glance
        if mentioned.iter().any(|one| one.finer && one.is_decimal()) {
            for one in mentioned.iter_mut().filter(|one| one.finer) {
                while !one.is_decimal() && one.refine() {}
            }
        }
        if refined == [false, false] {
            return;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Mentioned, order, said, tell_apart};
    use crate::Argument;
    use crate::quantity::{Rounding, UnitFormat, in_unit};
    use proptest::prelude::*;

    /// A value of so many inches, as typed or as a format of inches or millimetres prints it.
    fn mentioned(inches: f64, step: &str, rounding: Rounding, exact: bool) -> Mentioned<'static> {
        let unit = if step == "mm" { "mm" } else { "in" };
        let step = if step == "mm" { "1" } else { step };
        let format = UnitFormat::parse(unit, step, rounding).unwrap();
        let si = inches * 0.0254;
        let text = if exact {
            in_unit(si, &format.unit, format.kind)
        } else {
            format.print(si).text
        };
        Mentioned {
            name: "",
            si,
            exact,
            said: said(&text, si, &format, exact),
            text,
            format,
            finer: false,
        }
    }

    proptest! {
        #[test]
        fn whatever_differs_is_told_apart(
            base in 1u32..4000,
            apart in prop::sample::select(vec![-1e-3, -1e-5, -1e-8, 0.0, 1e-9, 1e-4, 1e-2, 0.1]),
            steps in prop::array::uniform3(prop::sample::select(vec!["1/8", "1/32", "0.001", "0.1", "1", "mm"])),
            exact in prop::array::uniform3(any::<bool>()),
            rounding in prop::array::uniform3(prop::sample::select(vec![Rounding::Up, Rounding::Down, Rounding::Nearest])),
        ) {
            let value = f64::from(base) / 64.0;
            let values = [value, value + apart, value + 2.0 * apart];
            let mut all: Vec<Mentioned<'_>> = (0..3)
                .map(|at| mentioned(values[at], steps[at], rounding[at], exact[at]))
                .collect();
            tell_apart(&mut all);
            for two in 1..3 {
                for one in 0..two {
                    let (one, two) = (&all[one], &all[two]);
                    if order(one.si, two.si) != 0.0 {
                        prop_assert_eq!(order(one.si, two.si), order(one.said, two.said));
                        prop_assert!(one.text != two.text, "{}", one.text);
                    }
                }
            }
        }
    }

    fn because(name: &str, given: &[(&str, &str)]) -> Vec<String> {
        let catalog = crate::testing::CATALOG.clone();
        let given: Vec<Argument> = given
            .iter()
            .map(|(name, text)| Argument {
                confirmed: true,
                ..Argument::new(name, text)
            })
            .collect();
        let answer = catalog
            .calculate(name, &given, &crate::testing::demonstration())
            .expect("known");
        assert_eq!(answer.problems, [], "{name}");
        answer
            .checks
            .into_iter()
            .map(|check| catalog.language.say(&check.because))
            .collect()
    }

    #[test]
    fn a_sentence_never_contradicts_itself_just_beyond_a_limit() {
        let said = because(
            "pitch-from-span",
            &[
                ("outside_span", "10 1/16 in"),
                ("tubes_spanned", "11"),
                ("tube_od", "3/4 in"),
            ],
        );
        assert!(
            said[0].starts_with("A pitch of 0.931 in is under 0.938 in, the least"),
            "{}",
            said[0]
        );
        let said = because(
            "pitch-span",
            &[
                ("guide_tube_od", "0.675 in"),
                ("max_pitch", "1 7/8 in"),
                ("tube_pitch", "1.876 in"),
                ("layout", "90"),
                ("direction", "along-row"),
            ],
        );
        assert!(
            said[0].starts_with("No whole number of tube spacings lies between 0.675 in and 1.875 in: the next is 1.876 in."),
            "{}",
            said[0]
        );
        let said = because(
            "stroke-stops",
            &[
                ("guide_tube_length", "21 3/8 in"),
                ("park_depth", "19 in"),
                ("nozzle_length", "2.376 in"),
                ("length_change", "0 %"),
                ("run_on", "0 in"),
                ("stroke_error", "0 in"),
            ],
        );
        assert!(
            said[0].contains(
                "can stand 21.376 in from the open end, behind a guide tube of 21.375 in"
            ),
            "{}",
            said[0]
        );
    }

    #[test]
    fn values_that_differ_enough_stay_in_their_own_steps() {
        let said = because(
            "pitch-from-span",
            &[
                ("outside_span", "8 3/4 in"),
                ("tubes_spanned", "10"),
                ("tube_od", "3/4 in"),
            ],
        );
        assert!(
            said[0].starts_with("A pitch of 7/8 in is under 15/16 in, the least"),
            "{}",
            said[0]
        );
    }
}
