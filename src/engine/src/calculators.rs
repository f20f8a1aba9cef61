//! Requests to the calculators.

use gaugeleaf_calc::ask::{Question, ask};
use gaugeleaf_calc::finding::nearest;
use gaugeleaf_calc::{Catalog, Job};
use serde_json::{Value, json};

use crate::answer::{answer_json, limits_json, problem_json};
use crate::ask::asked_json;
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
        Ok(json)
    }

    /// How far an input may go before a verdict changes.
    pub(crate) fn limits(&self, request: &Value) -> Result<Value, String> {
        let name = request::text(request, "name")?;
        if !self.catalog.calculators.contains_key(name) {
            return Err(self.unknown(name));
        }
        let given = request::given(request.get("inputs"));
        let input = request::text(request, "input")?;
        Ok(match self.catalog.limits(name, input, &given, &self.job) {
            Ok(limits) => json!({ "limits": limits_json(&limits) }),
            Err(problem) => json!({ "problems": [problem_json(&problem)] }),
        })
    }

    /// Understands a question in a person's own words, and works it out.
    pub(crate) fn ask(&self, request: &Value) -> Result<Value, String> {
        let question = Question {
            text: request::text(request, "query")?.to_string(),
            meanings: request::lists(request.get("meanings")),
            candidates: request::texts(request.get("candidates")),
        };
        let asked = ask(&self.catalog, &self.job, &question);
        Ok(asked_json(&asked, &self.catalog))
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
