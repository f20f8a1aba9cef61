//! The values that hold at one place of a handbook.

use gaugeleaf_calc::Job;
use gaugeleaf_calc::finding::settings::Binding;
use gaugeleaf_calc::finding::{Code, Finding, nearest};

use crate::values::graph::Graph;

/// The values that hold at one place: the handbook's own, over them the page's, over those the
/// block's; on the command line, what is typed there over the handbook's. Whoever shows or judges
/// values takes them from here.
#[derive(Debug, Clone, Default)]
pub struct JobScope(Job);

impl JobScope {
    /// These values with those assigned at a place over them. A value or name that is no good is a
    /// finding, and leaves what held before.
    pub fn with(
        &self,
        graph: &Graph,
        file: &str,
        assigned: &[Binding],
        findings: &mut Vec<Finding>,
    ) -> JobScope {
        let mut job = self.0.clone();
        for Binding { name, text } in assigned {
            let one = Job::from([(name.value.clone(), text.value.clone())]);
            match graph.quantity(&name.value, &one) {
                Some(Ok(_)) => job.extend(one),
                Some(Err(problem)) => findings.push(Finding {
                    help: problem.help,
                    ..Finding::error(
                        problem.kind.code(),
                        file,
                        text.span.clone(),
                        problem.message,
                    )
                }),
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
        JobScope(job)
    }

    /// The values by name, as written.
    pub fn job(&self) -> &Job {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use gaugeleaf_calc::finding::settings::Placed;

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
        assert_eq!(own.job()["channel_depth"], "9 in");
        assert_eq!(page.job()["channel_depth"], "10 in");
        assert_eq!(unknown.job(), page.job());
        let codes: Vec<_> = findings.iter().map(|one| one.code.name()).collect();
        assert_eq!(codes, ["bad-input", "unknown-value"]);
        assert_eq!(findings[1].help.as_deref(), Some("write channel_depth"));
    }
}
