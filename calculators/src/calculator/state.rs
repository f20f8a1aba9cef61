//! What a calculator knows while it is worked out: values, what each stands on, and what is lacking.

use crate::message::Message;
use std::cell::{Cell, RefCell};

use super::resolver::Resolver;
use crate::formula::{Formula, Value, Values, tolerance_name};
use crate::ground::Footing;
use crate::names::Names;
use crate::span::Span;

/// Inputs and results as far as they are worked out.
#[derive(Debug, Clone, Default)]
pub(super) struct State {
    pub values: Names<Value>,
    /// What each value stands on: in step with `values`.
    pub footings: Vec<Footing>,
    /// Results that don't exist for these inputs, and what that stands on.
    pub absent: Names<Footing>,
    /// Inputs that nobody gave, and results that hang on them.
    pub missing: Names<Footing>,
    /// Some input has a tolerance: another branch may hold inside it.
    pub spread: bool,
}

impl State {
    pub fn put(&mut self, name: &str, value: Value, footing: Footing) {
        match self.values.put(name.to_string(), value) {
            Ok(at) => self.footings[at] = footing,
            Err(at) => self.footings.insert(at, footing),
        }
    }

    pub fn footing(&self, name: &str) -> Option<&Footing> {
        Some(&self.footings[self.values.position(name)?])
    }

    /// Puts an input beside what is known, and how far it may lie from its value.
    pub fn put_input(&mut self, name: &str, value: Value, typed: Option<Span>, footing: Footing) {
        if let (Some(span), Value::Number(told)) = (typed, &value) {
            let off = (span.high - told).max(told - span.low);
            self.put(&tolerance_name(name), Value::Number(off), footing.clone());
            self.spread = true;
        }
        self.put(name, value, footing);
    }

    /// What a name stands on that has a value, or is known to have none.
    pub fn beneath(&self, name: &str) -> [Option<&Footing>; 2] {
        [self.footing(name), self.absent.get(name)]
    }

    /// What a formula lacks, in whichever branch: whoever goes to measure wants to know it all.
    pub fn lacking(&self, formula: &Formula) -> Footing {
        let mut lacking = Footing::default();
        for name in formula.names() {
            if let Some(footing) = self.missing.get(name) {
                lacking.join(footing);
            }
        }
        lacking
    }

    pub fn known<'a>(&'a self, resolver: &'a dyn Resolver) -> Known<'a> {
        Known {
            state: self,
            resolver,
            read: Cell::new(0),
            beside: RefCell::default(),
            lacked: Cell::new(false),
        }
    }
}

/// The state as formulas read it. It remembers what was read: a result stands on the branch that
/// was taken, and on nothing else.
pub(super) struct Known<'a> {
    state: &'a State,
    resolver: &'a dyn Resolver,
    /// A bit for each of the values that were read; the last one for all beyond.
    read: Cell<u128>,
    /// What else was read: tables, and that a result doesn't exist.
    beside: RefCell<Footing>,
    /// Something was asked for that isn't there.
    lacked: Cell<bool>,
}

const LAST_BIT: usize = 127;

impl Known<'_> {
    /// What the formulas stand on that were evaluated with this.
    pub fn footing(&self) -> Footing {
        let mut footing = self.beside.borrow().clone();
        let read = self.read.get();
        for (at, one) in self.state.footings.iter().enumerate() {
            if read & (1 << at.min(LAST_BIT)) != 0 {
                footing.join(one);
            }
        }
        footing
    }

    /// Takes over what another reading of the same state has read.
    pub fn also(&self, other: &Known<'_>) {
        self.read.set(self.read.get() | other.read.get());
        self.beside.borrow_mut().join(&other.beside.borrow());
    }

    fn stands_on(&self, table: &str) {
        let ground = self.resolver.table_ground(table);
        self.beside.borrow_mut().join(&Footing::on(ground, table));
    }

    /// Whether something was asked for that nobody has given.
    pub fn lacked(&self) -> bool {
        self.lacked.get()
    }
}

impl Values for Known<'_> {
    fn value(&self, name: &str) -> Option<Value> {
        if let Some(at) = self.state.values.position(name) {
            self.read.set(self.read.get() | 1 << at.min(LAST_BIT));
            return self.state.values.at(at).cloned();
        }
        if self.state.missing.contains_key(name) {
            self.lacked.set(true);
        } else if let Some(footing) = self.state.absent.get(name) {
            self.beside.borrow_mut().join(footing);
        }
        None
    }

    fn lookup(&self, table: &str, column: &str, keys: &[(&str, Value)]) -> Result<Value, Message> {
        self.stands_on(table);
        self.resolver.lookup(table, column, keys)
    }

    fn found(&self, table: &str, keys: &[(&str, Value)]) -> Result<bool, Message> {
        self.stands_on(table);
        self.resolver.found(table, keys)
    }
}
