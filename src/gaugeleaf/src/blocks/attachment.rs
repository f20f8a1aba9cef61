//! `attachment`: a file of the handbook that the page offers, with its title, type and size.

use gaugeleaf_calc::finding::settings::{Placed, SettingField, SettingType};
use gaugeleaf_calc::finding::{Code, Finding, nearest};
use serde::Serialize;

use crate::handbook::kind::BlockShape;
use crate::handbook::offered;
use crate::page::composed::Composed;
use crate::page::context::Context;
use crate::page::kind::{BlockKind, Fence};
use crate::page::node::{Block, Href};
use crate::page::route::Route;
use crate::page::sections::{Section, SectionKind};

const FIELDS: &[SettingField] = &[
    SettingField::new("file", SettingType::Text, "The file, relative to the page.")
        .needed("an attachment is a file of the handbook"),
    SettingField::new(
        "title",
        SettingType::Text,
        "What opens, as the page says it.",
    )
    .needed("a reader must know what opens"),
];

/// `attachment`: a file to open or to save.
pub struct AttachmentBlock;

impl BlockShape for AttachmentBlock {
    fn name(&self) -> &'static str {
        "attachment"
    }

    fn help(&self) -> &'static str {
        "A file to open or to take along."
    }

    fn fields(&self) -> &'static [SettingField] {
        FIELDS
    }

    fn address(&self, _name: &str) -> Option<String> {
        Some(self.name().to_string())
    }
}

impl BlockKind for AttachmentBlock {
    fn compose(&self, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
        let mut composed = Composed::of(());
        let id = composed.take(fence.alone(self.name(), context));
        let block = composed.take(attachment(&id, fence, context));
        composed.with(block)
    }
}

/// What `blocks/attachment.html` is given as `a`.
#[derive(Debug, Serialize)]
struct Attachment<'a> {
    title: &'a str,
    url: Href,
    /// Its path in the handbook, for paper.
    path: &'a str,
    kind: &'a str,
    size: String,
}

fn attachment(id: &str, fence: &Fence, context: &Context) -> Composed<Option<Block>> {
    let mut composed = fence.settings(context, |settings| {
        let file = settings.text("file");
        let title = settings.plain("title");
        Some((file, title))
    });
    let Some((file, title)) = composed.value.take() else {
        return composed.with(None);
    };
    let Some(file) = file else {
        return composed.with(None);
    };
    let found = composed.take(Composed::from(found(&file, context)));
    let Some((path, kind, bytes)) = found.filter(|_| !title.is_empty()) else {
        return composed.with(None);
    };
    composed.needs.files.insert(path.clone());
    let size = size(bytes);
    let section = Section {
        kind: SectionKind::Heading,
        id: id.to_string(),
        title: title.clone(),
        text: format!("{kind}, {size}"),
        ..Section::default()
    };
    let view = Attachment {
        title: &title,
        url: Route::file(&path).into(),
        path: path.strip_prefix("content/").unwrap_or(&path),
        kind: &kind,
        size,
    };
    composed.with(Some(Block {
        found: vec![section],
        ..Block::new("blocks/attachment.html", "a", &view).id(id)
    }))
}

/// The file's path, what people call such a file, and how many bytes it has.
fn found(file: &Placed<String>, context: &Context) -> Result<(String, String, usize), Finding> {
    let path = context.resolve(&file.value);
    let named = path.as_ref().and_then(|path| context.file_at(path));
    let kind = named.and_then(|(path, _)| offered::called(path));
    if let (Some((path, bytes)), Some(kind)) = (named, kind) {
        return Ok((path.clone(), kind, bytes.len()));
    }
    let name = file.value.rsplit('/').next().unwrap_or(&file.value);
    let offered = context
        .file_names()
        .filter(|path| offered::called(path).is_some());
    let help = match nearest(name, offered.filter_map(|path| path.rsplit('/').next())) {
        Some(near) => format!("the nearest file is {near}"),
        None => format!(
            "put the file in content/ and name it relative to this page; it may end in {}",
            offered::endings()
        ),
    };
    let message = format!("there is no file {} to offer", file.value);
    Err(context
        .error(Code::MissingFile, file.span.clone(), message)
        .help(help)
        .follows(path))
}

/// A number of bytes as people read it, in thousands, rounded up.
fn size(bytes: usize) -> String {
    let thousands = bytes.div_ceil(1000);
    if thousands < 1000 {
        return format!("{thousands}\u{A0}kB");
    }
    let tenths = bytes.div_ceil(100_000);
    format!("{}.{}\u{A0}MB", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use super::size;
    use crate::page::testing::printed_with;

    const FILES: [(&str, &[u8]); 2] = [
        ("content/fit/blank log.pdf", b"%PDF"),
        ("content/shared/sheet.ods", b"PK"),
    ];

    fn shown(body: &str) -> (String, Vec<(&'static str, String)>) {
        let text = format!("```attachment\n{body}```\n");
        let (html, findings) = printed_with(&text, &FILES);
        let at = |span: std::ops::Range<usize>| text[span].to_string();
        let found = findings
            .into_iter()
            .map(|one| (one.code.name(), at(one.span)));
        (html, found.collect())
    }

    #[test]
    fn a_file_beside_the_page_or_elsewhere_is_offered_with_title_type_and_size() {
        let (html, findings) = shown("file = \"blank log.pdf\"\ntitle = \"Log <blank>\"\n");
        assert_eq!(findings, []);
        for part in [
            "href=\"../fit/blank%20log.pdf\"",
            "Log &lt;blank&gt;",
            "PDF",
            "1\u{A0}kB",
            "id=\"attachment\"",
        ] {
            assert!(html.contains(part), "{part}: {html}");
        }
        let (html, _) = shown("file = \"../shared/sheet.ods\"\ntitle = \"Sheet\"\n");
        assert!(html.contains("href=\"../shared/sheet.ods\""), "{html}");
    }

    #[test]
    fn what_is_missing_or_no_file_to_offer_is_found_where_it_stands() {
        let (html, findings) = shown("file = \"blank-log.pdf\"\ntitle = \"Log\"\n");
        assert_eq!(html, "");
        let expected = ("missing-file", "\"blank-log.pdf\"".to_string());
        assert_eq!(findings, [expected]);
        let codes = |body: &str| -> Vec<&str> {
            let (_, findings) = shown(body);
            findings.into_iter().map(|(code, _)| code).collect()
        };
        assert_eq!(codes("title = \"Log\"\n"), ["missing-setting"]);
        assert_eq!(codes("file = \"blank log.pdf\"\n"), ["missing-setting"]);
        let away = "file = \"../../../log.pdf\"\ntitle = \"Log\"\n";
        assert_eq!(codes(away), ["missing-file"]);
    }

    #[test]
    fn a_size_is_rounded_up_to_what_people_read() {
        let read = |bytes| size(bytes).replace('\u{A0}', " ");
        let sizes = [
            0,
            1,
            999,
            1000,
            1001,
            999_000,
            999_001,
            1_250_000,
            16 * 1024 * 1024,
        ];
        let words = [
            "0 kB", "1 kB", "1 kB", "1 kB", "2 kB", "999 kB", "1.0 MB", "1.3 MB", "16.8 MB",
        ];
        assert_eq!(sizes.map(read), words.map(str::to_string));
    }
}
