//! Checks what crosses files: where inputs come from, what formulas read, what
//! sentences and figures mention.

use crate::message::in_english;
use std::collections::BTreeMap;
use std::ops::Range;

use super::Catalog;
use crate::calculator::{Calculator, CrossCheck, Input, MEASURED, Output, Template};
use crate::formula::{Formula, Scope, Type};
use crate::named::Role;
use gaugeleaf_finding::{Code, Finding, Placed, nearest, widened};

pub(super) struct CalculatorScope<'a> {
    pub catalog: &'a Catalog,
    pub calculator: &'a Calculator,
}

impl Scope for CalculatorScope<'_> {
    fn name(&self, name: &str) -> Option<Type> {
        self.calculator.name_type(name)
    }

    fn is_told(&self, name: &str) -> bool {
        self.calculator.input(name).is_some()
    }

    fn names(&self) -> Vec<String> {
        self.calculator.names()
    }

    fn column(&self, table: &str, column: &str) -> Result<Type, String> {
        let Some(found) = self.catalog.tables.get(table) else {
            return Err(format!("there is no table `{table}`"));
        };
        found.column_type(column).ok_or_else(|| {
            let names: Vec<&str> = found
                .columns
                .iter()
                .map(|column| column.name.as_str())
                .collect();
            format!(
                "the table {table} has no column `{column}`, only {}",
                names.join(", ")
            )
        })
    }
}

pub(super) fn check(catalog: &Catalog, texts: &BTreeMap<&str, &str>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for calculator in catalog.calculators.values() {
        let text = texts.get(calculator.file.as_str()).copied().unwrap_or("");
        let mut checker = CalculatorChecker {
            catalog,
            calculator,
            text,
            texts,
            findings: &mut findings,
        };
        for input in &calculator.inputs {
            checker.input(input);
        }
        for output in &calculator.outputs {
            checker.output(output);
        }
        checker.checks();
        for cross in &calculator.cross_checks {
            checker.cross_check(cross);
        }
        checker.figure();
    }
    let scope = GraphScope { catalog };
    for drawing in catalog.drawings.values() {
        findings.extend(drawing.check(&scope));
    }
    findings
}

/// All that a drawing of the setup sheet may take.
struct GraphScope<'a> {
    catalog: &'a Catalog,
}

impl Scope for GraphScope<'_> {
    fn name(&self, name: &str) -> Option<Type> {
        match name.split_once('.') {
            Some((calculator, output)) => {
                let calculator = self.catalog.calculators.get(calculator)?;
                calculator.output(output).map(Output::formula_type)
            }
            None => {
                let named = self.catalog.named.get(name)?;
                Some(named.field.formula_type())
            }
        }
    }

    fn is_told(&self, _: &str) -> bool {
        false
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }

    fn column(&self, table: &str, _: &str) -> Result<Type, String> {
        Err(format!("there is no table `{table}` here"))
    }
}

struct CalculatorChecker<'a> {
    catalog: &'a Catalog,
    calculator: &'a Calculator,
    text: &'a str,
    /// Every file of the catalog, for what is wrong in a figure.
    texts: &'a BTreeMap<&'a str, &'a str>,
    findings: &'a mut Vec<Finding>,
}

