//! A block quote that opens with a bold signal word is a hazard statement.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use pulldown_cmark::{Event, Tag, TagEnd};
use serde::Serialize;

use crate::markdown::event::{Piece, html, take_until, to_html, words};
use crate::markdown::signal::WORDS;
use crate::page::desk::Desk;

/// What `blocks/hazard.html` is given as `h`.
#[derive(Debug, Serialize)]
struct Hazard {
    id: String,
    word: &'static str,
    kind: String,
    content: String,
}

/// Writes every hazard statement through its template.
pub fn hazards<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        let Event::Start(Tag::BlockQuote(kind)) = &event else {
            out.push((event, range));
            continue;
        };
        let Some(word) = signal(pieces.as_slice(), desk) else {
            out.push((event, range));
            continue;
        };
        let inner = take_until(&mut pieces, &TagEnd::BlockQuote(*kind));
        out.push(html(hazard(word, inner, range.clone(), desk), range));
    }
    out
}

/// The signal word that a quote's pieces open with; a word that is nearly one is a finding.
fn signal(inner: &[Piece], desk: &mut Desk) -> Option<&'static str> {
    let [
        (Event::Start(Tag::Paragraph), _),
        (Event::Start(Tag::Strong), range),
        rest @ ..,
    ] = inner
    else {
        return None;
    };
    let strong = rest
        .iter()
        .take_while(|(event, _)| *event != Event::End(TagEnd::Strong));
    let said = words(strong.map(|(event, _)| event));
    let bare = said.trim_matches(|c: char| !c.is_alphanumeric());
    if let Some(word) = WORDS.iter().find(|word| **word == bare) {
        return Some(word);
    }
    let shouted = bare.len() > 2 && bare.chars().all(char::is_uppercase);
    let near = nearest(&bare.to_uppercase(), WORDS);
    if !bare.contains(char::is_whitespace) && (shouted || near.is_some()) {
        let message = format!("`{bare}` is no signal word");
        let finding = Finding::error(Code::UnknownSignalWord, desk.file, range.clone(), message);
        desk.findings.push(match near {
            Some(near) => finding.help(format!("write **{near}**")),
            None => finding.help(format!("the signal words are {}", WORDS.join(", "))),
        });
    }
    None
}

fn hazard(word: &'static str, inner: Vec<Piece>, range: Range<usize>, desk: &mut Desk) -> String {
    let mut inner = inner.into_iter();
    let mut content: Vec<Piece> = inner.next().into_iter().collect();
    inner.next();
    take_until(&mut inner, &TagEnd::Strong);
    let mut leading = true;
    for (event, range) in inner {
        match event {
            // what parts the word from the statement: "**DANGER**: …", "**DANGER** – …"
            Event::Text(text) if leading => {
                let rest = text
                    .trim_start_matches([' ', ':', '.', '-', '–', '—', '\u{A0}'])
                    .to_string();
                leading = rest.is_empty();
                content.push((Event::Text(rest.into()), range));
            }
            Event::SoftBreak | Event::HardBreak if leading => {}
            event => {
                leading = leading && matches!(event, Event::End(_) | Event::Start(Tag::Paragraph));
                content.push((event, range));
            }
        }
    }
    if words(content.iter().map(|(event, _)| event))
        .trim()
        .is_empty()
    {
        let message = format!("this {word} says nothing");
        desk.findings.push(
            Finding::error(Code::EmptyHazard, desk.file, range.clone(), message)
                .help("say what can happen, to whom, and how to avoid it"),
        );
    }
    // "**WARNING**" may stand in a paragraph of its own
    if let [
        (Event::Start(Tag::Paragraph), _),
        (Event::End(TagEnd::Paragraph), _),
        ..,
    ] = content.as_slice()
    {
        content.drain(..2);
    }
    let kind = word.to_lowercase();
    let hazard = Hazard {
        id: desk.ids.give(&kind),
        word,
        kind,
        content: to_html(content),
    };
    desk.part("blocks/hazard.html", "h", &hazard)
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use crate::page::hazards::hazards;
    use crate::page::testing::with_desk;

    #[test]
    fn a_bold_signal_word_makes_a_hazard_statement_without_the_word_in_its_text() {
        let (html, findings) = with_desk("> **WARNING**: Water cuts. Stand back.\n", hazards);
        assert_eq!(findings, []);
        assert!(
            html.contains("id=\"warning\"") && html.contains("<p>Water cuts. Stand back.</p>"),
            "{html}"
        );
    }

    #[test]
    fn a_misspelt_signal_word_is_a_finding_and_a_plain_quote_is_none() {
        let (_, findings) = with_desk(
            "> **WARNIGN**: x\n\n> **Warning** x\n\n> **Bold** words\n",
            hazards,
        );
        let seen: Vec<_> = findings
            .iter()
            .map(|f| (f.code.name(), f.span.clone(), f.help.as_deref()))
            .collect();
        assert_eq!(
            seen,
            [
                ("unknown-signal-word", 2..13, Some("write **WARNING**")),
                ("unknown-signal-word", 20..31, Some("write **WARNING**"))
            ]
        );
    }

    #[test]
    fn a_hazard_that_says_nothing_is_a_finding() {
        let (_, findings) = with_desk("> **DANGER**\n", hazards);
        assert_eq!(findings[0].code.name(), "empty-hazard");
    }
}
