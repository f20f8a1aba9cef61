//! Recursive descent over the tokens; depth is bounded, so that no text can
//! exhaust the stack.

use crate::message::in_english;
use std::ops::Range;

use super::ast::{Expr, ExprKind, Gather, Operator};
use super::fault::FormulaFault;
use super::functions;
use super::lex::{FormulaToken, Spanned, lex};
use crate::unit::Unit;
use gaugeleaf_finding::nearest;

/// Deeper nesting than any formula of the trade.
const DEEPEST: usize = 40;
/// Longer than any formula of the trade.
const LONGEST: usize = 4000;

pub(super) fn parse(text: &str) -> Result<Expr, FormulaFault> {
    if text.len() > LONGEST {
        return Err(FormulaFault::new(0..text.len(), "the formula is too long")
            .help("name a part of it as a term of its own"));
    }
    let mut parser = FormulaParser {
        tokens: lex(text)?,
        at: 0,
        depth: 0,
    };
    let expr = parser.expression(0)?;
    let (token, span) = parser.peek();
    if *token != FormulaToken::End {
        return Err(FormulaFault::new(
            span.clone(),
            format!("{} is not expected here", shown(token)),
        )
        .help("check for a missing sign or bracket"));
    }
    Ok(expr)
}

fn shown(token: &FormulaToken) -> String {
    match token {
        FormulaToken::Number { value, .. } => format!("the number {value}"),
        FormulaToken::Name(name) => format!("the name `{name}`"),
        FormulaToken::Word(word) => format!("the word \"{word}\""),
        FormulaToken::Sign(sign) => format!("`{sign}`"),
        FormulaToken::End => "the end of the formula".into(),
    }
}

struct FormulaParser {
    tokens: Vec<Spanned>,
    at: usize,
    depth: usize,
}

impl FormulaParser {
    fn peek(&self) -> &Spanned {
        // The last token is always `End`, and `at` never passes it.
        &self.tokens[self.at.min(self.tokens.len() - 1)]
    }

    fn advance(&mut self) -> Spanned {
        let token = self.peek().clone();
        self.at = (self.at + 1).min(self.tokens.len() - 1);
        token
    }

    fn take(&mut self, sign: &str) -> bool {
        let found = matches!(&self.peek().0, FormulaToken::Sign(other) if *other == sign);
        if found {
            self.advance();
        }
        found
    }

    fn want(&mut self, sign: &'static str) -> Result<Range<usize>, FormulaFault> {
        let (token, span) = self.peek().clone();
        if self.take(sign) {
            return Ok(span);
        }
        Err(FormulaFault::new(
            span,
            format!("`{sign}` is missing before {}", shown(&token)),
        ))
    }

    /// An expression whose operators all bind tighter than `level`.
    fn expression(&mut self, level: u8) -> Result<Expr, FormulaFault> {
        self.depth += 1;
        if self.depth > DEEPEST {
            let span = self.peek().1.clone();
            return Err(FormulaFault::new(span, "the formula is nested too deep")
                .help("name a part of it as a term of its own"));
        }
        let result = self.climb(level);
        self.depth -= 1;
        result
    }

    fn climb(&mut self, level: u8) -> Result<Expr, FormulaFault> {
        let mut left = self.prefix()?;
        let mut compared = false;
        // A chain is as deep a tree as nesting, so it is bounded alike.
        let mut links = 0;
        while let Some(operator) = self.operator().filter(|operator| operator.level() > level) {
            let sign = self.advance().1;
            links += 1;
            if links > 4 * DEEPEST {
                return Err(FormulaFault::new(
                    sign,
                    "the formula has too many terms in a row",
                ));
            }
            if operator.compares() && std::mem::replace(&mut compared, true) {
                return Err(FormulaFault::new(sign, "two comparisons in a row")
                    .help("join them with `and`"));
            }
            // A power binds to the right, and its exponent may be negative.
            let right = self.expression(if operator == Operator::Power {
                operator.level() - 1
            } else {
                operator.level()
            })?;
            let span = left.span.start..right.span.end;
            left = Expr {
                kind: ExprKind::Binary(operator, Box::new(left), Box::new(right)),
                span,
            };
        }
        Ok(left)
    }

    fn operator(&self) -> Option<Operator> {
        let FormulaToken::Sign(sign) = &self.peek().0 else {
            return None;
        };
        Some(match *sign {
            "+" => Operator::Add,
            "-" => Operator::Subtract,
            "*" => Operator::Multiply,
            "/" => Operator::Divide,
            "^" => Operator::Power,
            "<" => Operator::Less,
            "<=" => Operator::AtMost,
            ">" => Operator::Greater,
            ">=" => Operator::AtLeast,
            "=" => Operator::Equal,
            "!=" => Operator::Differs,
            "and" => Operator::And,
            "or" => Operator::Or,
            _ => return None,
        })
    }

