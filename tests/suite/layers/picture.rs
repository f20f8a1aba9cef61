//! The table drawn: a row a room, and a mark for each room that it knows.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use super::table::{CrateRow, Table};

/// The file that holds the picture, from the workspace's root.
pub const GUIDE: &str = "tests/README.md";
const BEGIN: &str = "<!-- layers -->\n";
const END: &str = "<!-- end of layers -->";

/// A line of a triangle.
struct Line<'a> {
    name: &'a str,
    what: String,
    knows: Vec<&'a str>,
    /// Known though it stands below.
    below: Vec<&'a str>,
}

/// All triangles, as Markdown: the crates, then the rooms of each.
#[must_use]
pub fn draw(table: &Table) -> String {
    let crates = table.crates.iter().map(|row| Line {
        name: &row.name,
        what: row.what.clone(),
        knows: row.knows.iter().map(String::as_str).collect(),
        below: Vec::new(),
    });
    let mut text = format!(
        "```text\ncrates\n{}```\n",
        triangle(&crates.collect::<Vec<_>>())
    );
    for row in table.crates.iter().filter(|row| !row.rooms.is_empty()) {
        let lines = rooms(table, row);
        let _ = write!(text, "\n```text\n{}\n{}```\n", row.name, triangle(&lines));
    }
    text
}

fn rooms<'a>(table: &'a Table, row: &'a CrateRow) -> Vec<Line<'a>> {
    let lines = row.rooms.iter().map(|room| {
        let crates = room.knows.iter().filter(|known| row.knows.contains(known));
        let crates: Vec<&str> = crates.map(String::as_str).collect();
        let mut what = room.what.clone();
        // a crate with one other to know says it in its own row
        if row.knows.len() > 1 && !crates.is_empty() {
            let _ = write!(what, " ({})", crates.join(", "));
        }
        let below = table.exceptions.iter().filter_map(|exception| {
            let (from, to) = &exception.rooms;
            (exception.within == row.name && *from == room.name).then_some(to.as_str())
        });
        Line {
            name: &room.name,
            what,
            knows: room.knows.iter().map(String::as_str).collect(),
            below: below.collect(),
        }
    });
    lines.collect()
}

/// Numbered rows and columns: `x` for what a row knows, `!` for what it shouldn't, and nothing
/// else right of the diagonal.
fn triangle(lines: &[Line]) -> String {
    let width = lines.iter().map(|line| line.name.len()).max().unwrap_or(0);
    let mut text = format!("{:3}{:width$} ", "", "");
    for column in 1..=lines.len() {
        let _ = write!(text, "{column:3}");
    }
    text.push('\n');
    for (row, line) in lines.iter().enumerate() {
        let _ = write!(text, "{:2} {:width$} ", row + 1, line.name);
        for (column, other) in lines.iter().enumerate() {
            let mark = if row == column {
                '\\'
            } else if line.below.contains(&other.name) {
                '!'
            } else if line.knows.contains(&other.name) {
                'x'
            } else if column < row {
                '.'
            } else {
                ' '
            };
            let _ = write!(text, "{mark:>3}");
        }
        let _ = writeln!(text, "  {}", line.what);
    }
    text
}

/// A guide with the picture put between its marks; `None` when they are missing.
#[must_use]
pub fn placed(guide: &str, picture: &str) -> Option<String> {
    let (before, rest) = guide.split_once(BEGIN)?;
    let (_, after) = rest.split_once(END)?;
    Some(format!("{before}{BEGIN}{picture}{END}{after}"))
}

/// Draws the table anew into the guide of the workspace at a root.
///
/// # Errors
/// When the guide can't be read or written, or lacks the marks.
pub fn redraw(root: &Path) -> Result<(), String> {
    let path = root.join(GUIDE);
    let guide = fs::read_to_string(&path).map_err(|fault| format!("{GUIDE}: {fault}"))?;
    let drawn = placed(&guide, &draw(&Table::load(root)))
        .ok_or_else(|| format!("{GUIDE} lacks `{}` and `{END}`", BEGIN.trim()))?;
    fs::write(&path, drawn).map_err(|fault| format!("{GUIDE}: {fault}"))
}
