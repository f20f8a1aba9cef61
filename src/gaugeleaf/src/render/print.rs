//! Prints what a page shows: its nodes become HTML, with an edition's addresses.

use std::borrow::Cow;

use gaugeleaf_calc::finding::Finding;
use pulldown_cmark::{CowStr, Event, Tag};
use serde_json::json;

use crate::language::tell;
use crate::markdown::escape::escape;
use crate::page::node::{Block, HazardStatement, Node, Picture, ShownValue, Step, words};
use crate::page::route::Route;
use crate::render::edition::Edition;
use crate::render::theme::Theme;
use crate::render::words::bound;

/// Prints the parts of one page.
pub struct Printer<'p> {
    pub theme: &'p Theme,
    pub edition: &'p dyn Edition,
    /// The page's address.
    pub from: &'p str,
}

/// How many bytes an event takes in HTML, about.
const AN_EVENT: usize = 32;

type Events<'e> = Vec<Event<'e>>;

impl Printer<'_> {
    /// Nodes as HTML; `heading` stands over them.
    ///
    /// # Errors
    /// What is wrong with a template.
    pub fn html(&self, nodes: &[Node], heading: &str) -> Result<String, Finding> {
        let mut run = PrintRun {
            printer: self,
            heading: heading.to_string(),
            heads: Vec::new(),
            said: String::new(),
            events: Vec::with_capacity(4 * nodes.len()),
        };
        run.nodes(nodes)?;
        run.hush();
        let mut html = String::with_capacity(run.events.len() * AN_EVENT);
        pulldown_cmark::html::push_html(&mut html, run.events.into_iter());
        Ok(html)
    }

    /// A block through its template.
    ///
    /// # Errors
    /// What is wrong with the template.
    pub fn block(&self, block: &Block) -> Result<String, Finding> {
        if block.template.is_empty() {
            return Ok(String::new());
        }
        let lines: Result<Vec<String>, Finding> =
            block.lines.iter().map(|line| self.html(line, "")).collect();
        let view = self.view(&block.view, &block.id, &lines?);
        self.part(block.template, block.name, view)
    }

    /// A part of a page through its template, which is given one value under one name.
    ///
    /// # Errors
    /// What is wrong with the template.
    pub fn part(
        &self,
        template: &str,
        name: &'static str,
        view: tera::Value,
    ) -> Result<String, Finding> {
        self.theme
            .part(template, name, view, self.edition.root(self.from))
    }

    fn href(&self, to: &Route) -> String {
        escape(&self.edition.href(to, self.from))
    }
}

/// A run of nodes on its way to HTML.
struct PrintRun<'r> {
    printer: &'r Printer<'r>,
    /// What stands over the part that is being printed: it names tables.
    heading: String,
    /// What heads the columns of the table that is being printed.
    heads: Vec<String>,
    /// Words that no tag has ended yet: what is bound may lie in more than one text.
    said: String,
    events: Events<'r>,
}

impl<'r> PrintRun<'r> {
    fn say(&mut self, words: &str) {
        self.said.push_str(words);
    }

    /// Ends a run of words.
    fn hush(&mut self) {
        if !self.said.is_empty() {
            let mut said = std::mem::take(&mut self.said);
            if let Cow::Owned(bound) = bound(&said) {
                said = bound;
            }
            self.events.push(Event::Text(said.into()));
        }
    }

    fn event(&mut self, event: Event<'r>) {
        self.hush();
        self.events.push(event);
    }

    /// A finished block of HTML.
    fn html(&mut self, html: impl Into<CowStr<'r>>) {
        self.event(Event::Html(html.into()));
    }

    fn inline(&mut self, html: impl Into<CowStr<'r>>) {
        self.event(Event::InlineHtml(html.into()));
    }

    fn nodes(&mut self, nodes: &'r [Node]) -> Result<(), Finding> {
        nodes.iter().try_for_each(|node| self.node(node))
    }

