//! Adds to an answer what tolerances of its inputs make of it: the span of every
//! result, and the verdicts that may change.

use super::answer::{Answer, InputSource, SpanReading, Verdict};
use super::definition::{Calculator, OutputKind};
use super::resolver::Resolver;
use super::spread::{Possibilities, Possible};
use crate::field::NumberFormat;
use crate::formula::Spread;
use crate::message::tell;
use crate::quantity::{Rounding, UnitFormat};
use crate::span::Span;

pub(super) fn apply(calculator: &Calculator, resolver: &dyn Resolver, answer: &mut Answer) {
    if answer.inputs.iter().all(|input| input.span.is_none()) {
        return;
    }
    let inputs = inputs(answer);
    let known = calculator.possibilities(inputs.clone(), &answer.values, resolver);
    for reading in &mut answer.outputs {
        let kind = calculator.result(&reading.name).map(|output| &output.kind);
        if let (Some(OutputKind::Number(format)), Some(possible)) = (kind, known.get(&reading.name))
        {
            reading.span = Some(printed(format, possible));
        }
    }
    for (check, result) in calculator.checks.iter().zip(&mut answer.checks) {
        if result.is == Verdict::Open {
            continue;
        }
        result.may_be = calculator.settled(inputs.clone(), &answer.values, check, resolver);
        result.may_be.retain(|is| *is != result.is);
        if !result.may_be.is_empty() {
            // The words of the case tell what holds for the values as told.
            let told = result.is.told();
            // a sign holds over the whole tolerance, or it isn't given
            match result.may_be.iter().max() {
                _ if check.standing => {}
                Some(Verdict::Stop) => {
                    result.is = Verdict::Open;
                    for input in &answer.inputs {
                        if let (InputSource::Named(name), Some(_)) = (&input.source, input.span) {
                            result.needs.push(resolver.leaf(name));
                        }
                    }
                }
                Some(worse) => result.is = result.is.max(*worse),
                None => {}
            }
            let others = result.may_be.iter().map(|is| is.told());
            let others = others.reduce(|one, other| tell::verdict::or(&one, &other));
            result.because.push(&" ");
            let others = others.unwrap_or_default();
            result
                .because
                .push(&tell::verdict::inside_tolerance(&others, &told));
        }
    }
}

fn inputs(answer: &Answer) -> Possibilities {
    let mut inputs = Possibilities::new();
    for input in &answer.inputs {
        let spread = match (input.span, answer.values.get(&input.name)) {
            (Some(span), _) => Spread::Number(span),
            (None, Some(value)) => Spread::of(value),
            (None, None) => continue,
        };
        inputs.insert(input.name.clone(), Possible::sure(spread));
    }
    inputs
}

/// The range rounded outward in the result's own step.
fn printed(format: &NumberFormat, possible: &Possible) -> SpanReading {
    use tell::result as tell;
    let unknown = |text| SpanReading {
        low: f64::NEG_INFINITY,
        high: f64::INFINITY,
        text,
    };
    let Possible::Known {
        spread: Spread::Number(Span { low, high }),
        may_be_absent,
    } = possible
    else {
        return unknown(match possible {
            Possible::Absent => tell::none(),
            _ => tell::not_known_inside(),
        });
    };
    let print = |si: f64, rounding| {
        UnitFormat {
            rounding,
            ..format.main.clone()
        }
        .print(si)
        .text
    };
    let mut text = tell::span(&print(*high, Rounding::Up), &print(*low, Rounding::Down));
    if *may_be_absent {
        text = tell::span_or_none(&text);
    }
    SpanReading {
        low: *low,
        high: *high,
        text,
    }
}
