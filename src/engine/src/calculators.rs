//! Requests to the calculators.

use gaugeleaf_calc::calculator::Effort;
use gaugeleaf_calc::finding::nearest;
use gaugeleaf_calc::{Catalog, Job};
use serde_json::{Value, json};

use crate::answer::{answer_json, bound, limits_json, problem_json};
use crate::request;

#[derive(Default)]
pub(crate) struct Calculators {
    catalog: Catalog,
    job: Job,
}

impl Calculators {
    pub(crate) fn take(&mut self, packed: &[u8]) -> Result<Value, String> {
        self.catalog =
            Catalog::unpack(packed).ok_or("the catalog is damaged or of another version")?;
        Ok(json!({ "ok": true }))
    }

    /// Takes the job's values: `{"given": {"channel_depth": "9 in"}}`.
    pub(crate) fn job(&mut self, request: &Value) -> Result<Value, String> {
        self.job = request::pairs(request.get("given"));
        Ok(json!({ "ok": true }))
    }

    pub(crate) fn calculate(&self, request: &Value) -> Result<Value, String> {
        let name = request::text(request, "name")?;
        let given = request::given(request.get("inputs"));
        let Some(answer) = self.catalog.calculate(name, &given, &self.job) else {
            return Err(self.unknown(name));
        };
        let mut json = answer_json(&answer, request::wants(request, "working"));
        if request::wants(request, "figure")
            && let Some(figure) = self.catalog.draw(&answer)
        {
            json["figure"] = Value::String(figure);
        }
        if request::wants(request, "plot")
            && let Some(plot) = self.catalog.plot(&answer)
        {
            json["plot"] = Value::String(plot);
        }
        Ok(for_lines(json, request))
    }

    /// Compares a typed answer with a result. `given` are the job's values of the question's own
    /// page: a question asks the same on every job.
    pub(crate) fn grade(&self, request: &Value) -> Result<Value, String> {
        let name = request::text(request, "name")?;
        let given = request::given(request.get("inputs"));
        let job = request::pairs(request.get("given"));
        let answer = self
            .catalog
            .calculate(name, &given, &job)
            .ok_or_else(|| self.unknown(name))?;
        let part = |key| request::text(request, key);
        let graded = self.catalog.calculators[name].grade(
            &answer,
            part("output")?,
            part("typed")?,
            part("tolerance")?,
        );
        Ok(match graded {
            Ok(grade) => json!({
                "right": grade.right,
                "expected": grade.expected,
                "working": answer_json(&answer, true)["working"],
            }),
            Err(problem) => json!({ "problem": problem_json(&problem) }),
        })
    }

    /// How far an input may go before a verdict changes.
    pub(crate) fn limits(&self, request: &Value) -> Result<Value, String> {
        let name = request::text(request, "name")?;
        if !self.catalog.calculators.contains_key(name) {
            return Err(self.unknown(name));
        }
        let given = request::given(request.get("inputs"));
        let input = request::text(request, "input")?;
        let limits = self
            .catalog
            .limits(name, input, &given, &self.job, Effort::Thorough);
        let json = match limits {
            Ok(limits) => json!({ "limits": limits_json(&limits) }),
            Err(problem) => json!({ "problems": [problem_json(&problem)] }),
        };
        Ok(for_lines(json, request))
    }

    /// The same quantity in another unit.
    pub(crate) fn switch(&self, request: &Value) -> Result<Value, String> {
        let name = request::text(request, "name")?;
        let calculator = self
            .catalog
            .calculators
            .get(name)
            .ok_or_else(|| self.unknown(name))?;
        let input = request::text(request, "input")?;
        let field = &calculator
            .input(input)
            .ok_or_else(|| format!("there is no input `{input}`"))?
            .field;
        let (from, to) = (
            request::text(request, "from")?,
            request::text(request, "to")?,
        );
        match field.switch(request::text(request, "text")?, from, to) {
            Ok(text) => Ok(json!({ "text": text })),
            Err(refusal) => Ok(json!({ "problem": refusal.message, "help": refusal.help })),
        }
    }

    fn unknown(&self, name: &str) -> String {
        let names = self.catalog.calculators.keys().map(String::as_str);
        match nearest(name, names) {
            Some(near) => format!("there is no calculator `{name}`; did you mean {near}?"),
            None => format!("there is no calculator `{name}`"),
        }
    }
}

/// With its numbers bound to their units, where the request wants that.
fn for_lines(mut json: Value, request: &Value) -> Value {
    if request::wants(request, "bound") {
        bound(&mut json);
    }
    json
}
