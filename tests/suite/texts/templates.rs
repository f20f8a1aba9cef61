//! Templates say nothing of their own.

use super::{LanguageTexts, TextUse, faults, files, has_letters, has_words, texts, uses};
use crate::root;

/// Attributes that a person reads, or hears.
const READ: [&str; 6] = [
    "title",
    "aria-label",
    "alt",
    "placeholder",
    "content",
    "data-ask",
];

/// What such an attribute may hold all the same, and why.
const OTHERWISE: [(&str, &str); 2] = [
    ("width=device-width, initial-scale=1", "the browser's"),
    ("default-src", "the browser's: what a page may load"),
];

/// A template as HTML, its Tera replaced by a mark, and its Tera.
fn apart(template: &str) -> (String, Vec<&str>) {
    let (mut html, mut tera) = (String::new(), Vec::new());
    let mut rest = template;
    while let Some(at) = ["{{", "{%", "{#"].iter().filter_map(|m| rest.find(m)).min() {
        html.push_str(&rest[..at]);
        html.push('·');
        let close = match &rest[at..at + 2] {
            "{{" => "}}",
            "{%" => "%}",
            _ => "#}",
        };
        let end = rest[at..].find(close).expect("what opens closes") + at + 2;
        if close != "#}" {
            tera.push(&rest[at..end]);
        }
        rest = &rest[end..];
    }
    html.push_str(rest);
    (html, tera)
}

/// What a template says of its own: between tags, in attributes, in the strings of its Tera.
fn own_texts(template: &str) -> Vec<String> {
    let (html, tera) = apart(template);
    let mut own = Vec::new();
    for part in html.split('<').enumerate() {
        let (tag, text) = match part {
            (0, text) => ("", text),
            // a mark of more may stand in an attribute, but not one that a person reads
            (_, part) => part.split_once('>').unwrap_or((part, "")),
        };
        if has_letters(text) {
            own.push(text.trim().to_string());
        }
        for name in READ {
            let opening = format!(" {name}=\"");
            let value = tag.split_once(&opening).map(|(_, rest)| rest);
            let value = value.and_then(|rest| rest.split('"').next());
            own.extend(value.filter(|value| has_letters(value)).map(str::to_string));
        }
    }
    for part in tera {
        let strings = part.split('"').skip(1).step_by(2);
        let said =
            strings.filter(|text| has_words(text) || text.starts_with(' ') && has_letters(text));
        own.extend(said.map(str::to_string));
    }
    own.retain(|text| !OTHERWISE.iter().any(|(known, _)| text.starts_with(known)));
    own
}

/// The calls of `say` in a template.
fn said(template: &str) -> Vec<TextUse> {
    let (_, tera) = apart(template);
    let calls = tera
        .iter()
        .flat_map(|part| part.split("say(id=\"").skip(1).map(call));
    calls.collect()
}

/// A call, read from behind `say(id="`.
fn call(rest: &str) -> TextUse {
    let (id, rest) = rest.split_once('"').expect("an id in quotes");
    let begins = rest.trim_start().starts_with('~');
    let (mut depth, mut quoted) = (0, false);
    let mut places = Vec::new();
    let mut name = None;
    for c in rest.chars() {
        match c {
            '"' => quoted = !quoted,
            _ if quoted => {}
            '(' | '[' => depth += 1,
            ')' if depth == 0 => break,
            ')' | ']' => depth -= 1,
            ',' if depth == 0 => name = Some(String::new()),
            '=' if depth == 0 => places.extend(name.take()),
            c if depth == 0 && !c.is_whitespace() => {
                if let Some(name) = &mut name {
                    name.push(c);
                }
            }
            _ => {}
        }
    }
    let places = places.into_iter().collect();
    let id = id.to_string();
    TextUse { id, begins, places }
}

fn templates() -> Vec<(String, String)> {
    files(&root().join("themes/templates"), ".html")
}

#[test]
fn templates_say_what_the_language_words() {
    let templates = templates();
    let mut own = Vec::new();
    for (name, text) in &templates {
        let texts = own_texts(text).into_iter();
        own.extend(texts.map(|text| format!("{name}: {text}")));
    }
    assert!(
        own.is_empty(),
        "word these in themes/languages/en/site.toml: {own:#?}"
    );
}

#[test]
fn every_text_of_templates_is_said_and_its_places_are_filled() {
    // what the generator says itself the compiler holds to its words
    let all = texts("site").into_iter();
    let texts: LanguageTexts = all
        .filter(|(id, _)| !id.starts_with("generator."))
        .collect();
    let used = uses(&templates(), said);
    assert!(used.len() > 200, "{}", used.len());
    let faults = faults(&texts, &used);
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn a_templates_own_text_is_found_wherever_it_stands() {
    let template = "{# no text #}<p class=\"of two\" title=\"A {{ x }}\" aria-label=\"Of {{ x }}\">\
                    {{ x }}: 1/2 · <b>steps</b>{% set all = n ~ \" steps\" %}{{ say(id=\"a.b\") }}\
                    {{ x | default(value=\"not known\") }}</p>\n<i alt=\"{{ say(id=\"a.c\") }}\">×</i>";
    assert_eq!(
        own_texts(template),
        ["Of ·", "steps", " steps", "not known"]
    );
}

#[test]
fn a_call_in_a_template_is_read_with_its_places() {
    let template = "{{ say(id=\"a.b\", x=c.d | join(sep=\", \"), y=say(id=\"e.\" ~ f)) }}{{ say(id=\"g.h\") }}";
    let used = |id: &str, begins: bool, places: &[&str]| {
        let places = places.iter().map(|place| (*place).to_string()).collect();
        let id = id.to_string();
        TextUse { id, begins, places }
    };
    assert_eq!(
        said(template),
        [
            used("a.b", false, &["x", "y"]),
            used("e.", true, &[]),
            used("g.h", false, &[])
        ]
    );
}
