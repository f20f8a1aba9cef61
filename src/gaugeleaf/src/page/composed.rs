//! What composing a part of a page gives: the part, and what goes with it.

use std::collections::BTreeSet;

use gaugeleaf_calc::finding::Finding;

use crate::values::ledger::Use;

/// Something composed. What a callee leaves behind is all here, so asking twice costs nothing and
/// an answer may be dropped.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Composed<T> {
    pub value: T,
    pub findings: Vec<Finding>,
    /// Every value that it prints.
    pub uses: Vec<Use>,
    pub needs: Needs,
}

/// What the site must hold besides the page.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Needs {
    /// Files of the handbook, by path.
    pub files: BTreeSet<String>,
    /// Kinds of block, for their scripts.
    pub kinds: BTreeSet<&'static str>,
}

impl<T> Composed<T> {
    pub fn of(value: T) -> Composed<T> {
        Composed::<()>::default().with(value)
    }

    /// The same about another value.
    pub fn with<U>(self, value: U) -> Composed<U> {
        let Composed {
            findings,
            uses,
            needs,
            ..
        } = self;
        Composed {
            value,
            findings,
            uses,
            needs,
        }
    }

    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Composed<U> {
        let Composed {
            value,
            findings,
            uses,
            needs,
        } = self;
        Composed {
            value: change(value),
            findings,
            uses,
            needs,
        }
    }

    /// Takes what goes with another part, and hands out the part.
    pub fn take<U>(&mut self, other: Composed<U>) -> U {
        self.findings.extend(other.findings);
        self.uses.extend(other.uses);
        // most parts need nothing
        if !other.needs.files.is_empty() {
            self.needs.files.extend(other.needs.files);
        }
        if !other.needs.kinds.is_empty() {
            self.needs.kinds.extend(other.needs.kinds);
        }
        other.value
    }
}

impl Composed<()> {
    /// Parts of one sort, one after the other.
    pub fn all<T, U>(
        parts: impl IntoIterator<Item = T>,
        mut compose: impl FnMut(T) -> Composed<U>,
    ) -> Composed<Vec<U>> {
        let mut all = Composed::of(());
        let values = parts
            .into_iter()
            .map(|part| all.take(compose(part)))
            .collect();
        all.with(values)
    }
}

impl<T> Composed<Option<T>> {
    /// Goes on with what there is.
    pub fn then<U>(self, next: impl FnOnce(T) -> Composed<Option<U>>) -> Composed<Option<U>> {
        let mut value = None;
        let mut all = self.map(|found| value = found);
        let next = value.and_then(|value| all.take(next(value)));
        all.with(next)
    }
}

impl<T: Default> Composed<T> {
    /// Nothing, and why.
    pub fn fault(finding: Finding) -> Composed<T> {
        Composed {
            findings: vec![finding],
            ..Composed::default()
        }
    }
}

impl<T> From<Result<T, Finding>> for Composed<Option<T>> {
    fn from(result: Result<T, Finding>) -> Self {
        match result {
            Ok(value) => Composed::of(Some(value)),
            Err(finding) => Composed::fault(finding),
        }
    }
}
