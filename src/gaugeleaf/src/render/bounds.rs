//! Bounds on what a handbook's own templates do: one that goes round for ever, or writes without
//! end, is a finding.
//!
//! Templates have no count of steps. So each loop and each component of a template of the handbook's
//! own gets a call at its beginning that counts its turns, and what is printed is counted too.

use std::cell::Cell;
use std::io::{self, Write};
use std::ops::Range;

use tera::{Context, Error, ErrorKind, Kwargs, State, Tera, TeraResult, Value};

/// Turns that one template may take, with all that it includes: a hundred for each page of the
/// largest handbook that was tried.
const MOST_TURNS: u32 = 1_000_000;

/// Bytes that one template may print: a hundred times the largest page of the demonstration.
const MOST_BYTES: usize = 64 << 20;

thread_local! {
    /// Turns of the template that this thread prints.
    static TURNS: Cell<u32> = const { Cell::new(0) };
}

/// The call that counts a turn, and the same after a tag that swallows the blanks behind it.
const CALLS: [&str; 2] = ["{{turn()}}", "{{turn()-}}"];

/// Teaches templates to count.
pub fn teach(tera: &mut Tera) {
    tera.register_function("turn", |_: Kwargs, _: &State| turn());
}

fn turn() -> TeraResult<Value> {
    TURNS.set(TURNS.get() + 1);
    if TURNS.get() > MOST_TURNS {
        let message = format!("it goes round more than {MOST_TURNS} times");
        return Err(Error::message(message));
    }
    Ok(Value::safe_string(""))
}

/// Prints a template that may be the handbook's own, or include one.
pub fn rendered(templates: &Tera, template: &str, context: &Context) -> TeraResult<String> {
    TURNS.set(0);
    let mut page = CountedPage(Vec::new());
    templates.render_to(template, context, &mut page)?;
    Ok(String::from_utf8(page.0)?)
}

/// What is printed, as long as it is no more than a page may be.
struct CountedPage(Vec<u8>);

impl Write for CountedPage {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.0.len() + bytes.len() > MOST_BYTES {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        self.0.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// What is wrong with a template that was stopped while it printed.
pub fn too_long() -> String {
    format!("it prints more than {} MB", MOST_BYTES >> 20)
}

/// Whether a template was stopped, and isn't faulty from the start.
pub fn is_stop(error: &Error) -> bool {
    matches!(error.kind(), ErrorKind::Io(_)) || TURNS.get() > MOST_TURNS
}

/// A template with its turns counted.
pub fn counted(template: &str) -> String {
    let mut made = String::with_capacity(template.len());
    let mut at = 0;
    for (tag, call) in rounds(template) {
        made.extend([&template[at..tag.end], call]);
        at = tag.end;
    }
    made + &template[at..]
}

/// Where a range of the counted template lies in the template as it was written; a count's is its
/// tag's.
pub fn written(template: &str, range: Range<usize>) -> Range<usize> {
    let mut added = 0;
    for (tag, call) in rounds(template) {
        if range.start < tag.end + added {
            break;
        }
        if range.start < tag.end + added + call.len() {
            return tag;
        }
        added += call.len();
    }
    range.start - added..range.end.saturating_sub(added).max(range.start - added)
}

/// The tags that open what may go round, each with the call that goes behind it.
fn rounds(template: &str) -> Vec<(Range<usize>, &'static str)> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(start) = template[at..].find('{').map(|next| at + next) {
        let rest = &template[start..];
        at = start
            + match rest.as_bytes().get(1) {
                Some(b'#') => rest.find("#}").map_or(rest.len(), |end| end + 2),
                Some(b'%') => tag_end(rest),
                _ => 1,
            };
        let tag = &template[start..at];
        let inside = tag.trim_start_matches(['{', '%', '-']).trim_start();
        match inside.split(|c: char| !c.is_alphanumeric()).next() {
            Some("for" | "component") if tag.starts_with("{%") => {
                found.push((start..at, CALLS[usize::from(tag.ends_with("-%}"))]));
            }
            Some("raw") if tag.starts_with("{%") => {
                let end = template[at..].find("endraw");
                at = end.map_or(template.len(), |end| at + end);
            }
            _ => {}
        }
    }
    found
}

/// The end of the tag that a text begins with, past the texts in it.
fn tag_end(rest: &str) -> usize {
    let mut quote = None;
    for (at, byte) in rest.bytes().enumerate() {
        match (quote, byte) {
            (None, b'"' | b'\'' | b'`') => quote = Some(byte),
            (Some(open), _) if open == byte => quote = None,
            (None, b'}') if rest[..at].ends_with('%') => return at + 1,
            _ => {}
        }
    }
    rest.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_is_counted_behind_each_tag_that_goes_round_and_nowhere_else() {
        for (template, made) in [
            (
                "{% for a in b %}c{% endfor %}",
                "{% for a in b %}{{turn()}}c{% endfor %}",
            ),
            (
                "{%- for a in [\"%}\"] -%} c",
                "{%- for a in [\"%}\"] -%}{{turn()-}} c",
            ),
            (
                "{% component for_all(a) %}",
                "{% component for_all(a) %}{{turn()}}",
            ),
            (
                "{# {% for a in b %} #}{% if for %}{{ for }}",
                "{# {% for a in b %} #}{% if for %}{{ for }}",
            ),
            (
                "{% raw %}{% for a in b %}{% endraw %}{",
                "{% raw %}{% for a in b %}{% endraw %}{",
            ),
            ("{% for a in", "{% for a in{{turn()}}"),
        ] {
            assert_eq!(counted(template), made);
        }
    }

    #[test]
    fn a_place_is_told_where_it_was_written() {
        let template = "é{% for a in b -%} {% for c in a %}{{ d }}{% endfor %}";
        let counted = counted(template);
        let found = |said: &str| {
            let at = counted.find(said).expect("there");
            let range = written(template, at..at + said.len());
            &template[range]
        };
        for said in ["é", "for a", "b -%}", "for c", "{{ d }}", "endfor"] {
            assert_eq!(found(said), said);
        }
        assert_eq!(found("turn()-"), "{% for a in b -%}");
        assert_eq!(found("{{turn()}}"), "{% for c in a %}");
        assert_eq!(written(template, 0..0), 0..0);
    }
}
