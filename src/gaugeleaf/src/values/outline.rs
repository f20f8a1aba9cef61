//! What handbook.toml and the heads of pages name: kits, calculators, checks and values; held
//! against the graph before any page is composed.

use gaugeleaf_calc::calculator::Calculator;
use gaugeleaf_calc::finding::settings::{Binding, Placed};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use gaugeleaf_calc::named::Role;

use crate::handbook::answered::Answered;
use crate::handbook::whole::Handbook;
use crate::values::graph::Graph;

const HEAD: &str = "handbook.toml";

/// Everything that these name and that isn't there, or has its place elsewhere.
pub fn check(handbook: &Handbook, graph: &Graph) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut at = OutlineCheck {
        graph,
        findings: &mut findings,
    };
    at.given(HEAD, &handbook.given);
    at.kit(HEAD, handbook.kit.as_ref());
    at.answered(HEAD, &handbook.answered);
    at.leave_out(&handbook.leave_out);
    for page in &handbook.pages {
        let settings = &page.outline.settings;
        at.given(&page.path, &settings.given);
        at.kit(&page.path, settings.kit.as_ref());
        at.answered(&page.path, &settings.answered);
    }
    if handbook.kit.is_none() && graph.kits.len() > 1 {
        let names: Vec<&str> = graph.kits.keys().map(String::as_str).collect();
        let message = format!(
            "the handbook has {} kits and names none of them",
            names.len()
        );
        findings.push(
            Finding::error(Code::NoKitNamed, HEAD, 0..0, message)
                .breaks(["kit"])
                .help(format!("add kit = \"…\": one of {}", names.join(", "))),
        );
    }
    findings
}

struct OutlineCheck<'g, 'f> {
    graph: &'g Graph,
    findings: &'f mut Vec<Finding>,
}

