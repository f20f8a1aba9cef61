//! Words as a page shows them: numbers bound to their units, so that no line ends between them.
//!
//! What the page's engine says later is bound by the engine.

use std::borrow::Cow;
use std::io::{self, Write};

use gaugeleaf_calc::quantity::bind;
use tera::{Kwargs, State, Tera, Value};

use crate::render::say::SiteTexts;

/// Has every text that a template prints escaped and bound; what stands in an attribute for a
/// script is to stay as it is, and goes through the filter `exact`. What a template says itself, it
/// has from the language through the function `say`.
pub fn teach(tera: &mut Tera) {
    tera.set_escape_fn(shown);
    tera.register_filter("exact", exact);
    let texts = SiteTexts::english();
    tera.register_function("say", move |given: Kwargs, state: &State| {
        texts.say(&given, state)
    });
}

/// A text with its numbers bound. Most have nothing to bind: no space after a digit.
pub fn bound(text: &str) -> Cow<'_, str> {
    let found = match text.as_bytes() {
        [_, after @ ..] => any(text.as_bytes(), after, |byte, next| {
            byte.is_ascii_digit() & (next == b' ')
        }),
        [] => false,
    };
    match found {
        true => Cow::Owned(bind(text)),
        false => Cow::Borrowed(text),
    }
}

fn shown(text: &str, out: &mut dyn Write) -> io::Result<()> {
    escaped(&bound(text), out)
}

/// Writes a text as tera's own escaping does, but piece by piece and not byte by byte.
fn escaped(text: &str, out: &mut dyn Write) -> io::Result<()> {
    if !has_marks(text) {
        return out.write_all(text.as_bytes());
    }
    let mut rest = text;
    let marked = |byte| matches!(byte, b'&' | b'<' | b'>' | b'"' | b'\'');
    while let Some(at) = rest.bytes().position(marked) {
        let (plain, marked) = rest.split_at(at);
        out.write_all(plain.as_bytes())?;
        let mark: &[u8] = match marked.as_bytes()[0] {
            b'&' => b"&amp;",
            b'<' => b"&lt;",
            b'>' => b"&gt;",
            b'"' => b"&quot;",
            _ => b"&#39;",
        };
        out.write_all(mark)?;
        rest = &marked[1..];
    }
    out.write_all(rest.as_bytes())
}

/// Whether there is anything to escape.
fn has_marks(text: &str) -> bool {
    any(text.as_bytes(), text.as_bytes(), |byte, _| {
        (byte == b'&') | (byte == b'<') | (byte == b'>') | (byte == b'"') | (byte == b'\'')
    })
}

/// Whether a test holds for any two bytes that stand at one place: sixteen are looked at in one
/// step, the last again with those before them.
fn any(one: &[u8], other: &[u8], test: impl Fn(u8, u8) -> bool) -> bool {
    const STEP: usize = 16;
    let length = one.len().min(other.len());
    let (one, other) = (&one[..length], &other[..length]);
    let all = |one: &[u8; STEP], other: &[u8; STEP]| {
        (0..STEP).fold(false, |found, at| found | test(one[at], other[at]))
    };
    let (Some(last), Some(last_other)) = (one.last_chunk(), other.last_chunk()) else {
        return one.iter().zip(other).any(|(one, other)| test(*one, *other));
    };
    let mut steps = one.as_chunks().0.iter().zip(other.as_chunks().0);
    steps.any(|(one, other)| all(one, other)) || all(last, last_other)
}

fn exact(text: &str, _: Kwargs, _: &State) -> Value {
    if !has_marks(text) {
        return Value::safe_string(text);
    }
    let mut escaped = Vec::new();
    // writing into memory doesn't fail
    let _ = self::escaped(text, &mut escaped);
    Value::safe_string(&String::from_utf8_lossy(&escaped))
}

#[cfg(test)]
mod tests {
    use super::*;
    use tera::Context;

    #[test]
    fn what_is_escaped_is_what_tera_escapes() {
        for text in ["", "a", "<a b='c'>\"&\"</a>", "'", "ä & ö"] {
            let (mut own, mut teras) = (Vec::new(), Vec::new());
            escaped(text, &mut own).expect("memory");
            tera::escape_html(text, &mut teras).expect("memory");
            assert_eq!(own, teras, "{text}");
        }
    }

    #[test]
    fn numbers_keep_their_units_but_in_what_a_script_reads() {
        let mut tera = Tera::new();
        teach(&mut tera);
        tera.add_raw_template("a.html", "<b data-x=\"{{ x | exact }}\">{{ x }}</b>")
            .expect("a template");
        let mut context = Context::new();
        context.insert("x", "12 3/4 in & more");
        assert_eq!(
            tera.render("a.html", &context).expect("a page"),
            "<b data-x=\"12 3/4 in &amp; more\">12\u{A0}3/4\u{A0}in &amp; more</b>"
        );
    }
}
