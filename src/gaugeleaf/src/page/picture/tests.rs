//! Which pictures are drawings and nothing more.

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
    let in_the_box = format!("<svg xmlns='{SVG}' width='5mm' height='100%' viewBox='0,0,\n8 6'/>");
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
    let sheet = format!("<?xml-stylesheet href='a.css'?><svg xmlns='{SVG}' width='4' height='3'/>");
    assert!(more(sheet.as_bytes()).is_some());
}

/// A whole file: what stands before its drawing, and what in it.
fn file(head: &str, inside: &str) -> String {
    let drawing = String::from_utf8(svg(inside));
    format!("{head}{}", drawing.unwrap_or_default())
}

// Most of these once passed a list of bad words, and ran or asked another host where the file was opened
// by itself.

#[test]
fn a_file_opened_by_itself_does_not_act() {
    let declared = "declarations of its own";
    let entity = "<!DOCTYPE svg [<!ENTITY run \"<script>alert(1)</script>\">]>";
    let attribute = "<!DOCTYPE svg [<!ATTLIST svg onload CDATA 'alert(1)'>]>";
    let prefixed = format!(
        "<svg:svg xmlns:svg='{SVG}' viewBox='0 0 4 3'><svg:script>alert(1)</svg:script></svg:svg>"
    );
    let link = "<a href='java&#115;cript:alert(1)'><text>x</text></a>";
    let set = "<g><set attributeName='href' to='javascript:alert(1)'/></g>";
    for (text, told) in [
        (prefixed, "<script>"),
        (file("", "<s:script>alert(1)</s:script>"), "<script>"),
        (file("", link), "<a>"),
        (file(entity, "&run;"), declared),
        (file("", set), "<set>"),
        (file("", "<rect onload = 'alert(1)'/>"), "onload"),
        (file(attribute, ""), declared),
        // a browser reads other letters by it than we do
        (
            file("<?xml version='1.0' encoding = 'GBK'?>", ""),
            "another encoding than UTF-8: GBK",
        ),
    ] {
        assert_eq!(more(text.as_bytes()).as_deref(), Some(told), "{text}");
    }
    let doctype = "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\n";
    let plain = read(file(doctype, "").as_bytes());
    assert_eq!(plain.map(|one| one.more), Some(None));
}

#[test]
fn a_file_opened_by_itself_asks_no_other_host() {
    let style = "<style>@import url(http://example.org/a.css);</style>";
    for (inside, told) in [
        ("<image href='http://example.org/a.png'/>", "href"),
        (style, "a style that fetches something"),
        (
            "<use xml:base='http://example.org/a.svg' href='#a'/>",
            "base",
        ),
    ] {
        let text = file("", inside);
        assert_eq!(more(text.as_bytes()).as_deref(), Some(told), "{text}");
    }
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
