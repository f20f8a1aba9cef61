//! Files that a page may offer to its reader.

use crate::language::tell;

/// An ending, and what says what people call such a file.
type OfferedKind = (&'static str, fn() -> String);

/// Those that there are. None of them runs in a browser.
const KINDS: [OfferedKind; 9] = [
    ("csv", tell::csv_table),
    ("docx", tell::docx_document),
    ("dxf", tell::dxf_drawing),
    ("ods", tell::ods_spreadsheet),
    ("odt", tell::odt_document),
    ("pdf", tell::pdf),
    ("txt", tell::plain_text),
    ("xlsx", tell::xlsx_spreadsheet),
    ("zip", tell::zip_archive),
];

/// What people call a file that may be offered; none for any other.
pub fn called(path: &str) -> Option<String> {
    let (_, ending) = path.rsplit_once('.')?;
    let ending = ending.to_ascii_lowercase();
    let kind = KINDS.iter().find(|(known, _)| *known == ending);
    kind.map(|(_, words)| words())
}

/// The endings, for a finding.
pub fn endings() -> String {
    KINDS.map(|(ending, _)| format!(".{ending}")).join(", ")
}
