//! Binds numbers to their units, so that no line ends between them.
//!
//! Only the words of a page are touched: never its attributes, its listings or its
//! scripts. What the page's engine says later is bound by the engine. Lines between two
//! tags are a drawing's indentation, and one line end does for them.

use gaugeleaf_calc::quantity;

/// Elements whose text stays as it is.
const AS_IT_IS: [&str; 4] = ["pre", "code", "script", "style"];

/// A page with its numbers and units bound by no-break spaces.
pub fn bind(html: &str) -> String {
    let mut out = String::with_capacity(html.len() + html.len() / 64);
    let mut rest = html;
    let mut kept: Option<&str> = None;
    while let Some(open) = rest.find('<') {
        words(&rest[..open], kept.is_some(), &mut out);
        rest = &rest[open..];
        let tag = &rest[..tag_length(rest)];
        out.push_str(tag);
        let name = tag[1..]
            .split(|c: char| c.is_whitespace() || c == '>')
            .next()
            .unwrap_or("");
        match kept {
            None => kept = AS_IT_IS.into_iter().find(|one| *one == name),
            Some(one) if name.strip_prefix('/') == Some(one) => kept = None,
            Some(_) => {}
        }
        rest = &rest[tag.len()..];
    }
    words(rest, kept.is_some(), &mut out);
    out
}

/// How long a tag is; a quoted value may hold what else would end it.
fn tag_length(html: &str) -> usize {
    let mut quote = None;
    for (at, character) in html.char_indices() {
        match (quote, character) {
            (None, '>') => return at + 1,
            (None, '"' | '\'') => quote = Some(character),
            (Some(open), close) if open == close => quote = None,
            _ => {}
        }
    }
    html.len()
}

fn words(text: &str, as_it_is: bool, out: &mut String) {
    if as_it_is {
        out.push_str(text);
    } else if text.contains('\n') && text.trim().is_empty() {
        out.push('\n');
    } else {
        out.push_str(&quantity::bind(text));
    }
}

#[cfg(test)]
mod tests {
    use crate::render::bind::bind;

    #[test]
    fn numbers_keep_their_fractions_and_units() {
        assert_eq!(
            bind("<p>Cut 12 3/4 in or 5 mm.</p>"),
            "<p>Cut 12\u{A0}3/4\u{A0}in or 5\u{A0}mm.</p>"
        );
        assert_eq!(
            bind("14 psi, 3 ft³/min, 2 spacings, rev 2 of"),
            "14\u{A0}psi, 3\u{A0}ft³/min, 2 spacings, rev 2 of"
        );
    }

    #[test]
    fn attributes_and_listings_stay_as_they_are() {
        for html in [
            "<input value=\"12 3/4 in\" title='> 5 mm'>",
            "<pre class=\"x\"><code>5 mm</code> 5 mm</pre>",
        ] {
            assert_eq!(bind(html), html);
        }
        assert_eq!(bind("<code>5 mm</code>5 mm"), "<code>5 mm</code>5\u{A0}mm");
    }

    #[test]
    fn broken_markup_is_no_fault() {
        for html in ["<", "a <b", "<a title=\"", "5 ", " ", "<>5 mm"] {
            assert_eq!(bind(html).replace('\u{A0}', " "), html);
        }
    }

    #[test]
    fn lines_between_tags_become_one_and_a_listing_keeps_its_own() {
        assert_eq!(
            bind("<svg>\n\n    <g> </g>\n</svg><pre>\n\n  <b></b>\n  </pre>"),
            "<svg>\n<g> </g>\n</svg><pre>\n\n  <b></b>\n  </pre>"
        );
    }
}
