//! Value links: `[14 1/4 in](value:NAME.OUTPUT?input=quantity)`.
//!
//! An empty text is filled in; a text that differs from the computed value stops
//! the publish and shows both.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};
use pulldown_cmark::{Event, Tag, TagEnd};

use crate::markdown::escape::escape;
use crate::markdown::event::{Piece, take_until, words};
use crate::markdown::place::Address;
use crate::page::desk::Desk;
use crate::page::value::{Found, find};
use crate::page::value_target::{SCHEME, agrees, parse, plain_spaces};
use crate::values::ledger::Use;
use crate::values::typed::typed_json;

/// Replaces every value link by its value.
pub fn value_links<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter();
    while let Some((event, range)) = pieces.next() {
        let target = match &event {
            Event::Start(Tag::Link { dest_url, .. }) => {
                dest_url.starts_with(SCHEME).then(|| dest_url.to_string())
            }
            _ => None,
        };
        let Some(target) = target else {
            out.push((event, range));
            continue;
        };
        let inner = take_until(&mut pieces, &TagEnd::Link);
        let said = words(inner.iter().map(|(event, _)| event));
        match value(&target, &said, &inner, range.clone(), desk) {
            Ok(shown) => {
                out.push((Event::InlineHtml(shown.open.into()), range.clone()));
                out.push((Event::Text(shown.text.into()), range.clone()));
                out.push((Event::InlineHtml(shown.close.into()), range));
            }
            Err(finding) => {
                desk.findings.push(finding);
                out.extend(inner);
            }
        }
    }
    out
}

/// A value as the page shows it.
struct Shown {
    open: String,
    text: String,
    close: &'static str,
}

fn value(
    address: &str,
    said: &str,
    inner: &[Piece],
    range: Range<usize>,
    desk: &mut Desk,
) -> Result<Shown, Finding> {
    let file = desk.file;
    let place = Address::of(desk.text, range.clone(), address);
    let parsed = parse(address).map_err(|part| {
        let message = format!("`{}` can't be read as the name of a value", part.text);
        Finding::error(Code::BadValueLink, file, place.part(part.at), message)
            .help("write value:CALCULATOR.OUTPUT?input=quantity, value:TABLE.COLUMN?key=cell or value:RATING")
    })?;
    let mut found = find(&parsed, &place, desk)?;
    if let Some(at) = &parsed.other_system {
        if found.used.also.is_empty() {
            return Err(Finding::error(
                Code::BadValueLink,
                file,
                place.part(at.clone()),
                format!("`{}` is printed in one unit system only", found.used.name),
            )
            .help("leave show=also out"));
        }
        std::mem::swap(&mut found.used.text, &mut found.used.also);
    }
    let Found { used, url, doubts } = found;
    desk.findings.extend(doubts);
    if !said.trim().is_empty() && !agrees(said, &used.text) {
        let words = inner
            .first()
            .zip(inner.last())
            .map(|(first, last)| first.1.start..last.1.end);
        let message = format!(
            "the page says `{}`, and {} gives `{}`",
            plain_spaces(said),
            used.name,
            used.text
        );
        let help = if agrees(said, &used.also) && parsed.other_system.is_none() {
            "add show=also to the link to print the other unit system".to_string()
        } else {
            format!("write {}, or leave the text empty", used.text)
        };
        return Err(
            Finding::error(Code::ValueDiffers, file, words.unwrap_or(range), message).help(help),
        );
    }
    // a number that leaves its unit at a line's end can be misread
    let text = used.text.replace(' ', "\u{A0}");
    let mut data = format!("data-value=\"{}\"", escape(&used.name));
    // a cell of a table is the same on every job
    if !desk.graph.catalog.tables.contains_key(&parsed.name.text) {
        let typed = parsed.typed();
        let fixed = typed_json(typed.iter().map(|(name, text)| (name, text)));
        data.push_str(&format!(" data-fixed=\"{}\"", escape(&fixed)));
        if parsed.other_system.is_some() {
            data.push_str(" data-also");
        }
    }
    let (open, close) = match url {
        Some(url) => (
            format!(
                "<a class=\"value\" href=\"{}{}\" {data}>",
                desk.root(),
                escape(&url)
            ),
            "</a>",
        ),
        None => (format!("<span class=\"value\" {data}>"), "</span>"),
    };
    desk.uses.push(Use {
        start: range.start,
        ..used
    });
    Ok(Shown { open, text, close })
}

