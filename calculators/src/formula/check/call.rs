//! Checks calls: what each function takes, and what it gives.

use crate::message::in_english;
use std::ops::Range;

use super::{check, disagree, fault, number, plain};
use crate::formula::ast::{Expr, ExprKind};
use crate::formula::functions::{CallRule, Function, Property};
use crate::formula::maths::DimensionRule;
use crate::formula::types::{Scope, Type, TypeFault};
use crate::unit::{Dimension, ScaleKind};

pub(super) fn call(
    function: &Function,
    arguments: &[Expr],
    span: &Range<usize>,
    scope: &dyn Scope,
) -> Result<Type, TypeFault> {
    match function.rule {
        CallRule::Lookup => lookup(arguments, scope),
        CallRule::Found => found(arguments, scope),
        CallRule::Lattice(_) => lattice(arguments, scope),
        CallRule::Water(property) => water(property, arguments, scope),
        CallRule::Tolerance => tolerance(&arguments[0], scope),
        CallRule::Maths(maths) => of_numbers(function.name, maths.takes(), arguments, span, scope),
    }
}

fn of_numbers(
    name: &str,
    takes: DimensionRule,
    arguments: &[Expr],
    span: &Range<usize>,
    scope: &dyn Scope,
) -> Result<Type, TypeFault> {
    let types = arguments
        .iter()
        .map(|argument| number(argument, scope))
        .collect::<Result<Vec<_>, _>>()?;
    if let Some(wanted) = takes.wanted() {
        for (argument, (dimension, _)) in arguments.iter().zip(&types) {
            if *dimension != wanted {
                let message = format!(
                    "`{name}` takes {}, and this is {}",
                    in_english(&wanted.a_name()),
                    in_english(&dimension.a_name())
                );
                return Err(fault(&argument.span, message));
            }
        }
    }
    let first = types
        .first()
        .copied()
        .unwrap_or((Dimension::NONE, ScaleKind::Plain));
    if let Some(at) = types.iter().position(|other| *other != first)
        && matches!(takes, DimensionRule::Same | DimensionRule::Two)
    {
        return Err(disagree(&arguments[at].span, first, types[at]));
    }
    Ok(match takes {
        DimensionRule::Same => Type::Number(first.0, first.1),
        DimensionRule::Ratio | DimensionRule::Two => {
            Type::Number(Dimension::ANGLE, ScaleKind::Plain)
        }
        DimensionRule::Square => match first.0.power(0.5) {
            Some(root) => Type::Number(root, ScaleKind::Plain),
            None => {
                return Err(fault(
                    span,
                    format!("{} has no square root", in_english(&first.0.a_name())),
                ));
            }
        },
        _ => Type::PLAIN,
    })
}

fn tolerance(argument: &Expr, scope: &dyn Scope) -> Result<Type, TypeFault> {
    let (dimension, _) = number(argument, scope)?;
    match &argument.kind {
        ExprKind::Name(name) if scope.is_told(name) => {
            Ok(Type::Number(dimension, ScaleKind::Plain))
        }
        _ => Err(fault(
            &argument.span,
            "the name of an input stands here: only what is told has a tolerance",
        )),
    }
}

/// The text of a quoted table's or column's name.
fn word(argument: &Expr) -> Result<&str, TypeFault> {
    match &argument.kind {
        ExprKind::Word(word) => Ok(word.as_str()),
        _ => Err(fault(
            &argument.span,
            "a table's or column's name stands here, in quotes",
        )),
    }
}

fn lookup(arguments: &[Expr], scope: &dyn Scope) -> Result<Type, TypeFault> {
    let (table, column) = (word(&arguments[0])?, word(&arguments[1])?);
    let result = scope
        .column(table, column)
        .map_err(|message| fault(&arguments[0].span, message))?;
    keys(table, &arguments[2..], scope)?;
    Ok(result)
}

fn found(arguments: &[Expr], scope: &dyn Scope) -> Result<Type, TypeFault> {
    keys(word(&arguments[0])?, &arguments[1..], scope)?;
    Ok(Type::Truth)
}

/// Pairs of a key column's name and its value.
fn keys(table: &str, pairs: &[Expr], scope: &dyn Scope) -> Result<(), TypeFault> {
    for pair in pairs.chunks_exact(2) {
        let key = scope
            .column(table, word(&pair[0])?)
            .map_err(|message| fault(&pair[0].span, message))?;
        let given = check(&pair[1], scope)?;
        let agree = match (&key, &given) {
            (Type::Choice(_), Type::Choice(_)) => true,
            (key, given) => key == given,
        };
        if !agree {
            let message = format!(
                "the column holds {}, and this is {}",
                key.described(),
                given.described()
            );
            return Err(fault(&pair[1].span, message));
        }
    }
    Ok(())
}

fn lattice(arguments: &[Expr], scope: &dyn Scope) -> Result<Type, TypeFault> {
    for argument in &arguments[..2] {
        if !matches!(check(argument, scope)?, Type::Choice(_)) {
            return Err(fault(
                &argument.span,
                "a choice stands here: the layout, then the centre",
            ));
        }
    }
    arguments[2..]
        .iter()
        .try_for_each(|argument| plain(argument, scope))?;
    Ok(Type::PLAIN)
}

fn water(property: Property, arguments: &[Expr], scope: &dyn Scope) -> Result<Type, TypeFault> {
    let wanted = [
        (Dimension::TEMPERATURE, "temperature"),
        (Dimension::PRESSURE, "pressure"),
    ];
    for (argument, (dimension, name)) in arguments.iter().zip(wanted) {
        let given = number(argument, scope)?;
        if given != (dimension, ScaleKind::Absolute) {
            let described = Type::Number(given.0, given.1).described();
            let message =
                format!("water's properties take an absolute {name}, and this is {described}");
            let help = "add 1 atm as an absolute pressure to a gauge pressure: p + 101.325 kPaa";
            return Err(TypeFault {
                help: Some(help.into()),
                ..fault(&argument.span, message)
            });
        }
    }
    Ok(Type::Number(property.dimension(), ScaleKind::Plain))
}
