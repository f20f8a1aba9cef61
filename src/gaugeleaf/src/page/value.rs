//! Finds the value that a link names: a calculator's output, a table's cell, a
//! measurement or a rating.

use gaugeleaf_calc::calculator::{Answer, Calculator, InputSource, ProblemKind};
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding, Level, nearest};
use gaugeleaf_calc::formula::Value;
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::quantity::read;
use gaugeleaf_calc::table::{Cell, ColumnKind, Table};

use crate::handbook::addresses::row_id;
use crate::markdown::place::{Address, SCHEME};
use crate::page::context::Context;
use crate::page::route::{Route, To};
use crate::page::value_target::{ValueTarget, Written};
use crate::page::working::{Doubt, WorkingPart, also, not_known, si, unknown, used_value, work};
use crate::values::ledger::UsedValue;

/// A value, and where a reader can see how it came about.
pub struct SourcedValue {
    pub used: UsedValue,
    pub to: Option<Route>,
    pub doubts: Vec<Finding>,
}

/// The value for a target that stands at a place.
pub fn find(
    target: &ValueTarget,
    place: &Address,
    context: &Context,
) -> Result<SourcedValue, Finding> {
    let graph = context.graph;
    let Some(part) = &target.part else {
        return named(target, place, context);
    };
    for (at, (name, _)) in target.given.iter().enumerate() {
        if target.given[..at]
            .iter()
            .any(|(other, _)| other.text == name.text)
        {
            let message = format!("`{}` is given twice", name.text);
            let finding = context.error(Code::SameInput, place.part(name.at.clone()), message);
            return Err(finding.help("leave one of the two out"));
        }
    }
    if let Some(calculator) = graph.catalog.calculators.get(&target.name.text) {
        return result(calculator, part, target, place, context);
    }
    if let Some(table) = graph.catalog.tables.get(&target.name.text) {
        return cell(table, part, target, place, context);
    }
    let names = graph
        .catalog
        .calculators
        .keys()
        .chain(graph.catalog.tables.keys());
    Err(unknown_name(
        target,
        "calculator or table",
        names,
        place,
        context,
    ))
}

fn unknown_name<'n>(
    target: &ValueTarget,
    what: &str,
    names: impl Iterator<Item = &'n String>,
    place: &Address,
    context: &Context,
) -> Finding {
    let span = place.part(target.name.at.clone());
    if let Some((message, help)) = context.graph.left_out(&target.name.text) {
        return context.error(Code::UnknownValue, span, message).help(help);
    }
    let message = format!("there is no {what} `{}`", target.name.text);
    let finding = context
        .error(Code::UnknownValue, span, message)
        .follows([target.name.text.clone()]);
    match nearest(&target.name.text, names.map(String::as_str)) {
        Some(near) => finding.help(format!("write {near}")),
        None => finding.help(format!("name a {what} of the catalog")),
    }
}

fn named(
    target: &ValueTarget,
    place: &Address,
    context: &Context,
) -> Result<SourcedValue, Finding> {
    let graph = context.graph;
    let name = &target.name.text;
    let (Some(named), Some(reading)) = (graph.catalog.named.get(name), context.quantity(name))
    else {
        let calculators = graph
            .catalog
            .calculators
            .keys()
            .chain(graph.catalog.tables.keys());
        if calculators.clone().any(|known| known == name) {
            let span = place.part(target.name.at.clone());
            return Err(Finding::error(
                Code::BadValueLink,
                context.file,
                span,
                format!("`{name}` has more than one value"),
            )
            .help(format!("write {name}.OUTPUT or {name}.COLUMN")));
        }
        return Err(unknown_name(
            target,
            "measurement or rating",
            graph.catalog.named.keys(),
            place,
            context,
        ));
    };
    if let Some((key, _)) = target.given.first() {
        let span = place.part(key.at.clone());
        return Err(Finding::error(
            Code::UnknownInput,
            context.file,
            span,
            format!("`{name}` takes no inputs"),
        )
        .help("leave out what follows the question mark"));
    }
    let reading = reading.map_err(|problem| {
        let mut finding = Finding::error(
            problem.kind.code(),
            context.file,
            place.after(SCHEME.len()),
            in_english(&problem.message),
        );
        if problem.kind == ProblemKind::NotKnown {
            finding = not_known(finding, std::slice::from_ref(name));
        } else {
            finding = finding.follows([name.clone()]);
        }
        finding.help = problem.help.as_ref().map(in_english);
        finding
    })?;
    let leaf = context.leaf(name);
    let used = UsedValue {
        text: reading.text().to_string(),
        also: also(&reading),
        label: named.field.label.clone(),
        name: name.clone(),
        si: si(&reading),
        source: graph.catalog.language.say(&leaf.from),
        ground: leaf.ground.word(),
        of: leaf.job,
        ..UsedValue::default()
    };
    let to = graph
        .calculator_with(name)
        .map(|calculator| Route::calculator(&calculator.name));
    Ok(SourcedValue {
        used,
        to,
        doubts: Vec::new(),
    })
}

/// A part of the target with its place in the file.
fn placed(part: &Written, place: &Address) -> Placed<String> {
    Placed {
        value: part.text.clone(),
        span: place.part(part.at.clone()),
    }
}

