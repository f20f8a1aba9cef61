//! Calculators and search behind one call: a JSON request in, a JSON answer out.
//!
//! The page reaches it through WebAssembly (`abi`), the command line and the
//! tests natively; the same request gets the same bytes from both. The page
//! loads it in parts, so that a calculator doesn't wait for the search: the
//! features `calculators`, `search` and `share` build one each.
//!
//! ```
//! use gaugeleaf_engine::Engine;
//! let answer = Engine::default().call(r#"{"do":"calculate","name":"none-such"}"#);
//! assert_eq!(answer, r#"{"error":"no catalog was taken"}"#);
//! ```

#[cfg(target_arch = "wasm32")]
mod abi;
#[cfg(feature = "calculators")]
mod answer;
#[cfg(feature = "calculators")]
mod ask;
#[cfg(feature = "calculators")]
mod calculators;
mod json;
#[cfg(any(feature = "calculators", feature = "share"))]
mod object;
mod request;
#[cfg(feature = "search")]
mod search;
#[cfg(feature = "share")]
mod share;
#[cfg(feature = "calculators")]
mod sheet;
mod write;

use json::JsonValue;

#[cfg(feature = "share")]
pub use share::code_svg;
#[cfg(feature = "calculators")]
pub use sheet::{answer_json, limits_json, sheet_json};

/// The hash of the sources that this engine is built from.
pub const SOURCES: &str = env!("ENGINE_SOURCES");

/// A handbook's catalog, a job's values and the search index, ready for requests.
#[derive(Default)]
pub struct Engine {
    #[cfg(feature = "calculators")]
    calculators: calculators::Calculators,
    #[cfg(feature = "search")]
    search: search::SearchIndex,
}

impl Engine {
    /// Answers a request; whatever is wrong with it is an answer too.
    pub fn call(&mut self, request: &str) -> String {
        let answer = match json::read(request) {
            Ok(request) => self.answer(&request),
            Err(at) => Err(format!("the request is not JSON: see its byte {at}")),
        };
        answer.unwrap_or_else(|message| write::error(&message))
    }

    fn answer(&mut self, request: &JsonValue) -> Result<String, String> {
        let wanted = request::text(request, "do")?;
        #[cfg(feature = "search")]
        if wanted == "search" {
            return self.search.search(request);
        }
        #[cfg(any(feature = "calculators", feature = "share"))]
        if let Some(answer) = self.value(wanted, request) {
            return Ok(write::text(&answer?));
        }
        Err(format!("there is no request `{wanted}`"))
    }

    /// The answer to a request that is no search.
    #[cfg(any(feature = "calculators", feature = "share"))]
    fn value(&mut self, wanted: &str, request: &JsonValue) -> Option<Result<JsonValue, String>> {
        Some(match wanted {
            #[cfg(feature = "calculators")]
            "job" => self.calculators.job(request),
            #[cfg(feature = "calculators")]
            "judge" => Ok(self.calculators.judge()),
            #[cfg(feature = "calculators")]
            "draw" => Ok(self.calculators.draw()),
            #[cfg(feature = "calculators")]
            "calculate" => self.calculators.calculate(request),
            #[cfg(feature = "calculators")]
            "grade" => self.calculators.grade(request),
            #[cfg(feature = "calculators")]
            "limits" => self.calculators.limits(request),
            #[cfg(feature = "calculators")]
            "ask" => self.calculators.ask(request),
            #[cfg(feature = "calculators")]
            "switch" => self.calculators.switch(request),
            #[cfg(feature = "calculators")]
            "measure" => self.calculators.measure(request),
            #[cfg(feature = "share")]
            "qr" => share::qr(request),
            _ => return None,
        })
    }

    /// Takes a packed catalog.
    #[cfg(feature = "calculators")]
    pub fn take_catalog(&mut self, packed: &[u8]) -> String {
        match self.calculators.take(packed) {
            Ok(answer) => write::text(&answer),
            Err(message) => write::error(&message),
        }
    }

    /// Takes the drawings of the setup sheet, after their catalog.
    #[cfg(feature = "calculators")]
    pub fn take_drawings(&mut self, packed: &[u8]) -> String {
        match self.calculators.take_drawings(packed) {
            Ok(answer) => write::text(&answer),
            Err(message) => write::error(&message),
        }
    }

    /// Takes a search index.
    #[cfg(feature = "search")]
    pub fn take_index(&mut self, bytes: &[u8]) -> String {
        taken(self.search.take(bytes))
    }

    /// Takes the texts that excerpts are cut from, once the index is there.
    #[cfg(feature = "search")]
    pub fn take_texts(&mut self, bytes: &[u8]) -> String {
        taken(self.search.take_texts(bytes))
    }
}

#[cfg(feature = "search")]
fn taken(taken: Result<(), String>) -> String {
    match taken {
        Ok(()) => r#"{"ok":true}"#.to_string(),
        Err(message) => write::error(&message),
    }
}

#[cfg(all(test, feature = "calculators"))]
mod testing;
#[cfg(test)]
mod tests;
