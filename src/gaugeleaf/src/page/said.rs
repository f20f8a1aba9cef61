//! A part of a page that somebody acts on, found by its words: a step, a hazard, a line of a list or
//! a row. Its number may change with every edit; when its words do, somebody has to look again.

use pulldown_cmark::Tag;

use crate::handbook::page::Page;
use crate::markdown::signal;
use crate::markdown::steps::StepCount;
use crate::markdown::tree::{self, MarkdownNode, What};

pub struct SaidPart {
    pub words: String,
    pub start: usize,
    /// Of a step.
    pub number: Option<usize>,
}

/// Why no part is meant.
#[derive(Debug, PartialEq, Eq)]
pub enum Unsaid {
    Nowhere,
    Often,
}

/// The one part of these that says this.
///
/// # Errors
/// None says it, or several do.
pub fn the_one(parts: Vec<SaidPart>, words: &str) -> Result<SaidPart, Unsaid> {
    let wanted = one_line(words);
    let says = |part: &SaidPart| !wanted.is_empty() && part.words.contains(&wanted);
    let mut meant = parts.into_iter().filter(says);
    let part = meant.next().ok_or(Unsaid::Nowhere)?;
    match meant.next() {
        Some(_) => Err(Unsaid::Often),
        None => Ok(part),
    }
}

/// A page's steps, hazards, lines of lists and rows, in their order.
pub fn said(page: &Page) -> Vec<SaidPart> {
    let mut parts = Vec::new();
    let mut count = StepCount::default();
    for node in &page.tree.nodes {
        let What::Tag(tag, inside) = &node.what else {
            continue;
        };
        if let Some(numbers) = count.of(tag, inside.len()) {
            let steps = numbers.zip(inside);
            parts.extend(steps.map(|(number, step)| part(step, Some(number))));
            continue;
        }
        match &**tag {
            Tag::List(None) | Tag::Table(_) => {
                parts.extend(inside.iter().map(|one| part(one, None)));
            }
            Tag::BlockQuote(_) if signal::of_quote(node).is_some() => parts.push(part(node, None)),
            _ => {}
        }
    }
    parts
}

fn part(node: &MarkdownNode, number: Option<usize>) -> SaidPart {
    let mut words = String::new();
    tree::each(node.inside(), &mut |inner| match &inner.what {
        What::Tag(tag, _) => {
            if matches!(&**tag, Tag::TableCell | Tag::Paragraph) && !words.is_empty() {
                words.push(' ');
            }
        }
        What::Text(_) | What::Leaf(_) => {
            words.push_str(&tree::words(std::slice::from_ref(inner)));
        }
    });
    SaidPart {
        words: one_line(&words),
        start: node.range.start,
        number,
    }
}

/// Words with one space between them.
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
