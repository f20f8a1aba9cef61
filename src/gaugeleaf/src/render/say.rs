//! The function `say` of templates: a text of the language by its id, with what stands in its
//! places.

use std::collections::HashMap;

use tera::{Error, Kwargs, State, TeraResult, Value};

use crate::language::{SITE, TextParts};

/// The texts, with what HTML takes for marks escaped: they stand between tags, or between double
/// quotes.
pub struct SiteTexts(HashMap<&'static str, SiteText>);

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

impl SiteText {
    fn of(parts: TextParts) -> SiteText {
        let escape = |part: &&str| {
            let part = part.replace('&', "&amp;").replace('<', "&lt;");
            part.replace('>', "&gt;").replace('"', "&quot;")
        };
        let parts: Vec<String> = parts.iter().map(escape).collect();
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
