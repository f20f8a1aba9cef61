//! What a picture's bytes say: how large it is, and whether it is a picture and nothing else.

use roxmltree::{Attribute, Document, Node, ParsingOptions};

const SVG: &str = "http://www.w3.org/2000/svg";
const XHTML: &str = "http://www.w3.org/1999/xhtml";

/// What a drawing is made of. Scripts, links, animations and pages in it are not among them.
const DRAWN: [&str; 52] = [
    "svg",
    "g",
    "defs",
    "symbol",
    "use",
    "switch",
    "view",
    "title",
    "desc",
    "metadata",
    "style",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "text",
    "tspan",
    "textPath",
    "image",
    "linearGradient",
    "radialGradient",
    "stop",
    "clipPath",
    "mask",
    "pattern",
    "marker",
    "filter",
    "feBlend",
    "feColorMatrix",
    "feComponentTransfer",
    "feComposite",
    "feConvolveMatrix",
    "feDiffuseLighting",
    "feDisplacementMap",
    "feDistantLight",
    "feDropShadow",
    "feFlood",
    "feFuncA",
    "feFuncB",
    "feFuncG",
    "feFuncR",
    "feGaussianBlur",
    "feMerge",
    "feMergeNode",
    "feMorphology",
    "feOffset",
    "fePointLight",
    "feSpecularLighting",
    "feTurbulence",
];

/// What a picture is, by its bytes.
#[derive(Debug, PartialEq, Eq)]
pub struct ReadPicture {
    /// Width and height in pixels, or in an SVG's own units.
    pub size: (u32, u32),
    /// The first thing in an SVG that is more than a drawing: it could act, or fetch something,
    /// when somebody opens the file by itself.
    pub more: Option<String>,
}

/// Reads a picture; none for a file that is none we know, or has no size.
pub fn read(bytes: &[u8]) -> Option<ReadPicture> {
    let (size, more) = match imagesize::blob_size(bytes) {
        Ok(size) => {
            let sides = (size.width.try_into().ok()?, size.height.try_into().ok()?);
            (sides, None)
        }
        Err(_) => {
            let document = drawing(std::str::from_utf8(bytes).ok()?)?;
            (
                drawn_size(document.root_element())?,
                more_than_drawn(&document),
            )
        }
    };
    (size.0 > 0 && size.1 > 0).then_some(ReadPicture { size, more })
}

fn more_than_drawn(document: &Document) -> Option<String> {
    document.descendants().find_map(|node| {
        if !node.is_element() {
            return is_style_sheet(node).then(|| "a style sheet of its own".to_string());
        }
        let name = node.tag_name();
        let drawn = match name.namespace() {
            Some(SVG) => DRAWN.contains(&name.name()),
            // a program's own notes draw nothing; a page's elements act
            other => other != Some(XHTML),
        };
        if !drawn {
            return Some(format!("<{}>", name.name()));
        }
        if let Some(acting) = node.attributes().find(acts) {
            return Some(acting.name().to_string());
        }
        let mut texts = node.descendants().filter_map(|inside| inside.text());
        let fetches = name.name() == "style" && texts.any(|css| reaches_out(css) || hides(css));
        fetches.then(|| "a style that fetches something".to_string())
    })
}

fn drawing(text: &str) -> Option<Document<'_>> {
    let options = ParsingOptions {
        allow_dtd: true,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options).ok()?;
    document
        .root_element()
        .has_tag_name((SVG, "svg"))
        .then_some(document)
}

fn is_style_sheet(node: Node) -> bool {
    node.pi().is_some_and(|one| one.target == "xml-stylesheet")
}

/// A handler, a way out of the file, or a style that takes one.
fn acts(attribute: &Attribute) -> bool {
    let (name, value) = (attribute.name(), attribute.value().trim());
    match name {
        "href" => {
            let picture = ["png", "jpeg", "gif", "webp"];
            let held = picture
                .iter()
                .any(|kind| value.starts_with(&format!("data:image/{kind};")));
            !(value.starts_with('#') || held)
        }
        // a program's own notes on an element name files, some with backslashes
        _ => {
            name.to_ascii_lowercase().starts_with("on")
                || reaches_out(value)
                || (attribute.namespace().is_none() && hides(value))
        }
    }
}

/// Whether a style has escapes, which can spell whatever is looked for.
fn hides(css: &str) -> bool {
    css.contains('\\')
}

/// Whether a style asks for anything outside the file.
fn reaches_out(css: &str) -> bool {
    let css = css.to_ascii_lowercase();
    let outside = |rest: &str| !rest.trim_start_matches([' ', '"', '\'']).starts_with(['#']);
    css.contains("@import") || css.contains("image-set(") || css.split("url(").skip(1).any(outside)
}