impl<'g> OutlineCheck<'g, '_> {
    /// All that there are, those among them that the handbook leaves out.
    fn calculators(&self) -> impl Iterator<Item = &'g Calculator> + use<'g> {
        let graph = self.graph;
        graph.catalog.calculators.values().chain(&graph.left_out)
    }

    fn error(
        &mut self,
        code: Code,
        file: &str,
        at: &Placed<String>,
        message: String,
        help: String,
    ) {
        let span = at.span.clone();
        self.findings
            .push(Finding::error(code, file, span, message).help(help));
    }

    /// A rating's value has one place, and that is a kit.
    fn given(&mut self, file: &str, given: &[Binding]) {
        for Binding { name, .. } in given {
            let named = self.graph.catalog.named.get(&name.value);
            if named.is_some_and(|named| named.role == Role::Rating) {
                let message = format!("`{}` is a rating, and no measurement", name.value);
                let help = "a rating's value stands in a kit: content/equipment/NAME.toml";
                self.error(Code::MisplacedValue, file, name, message, help.to_string());
            }
        }
    }

    fn kit(&mut self, file: &str, kit: Option<&Placed<String>>) {
        let Some(kit) = kit.filter(|kit| !self.graph.kits.contains_key(&kit.value)) else {
            return;
        };
        let known = self.graph.kits.keys().map(String::as_str);
        let help = match nearest(&kit.value, known.clone()) {
            Some(near) => format!("write {near}"),
            None if self.graph.kits.is_empty() => {
                "write the kit's file, content/equipment/NAME.toml".to_string()
            }
            None => format!("the kits are {}", known.collect::<Vec<_>>().join(", ")),
        };
        let message = format!("there is no kit `{}`", kit.value);
        let span = kit.span.clone();
        self.findings.push(
            Finding::error(Code::UnknownKit, file, span, message)
                .follows([kit.value.clone()])
                .help(help),
        );
    }

    fn leave_out(&mut self, names: &[Placed<String>]) {
        for name in names {
            let mut known = self.calculators();
            if !known.any(|one| one.name == name.value) {
                let names = self.calculators().map(|one| one.name.as_str());
                let near = nearest(&name.value, names);
                let help = near.map_or("leave it out".to_string(), |near| format!("write {near}"));
                let message = format!("there is no calculator `{}`", name.value);
                self.error(Code::UnknownCalculator, HEAD, name, message, help);
            }
        }
    }

    fn answered(&mut self, file: &str, answers: &[Answered]) {
        for (at, Answered { check, .. }) in answers.iter().enumerate() {
            if answers[..at]
                .iter()
                .any(|one| one.check.value == check.value)
            {
                let message = format!("`{}` is answered for twice", check.value);
                let help = "one answer stands under the stop: take the other out".to_string();
                self.error(Code::SameName, file, check, message, help);
            }
            let known = self.calculators().flat_map(|calculator| {
                let checks = calculator.checks.iter();
                checks.map(|check| format!("{}.{}", calculator.name, check.name))
            });
            let known: Vec<String> = known.collect();
            if !known.contains(&check.value) {
                let near = nearest(&check.value, known.iter().map(String::as_str));
                let of = check.value.split_once('.').map(|(of, _)| format!("{of}."));
                let mut own: Vec<&str> = known.iter().map(String::as_str).collect();
                own.retain(|one| of.as_ref().is_some_and(|of| one.starts_with(of)));
                let help = match (near, own.is_empty()) {
                    (Some(near), _) => format!("write {near}"),
                    (None, false) => format!("write {}", own.join(" or ")),
                    (None, true) => "write it as calculator.check".to_string(),
                };
                let message = format!("no calculator has a check `{}`", check.value);
                self.error(Code::UnknownCheck, file, check, message, help);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;
    use crate::handbook::files::HandbookFiles;
    use crate::handbook::whole::assemble;

    /// What is found in a handbook with these kits, as code, file and words.
    fn found(head: &str, page: &str, kits: &[&str]) -> Vec<(&'static str, String, String)> {
        let mut files = HandbookFiles::default();
        let mut put = |path: &str, text: String| files.texts.insert(path.to_string(), text);
        put(
            HEAD,
            format!(
                "title = \"T\"\nrevision = \"A\"\ncaution = \"C\"\ndemonstration = true\n{head}"
            ),
        );
        put(
            "content/index.md",
            format!("```page\n{page}```\n\n# Front\n\nText.\n"),
        );
        for name in kits {
            let kit = "title = \"K\"\n[rating]\nlances = { value = 2, source = \"plate\" }\n";
            let path = format!("content/equipment/{name}.toml");
            put(&path, format!("[kit]\nname = \"{name}\"\n{kit}"));
        }
        let (graph, findings) = Graph::load(&files);
        assert_eq!(findings, []);
        let (handbook, findings) = assemble(&files, &shapes());
        assert_eq!(findings, []);
        let found = check(&handbook, &graph).into_iter();
        found
            .map(|one| {
                let text = files.texts[&one.file][one.span].to_string();
                (one.code.name(), one.file, text)
            })
            .collect()
    }

    fn one(code: &'static str, file: &str, text: &str) -> Vec<(&'static str, String, String)> {
        vec![(code, file.to_string(), text.to_string())]
    }

    const FRONT: &str = "content/index.md";

    #[test]
    fn one_kit_needs_no_name_and_of_several_one_is_named() {
        assert_eq!(found("", "", &[]), []);
        assert_eq!(found("", "", &["blue"]), []);
        assert_eq!(
            found("", "", &["blue", "red"]),
            one("no-kit-named", HEAD, "")
        );
        assert_eq!(found("kit = \"red\"\n", "", &["blue", "red"]), []);
        assert_eq!(
            found("kit = \"rad\"\n", "", &["blue", "red"]),
            one("unknown-kit", HEAD, "\"rad\"")
        );
        assert_eq!(
            found("", "job = \"T\"\nkit = \"bleu\"\n", &["blue"]),
            one("unknown-kit", FRONT, "\"bleu\"")
        );
    }

    #[test]
    fn a_ratings_value_is_not_given_beside_a_jobs_measurements() {
        let given = "given = { tube_od = \"1 in\", max_pitch = \"2 in\" }\n";
        assert_eq!(
            found(given, "", &[]),
            one("misplaced-value", HEAD, "max_pitch")
        );
        assert_eq!(
            found("", given, &[]),
            one("misplaced-value", FRONT, "max_pitch")
        );
    }

    #[test]
    fn what_is_left_out_or_answered_for_is_there() {
        assert_eq!(
            found("leave_out = [\"fuel-use\", \"fuel-used\"]\n", "", &[]),
            one("unknown-calculator", HEAD, "\"fuel-used\"")
        );
        let answer = |check: &str| {
            format!("answered = [{{ check = \"{check}\", because = \"b\", by = \"c\" }}]\n")
        };
        assert_eq!(found(&answer("frame-reach.reach"), "", &[]), []);
        assert_eq!(
            found("", &answer("frame-reach.raech"), &[]),
            one("unknown-check", FRONT, "\"frame-reach.raech\"")
        );
        let one_more = r#"{ check = "frame-reach.reach", because = "d", by = "e" }]"#;
        let twice = answer("frame-reach.reach").replace(']', &format!(", {one_more}"));
        assert_eq!(
            found(&twice, "", &[]),
            one("same-name", HEAD, "\"frame-reach.reach\"")
        );
    }
}
