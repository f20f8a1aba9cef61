//! Grades what a trainee typed against a calculator's own result.

use super::{Answer, Calculator, OutputKind, PrintedValue, Problem, ProblemKind};
use crate::field::{NumberFormat, Printed};
use crate::message::tell::problem as tell;
use crate::quantity::{QuantityFault, Want, read};

/// How a typed answer compares.
#[derive(Debug, Clone, PartialEq)]
pub struct Grade {
    pub right: bool,
    /// The result as printed, for showing after.
    pub expected: String,
}

impl Calculator {
    /// Compares a typed answer with an output of this calculator's answer. A bare number takes the
    /// output's unit; the tolerance is a quantity of the same kind, or a percentage of the result.
    ///
    /// # Errors
    /// Why there is nothing to compare; an empty `input` means that the typed answer is to blame.
    pub fn grade(
        &self,
        answer: &Answer,
        output: &str,
        typed: &str,
        tolerance: &str,
    ) -> Result<Grade, Problem> {
        if let Some(problem) = answer.problems.first() {
            return Err(problem.clone());
        }
        let kind = self.output(output).map(|output| &output.kind);
        let reading = answer.output(output).and_then(|one| one.reading.as_ref());
        let (Some(OutputKind::Number(format)), Some(PrintedValue::Number(exact))) = (kind, reading)
        else {
            return Err(Problem {
                input: output.to_string(),
                kind: ProblemKind::NoAnswer,
                message: tell::no_number(&self.name, &output),
                help: None,
            });
        };
        let blamed = |input: &str, kind, fault: QuantityFault| Problem {
            input: input.to_string(),
            kind,
            message: fault.message(),
            help: Some(fault.help()),
        };
        let allowed = allowed(tolerance, format, exact)
            .map_err(|fault| blamed("tolerance", ProblemKind::Tolerance, fault))?;
        let want = want(format);
        let typed = read(typed, &want)
            .map_err(|fault| blamed("", ProblemKind::Refused, fault))?
            .si;
        // The card prints a rounded result, and the working the exact one: both are right.
        let printed = read(&exact.text, &want).map_or(exact.si, |read| read.si);
        let slack = allowed + 1e-9 * exact.si.abs();
        let right = [exact.si, printed]
            .iter()
            .any(|one| (typed - one).abs() <= slack);
        Ok(Grade {
            right,
            expected: exact.text.clone(),
        })
    }
}

fn want(format: &NumberFormat) -> Want {
    Want {
        unit: format.main.unit.clone(),
        kind: format.main.kind,
        count: format.main.unit.symbol == "count",
    }
}

/// How far off an answer may be, in SI.
fn allowed(tolerance: &str, format: &NumberFormat, exact: &Printed) -> Result<f64, QuantityFault> {
    let unit = &format.main.unit;
    let far = if let Some(share) = tolerance.trim().strip_suffix('%') {
        let share = read(share, &Want::of(crate::unit::Unit::one()))?.value / 100.0;
        unit.difference_to_si(share * exact.value)
    } else {
        let read = read(tolerance, &want(format))?;
        read.unit.difference_to_si(read.value)
    };
    Ok(far.abs())
}

#[cfg(test)]
mod tests {
    use crate::calculator::{Argument, Grade, Problem};
    use crate::message::in_english;
    use crate::testing::{CATALOG, demonstration};

    /// A guide tube of 12 3/4 in behind a head of 4 5/16 in: 17 1/16 in, printed as 17 in.
    fn grade(typed: &str, tolerance: &str) -> Result<Grade, Problem> {
        let catalog = CATALOG.clone();
        let given = [
            Argument::new("stock_length", "12 3/4 in"),
            Argument::new("channel_depth", "4 5/16 in"),
        ];
        let name = "guide-tube-length";
        let answer = catalog
            .calculate(name, &given, &demonstration())
            .expect("known");
        catalog.calculators[name].grade(&answer, "length", typed, tolerance)
    }

    fn right(typed: &str, tolerance: &str) -> bool {
        grade(typed, tolerance).expect("graded").right
    }

    #[test]
    fn the_printed_and_the_exact_result_are_both_right() {
        assert!(right("17 in", "0 in") && right("17 1/16", "0 in"));
        assert!(right("433.3875 mm", "0 in"));
        assert!(!right("17 1/8 in", "0 in"));
        assert_eq!(
            grade("1", "0 in").map(|grade| grade.expected),
            Ok("17 in".into())
        );
    }

    #[test]
    fn the_tolerance_is_a_quantity_or_a_percentage() {
        assert!(right("17 3/16 in", "1/8 in") && !right("17 1/4 in", "1/8 in"));
        assert!(right("16 7/8 in", "1/8 in") && !right("16 13/16 in", "1/8 in"));
        assert!(right("17.4 in", "2 %") && right("16.7 in", "2%") && !right("17.5 in", "2 %"));
    }

    #[test]
    fn a_malformed_answer_is_refused_in_the_same_words_as_any_entry() {
        let refused = |typed: &str| grade(typed, "1/8 in").expect_err("refused");
        assert_eq!(refused("1,250").input, "");
        assert!(in_english(&refused("1,250").message).contains("may be read as"));
        assert!(in_english(&refused("17 psi").message).contains("a pressure"));
        assert_eq!(in_english(&refused("").message), "nothing is written here");
    }

    #[test]
    fn a_tolerance_of_another_kind_is_blamed_on_the_tolerance() {
        for tolerance in ["1 psi", "x", "x %", ""] {
            assert_eq!(
                grade("17 in", tolerance).map_err(|one| one.input),
                Err("tolerance".into())
            );
        }
    }

    #[test]
    fn an_answer_with_a_problem_grades_nothing() {
        let catalog = CATALOG.clone();
        let given = [Argument::new("channel_depth", "9 psi")];
        let name = "guide-tube-length";
        let answer = catalog
            .calculate(name, &given, &demonstration())
            .expect("known");
        let problem = catalog.calculators[name].grade(&answer, "length", "17 in", "1 in");
        assert_eq!(
            problem.map_err(|one| one.input),
            Err("channel_depth".into())
        );
    }
}