fn drawn_size(root: Node) -> Option<(u32, u32)> {
    let pixels = |text: &str| text.trim_end_matches("px").trim().parse::<f64>().ok();
    let given = root
        .attribute("width")
        .and_then(pixels)
        .zip(root.attribute("height").and_then(pixels));
    let boxed = || {
        let text = root.attribute("viewBox")?;
        let mut sides = text
            .split([' ', ',', '\n', '\t'])
            .filter(|side| !side.is_empty())
            .skip(2)
            .map(pixels);
        sides.next()?.zip(sides.next()?)
    };
    let (width, height) = given.or_else(boxed)?;
    Some((width.round() as u32, height.round() as u32))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(bytes: &[u8]) -> Option<(u32, u32)> {
        Some(read(bytes)?.size)
    }

    fn more(bytes: &[u8]) -> Option<String> {
        read(bytes)?.more
    }

    fn svg(inside: &str) -> Vec<u8> {
        format!("<svg xmlns='{SVG}' xmlns:s='{SVG}' xmlns:x='{XHTML}' xmlns:l='http://www.w3.org/1999/xlink' viewBox='0 0 4 3'>{inside}</svg>").into_bytes()
    }

    #[test]
    fn each_kind_of_picture_tells_its_size() {
        assert_eq!(
            size(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x01\0\0\0\0\x02"),
            Some((256, 2))
        );
        assert_eq!(size(b"GIF89a\x05\0\x06\0\0\0\0\0"), Some((5, 6)));
        assert_eq!(
            size(b"\xFF\xD8\xFF\xE0\0\x04ab\xFF\xC0\0\x08\x08\0\x07\0\x09"),
            Some((9, 7))
        );
        assert_eq!(size(&svg("")), Some((4, 3)));
        let sized = format!("<!DOCTYPE svg><svg xmlns='{SVG}' width='40px' height='30'/>");
        assert_eq!(size(sized.as_bytes()), Some((40, 30)));
        let in_the_box =
            format!("<svg xmlns='{SVG}' width='5mm' height='100%' viewBox='0,0,\n8 6'/>");
        assert_eq!(size(in_the_box.as_bytes()), Some((8, 6)));
    }

    #[test]
    fn cut_off_or_foreign_bytes_have_no_size() {
        let bare = b"<svg viewBox='0 0 4 3'/>";
        for bytes in [
            &b""[..],
            b"\x89PNG",
            b"GIF8",
            b"\xFF\xD8\xFF\xE0\xFF",
            b"RIFFxxxxWEBPVP8X",
            b"<svg",
            b"hello",
            bare,
        ] {
            assert_eq!(size(bytes), None, "{bytes:?}");
        }
    }

    #[test]
    fn a_drawing_that_acts_or_fetches_is_told_with_what() {
        for (inside, told) in [
            ("<script>x</script>", "<script>"),
            ("<s:script>x</s:script>", "<script>"),
            ("<g><a href='#b'/></g>", "<a>"),
            ("<animate attributeName='href' to='x'/>", "<animate>"),
            ("<foreignObject/>", "<foreignObject>"),
            ("<x:p/>", "<p>"),
            ("<rect ONLOAD='x'/>", "ONLOAD"),
            ("<image l:href='http://example.org/a.png'/>", "href"),
            ("<use href='data:image/svg+xml;base64,AA'/>", "href"),
            ("<rect style='fill:url(http://example.org/a)'/>", "style"),
            ("<rect fill='url(//example.org/a)'/>", "fill"),
            ("<rect fill='u\\72l(//example.org/a)'/>", "fill"),
            (
                "<rect style='fill: image-set(\"//example.org/a\" 1x)'/>",
                "style",
            ),
            (
                "<style>@\\69mport 'a.css'</style>",
                "a style that fetches something",
            ),
            (
                "<style>@import 'a.css'</style>",
                "a style that fetches something",
            ),
            (
                "<style>g { fill: url( a.svg#b) }</style>",
                "a style that fetches something",
            ),
        ] {
            assert_eq!(more(&svg(inside)).as_deref(), Some(told), "{inside}");
        }
        let sheet =
            format!("<?xml-stylesheet href='a.css'?><svg xmlns='{SVG}' width='4' height='3'/>");
        assert!(more(sheet.as_bytes()).is_some());
    }

    #[test]
    fn a_plain_drawing_is_nothing_more() {
        for inside in [
            "<text>on = one</text>",
            "<n:view xmlns:n='http://example.org/notes' n:size='2' n:file='C:\\a.svg'/>",
            "<rect fill='url(#a)' style='stroke: url( \"#b\" )'/><use l:href='#c'/>",
            "<image href='data:image/png;base64,AA'/><style>g { fill: red }</style>",
        ] {
            let told = more(&svg(inside));
            assert_eq!(told, None, "{inside}");
        }
        assert_eq!(more(b"GIF89a\x05\0\x06\0\0\0\0\0"), None);
    }
}