#[cfg(test)]
mod tests {
    use crate::page::testing::with_desk;
    use crate::page::value_links::value_links;

    const LINK: &str = "value:guide-tube-length.length?stock_length=12in&channel_depth=9in";

    fn faults(text: &str) -> Vec<(&'static str, String, String)> {
        let (_, findings) = with_desk(text, value_links);
        let at = |span: std::ops::Range<usize>| text.get(span).unwrap_or("").to_string();
        findings
            .into_iter()
            .map(|f| (f.code.name(), at(f.span), f.help.unwrap_or_default()))
            .collect()
    }

    #[test]
    fn an_empty_text_is_filled_in_and_a_right_one_stays() {
        for said in ["", "21 in", "21\u{A0}in"] {
            let (html, findings) = with_desk(&format!("Cut to [{said}]({LINK}).\n"), value_links);
            assert_eq!(findings, []);
            assert_eq!(
                html,
                "<p>Cut to <a class=\"value\" href=\"../calculators/guide-tube-length.html#guide-tube-length?\
                 stock_length=12in&amp;channel_depth=9in\" data-value=\"guide-tube-length.length\" \
                 data-fixed=\"{&quot;stock_length&quot;:&quot;12in&quot;,&quot;channel_depth&quot;:&quot;9in&quot;}\">21\u{A0}in</a>.</p>\n"
            );
        }
    }

    #[test]
    fn a_text_that_differs_shows_both_values_where_it_stands() {
        let text = format!("Cut to [21 1/8 in]({LINK}).\n");
        let (_, findings) = with_desk(&text, value_links);
        assert_eq!(
            findings[0].message,
            "the page says `21 1/8 in`, and guide-tube-length.length gives `21 in`"
        );
        assert_eq!(faults(&text)[0].1, "21 1/8 in");
    }

    #[test]
    fn the_other_unit_system_is_printed_when_asked_and_offered_when_typed() {
        let (html, _) = with_desk(&format!("[]({LINK}&show=also)\n"), value_links);
        assert!(html.contains("mm</a>"), "{html}");
        let printed = html
            .split('>')
            .nth(2)
            .and_then(|rest| rest.split('<').next())
            .unwrap_or("")
            .to_string();
        assert!(
            faults(&format!("[{printed}]({LINK})\n"))[0]
                .2
                .contains("show=also")
        );
    }

    #[test]
    fn names_that_are_not_there_offer_the_nearest() {
        let fault = |target: &str| faults(&format!("[](value:{target})\n")).remove(0);
        let own = |code, text: &str, help: &str| (code, text.to_string(), help.to_string());
        assert_eq!(
            fault("guide-tube-lenght.length"),
            own(
                "unknown-value",
                "guide-tube-lenght",
                "write guide-tube-length"
            )
        );
        assert_eq!(
            fault("guide-tube-length.lenght"),
            own("unknown-output", "lenght", "write length")
        );
        assert_eq!(
            fault("guide-tube-length.length?chanel_depth=1in").1,
            "chanel_depth"
        );
        assert_eq!(
            fault("chanel_depth"),
            own("unknown-value", "chanel_depth", "write channel_depth")
        );
        assert_eq!(
            fault("hex-across-flats.wrenches?bolt=3/8in"),
            own("unknown-column", "wrenches", "write wrench")
        );
        assert_eq!(fault("hex-across-flats.wrench?bolt=3in").0, "no-such-row");
    }

    #[test]
    fn a_pressure_for_a_length_is_refused_at_the_quantity() {
        let fault = faults("[](value:guide-tube-length.length?stock_length=14psi)\n").remove(0);
        assert_eq!((fault.0, fault.1.as_str()), ("bad-input", "14psi"));
    }

    #[test]
    fn a_table_cell_leads_to_its_row() {
        let (html, findings) = with_desk(
            "[](value:hex-across-flats.wrench?bolt=1/2in)\n",
            value_links,
        );
        assert_eq!(findings, []);
        assert!(
            html.contains("href=\"../tables/hex-across-flats.html#row-5\"")
                && html.contains("3/4\u{A0}in"),
            "{html}"
        );
    }
}
