//! The function `say` of templates: a text of the language by its id, with what stands in its
//! places.

use rustc_hash::FxHashMap;
use tera::{Error, Kwargs, State, TeraResult, Value};

use crate::language::{SITE, TextParts};

/// The texts, with what HTML takes for marks escaped: they stand between tags, or between double
/// quotes.
pub struct SiteTexts(FxHashMap<&'static str, SiteText>);

struct SiteText {
    /// Words alone, ready to be handed over.
    whole: Option<Value>,
    parts: Vec<String>,
}

impl SiteTexts {
    pub fn english() -> SiteTexts {
        let texts = SITE.iter().map(|(id, parts)| (*id, SiteText::of(parts)));
        SiteTexts(texts.collect())
    }

    /// `say(id="…", place=…)`
    pub fn say(&self, given: &Kwargs, state: &State) -> TeraResult<Value> {
        let id = given.must_get::<&str>("id")?;
        let fault = |what: String| Err(Error::message(what));
        let Some(text) = self.0.get(id) else {
            return fault(format!("the language has no text `{id}`"));
        };
        let mut strange = given.iter().filter_map(|(key, _)| key.as_str());
        if let Some(key) = strange.find(|key| *key != "id" && !text.has(key)) {
            return fault(format!("the text `{id}` has no place `{key}`"));
        }
        if let Some(whole) = &text.whole {
            return Ok(whole.clone());
        }
        let mut said = String::new();
        for (at, part) in text.parts.iter().enumerate() {
            if at % 2 == 0 {
                said.push_str(part);
            } else if let Some(value) = given.get::<Value>(part)? {
                said.push_str(&state.escape_if_needed(&value)?);
            } else {
                return fault(format!("the text `{id}` has a place `{part}`"));
            }
        }
        Ok(Value::safe_string(&said))
    }
}

/// How a template asks for a text without places.
const CALL: &str = "{{ say(id=\"";
const CALLED: &str = "\") }}";

/// A template with the texts written into it that need nothing filled in: no page asks for them
/// again. A comment makes each as long as the call, so that faults are told in their places.
pub fn written_out(template: &str) -> String {
    let mut made = String::with_capacity(template.len());
    let mut rest = template;
    while let Some(at) = rest.find("{{").into_iter().chain(rest.find("{#")).min() {
        made.push_str(&rest[..at]);
        rest = &rest[at..];
        let over = if rest.starts_with("{#") { "#}" } else { "}}" };
        let end = rest.find(over).map_or(rest.len(), |end| end + over.len());
        let (part, after) = rest.split_at(end);
        match text_for(part) {
            Some(text) => {
                made.push_str(&text);
                made.push_str(&format!("{{#{:1$}#}}", "", part.len() - text.len() - 4));
            }
            None => made.push_str(part),
        }
        rest = after;
    }
    made.push_str(rest);
    made
}

/// What such a call says, where it and an empty comment are no longer than the call, and the
/// template reads it as nothing but words.
fn text_for(call: &str) -> Option<String> {
    let id = call.strip_prefix(CALL)?.strip_suffix(CALLED)?;
    let at = SITE.binary_search_by_key(&id, |(id, _)| id).ok()?;
    let [words] = SITE[at].1 else {
        return None;
    };
    let text = escaped(words);
    let plain = text.trim() == text && !text.contains('{');
    (plain && text.len() + 4 <= call.len()).then_some(text)
}

/// What HTML takes for marks escaped, between tags and between double quotes.
fn escaped(words: &str) -> String {
    let words = words.replace('&', "&amp;").replace('<', "&lt;");
    words.replace('>', "&gt;").replace('"', "&quot;")
}

impl SiteText {
    fn of(parts: TextParts) -> SiteText {
        let parts: Vec<String> = parts.iter().map(|part| escaped(part)).collect();
        let whole = match parts.as_slice() {
            [words] => Some(Value::safe_string(words)),
            _ => None,
        };
        SiteText { whole, parts }
    }

    fn has(&self, place: &str) -> bool {
        self.parts.iter().skip(1).step_by(2).any(|one| one == place)
    }
}

#[cfg(test)]
mod tests {
    use super::written_out;
    use crate::render::words::teach;
    use tera::{Context, Tera};

    fn printed(template: &str) -> Result<String, String> {
        let mut tera = Tera::new();
        teach(&mut tera);
        tera.add_raw_template("a.html", template)
            .map_err(|error| error.to_string())?;
        let mut context = Context::new();
        context.insert("x", "<5 in>");
        tera.render("a.html", &context)
            .map_err(|error| error.to_string())
    }

    #[test]
    fn a_text_is_said_with_its_places_filled_as_a_template_prints_them() {
        assert_eq!(
            printed("<b>{{ say(id=\"base.close\") }}</b>"),
            Ok("<b>Close</b>".into())
        );
        assert_eq!(
            printed("{{ say(id=\"base.rev\", revision=x) }}"),
            Ok("Rev &lt;5\u{A0}in&gt;".into())
        );
        let html = "{% set b %}<b>{{ x }}</b>{% endset %}{{ say(id=\"base.rev\", revision=b) }}";
        assert_eq!(printed(html), Ok("Rev <b>&lt;5\u{A0}in&gt;</b>".into()));
    }

    #[test]
    fn a_text_without_places_is_written_into_the_template_as_long_as_its_call() {
        let template = "<b>{{ say(id=\"base.close\") }}</b>{{ x }}";
        let written = written_out(template);
        assert_eq!(written.len(), template.len());
        assert!(written.starts_with("<b>Close{# "), "{written}");
        assert_eq!(printed(&written), printed(template));
        for kept in [
            "{{ say(id=\"base.rev\", revision=x) }}",
            "{{ say(id=\"base.rev\") }}",
            "{{ say(id=\"base.shut\") }}",
            "{# {{ say(id=\"base.close\") }} #}",
            "{{ say(id=\"base.close\")",
        ] {
            assert_eq!(written_out(kept), kept);
        }
    }

    #[test]
    fn a_text_that_is_none_and_a_place_that_is_none_or_empty_are_faults() {
        for (template, told) in [
            ("{{ say(id=\"base.shut\") }}", "no text `base.shut`"),
            (
                "{{ say(id=\"base.close\", x=x) }}",
                "`base.close` has no place `x`",
            ),
            (
                "{{ say(id=\"base.rev\") }}",
                "`base.rev` has a place `revision`",
            ),
        ] {
            let fault = printed(template).expect_err("a fault");
            assert!(fault.contains(told), "{fault}");
        }
    }
}
