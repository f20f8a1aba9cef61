//! The values of one job, each with what it stands on.

use crate::calculator::{Problem, ProblemKind};
use crate::ground::Ground;
use crate::named::NamedQuantity;
use crate::names::Names;

/// What is known of one exchanger and the equipment on it: measurements and ratings by name.
/// What isn't here has neither value nor ground.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Job {
    held: Names<Held>,
    /// Calculators may show what their files start with, where nobody has given a value.
    pub shows_defaults: bool,
}

/// A measurement or rating as somebody gave it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    pub text: String,
    pub ground: Ground,
    /// When it was measured, the plate that it stands on, whose value it is, or what was refused.
    pub from: String,
}

impl Held {
    /// What was given was refused, and nothing had been given before it: no usual value may take
    /// its place.
    pub fn is_bare(&self) -> bool {
        self.ground == Ground::Doubted && self.text.is_empty()
    }
}

impl Job {
    /// Nothing is measured and nothing is set.
    pub fn new() -> Job {
        Job::default()
    }

    pub fn set(&mut self, name: &str, text: &str, ground: Ground, from: &str) {
        self.held.insert(
            name.to_string(),
            Held {
                text: text.to_string(),
                ground,
                from: from.to_string(),
            },
        );
    }

    pub fn get(&self, name: &str) -> Option<&Held> {
        self.held.get(name)
    }

    /// What stands for a measurement or rating, and on what ground: what somebody gave, else a usual
    /// value; nothing where all that was given was refused.
    pub fn standing<'j>(&'j self, named: &'j NamedQuantity) -> Option<(&'j str, Ground)> {
        match self.get(&named.field.name) {
            Some(held) if held.is_bare() => None,
            Some(held) => Some((&held.text, held.ground)),
            None => Some((&named.assumed.as_ref()?.value, Ground::Assumed)),
        }
    }

    /// What is unusual in a value that it holds, though somebody confirmed it.
    pub fn doubt(&self, named: &NamedQuantity) -> Option<Problem> {
        let held = self.get(&named.field.name)?;
        let refusal = named.field.take(&held.text, None, false).err()?;
        refusal.doubtful.then(|| Problem {
            input: named.field.name.clone(),
            kind: ProblemKind::Doubtful,
            message: refusal.message,
            help: refusal.help,
        })
    }

    pub fn iter(&self) -> impl Iterator<Item = (&String, &Held)> {
        self.held.iter()
    }
}

/// Measured, all of them.
impl FromIterator<(String, String)> for Job {
    fn from_iter<I: IntoIterator<Item = (String, String)>>(pairs: I) -> Job {
        let mut job = Job::new();
        for (name, text) in pairs {
            job.set(&name, &text, Ground::Measured, "");
        }
        job
    }
}

impl<const N: usize> From<[(String, String); N]> for Job {
    fn from(pairs: [(String, String); N]) -> Job {
        pairs.into_iter().collect()
    }
}