fn result(
    calculator: &Calculator,
    output: &Written,
    target: &ValueTarget,
    place: &Address,
    context: &Context,
) -> Result<SourcedValue, Finding> {
    let names: Vec<&str> = calculator
        .results()
        .map(|output| output.name.as_str())
        .collect();
    if !names.contains(&output.text.as_str()) {
        let said = placed(output, place);
        return Err(unknown(
            WorkingPart::Output,
            &said,
            &names,
            calculator,
            context.file,
        ));
    }
    let given: Vec<Binding> = target
        .given
        .iter()
        .map(|(name, text)| Binding {
            name: placed(name, place),
            text: placed(text, place),
        })
        .collect();
    let span = place.after(SCHEME.len());
    let worked = work(calculator, &given, Doubt::Tell, &span, context);
    let Some(answer) = worked.value else {
        let mut faults = worked.findings.into_iter();
        let first = faults.find(|finding| finding.level == Level::Error);
        let otherwise = || context.error(Code::BadInput, span, "this can't be worked out");
        return Err(first.unwrap_or_else(otherwise));
    };
    if let Some(open) = answer.output(&output.text).filter(|one| one.is_open()) {
        let message = format!(
            "{}.{} is not known. {}",
            calculator.name,
            output.text,
            in_english(&answer.why_open(open))
        );
        let finding = Finding::error(Code::NotKnown, context.file, span, message);
        return Err(not_known(finding, &open.footing.weak));
    }
    let Some(used) = used_value(calculator, &answer, &output.text, context) else {
        let message = format!(
            "{} has no `{}` for these inputs",
            calculator.name, output.text
        );
        return Err(Finding::error(Code::NoResult, context.file, span, message)
            .help("link to another output, or give other inputs"));
    };
    let to = Route {
        given: inputs(target, &answer, context),
        ..Route::calculator(&calculator.name).at(&calculator.name)
    };
    Ok(SourcedValue {
        used,
        to: Some(to),
        doubts: worked.findings,
    })
}

/// The inputs by which the calculator's own page shows this very result: those of
/// the link, and those that this page's own job gives.
fn inputs(target: &ValueTarget, answer: &Answer, context: &Context) -> Vec<(String, String)> {
    let own = &context.page.outline.settings.given;
    let from_page = answer
        .inputs
        .iter()
        .filter_map(|input| match &input.source {
            InputSource::Named(name) => {
                let given = own.iter().find(|one| one.name.value == *name)?;
                Some((input.name.clone(), given.text.value.clone()))
            }
            _ => None,
        });
    target.typed().into_iter().chain(from_page).collect()
}

fn cell(
    table: &Table,
    column: &Written,
    target: &ValueTarget,
    place: &Address,
    context: &Context,
) -> Result<SourcedValue, Finding> {
    let named = |name: &Written| {
        let found = table.column(&name.text);
        found.ok_or_else(|| unknown_column(table, name, place, context))
    };
    let (at, wanted) = named(column)?;
    let keys: Vec<(&str, Value)> = target
        .given
        .iter()
        .map(|(name, text)| {
            let (_, key) = named(name)?;
            Ok((
                name.text.as_str(),
                key_cell(&key.kind, text, place, context)?,
            ))
        })
        .collect::<Result<_, Finding>>()?;
    let said: Vec<String> = target
        .given
        .iter()
        .map(|(name, text)| format!("{} {}", name.text, text.text))
        .collect();
    let said = said.join(", ");
    let rows = table.matching(&keys);
    let [(row, cells)] = rows.as_slice() else {
        return Err(no_such_row(table, rows.len(), &said, place, context));
    };
    let cell = cells
        .get(at)
        .ok_or_else(|| unknown_column(table, column, place, context))?;
    let (si, also) = match cell {
        Cell::Number { printed, .. } => {
            (Some(printed.si), printed.also.clone().unwrap_or_default())
        }
        Cell::Text(_) => (None, String::new()),
    };
    let used = UsedValue {
        text: cell.text().to_string(),
        also,
        label: format!("{}: {}", table.title, wanted.label),
        name: format!("{}.{}", table.name, column.text),
        si,
        source: table.source.clone(),
        ground: table.ground().word(),
        given: said,
        inputs: target.typed(),
        ..UsedValue::default()
    };
    Ok(SourcedValue {
        used,
        to: Some(Route::to(To::Table(table.name.clone())).at(&row_id(*row))),
        doubts: Vec::new(),
    })
}

fn unknown_column(table: &Table, name: &Written, place: &Address, context: &Context) -> Finding {
    let names = || table.columns.iter().map(|column| column.name.as_str());
    let message = format!("the table {} has no column `{}`", table.name, name.text);
    let span = place.part(name.at.clone());
    let finding = context.error(Code::UnknownColumn, span, message);
    finding.help(match nearest(&name.text, names()) {
        Some(near) => format!("write {near}"),
        None => format!("the columns are {}", names().collect::<Vec<_>>().join(", ")),
    })
}

/// A key's cell as typed in a link.
fn key_cell(
    kind: &ColumnKind,
    text: &Written,
    place: &Address,
    context: &Context,
) -> Result<Value, Finding> {
    let ColumnKind::Number { want, .. } = kind else {
        return Ok(Value::Choice(text.text.clone()));
    };
    let typed = read(&text.text, want).map_err(|fault| Finding {
        help: Some(in_english(&fault.help())),
        ..context.error(
            Code::BadInput,
            place.part(text.at.clone()),
            in_english(&fault.message()),
        )
    })?;
    Ok(Value::Number(typed.si))
}

fn no_such_row(
    table: &Table,
    rows: usize,
    said: &str,
    place: &Address,
    context: &Context,
) -> Finding {
    let count = if rows == 0 {
        "no row"
    } else {
        "more than one row"
    };
    let said = if said.is_empty() { "no key" } else { said };
    let message = format!("the table {} has {count} with {said}", table.name);
    let finding = context.error(Code::NoSuchRow, place.after(SCHEME.len()), message);
    finding.help(format!("name one row by {}", table.key.join(" and ")))
}