    fn node(&mut self, node: &'r Node) -> Result<(), Finding> {
        match node {
            Node::Text(text) => self.say(text),
            Node::Leaf(Event::SoftBreak) => self.say("\n"),
            Node::Leaf(leaf) => self.event(leaf.clone()),
            Node::Tag(tag, inside) => return self.tag(tag, inside),
            Node::Heading { level, id, inside } => {
                self.heading = words(inside);
                self.html(format!("<{level} id=\"{id}\">"));
                self.nodes(inside)?;
                self.html(format!("</{level}>\n"));
            }
            Node::Row { id, cells } => {
                self.html(["<tr id=\"", id, "\">"].concat());
                self.row(cells)?;
                self.html("</tr>\n");
            }
            Node::Steps(steps) => return self.steps(steps),
            Node::Link { to, title, inside } => {
                let title = match title.as_str() {
                    "" => String::new(),
                    title => format!(" title=\"{}\"", escape(title)),
                };
                let href = self.printer.href(to);
                self.inline(["<a href=\"", &href, "\"", &title, ">"].concat());
                self.nodes(inside)?;
                self.inline("</a>");
            }
            Node::Term(to, text) => {
                let href = self.printer.href(to);
                self.inline(["<a class=\"term\" href=\"", &href, "\">"].concat());
                self.say(text);
                self.inline("</a>");
            }
            Node::Figure(picture, caption) => {
                let image = self.image(picture);
                let caption = match caption.as_str() {
                    "" => String::new(),
                    caption => format!("<figcaption>{}</figcaption>", escape(&bound(caption))),
                };
                self.html(format!(
                    "<figure class=\"picture\">{image}{caption}</figure>\n"
                ));
            }
            Node::Picture(picture) => {
                let image = self.image(picture);
                self.inline(image);
            }
            Node::Shown(value) => self.value(value),
            Node::Drawn { name, text } => {
                self.inline(format!(
                    "<b class=\"drawn\" data-name=\"{}\">",
                    escape(name)
                ));
                self.say(text);
                self.inline("</b>");
            }
            Node::Listing { html, .. } => self.html(format!(
                "<pre class=\"listing\" tabindex=\"0\"><code>{html}</code></pre>\n"
            )),
            Node::NoteMark { number, first } => {
                let id = if *first {
                    format!(" id=\"note-{number}-from\"")
                } else {
                    String::new()
                };
                self.inline(format!(
                    "<sup{id}><a href=\"#note-{number}\">{number}</a></sup>"
                ));
            }
            Node::Note(note) => return self.nodes(&note.inside),
            Node::Notes(notes) => return self.notes(notes),
            Node::Hazard(hazard) => return self.hazard(hazard),
            Node::Block(block) => {
                let html = self.printer.block(block)?;
                self.html(html);
            }
        }
        Ok(())
    }

    /// What Markdown has and we show as it is; tables scroll by themselves on a narrow screen, head
    /// their columns, and mark the cells that hold numbers.
    fn tag(&mut self, tag: &'r Tag<'static>, inside: &'r [Node]) -> Result<(), Finding> {
        let (open, close) = match tag {
            Tag::Table(_) => {
                let label = escape(&self.heading);
                let open = format!(
                    "<div class=\"table-scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{label}\"><table>\n"
                );
                (open.into(), "</tbody></table></div>\n")
            }
            Tag::TableHead => {
                self.heads = inside
                    .iter()
                    .map(|cell| cell.parts().map(words).collect())
                    .collect();
                self.html("<thead><tr>");
                for cell in inside {
                    self.html("<th scope=\"col\">");
                    self.within(cell)?;
                    self.html("</th>");
                }
                self.html("</tr></thead>\n<tbody>\n");
                return Ok(());
            }
            Tag::TableRow => (CowStr::Borrowed("<tr>"), "</tr>\n"),
            Tag::TableCell => {
                let number = is_number(&words(inside));
                let open = if number { "<td class=\"num\">" } else { "<td>" };
                (open.into(), "</td>")
            }
            tag => {
                self.event(Event::Start(tag.clone()));
                self.nodes(inside)?;
                self.event(Event::End(tag.to_end()));
                return Ok(());
            }
        };
        self.html(open);
        self.nodes(inside)?;
        self.html(close);
        Ok(())
    }

    /// A row that may stand by itself, as a card of a narrow screen: each cell says what heads it.
    fn row(&mut self, cells: &'r [Node]) -> Result<(), Finding> {
        for (at, cell) in cells.iter().enumerate() {
            match self.heads.get(at).filter(|_| at > 0) {
                Some(head) => self.html(format!("<td data-head=\"{}\">", escape(head))),
                None => self.html("<td>"),
            }
            self.within(cell)?;
            self.html("</td>");
        }
        Ok(())
    }

    fn within(&mut self, node: &'r Node) -> Result<(), Finding> {
        node.parts().try_for_each(|part| self.nodes(part))
    }

