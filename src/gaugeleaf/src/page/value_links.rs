//! Value links: `[14 1/4 in](value:NAME.OUTPUT?input=quantity)`.
//!
//! An empty text is filled in; a text that differs from the computed value stops
//! the publish and shows both.

use std::ops::Range;

use gaugeleaf_calc::finding::{Code, Finding};

use crate::markdown::place::Address;
use crate::markdown::tree;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::node::{Node, ShownValue, words};
use crate::page::value::{SourcedValue, find};
use crate::page::value_target::{ValueTarget, agrees, parse, plain_spaces};
use crate::values::ledger::Use;
use crate::values::typed::typed_json;

/// The value that a link names; the link's own words where there is none.
pub fn value(
    address: &str,
    node: &tree::MarkdownNode,
    mut composed: Composed<Vec<Node>>,
    context: &Context,
) -> Composed<Vec<Node>> {
    let said = words(&composed.value);
    let place = Address::of(context.text, node.range.clone(), address);
    let shown = found(address, &place, context).and_then(|(target, found)| {
        differs(&said, &target, &found, node, context)?;
        Ok((target, found))
    });
    match shown {
        Err(finding) => {
            composed.findings.push(finding);
            composed
        }
        Ok((target, found)) => {
            composed.findings.extend(found.doubts);
            // a cell of a table is the same on every job
            let table = context.graph.catalog.tables.contains_key(&target.name.text);
            let typed = target.typed();
            let value = ShownValue {
                name: found.used.name.clone(),
                // a number that leaves its unit at a line's end can be misread
                text: found.used.text.replace(' ', "\u{A0}"),
                to: found.to,
                fixed: (!table).then(|| typed_json(typed.iter().map(|(name, text)| (name, text)))),
                also: target.other_system.is_some(),
                of: found.used.of.clone(),
            };
            composed.uses.push(Use::at(node.range.start, found.used));
            composed.with(vec![Node::Shown(value)])
        }
    }
}

/// The value that an address names.
fn found(
    address: &str,
    place: &Address,
    context: &Context,
) -> Result<(ValueTarget, SourcedValue), Finding> {
    let target = parse(address).map_err(|part| {
        let message = format!("`{}` can't be read as the name of a value", part.text);
        context.error(Code::BadValueLink, place.part(part.at), message)
            .help("write value:CALCULATOR.OUTPUT?input=quantity, value:TABLE.COLUMN?key=cell or value:RATING")
    })?;
    let mut found = find(&target, place, context)?;
    if let Some(at) = &target.other_system {
        if found.used.also.is_empty() {
            let message = format!("`{}` is printed in one unit system only", found.used.name);
            let finding = context.error(Code::BadValueLink, place.part(at.clone()), message);
            return Err(finding.help("leave show=also out"));
        }
        std::mem::swap(&mut found.used.text, &mut found.used.also);
    }
    Ok((target, found))
}

/// A page's own text for a value must say what is printed.
fn differs(
    said: &str,
    target: &ValueTarget,
    found: &SourcedValue,
    node: &tree::MarkdownNode,
    context: &Context,
) -> Result<(), Finding> {
    let used = &found.used;
    if said.trim().is_empty() || agrees(said, &used.text) {
        return Ok(());
    }
    let inside = node.inside();
    let words: Option<Range<usize>> = inside
        .first()
        .zip(inside.last())
        .map(|(first, last)| first.range.start..last.range.end);
    let message = format!(
        "the page says `{}`, and {} gives `{}`",
        plain_spaces(said),
        used.name,
        used.text
    );
    let help = if agrees(said, &used.also) && target.other_system.is_none() {
        "add show=also to the link to print the other unit system".to_string()
    } else {
        format!("write {}, or leave the text empty", used.text)
    };
    let span = words.unwrap_or_else(|| node.range.clone());
    Err(context.error(Code::ValueDiffers, span, message).help(help))
}

#[cfg(test)]
mod tests {
    use crate::page::testing::printed;

    const LINK: &str = "value:guide-tube-length.length?stock_length=12in&channel_depth=9in";

    fn faults(text: &str) -> Vec<(&'static str, String, String)> {
        let (_, findings) = printed(text);
        let at = |span: std::ops::Range<usize>| text.get(span).unwrap_or("").to_string();
        findings
            .into_iter()
            .map(|f| (f.code.name(), at(f.span), f.help.unwrap_or_default()))
            .collect()
    }

    #[test]
    fn an_empty_text_is_filled_in_and_a_right_one_stays() {
        for said in ["", "21 in", "21\u{A0}in"] {
            let (html, findings) = printed(&format!("Cut to [{said}]({LINK}).\n"));
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
        let (_, findings) = printed(&text);
        assert_eq!(
            findings[0].message,
            "the page says `21 1/8 in`, and guide-tube-length.length gives `21 in`"
        );
        assert_eq!(faults(&text)[0].1, "21 1/8 in");
    }

    #[test]
    fn the_other_unit_system_is_printed_when_asked_and_offered_when_typed() {
        let (html, _) = printed(&format!("[]({LINK}&show=also)\n"));
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
        let (html, findings) = printed("[](value:hex-across-flats.wrench?bolt=1/2in)\n");
        assert_eq!(findings, []);
        assert!(
            html.contains("href=\"../tables/hex-across-flats.html#row-5\"")
                && html.contains("3/4\u{A0}in"),
            "{html}"
        );
    }
}
