//! One point of a plot: an output for another value of one input, without the texts.

use super::answer::{Answer, Verdict};
use super::definition::Calculator;
use super::judge::judge;
use super::reading::Worth;
use super::resolver::Resolver;
use super::state::State;
use crate::formula::Value;
use crate::ground::Footing;

impl Calculator {
    /// An output and the worst that the numbers come to, with one of the answer's inputs at another value.
    pub(crate) fn at(
        &self,
        answer: &Answer,
        over: &str,
        value: f64,
        output: &str,
        resolver: &dyn Resolver,
    ) -> (Option<f64>, Option<Verdict>) {
        let mut state = State::default();
        let firm = Footing::default;
        for input in &answer.inputs {
            if let Some(value) = answer.values.get(&input.name) {
                state.put(&input.name, value.clone(), firm());
            }
        }
        state.put(over, Value::Number(value), firm());
        for &at in &self.order {
            let output = &self.outputs[at];
            match output.worth(&state, resolver) {
                (Worth::Value(value), _) => state.put(&output.name, value, firm()),
                _ => state.absent.insert(output.name.clone(), firm()),
            }
        }
        let own = self.checks.iter().filter(|check| !check.standing);
        let is = |check| judge(self, check, &state, None, resolver).would;
        let found = match state.values.get(output) {
            Some(Value::Number(found)) if found.is_finite() => Some(*found),
            _ => None,
        };
        (found, own.filter_map(is).max())
    }
}