    fn steps(&mut self, steps: &'r [Step]) -> Result<(), Finding> {
        let start = match steps.first() {
            Some(first) if first.number > 1 => format!(" start=\"{}\"", first.number),
            _ => String::new(),
        };
        self.html(format!("<ol class=\"steps\"{start}>\n"));
        for step in steps {
            let (id, key) = (&step.id, &step.key);
            self.html(["<li id=\"", id, "\" data-tick=\"", key, "\">"].concat());
            self.nodes(&step.inside)?;
            self.html("</li>\n");
        }
        self.html("</ol>\n");
        Ok(())
    }

    fn image(&self, picture: &Picture) -> String {
        let href = self.printer.href(&picture.file);
        let (width, height) = picture.size;
        // none waits until it is scrolled to: it would lack on paper
        format!(
            "<img src=\"{href}\" alt=\"{}\" width=\"{width}\" height=\"{height}\">",
            escape(&picture.alt)
        )
    }

    fn value(&mut self, value: &ShownValue) {
        let (mut open, close) = match &value.to {
            Some(to) => {
                let href = self.printer.href(to);
                let open = ["<a class=\"value\" href=\"", &href, "\" data-value=\""];
                (open.concat(), "</a>")
            }
            None => ("<span class=\"value\" data-value=\"".into(), "</span>"),
        };
        open.extend([&escape(&value.name), "\""]);
        if let Some(fixed) = &value.fixed {
            open.extend([" data-fixed=\"", &escape(fixed), "\""]);
            open.push_str(if value.also { " data-also" } else { "" });
        }
        if !value.of.is_empty() {
            open.extend([" data-of=\"", &escape(&value.of), "\""]);
        }
        open.push('>');
        self.inline(open);
        self.say(&value.text);
        self.inline(close);
    }

    fn notes(&mut self, notes: &'r [Vec<Node>]) -> Result<(), Finding> {
        self.html("<section class=\"footnotes\"><ol>\n");
        for (number, note) in (1..).zip(notes) {
            self.html(format!("<li id=\"note-{number}\">"));
            self.nodes(note)?;
            let back = escape(&tell::back_to_text());
            self.html(format!("<a href=\"#note-{number}-from\">{back}</a></li>\n"));
        }
        self.html("</ol></section>\n");
        Ok(())
    }

    fn hazard(&mut self, hazard: &HazardStatement) -> Result<(), Finding> {
        let view = json!({
            "id": hazard.id,
            "word": hazard.word,
            "kind": hazard.word.to_lowercase(),
            "content": self.printer.html(&hazard.inside, &self.heading)?,
        });
        let view = tera::Value::from_serializable(&view);
        let html = self.printer.part("blocks/hazard.html", "h", view)?;
        self.html(html);
        Ok(())
    }
}

fn is_number(cell: &str) -> bool {
    let digits = cell
        .trim()
        .trim_start_matches(['-', '−', '+', '±', '<', '>', '≤', '≥', ' ']);
    digits.starts_with(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    #[test]
    fn a_table_is_a_named_region_with_column_heads_and_number_cells() {
        let text = "# Sizes \"A\"\n\n| a | b |\n|---|---|\n| x | 3 in |\n";
        assert_eq!(
            printed(text).0,
            "<div class=\"table-scroll\" role=\"group\" tabindex=\"0\" aria-label=\"Sizes &quot;A&quot;\"><table>\n\
             <thead><tr><th scope=\"col\">a</th><th scope=\"col\">b</th></tr></thead>\n<tbody>\n\
             <tr><td>x</td><td class=\"num\">3\u{A0}in</td></tr>\n</tbody></table></div>\n"
        );
    }

    #[test]
    fn headings_carry_the_addresses_that_links_use_and_the_title_is_left_out() {
        let text = "# Title\n\n## Set it\n";
        assert_eq!(printed(text).0, "<h2 id=\"set-it\">Set it</h2>\n");
    }

    #[test]
    fn a_number_is_bound_to_its_unit_across_a_lines_parts_and_not_in_code() {
        let text = "Cut 5 mm \\& 12 3/4 in, `5 mm`.\n\n    5 mm\n";
        assert_eq!(
            printed(text).0,
            "<p>Cut 5\u{A0}mm &amp; 12\u{A0}3/4\u{A0}in, <code>5 mm</code>.</p>\n\
             <pre class=\"listing\" tabindex=\"0\"><code>5 mm\n</code></pre>\n"
        );
    }
}
