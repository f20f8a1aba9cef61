//! A page cut into what can be found: its opening, its headings, its steps.

use pulldown_cmark::{Event, HeadingLevel, Tag, TagEnd};

use crate::handbook::outline::Outline;
use crate::markdown::event::Piece;
use crate::markdown::ids::step_id;
use crate::markdown::nesting::Nesting;

/// What a section is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SectionKind {
    Opening,
    Heading,
    Step,
    /// A term of the trade.
    Term,
}

/// One thing on a page that a search can lead to, in plain words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    pub kind: SectionKind,
    /// Its address on the page; empty for the opening.
    pub id: String,
    /// A heading's words, or the heading that a step stands under.
    pub title: String,
    pub text: String,
}

/// Cuts a page; the pieces must still have their headings and lists.
pub fn sections(pieces: &[Piece], outline: &Outline) -> Vec<Section> {
    let section = |kind, id: &str, title: &str| Section {
        kind,
        id: id.to_string(),
        title: title.to_string(),
        text: String::new(),
    };
    let mut done = vec![section(SectionKind::Opening, "", &outline.title)];
    // text of a step's continuation must not fall to the heading, so the open one is kept by index
    let (mut open, mut around) = (0, 0);
    let mut nesting = Nesting::default();
    let mut steps = 0;
    let mut skipping = false;
    for (event, range) in pieces {
        let was_in_steps = nesting.in_steps();
        if nesting.opens_step(event) {
            steps += 1;
            let title = done[around].title.clone();
            done.push(section(SectionKind::Step, &step_id(steps), &title));
            open = done.len() - 1;
        }
        match event {
            Event::Start(Tag::Heading {
                level: HeadingLevel::H1,
                ..
            }) => skipping = true,
            Event::End(TagEnd::Heading(_)) => skipping = false,
            Event::Start(Tag::Heading { .. }) => {
                skipping = true;
                let Some(heading) = outline.heading_at(range.start) else {
                    continue;
                };
                done.push(section(SectionKind::Heading, &heading.id, &heading.text));
                around = done.len() - 1;
                open = around;
            }
            Event::End(TagEnd::Item) if was_in_steps => open = around,
            Event::Text(text) | Event::Code(text) if !skipping => done[open].text.push_str(text),
            Event::SoftBreak
            | Event::HardBreak
            | Event::End(
                TagEnd::Paragraph | TagEnd::Item | TagEnd::TableCell | TagEnd::CodeBlock,
            ) => {
                done[open].text.push(' ');
            }
            _ => {}
        }
    }
    for section in &mut done {
        section.text = section
            .text
            .split([' ', '\n', '\r', '\t'])
            .filter(|word| !word.is_empty())
            .collect::<Vec<_>>()
            .join(" ");
    }
    done
}

/// The opening words of a page, short enough for a list.
pub fn description(pieces: &[Piece]) -> String {
    const LONGEST: usize = 160;
    let mut text = String::new();
    let mut inside = false;
    for (event, _) in pieces {
        match event {
            Event::Start(Tag::Paragraph) => inside = true,
            Event::End(TagEnd::Paragraph) if !text.trim().is_empty() => break,
            Event::Text(words) | Event::Code(words) if inside => text.push_str(words),
            Event::SoftBreak | Event::HardBreak if inside => text.push(' '),
            _ => {}
        }
    }
    let text = text.trim();
    if text.chars().count() <= LONGEST {
        return text.to_string();
    }
    let cut: String = text.chars().take(LONGEST).collect();
    match cut.rfind(". ") {
        Some(at) => cut[..=at].to_string(),
        None => format!(
            "{}…",
            cut.rsplit_once(' ')
                .map_or(cut.as_str(), |(start, _)| start)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::blocks::registry::shapes;
    use crate::handbook::outline::outline;
    use crate::markdown::parse::parser;

    fn cut(text: &str) -> Vec<(SectionKind, String, String, String)> {
        let outline = outline("a.md", text, &shapes(), &mut Vec::new());
        let pieces: Vec<Piece> = parser(text).into_offset_iter().collect();
        sections(&pieces, &outline)
            .into_iter()
            .map(|s| (s.kind, s.id, s.title, s.text))
            .collect()
    }

    #[test]
    fn a_page_is_cut_at_its_headings_and_steps() {
        let own = |kind, id: &str, title: &str, text: &str| {
            (kind, id.to_string(), title.to_string(), text.to_string())
        };
        assert_eq!(
            cut("# T\n\nIntro.\n\n## Do *it*\n\nFirst.\n\n1. Turn\n   it.\n2. Stop.\n\nAfter.\n"),
            [
                own(SectionKind::Opening, "", "T", "Intro."),
                own(SectionKind::Heading, "do-it", "Do it", "First. After."),
                own(SectionKind::Step, "step-1", "Do it", "Turn it."),
                own(SectionKind::Step, "step-2", "Do it", "Stop."),
            ]
        );
    }

    #[test]
    fn a_long_opening_is_cut_at_a_sentence() {
        let text = format!("Short one. {}\n", "word ".repeat(60));
        let pieces: Vec<Piece> = parser(&text).into_offset_iter().collect();
        assert_eq!(description(&pieces), "Short one.");
    }
}
