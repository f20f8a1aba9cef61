//! Answers that were worked out already, so that a page which names one result five times has it
//! worked out once.

use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};

use gaugeleaf_calc::Job;
use gaugeleaf_calc::calculator::{Answer, Argument};

use crate::values::graph::Graph;

/// More answers than this are forgotten, all at once: a handbook may have any number of pages.
const MOST: usize = 512;

/// A calculator, and what a page gives it: name, text, and whether it is confirmed.
type AskedOfJob = (String, Vec<(String, String, bool)>);

/// The answers to what was asked of one job.
#[derive(Debug, Default)]
pub struct Remembered(RwLock<HashMap<AskedOfJob, Arc<Answer>>>);

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
                confirmed,
                ..
            } = one;
            (name.clone(), text.clone(), *confirmed)
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
