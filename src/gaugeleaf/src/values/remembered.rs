//! Answers that were worked out already, so that a page which names one result five times has it
//! worked out once.

use std::sync::{Arc, PoisonError, RwLock};

use gaugeleaf_calc::Job;
use gaugeleaf_calc::calculator::{Answer, Argument};
use gaugeleaf_calc::ground::Ground;
use rustc_hash::FxHashMap;

use crate::values::graph::Graph;

/// More answers than this are forgotten, all at once: a handbook may have any number of pages.
const MOST: usize = 512;

/// A calculator, and all that is said of each input that it is given.
type AskedOfJob = (String, Vec<(String, String, Option<String>, bool, Ground)>);

/// The answers to what was asked of one job.
#[derive(Debug, Default)]
pub struct Remembered(RwLock<FxHashMap<AskedOfJob, Arc<Answer>>>);

impl Remembered {
    /// What a calculator comes to for this job, which has to be the same each time.
    pub fn answer(
        &self,
        graph: &Graph,
        calculator: &str,
        inputs: &[Argument],
        job: &Job,
    ) -> Option<Arc<Answer>> {
        let given = inputs.iter().map(|one| {
            let Argument {
                name,
                text,
                unit,
                confirmed,
                ground,
            } = one;
            (
                name.clone(),
                text.clone(),
                unit.clone(),
                *confirmed,
                *ground,
            )
        });
        let asked = (calculator.to_string(), given.collect());
        let known = self.0.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(answer) = known.get(&asked) {
            return Some(Arc::clone(answer));
        }
        drop(known);
        let answer = Arc::new(graph.catalog.calculate(calculator, inputs, job)?);
        let mut known = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= MOST {
            known.clear();
        }
        known.insert(asked, Arc::clone(&answer));
        Some(answer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_asked_again_is_the_same_answer_and_what_is_asked_otherwise_another() {
        let graph = Graph::built_in();
        let (known, job) = (Remembered::default(), Job::new());
        let measured = Argument {
            name: "channel_depth".to_string(),
            text: "5 in".to_string(),
            ..Argument::default()
        };
        let example = Argument::example("channel_depth", "5 in");
        let ask = |one: &Argument| {
            let asked = known.answer(&graph, "guide-tube-length", std::slice::from_ref(one), &job);
            asked.expect("a calculator of the catalog")
        };
        let (first, again, other) = (ask(&measured), ask(&measured), ask(&example));
        assert!(Arc::ptr_eq(&first, &again));
        assert_ne!(first.inputs, other.inputs);
        let fresh = graph
            .catalog
            .calculate("guide-tube-length", &[example], &job);
        assert_eq!(Some(&*other), fresh.as_ref());
        assert!(known.answer(&graph, "no-such", &[], &job).is_none());
    }
}
