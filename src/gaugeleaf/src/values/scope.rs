//! The values that hold at one place of a handbook.

use std::sync::Arc;

use gaugeleaf_calc::calculator::{Answer, Argument};
use gaugeleaf_calc::catalog::Whose;
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use gaugeleaf_calc::ground::Ground;
use gaugeleaf_calc::message::in_english;
use gaugeleaf_calc::{Job, Names};
use serde_json::{Value, json};

use crate::language::tell;
use crate::values::graph::Graph;
use crate::values::remembered::Remembered;

/// The values that hold at one place, each on its ground: the handbook's own job as an example,
/// over it the page's, over those the block's; on a prepared job's page that job's, measured; on
/// the command line, what is typed there. Whoever shows or judges values takes them from here.
#[derive(Debug, Clone, Default)]
pub struct JobScope {
    job: Arc<Job>,
    /// What was assigned over the handbook's own, as written.
    given: Names<String>,
    /// The prepared job that this is, and its kit.
    prepared: Option<(String, String)>,
    /// What is assigned here was measured, by whom or when.
    measured: Option<String>,
    /// What was asked of these very values.
    answers: Arc<Remembered>,
}

impl JobScope {
    /// What a page shows that gives nothing itself.
    pub fn of_handbook(graph: &Graph) -> JobScope {
        let given = Names::new();
        JobScope {
            job: Arc::new(graph.catalog.job_of(&Whose::Page { given })),
            ..JobScope::default()
        }
    }

    /// A prepared job before its values: nothing is measured on it, and its kit is set.
    pub fn prepared(graph: &Graph, name: &str, kit: &str) -> JobScope {
        let given = Names::new();
        JobScope {
            job: Arc::new(graph.catalog.job_of(&Whose::Prepared { name, kit, given })),
            given: Names::new(),
            prepared: Some((name.to_string(), kit.to_string())),
            measured: Some(tell::measured_on(name)),
            answers: Arc::default(),
        }
    }

    /// The job of the one who asks on the command line.
    pub fn asked(graph: &Graph, kit: &str) -> JobScope {
        let given = Names::new();
        JobScope {
            job: Arc::new(graph.catalog.job_of(&Whose::InHand {
                name: "",
                kit,
                given,
            })),
            measured: Some(String::new()),
            ..JobScope::default()
        }
    }

    /// What is assigned from here on was measured by the one who asks.
    pub fn typed_over(mut self) -> JobScope {
        self.measured = Some(String::new());
        self
    }

    /// These values with those assigned at a place over them. A value or name that is no good is a
    /// finding, and leaves what held before.
    pub fn with(
        &self,
        graph: &Graph,
        file: &str,
        assigned: &[Binding],
        findings: &mut Vec<Finding>,
    ) -> JobScope {
        let mut scope = self.clone();
        for Binding { name, text } in assigned {
            let mut one = Job::new();
            one.set(&name.value, &text.value, Ground::Measured, "");
            match graph.quantity(&name.value, &one) {
                Some(Ok(_)) => {
                    findings.extend(doubt(graph, file, &name.value, text));
                    scope.assign(&name.value, &text.value);
                }
                Some(Err(problem)) => {
                    let (code, at) = (problem.kind.code(), text.span.clone());
                    let fault = Finding::error(code, file, at, in_english(&problem.message));
                    let fault = fault.breaks([name.value.clone()]);
                    findings.push(Finding {
                        help: problem.help.as_ref().map(in_english),
                        ..fault
                    });
                }
                None => {
                    let message = format!("there is no measurement or rating `{}`", name.value);
                    let near = nearest(&name.value, graph.catalog.named.keys().map(String::as_str));
                    let help = near.map_or(
                        "name a measurement or rating of the catalog".to_string(),
                        |near| format!("write {near}"),
                    );
                    findings.push(
                        Finding::error(Code::UnknownValue, file, name.span.clone(), message)
                            .follows([name.value.clone()])
                            .help(help),
                    );
                }
            }
        }
        scope
    }

