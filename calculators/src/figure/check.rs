//! Checks every formula of a figure against the calculator that it draws.

use super::{Element, Figure, FigureNode, Hole, TextPiece};
use crate::formula::{ExprKind, Scope, Type};
use gaugeleaf_finding::{Code, Finding};

/// Names bound by `let` and `each`, over the calculator's own.
struct BoundNames<'a> {
    names: Vec<(String, Type)>,
    outer: &'a dyn Scope,
}

impl Scope for BoundNames<'_> {
    fn name(&self, name: &str) -> Option<Type> {
        let bound = self.names.iter().rev().find(|(bound, _)| bound == name);
        bound
            .map(|(_, found)| found.clone())
            .or_else(|| self.outer.name(name))
    }

    fn is_told(&self, name: &str) -> bool {
        self.outer.is_told(name)
    }

    fn names(&self) -> Vec<String> {
        let bound = self.names.iter().map(|(name, _)| name.clone());
        self.outer.names().into_iter().chain(bound).collect()
    }

    fn column(&self, table: &str, column: &str) -> Result<Type, String> {
        self.outer.column(table, column)
    }
}

struct FigureChecker<'a> {
    path: &'a str,
    scope: BoundNames<'a>,
    findings: Vec<Finding>,
}

impl Figure {
    /// Findings for formulas whose dimensions don't agree, and for names that
    /// the calculator doesn't have.
    pub(crate) fn check(&self, scope: &dyn Scope) -> Vec<Finding> {
        let scope = BoundNames {
            names: Vec::new(),
            outer: scope,
        };
        let mut checker = FigureChecker {
            path: &self.path,
            scope,
            findings: Vec::new(),
        };
        checker.element(&self.root);
        checker.findings
    }
}

impl FigureChecker<'_> {
    fn error(&mut self, hole: &Hole, message: String, help: Option<String>) {
        let mut finding = Finding::error(Code::Figure, self.path, hole.at.span.clone(), message);
        finding.help = help;
        self.findings.push(finding);
    }

    fn hole(&mut self, hole: &Hole) -> Option<Type> {
        match hole.formula.check(&self.scope) {
            Ok(found) => Some(found),
            Err(fault) => {
                let mut finding = Finding::error(
                    Code::Figure,
                    self.path,
                    hole.span(&fault.span),
                    fault.message,
                );
                finding.help = fault.help;
                self.findings.push(finding);
                None
            }
        }
    }

    fn plain(&mut self, hole: &Hole) {
        if let Some(found) = self.hole(hole)
            && found != Type::PLAIN
        {
            self.error(
                hole,
                "a drawing takes plain numbers".into(),
                Some("multiply by a scale, a number per length".into()),
            );
        }
    }

    fn element(&mut self, element: &Element) {
        for (_, pieces) in &element.attributes {
            for piece in pieces {
                if let TextPiece::Hole(hole) = piece {
                    self.plain(hole);
                }
            }
        }
        self.children(&element.children);
    }

    fn children(&mut self, children: &[FigureNode]) {
        let bound = self.scope.names.len();
        for child in children {
            self.node(child);
        }
        self.scope.names.truncate(bound);
    }

    fn node(&mut self, node: &FigureNode) {
        match node {
            FigureNode::Element(element) => self.element(element),
            FigureNode::Text(pieces) => {
                for piece in pieces {
                    if let TextPiece::Hole(hole) = piece {
                        let found = self.hole(hole);
                        let is_name = matches!(hole.formula.expr.kind, ExprKind::Name(_));
                        if !is_name && found.is_some_and(|found| found != Type::PLAIN) {
                            let help = "write the name of a quantity, or a formula that gives a plain number";
                            self.error(hole, "a text can't print this".into(), Some(help.into()));
                        }
                    }
                }
            }
            FigureNode::Let { name, value } => {
                if let Some(found) = self.hole(value) {
                    self.scope.names.push((name.clone(), found));
                }
            }
            FigureNode::Take { name, from, at } => match self.scope.outer.name(from) {
                Some(found) => self.scope.names.push((name.clone(), found)),
                None => {
                    let message = format!("there is no `{from}` to take");
                    let help = "take calculator.output, a measurement or a rating, in a drawing of the sheet";
                    self.findings.push(
                        Finding::error(Code::Figure, self.path, at.clone(), message).help(help),
                    );
                }
            },
            FigureNode::Open { children, .. } => self.children(children),
            FigureNode::When { test, children } => {
                if let Some(found) = self.hole(test)
                    && found != Type::Truth
                {
                    self.error(test, "`test` wants a condition".into(), None);
                }
                self.children(children);
            }
            FigureNode::Each {
                name,
                from,
                to,
                children,
            } => {
                self.plain(from);
                self.plain(to);
                self.scope.names.push((name.clone(), Type::PLAIN));
                self.children(children);
                self.scope.names.pop();
            }
        }
    }
}
