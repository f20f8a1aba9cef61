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

/// What a document type may declare. A browser gives elements attributes by it that stand nowhere else;
/// a document type without any, as many programs write it, says nothing.
const DECLARATIONS: [&str; 4] = ["<!ATTLIST", "<!ENTITY", "<!ELEMENT", "<!NOTATION"];

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
    let text = document.input_text();
    if DECLARATIONS.iter().any(|one| text.contains(one)) {
        return Some("declarations of its own".to_string());
    }
    if let Some(other) = encoding(text) {
        return Some(format!("another encoding than UTF-8: {other}"));
    }
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

/// The encoding that a file says it has, where a browser would read other letters by it than we do.
fn encoding(text: &str) -> Option<&str> {
    let head = text.trim_start_matches('\u{feff}').strip_prefix("<?xml")?;
    let (_, said) = head.split_once("?>")?.0.split_once("encoding")?;
    let said = said.trim_start().strip_prefix('=')?.trim_start();
    let said = said.get(1..)?.split(['"', '\'']).next()?;
    let same = ["utf-8", "us-ascii"].map(|one| said.eq_ignore_ascii_case(one));
    (!same.contains(&true)).then_some(said)
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
        // it leads every address of the file elsewhere
        "base" => true,
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
mod tests;