    fn prefix(&mut self) -> Result<Expr, FormulaFault> {
        let (token, span) = self.advance();
        let wrap = |inner: Expr, kind: fn(Box<Expr>) -> ExprKind| Expr {
            span: span.start..inner.span.end,
            kind: kind(Box::new(inner)),
        };
        match token {
            FormulaToken::Sign("-") => Ok(wrap(self.expression(7)?, ExprKind::Negate)),
            FormulaToken::Sign("not") => Ok(wrap(self.expression(3)?, ExprKind::Not)),
            FormulaToken::Sign("(") => {
                let inner = self.expression(0)?;
                let close = self.want(")")?;
                Ok(Expr {
                    span: span.start..close.end,
                    ..inner
                })
            }
            FormulaToken::Sign("√") => Ok(wrap(self.expression(8)?, |inner| {
                ExprKind::Call(functions::square_root(), vec![*inner])
            })),
            FormulaToken::Sign("π") => Ok(Expr {
                kind: ExprKind::Name("pi".into()),
                span,
            }),
            FormulaToken::Sign("if") => self.conditional(span.start),
            FormulaToken::Number { value, unit: None } => Ok(Expr {
                kind: ExprKind::Number(value),
                span,
            }),
            FormulaToken::Number {
                value,
                unit: Some((word, at)),
            } => quantity(value, &word, &at, span),
            FormulaToken::Word(word) => Ok(Expr {
                kind: ExprKind::Word(word),
                span,
            }),
            FormulaToken::Name(name) if matches!(self.peek().0, FormulaToken::Sign("(")) => {
                self.call(name, span)
            }
            FormulaToken::Name(name) => Ok(Expr {
                kind: ExprKind::Name(name),
                span,
            }),
            FormulaToken::Sign(_) | FormulaToken::End => Err(FormulaFault::new(
                span,
                format!("a value is missing before {}", shown(&token)),
            )),
        }
    }

    fn conditional(&mut self, start: usize) -> Result<Expr, FormulaFault> {
        let condition = self.expression(0)?;
        self.want("then")?;
        let yes = self.expression(0)?;
        self.want("else")?;
        let no = self.expression(0)?;
        let span = start..no.span.end;
        Ok(Expr {
            kind: ExprKind::If(Box::new(condition), Box::new(yes), Box::new(no)),
            span,
        })
    }

    fn call(&mut self, name: String, named: Range<usize>) -> Result<Expr, FormulaFault> {
        self.want("(")?;
        let mut arguments = Vec::new();
        if !self.take(")") {
            loop {
                arguments.push(self.expression(0)?);
                if !self.take(",") {
                    break;
                }
            }
            self.want(")")?;
        }
        let span = named.start..self.tokens[self.at.saturating_sub(1)].1.end;
        if matches!(name.as_str(), "sum" | "largest" | "root") {
            return over_a_name(&name, arguments, span);
        }
        let Some(function) = functions::find(&name) else {
            let fault = FormulaFault::new(named, format!("there is no function `{name}`"));
            return Err(
                match nearest(
                    &name,
                    functions::FUNCTIONS.iter().map(|function| function.name),
                ) {
                    Some(near) => fault.help(format!("did you mean {near}?")),
                    None => fault,
                },
            );
        };
        if !function.takes(arguments.len()) {
            return Err(FormulaFault::new(
                span,
                format!("`{name}` doesn't take {} values", arguments.len()),
            )
            .help(format!("write {}", function.signature().usage)));
        }
        Ok(Expr {
            kind: ExprKind::Call(function, arguments),
            span,
        })
    }
}

fn quantity(
    value: f64,
    word: &str,
    at: &Range<usize>,
    span: Range<usize>,
) -> Result<Expr, FormulaFault> {
    let unit = Unit::parse(word).map_err(|fault| {
        let help = match (&fault.help, word.contains('/')) {
            (Some(help), _) => in_english(help),
            (None, true) => "to divide, put a space on each side of the /".into(),
            (None, false) => "to multiply, write a * after the number".into(),
        };
        FormulaFault::new(at.clone(), in_english(&fault.message)).help(help)
    })?;
    let kind = unit.natural_kind();
    let si = unit.to_si_as(value, kind);
    let space = if unit.clings() { "" } else { " " };
    let text = format!("{value}{space}{}", unit.shown);
    Ok(Expr {
        kind: ExprKind::Quantity {
            si,
            dimension: unit.dimension,
            kind,
            text,
        },
        span,
    })
}

/// `sum(k, 1, n, body)`, `largest(…)` and `root(x, low, high, body)` bind a name.
fn over_a_name(
    which: &str,
    arguments: Vec<Expr>,
    span: Range<usize>,
) -> Result<Expr, FormulaFault> {
    let bounds = if which == "root" {
        "x, low, high"
    } else {
        "k, from, to"
    };
    let usage = format!("write {which}({bounds}, formula)");
    let [name, a, b, body] = <[Expr; 4]>::try_from(arguments).map_err(|arguments| {
        FormulaFault::new(
            span.clone(),
            format!("`{which}` doesn't take {} values", arguments.len()),
        )
        .help(&usage)
    })?;
    let ExprKind::Name(name) = name.kind else {
        return Err(
            FormulaFault::new(name.span, format!("`{which}` begins with a name")).help(&usage),
        );
    };
    let (a, b, body) = (Box::new(a), Box::new(b), Box::new(body));
    let kind = match which {
        "root" => ExprKind::Root {
            name,
            low: a,
            high: b,
            body,
        },
        "sum" => ExprKind::Over {
            gather: Gather::Sum,
            name,
            from: a,
            to: b,
            body,
        },
        _ => ExprKind::Over {
            gather: Gather::Largest,
            name,
            from: a,
            to: b,
            body,
        },
    };
    Ok(Expr { kind, span })
}
