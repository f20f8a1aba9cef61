//! Tables scroll by themselves on a narrow screen, head their columns, and mark
//! the cells that hold numbers.

use pulldown_cmark::{Event, Tag, TagEnd};

use crate::markdown::escape::escape;
use crate::markdown::event::{Piece, html, plain};

/// Writes every table with its own scrolling region.
pub fn tables<'a>(pieces: Vec<Piece<'a>>, title: &str) -> Vec<Piece<'a>> {
    let mut out: Vec<Piece<'a>> = Vec::with_capacity(pieces.len());
    let mut heading = title.to_string();
    let mut in_head = false;
    for index in 0..pieces.len() {
        let (event, range) = pieces[index].clone();
        let range_of = range.clone();
        let rest = &pieces[index + 1..];
        let put = |text: &str| html(text.to_string(), range_of.clone());
        match event {
            Event::Start(Tag::Heading { level, .. }) => {
                heading = plain(rest, &TagEnd::Heading(level));
                out.push(pieces[index].clone());
            }
            Event::Start(Tag::Table(_)) => out.push(put(&format!(
                "<div class=\"table-scroll\" role=\"group\" tabindex=\"0\" aria-label=\"{}\"><table>\n",
                escape(&heading)
            ))),
            Event::End(TagEnd::Table) => out.push(put("</tbody></table></div>\n")),
            Event::Start(Tag::TableHead) => {
                in_head = true;
                out.push(put("<thead><tr>"));
            }
            Event::End(TagEnd::TableHead) => {
                in_head = false;
                out.push(put("</tr></thead>\n<tbody>\n"));
            }
            Event::Start(Tag::TableRow) => out.push(put("<tr>")),
            Event::End(TagEnd::TableRow) => out.push(put("</tr>\n")),
            Event::Start(Tag::TableCell) if in_head => out.push(put("<th scope=\"col\">")),
            Event::End(TagEnd::TableCell) if in_head => out.push(put("</th>")),
            Event::Start(Tag::TableCell) => {
                let number = is_number(&plain(rest, &TagEnd::TableCell));
                out.push(put(if number { "<td class=\"num\">" } else { "<td>" }));
            }
            Event::End(TagEnd::TableCell) => out.push(put("</td>")),
            _ => out.push(pieces[index].clone()),
        }
    }
    out
}

fn is_number(cell: &str) -> bool {
    let digits = cell
        .trim()
        .trim_start_matches(['-', '−', '+', '±', '<', '>', '≤', '≥', ' ']);
    digits.starts_with(|c: char| c.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use crate::page::tables::tables;
    use crate::page::testing::rendered;

    #[test]
    fn a_table_is_a_named_region_with_column_heads_and_number_cells() {
        let html = rendered("| a | b |\n|---|---|\n| x | 3 in |\n", |pieces| {
            tables(pieces, "Sizes \"A\"")
        });
        assert_eq!(
            html,
            "<div class=\"table-scroll\" role=\"group\" tabindex=\"0\" aria-label=\"Sizes &quot;A&quot;\"><table>\n\
             <thead><tr><th scope=\"col\">a</th><th scope=\"col\">b</th></tr></thead>\n<tbody>\n\
             <tr><td>x</td><td class=\"num\">3 in</td></tr>\n</tbody></table></div>\n"
        );
    }
}