    fn assign(&mut self, name: &str, text: &str) {
        self.answers = Arc::default();
        match &self.measured {
            Some(when) => Arc::make_mut(&mut self.job).set(name, text, Ground::Measured, when),
            None => Arc::make_mut(&mut self.job).set(name, text, Ground::Example, ""),
        }
        self.given.insert(name.to_string(), text.to_string());
    }

    /// What a calculator comes to with these values, as a page works it; none where there is no such
    /// calculator.
    pub fn answer(
        &self,
        graph: &Graph,
        calculator: &str,
        inputs: &[Argument],
    ) -> Option<Arc<Answer>> {
        self.answers.answer(graph, calculator, inputs, &self.job)
    }

    /// The values by name, each with its ground.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// The kit of the prepared job that this is.
    pub fn kit(&self) -> Option<&str> {
        self.prepared.as_ref().map(|(_, kit)| kit.as_str())
    }

    /// What was assigned over the handbook's own, as written.
    pub fn given(&self) -> &Names<String> {
        &self.given
    }

    /// The same for the engine: whose values hold.
    pub fn request(&self) -> Value {
        let given: serde_json::Map<String, Value> = self
            .given
            .iter()
            .map(|(name, text)| (name.clone(), Value::from(text.as_str())))
            .collect();
        match &self.prepared {
            Some((name, kit)) => {
                json!({ "whose": "prepared", "name": name, "kit": kit, "given": given })
            }
            None => json!({ "whose": "page", "given": given }),
        }
    }
}

/// A value that holds, and lies outside the usual band.
fn doubt(graph: &Graph, file: &str, name: &str, text: &Placed<String>) -> Option<Finding> {
    let field = &graph.catalog.named.get(name)?.field;
    let refusal = field.take(&text.value, None, false).err()?;
    Some(Finding {
        help: refusal.help.as_ref().map(in_english),
        ..Finding::warning(
            Code::DoubtfulInput,
            file,
            text.span.clone(),
            in_english(&refusal.message),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use gaugeleaf_calc::finding::Level;

    #[test]
    fn an_unusual_value_holds_and_is_doubted_where_it_stands() {
        let graph = Graph::built_in();
        let mut findings = Vec::new();
        let unusual = [assigned("channel_depth", "70 in")];
        let scope = JobScope::default().with(&graph, "f", &unusual, &mut findings);
        assert_eq!(scope.given()["channel_depth"], "70 in");
        let told: Vec<_> = findings
            .iter()
            .map(|one| (one.code, one.level, one.span.clone()))
            .collect();
        assert_eq!(told, [(Code::DoubtfulInput, Level::Warning, 0..5)]);
    }

    fn assigned(name: &str, text: &str) -> Binding {
        let placed = |value: &str| Placed {
            value: value.to_string(),
            span: 0..value.len(),
        };
        Binding {
            name: placed(name),
            text: placed(text),
        }
    }

    #[test]
    fn what_is_assigned_later_holds_and_what_is_no_good_leaves_what_held() {
        let graph = Graph::built_in();
        let mut findings = Vec::new();
        let mut level = |scope: &JobScope, name, text| {
            scope.with(&graph, "f", &[assigned(name, text)], &mut findings)
        };
        let own = level(&JobScope::default(), "channel_depth", "9 in");
        let page = level(&own, "channel_depth", "10 in");
        let bad = level(&page, "channel_depth", "10 psi");
        let unknown = level(&bad, "chanel_depth", "1 in");
        assert_eq!(own.given()["channel_depth"], "9 in");
        assert_eq!(page.given()["channel_depth"], "10 in");
        assert_eq!(unknown.job(), page.job());
        let codes: Vec<_> = findings.iter().map(|one| one.code.name()).collect();
        assert_eq!(codes, ["bad-input", "unknown-value"]);
        assert_eq!(findings[1].help.as_deref(), Some("write channel_depth"));
    }
}
