//! What a page leaves for records of people: what it tests or has shown, or what a role wants.

use serde::Serialize;

#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Training {
    Shown(Shown),
    Role(RoleTerms),
}

/// A test or a task.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// A short hash of its questions, or of its lines.
    pub set: String,
    /// The pages whose hazards and values it is about, by path.
    pub pages: Vec<String>,
}

/// What a role wants before its sign-off; its pages by path, or by address once they are printed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RoleTerms {
    pub name: String,
    /// The roles that are signed off before.
    pub first: Vec<String>,
    pub tests: Vec<String>,
    pub tasks: Vec<String>,
    /// Tasks that are shown among the supervised strokes.
    pub among: Vec<String>,
    pub strokes: i64,
    /// The role whose holder stands beside the strokes; "" where it is this one.
    pub beside: String,
    /// For how long it counts.
    pub months: i64,
}

impl RoleTerms {
    /// The same, with each page as `named` says.
    pub fn map(&self, named: impl Fn(&str) -> Option<String>) -> RoleTerms {
        let all = |pages: &[String]| pages.iter().filter_map(|page| named(page)).collect();
        RoleTerms {
            name: self.name.clone(),
            first: all(&self.first),
            tests: all(&self.tests),
            tasks: all(&self.tasks),
            among: all(&self.among),
            strokes: self.strokes,
            beside: named(&self.beside).unwrap_or_default(),
            months: self.months,
        }
    }
}
