//! The tree of a formula; every node knows where in the text it stands.

use serde::{Deserialize, Serialize};
use std::ops::Range;

use super::functions::Function;
use crate::unit::{Dimension, ScaleKind};

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Expr {
    pub kind: ExprKind,
    #[serde(skip)]
    pub span: Range<usize>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum ExprKind {
    Number(f64),
    /// A number with a unit: `12 in`.
    Quantity {
        si: f64,
        dimension: Dimension,
        kind: ScaleKind,
        text: String,
    },
    /// A choice or a table's or column's name, in quotes.
    Word(String),
    Name(String),
    Negate(Box<Expr>),
    Not(Box<Expr>),
    Binary(Operator, Box<Expr>, Box<Expr>),
    If(Box<Expr>, Box<Expr>, Box<Expr>),
    Call(
        #[serde(with = "super::functions::by_place")] &'static Function,
        Vec<Expr>,
    ),
    /// `sum(k, from, to, body)`, and `largest(…)`, which is never less than 0:
    /// over whole k, both ends included.
    Over {
        gather: Gather,
        name: String,
        from: Box<Expr>,
        to: Box<Expr>,
        body: Box<Expr>,
    },
    /// `root(x, low, high, body)`: the x between low and high at which body is 0.
    Root {
        name: String,
        low: Box<Expr>,
        high: Box<Expr>,
        body: Box<Expr>,
    },
}

/// What becomes of the values over a range of whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Gather {
    Sum,
    Largest,
}

impl Gather {
    pub fn word(self) -> &'static str {
        match self {
            Gather::Sum => "sum",
            Gather::Largest => "largest",
        }
    }

    /// What an empty range gives.
    pub(super) fn start(self) -> f64 {
        0.0
    }

    pub(super) fn with(self, so_far: f64, value: f64) -> f64 {
        match self {
            Gather::Sum => so_far + value,
            Gather::Largest => so_far.max(value) + 0.0,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Operator {
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Less,
    AtMost,
    Greater,
    AtLeast,
    Equal,
    Differs,
    And,
    Or,
}

impl Operator {
    /// How tightly it binds: a larger number binds tighter.
    pub fn level(self) -> u8 {
        match self {
            Operator::Or => 1,
            Operator::And => 2,
            Operator::Less
            | Operator::AtMost
            | Operator::Greater
            | Operator::AtLeast
            | Operator::Equal
            | Operator::Differs => 4,
            Operator::Add | Operator::Subtract => 5,
            Operator::Multiply | Operator::Divide => 6,
            Operator::Power => 8,
        }
    }

    pub fn sign(self) -> &'static str {
        match self {
            Operator::Add => "+",
            Operator::Subtract => "−",
            Operator::Multiply => "×",
            Operator::Divide => "/",
            Operator::Power => "^",
            Operator::Less => "<",
            Operator::AtMost => "≤",
            Operator::Greater => ">",
            Operator::AtLeast => "≥",
            Operator::Equal => "=",
            Operator::Differs => "≠",
            Operator::And => "and",
            Operator::Or => "or",
        }
    }

    /// Gives a number from two numbers.
    pub fn reckons(self) -> bool {
        self.level() > 4
    }

    pub fn compares(self) -> bool {
        self.level() == 4
    }
}

impl Expr {
    /// The same node over other children.
    pub(super) fn over_children(&self, of: &mut dyn FnMut(&Expr) -> Expr) -> Expr {
        let mut go = |inner: &Expr| Box::new(of(inner));
        let kind = match &self.kind {
            ExprKind::If(condition, yes, no) => ExprKind::If(go(condition), go(yes), go(no)),
            ExprKind::Negate(inner) => ExprKind::Negate(go(inner)),
            ExprKind::Not(inner) => ExprKind::Not(go(inner)),
            ExprKind::Binary(operator, a, b) => ExprKind::Binary(*operator, go(a), go(b)),
            ExprKind::Call(function, arguments) => {
                ExprKind::Call(function, arguments.iter().map(of).collect())
            }
            ExprKind::Over {
                gather,
                name,
                from,
                to,
                body,
            } => ExprKind::Over {
                gather: *gather,
                name: name.clone(),
                from: go(from),
                to: go(to),
                body: go(body),
            },
            ExprKind::Root {
                name,
                low,
                high,
                body,
            } => ExprKind::Root {
                name: name.clone(),
                low: go(low),
                high: go(high),
                body: go(body),
            },
            leaf => leaf.clone(),
        };
        Expr {
            kind,
            span: self.span.clone(),
        }
    }

    /// Whether something holds of a node right below this one; stops at the first.
    pub(super) fn any_child<'a>(&'a self, holds: &mut dyn FnMut(&'a Expr) -> bool) -> bool {
        match &self.kind {
            ExprKind::Number(_)
            | ExprKind::Quantity { .. }
            | ExprKind::Word(_)
            | ExprKind::Name(_) => false,
            ExprKind::Negate(one) | ExprKind::Not(one) => holds(one),
            ExprKind::Binary(_, a, b) => holds(a) || holds(b),
            ExprKind::Call(_, arguments) => arguments.iter().any(holds),
            ExprKind::If(a, b, c)
            | ExprKind::Over {
                from: a,
                to: b,
                body: c,
                ..
            }
            | ExprKind::Root {
                low: a,
                high: b,
                body: c,
                ..
            } => holds(a) || holds(b) || holds(c),
        }
    }

    /// Free names, each once; `bound` holds the counters of enclosing sums and roots.
    pub(super) fn collect_names<'a>(&'a self, bound: &mut Vec<&'a str>, names: &mut Vec<&'a str>) {
        match &self.kind {
            ExprKind::Name(name) => {
                if !bound.contains(&name.as_str()) && !names.contains(&name.as_str()) {
                    names.push(name);
                }
            }
            ExprKind::Over {
                name,
                from: a,
                to: b,
                body,
                ..
            }
            | ExprKind::Root {
                name,
                low: a,
                high: b,
                body,
            } => {
                a.collect_names(bound, names);
                b.collect_names(bound, names);
                bound.push(name);
                body.collect_names(bound, names);
                bound.pop();
            }
            _ => {
                self.any_child(&mut |child| {
                    child.collect_names(bound, names);
                    false
                });
            }
        }
    }
}
