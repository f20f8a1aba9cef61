//! Pictures: they are the handbook's own files, have words for those who can't see
//! them, and keep their place on the page while they load.

use gaugeleaf_calc::finding::{Code, Finding, nearest};
use percent_encoding::percent_decode_str;
use pulldown_cmark::{Event, Tag, TagEnd};

use crate::markdown::escape::escape;
use crate::markdown::event::{Piece, html, take_until, words};
use crate::markdown::place::Address;
use crate::page::desk::Desk;
use crate::page::picture;

/// Writes every image; one that has a paragraph to itself becomes a figure.
pub fn images<'a>(pieces: Vec<Piece<'a>>, desk: &mut Desk) -> Vec<Piece<'a>> {
    let mut out: Vec<Piece<'a>> = Vec::with_capacity(pieces.len());
    let mut pieces = pieces.into_iter().peekable();
    while let Some((event, range)) = pieces.next() {
        let Event::Start(Tag::Image {
            dest_url, title, ..
        }) = event
        else {
            out.push((event, range));
            continue;
        };
        let inner = take_until(&mut pieces, &TagEnd::Image);
        let alt = words(inner.iter().map(|(event, _)| event));
        let span = Address::of(desk.text, range.clone(), &dest_url).span();
        let Some(image) = image(&dest_url, &alt, span, desk) else {
            continue;
        };
        let opens = matches!(out.last(), Some((Event::Start(Tag::Paragraph), _)));
        let closes = matches!(pieces.peek(), Some((Event::End(TagEnd::Paragraph), _)));
        if opens && closes {
            out.pop();
            pieces.next();
            let caption = if title.is_empty() {
                String::new()
            } else {
                format!("<figcaption>{}</figcaption>", escape(&title))
            };
            out.push(html(
                format!("<figure class=\"picture\">{image}{caption}</figure>\n"),
                range,
            ));
        } else {
            out.push((Event::InlineHtml(image.into()), range));
        }
    }
    out
}

fn image(dest: &str, alt: &str, span: std::ops::Range<usize>, desk: &mut Desk) -> Option<String> {
    let fault = |code, message: String, help: String| {
        Finding::error(code, desk.file, span.clone(), message).help(help)
    };
    if dest.contains("://") || dest.starts_with("//") || dest.starts_with("data:") {
        let message = format!("the picture {dest} isn't the handbook's own");
        let help = "put the file beside the page: a handbook asks no other host for anything";
        desk.findings
            .push(fault(Code::ForeignPicture, message, help.to_string()));
        return None;
    }
    let decoded = percent_decode_str(dest).decode_utf8_lossy();
    let path = desk.resolve(&decoded);
    let held = path
        .as_ref()
        .and_then(|path| desk.pictures.get_key_value(path));
    let Some((path, bytes)) = held else {
        let message = format!("there is no picture {dest}");
        let file = decoded.rsplit('/').next().unwrap_or(&decoded);
        let names = desk
            .pictures
            .keys()
            .filter_map(|path| path.rsplit('/').next());
        let help = match nearest(file, names) {
            Some(near) => format!("the nearest picture is {near}"),
            None => "put the file in content/ and name it relative to this page".to_string(),
        };
        desk.findings
            .push(fault(Code::MissingPicture, message, help).follows(path));
        return None;
    };
    let Some(size) = picture::size(bytes) else {
        let message = format!("the picture {dest} can't be read");
        let help = "save it again as svg with a viewBox, png, jpg, webp or gif".to_string();
        desk.findings.push(fault(Code::BadPicture, message, help));
        return None;
    };
    if picture::runs_script(bytes) {
        let message = format!("the picture {dest} holds a script");
        desk.findings.push(fault(
            Code::BadPicture,
            message,
            "save it as a plain drawing".to_string(),
        ));
        return None;
    }
    if alt.trim().is_empty() {
        let message = format!("the picture {dest} has no words for those who can't see it");
        desk.findings.push(
            Finding::error(Code::NoAlternative, desk.file, span.clone(), message)
                .help("write what it shows between the brackets: ![…](…)"),
        );
    }
    desk.shown.insert(path.clone());
    let url = path.strip_prefix("content/").unwrap_or(path);
    Some(format!(
        "<img src=\"{}{}\" alt=\"{}\" width=\"{}\" height=\"{}\" loading=\"lazy\">",
        desk.root(),
        escape(&crate::handbook::addresses::encode_path(url)),
        escape(alt.trim()),
        size.0,
        size.1
    ))
}

#[cfg(test)]
mod tests {
    use crate::page::images::images;
    use crate::page::testing::{PIXEL, with_desk, with_pictures};

    #[test]
    fn a_picture_by_itself_is_a_figure_with_its_size() {
        let (html, findings) = with_pictures(
            "![A dot](img/dot.gif \"The dot\")\n",
            &[("content/fit/img/dot.gif", PIXEL)],
            images,
        );
        assert_eq!(findings, []);
        assert_eq!(
            html,
            "<figure class=\"picture\"><img src=\"../fit/img/dot.gif\" alt=\"A dot\" width=\"1\" height=\"1\" \
             loading=\"lazy\"><figcaption>The dot</figcaption></figure>\n"
        );
    }

    #[test]
    fn missing_and_foreign_pictures_are_findings_at_their_address() {
        let (_, findings) = with_desk("![a](gone.png) ![b](https://example.org/x.png)\n", images);
        assert_eq!(
            (findings[0].code.name(), findings[0].span.clone()),
            ("missing-picture", 5..13)
        );
        assert_eq!(
            (findings[1].code.name(), findings[1].span.clone()),
            ("foreign-picture", 20..45)
        );
    }
}
