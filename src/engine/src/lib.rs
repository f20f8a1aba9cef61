//! Calculators and search behind one call: a JSON request in, a JSON answer out.
//!
//! The page reaches it through WebAssembly (`abi`), the command line and the
//! generator natively; the same request gets the same bytes from both.
//!
//! ```
//! use gaugeleaf_engine::Engine;
//! let answer = Engine::default().call(r#"{"do":"calculate","name":"none-such"}"#);
//! assert_eq!(answer, r#"{"error":"there is no calculator `none-such`"}"#);
//! ```

#[cfg(target_arch = "wasm32")]
mod abi;
mod answer;
mod request;

use gaugeleaf_calc::finding::nearest;
use gaugeleaf_calc::{Catalog, Job};
use gaugeleaf_lookup::{Index, Kind};
use serde_json::{Map, Value, json};

pub use answer::answer_json;

/// The hash of the sources that this engine is built from.
pub const SOURCES: &str = env!("ENGINE_SOURCES");

/// A handbook's catalog, a job's values and the search index, ready for requests.
#[derive(Default)]
pub struct Engine {
    catalog: Catalog,
    job: Job,
    index: Option<Index>,
}

impl Engine {
    pub fn new(catalog: Catalog) -> Engine {
        Engine {
            catalog,
            ..Engine::default()
        }
    }

    /// Answers a request; whatever is wrong with it is an answer too.
    pub fn call(&mut self, request: &str) -> String {
        let answer = match serde_json::from_str::<Value>(request) {
            Ok(request) => self.answer(&request),
            Err(error) => Err(format!("the request is not JSON: {error}")),
        };
        answer
            .unwrap_or_else(|message| json!({ "error": message }))
            .to_string()
    }

    fn answer(&mut self, request: &Value) -> Result<Value, String> {
        match request::text(request, "do")? {
            "open" => self.open(request),
            "calculate" => self.calculate(request),
            "switch" => self.switch(request),
            "search" => self.search(request),
            other => Err(format!("there is no request `{other}`")),
        }
    }

    /// Takes a packed catalog, the job's values and the search index.
    fn open(&mut self, request: &Value) -> Result<Value, String> {
        if let Some(packed) = request::bytes(request, "catalog")? {
            self.catalog =
                Catalog::unpack(&packed).ok_or("the catalog is damaged or of another version")?;
        }
        self.job = request::pairs(request.get("given"));
        if let Some(bytes) = request::bytes(request, "index")? {
            self.index = Some(Index::open(bytes).map_err(|error| error.to_string())?);
        }
        Ok(json!({ "ok": true }))
    }

    fn calculate(&self, request: &Value) -> Result<Value, String> {
        let name = request::text(request, "name")?;
        let given = request::given(request.get("inputs"));
        let Some(answer) = self.catalog.calculate(name, &given, &self.job) else {
            return Err(self.unknown(name));
        };
        let wanted = |part: &str| request::wants(request, part);
        let mut json = answer_json(&answer, wanted("working"));
        if wanted("figure")
            && let Some(figure) = self.catalog.draw(&answer)
        {
            json["figure"] = Value::String(figure);
        }
        Ok(json)
    }

    fn unknown(&self, name: &str) -> String {
        let names = self.catalog.calculators.keys().map(String::as_str);
        match nearest(name, names) {
            Some(near) => format!("there is no calculator `{name}`; did you mean {near}?"),
            None => format!("there is no calculator `{name}`"),
        }
    }

    /// The same quantity in another unit.
    fn switch(&self, request: &Value) -> Result<Value, String> {
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

    fn search(&self, request: &Value) -> Result<Value, String> {
        let Some(index) = &self.index else {
            return Err("there is no search index".into());
        };
        let limit = request
            .get("limit")
            .and_then(Value::as_u64)
            .unwrap_or(12)
            .clamp(1, 100);
        let found = index.search(request::text(request, "query")?, limit as usize);
        let hits: Vec<Value> = found
            .hits
            .iter()
            .map(|hit| {
                let excerpt: Vec<Value> = hit
                    .excerpt
                    .iter()
                    .map(|(text, is_match)| json!([text, is_match]))
                    .collect();
                let mut json = Map::new();
                json.insert("title".into(), json!(hit.title));
                json.insert("where".into(), json!(hit.place));
                json.insert("kind".into(), json!(kind_name(hit.kind)));
                json.insert("url".into(), json!(hit.url));
                json.insert("excerpt".into(), Value::Array(excerpt));
                Value::Object(json)
            })
            .collect();
        Ok(json!({ "hits": hits, "near": found.near, "corrected": found.corrected }))
    }
}

/// The word for what a hit leads to, as the page's labels know it.
fn kind_name(kind: Kind) -> &'static str {
    match kind {
        Kind::Page => "page",
        Kind::Heading => "heading",
        Kind::Step => "step",
        Kind::Calculator => "calculator",
        Kind::Input => "input",
        Kind::Row => "row",
        Kind::Value => "value",
    }
}

#[cfg(test)]
mod tests;