impl CalculatorChecker<'_> {
    fn error(
        &mut self,
        code: Code,
        span: Range<usize>,
        message: String,
        help: Option<String>,
    ) -> &mut Finding {
        let mut finding = Finding::error(
            code,
            &self.calculator.file,
            widened(self.text, span),
            message,
        );
        finding.help = help;
        let at = self.findings.len();
        self.findings.push(finding);
        &mut self.findings[at]
    }

    /// What an unknown name follows from: a part of this calculator, or a table, that is lost.
    fn lost(&self, name: &str) -> [String; 2] {
        let name = name.trim_matches('"');
        [format!("{}.{name}", self.calculator.name), name.to_string()]
    }

    fn inside(&self, at: &Placed<String>, span: &Range<usize>) -> Range<usize> {
        at.inner(self.text.get(at.span.clone()).unwrap_or(""), span)
    }

    fn input(&mut self, input: &Input) {
        if let Some(default) = &input.default
            && let Err(refusal) = input.field.take(&default.value, None, false)
        {
            self.error(
                Code::Value,
                default.span.clone(),
                in_english(&refusal.message),
                refusal.help.as_ref().map(in_english),
            );
        }
        let Some(from) = &input.from else {
            return;
        };
        let supplied = match from.value.split_once('.') {
            None => self
                .catalog
                .named
                .get(&from.value)
                .map(|named| named.field.formula_type()),
            Some((calculator, output)) => self
                .catalog
                .calculators
                .get(calculator)
                .and_then(|calculator| calculator.output(output))
                .filter(|output| !output.is_term)
                .map(Output::formula_type),
        };
        let wanted = input.field.formula_type();
        match supplied {
            None => {
                let names = self.catalog.named.keys().map(String::as_str);
                let help = nearest(&from.value, names).map(|near| format!("did you mean {near}?"));
                let message = format!("there is no measurement, rating or output `{}`", from.value);
                let part = format!("{}.{}", self.calculator.name, input.field.name);
                let whole = from.value.split('.').next().unwrap_or_default();
                let finding = self.error(Code::From, from.span.clone(), message, help);
                finding.ties.breaks.push(part);
                finding.ties.follows = vec![from.value.clone(), whole.to_string()];
            }
            Some(supplied) if !fits(&supplied, &wanted) => {
                let message = format!(
                    "`{}` is not the kind of quantity that this input takes",
                    from.value
                );
                let help = format!("{} takes {}", input.field.name, wanted.described());
                self.error(Code::From, from.span.clone(), message, Some(help));
            }
            Some(_) => {}
        }
    }

    /// Checks a formula; gives its type where it has one.
    fn formula(&mut self, formula: &Formula, at: &Placed<String>) -> Option<Type> {
        let scope = CalculatorScope {
            catalog: self.catalog,
            calculator: self.calculator,
        };
        match formula.check(&scope) {
            Ok(found) => Some(found),
            Err(fault) => {
                let span = self.inside(at, &fault.span);
                let lost = self.lost(at.value.get(fault.span).unwrap_or_default());
                let name = self.calculator.name.clone();
                let ties = &mut self
                    .error(Code::Dimension, span, fault.message, fault.help)
                    .ties;
                ties.follows = lost.to_vec();
                ties.breaks.push(name);
                None
            }
        }
    }

    fn output(&mut self, output: &Output) {
        if let Some((condition, at)) = &output.only_if
            && let Some(found) = self.formula(condition, at)
            && found != Type::Truth
        {
            self.error(
                Code::Dimension,
                at.span.clone(),
                "`only_if` wants a condition".into(),
                None,
            );
        }
        let Some(found) = self.formula(&output.formula, &output.formula_at) else {
            return;
        };
        let declared = output.formula_type();
        if !fits(&found, &declared) {
            let message = format!(
                "the formula gives {}, and `{}` is {}",
                found.described(),
                output.name,
                declared.described()
            );
            self.error(
                Code::Dimension,
                output.formula_at.span.clone(),
                message,
                None,
            );
        }
    }

    fn checks(&mut self) {
        for check in &self.calculator.checks {
            for case in &check.cases {
                if let Some((formula, at)) = &case.when
                    && let Some(found) = self.formula(formula, at)
                    && found != Type::Truth
                {
                    self.error(
                        Code::Dimension,
                        at.span.clone(),
                        "`when` wants a condition".into(),
                        None,
                    );
                }
                self.sentence(&case.because, None);
            }
        }
    }

    /// What a sentence mentions, beside what only this one may.
    fn sentence(&mut self, because: &Template, also: Option<&str>) {
        for (name, span) in because.names() {
            if self.calculator.name_type(name).is_none() && also != Some(name) {
                let span = self.inside(&because.at, span);
                self.unknown_name(Code::Template, span, name);
            }
        }
    }

    fn unknown_name(&mut self, code: Code, span: Range<usize>, name: &str) {
        let names = self.calculator.names();
        let near = nearest(name, names.iter().map(String::as_str));
        let help = near.map(|near| format!("did you mean {near}?"));
        let message = format!("there is no quantity `{name}` here");
        let lost = self.lost(name);
        self.error(code, span, message, help).ties.follows = lost.to_vec();
    }

    fn cross_check(&mut self, cross: &CrossCheck) {
        self.sentence(&cross.because, Some(MEASURED));
        let (value, measured) = (&cross.value, &cross.measured);
        let Some(of_value) = self.calculator.name_type(&value.value) else {
            self.unknown_name(Code::From, value.span.clone(), &value.value);
            return;
        };
        let named = self.catalog.named.get(&measured.value);
        match named.filter(|named| named.role == Role::Measurement) {
            None => {
                let names = self.catalog.named.values();
                let names = names.filter(|named| named.role == Role::Measurement);
                let names = names.map(|named| named.field.name.as_str());
                let near = nearest(&measured.value, names);
                let near = near.map(|near| format!("did you mean {near}?"));
                let rating =
                    named.map(|_| "it is a rating: name what the crew measures".to_string());
                let help = rating.or(near);
                let message = format!("there is no measurement `{}`", measured.value);
                let span = measured.span.clone();
                let finding = self.error(Code::From, span, message, help);
                finding.ties.follows.push(measured.value.clone());
            }
            Some(named) if !fits(&named.field.formula_type(), &of_value) => {
                let message = format!(
                    "`{}` is not the kind of quantity that it is held against",
                    measured.value
                );
                let help = format!("{} is {}", value.value, of_value.described());
                self.error(Code::From, measured.span.clone(), message, Some(help));
            }
            Some(_) => {}
        }
        if let Some(found) = self.formula(&cross.within, &cross.within_at)
            && !(matches!(of_value, Type::Number(..)) && fits(&found, &of_value))
        {
            let (found, of_value) = (found.described(), of_value.described());
            let message = format!(
                "`within` gives {found}, and `{}` is {of_value}",
                value.value
            );
            self.error(Code::Dimension, cross.within_at.span.clone(), message, None);
        }
    }

    fn figure(&mut self) {
        let calculator = self.calculator;
        for figure in calculator.figure.iter().chain(&calculator.map) {
            self.drawing(figure, &calculator.beside(figure));
        }
    }

    fn drawing(&mut self, figure: &Placed<String>, path: &str) {
        let scope = CalculatorScope {
            catalog: self.catalog,
            calculator: self.calculator,
        };
        match self.catalog.figures.get(path) {
            Some(drawing) => {
                let text = self.texts.get(path).copied().unwrap_or("");
                for finding in drawing.check(&scope) {
                    let lost = self.lost(text.get(finding.span.clone()).unwrap_or_default());
                    self.findings.push(finding.follows(lost));
                }
            }
            None => {
                let message = format!("there is no figure `{}` that can be read", figure.value);
                self.error(
                    Code::Figure,
                    figure.span.clone(),
                    message,
                    Some(format!("put it at {path}")),
                )
                .ties
                .follows
                .push(path.to_string());
            }
        }
    }
}

/// Choices fit where every one that may come is one that is taken.
pub(super) fn fits(supplied: &Type, wanted: &Type) -> bool {
    match (supplied, wanted) {
        (Type::Choice(supplied), Type::Choice(wanted)) => {
            supplied.iter().all(|word| wanted.contains(word))
        }
        (supplied, wanted) => supplied == wanted,
    }
}
