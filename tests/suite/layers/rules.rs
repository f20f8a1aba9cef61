//! The code against the table.

use std::collections::BTreeMap;

use super::code::{Reference, To};
use super::rings::{Ring, rings};
use super::survey::Surveyed;
use super::table::{CrateRow, KnownRing, TABLE, Table};

/// Files in a ring that needs no leave: a type and its parser may know each other.
const SMALL: usize = 2;

/// Rows that nothing stands behind, and rooms and crates without a row.
#[must_use]
pub fn missing(table: &Table, crates: &[Surveyed]) -> Vec<String> {
    let mut faults = Vec::new();
    for surveyed in crates {
        let name = &surveyed.name;
        let Some(row) = table.row(name) else {
            faults.push(format!(
                "{TABLE}: the crate {name} has no row: give it one below all that it knows"
            ));
            continue;
        };
        if row.rooms.is_empty() {
            continue;
        }
        let rooms = surveyed.rooms();
        let unlisted = rooms.iter().filter(|room| row.room(room).is_none());
        faults.extend(unlisted.map(|room| {
            format!("{TABLE}: the room `{room}` of {name} has no row: give it one below all that it knows")
        }));
        let gone = row
            .rooms
            .iter()
            .filter(|room| !rooms.contains(room.name.as_str()));
        faults.extend(gone.map(|room| {
            format!(
                "{TABLE}: {name} has no room `{}`: delete its row",
                room.name
            )
        }));
    }
    let known = |name: &str| crates.iter().any(|surveyed| surveyed.name == name);
    let gone = table.crates.iter().filter(|row| !known(&row.name));
    faults.extend(gone.map(|row| {
        format!(
            "{TABLE}: the workspace has no crate {}: delete its row",
            row.name
        )
    }));
    faults
}

/// References that the table doesn't allow: of a file's to one room or crate, the first.
#[must_use]
pub fn forbidden(table: &Table, crates: &[Surveyed]) -> Vec<String> {
    let mut faults = Vec::new();
    for surveyed in crates {
        let Some(row) = table.row(&surveyed.name) else {
            continue;
        };
        let mut told = BTreeMap::<_, (String, usize)>::new();
        for reference in &surveyed.references {
            let (to, fault) = match &reference.to {
                To::File(file) => {
                    let to = &surveyed.files[*file].room;
                    (to, between_rooms(table, row, surveyed, reference, to))
                }
                To::Crate(to) => (to, outside(table, row, surveyed, reference, to)),
            };
            if let Some(fault) = fault {
                let known = told.entry((reference.from, to));
                known.or_insert((fault, 0)).1 += 1;
            }
        }
        faults.extend(told.into_values().map(|(fault, times)| match times {
            1 => fault,
            _ => format!("{fault} ({times} references in this file)"),
        }));
    }
    faults
}

fn between_rooms(
    table: &Table,
    row: &CrateRow,
    surveyed: &Surveyed,
    reference: &Reference,
    to: &str,
) -> Option<String> {
    let from = surveyed.room(reference);
    let known = row.room(from)?.knows.iter().any(|known| known == to);
    if from == to || known || table.exception(&row.name, from, to).is_some() {
        return None;
    }
    let advice = if row.place(to) < row.place(from) {
        format!(
            "if it should, add `{to}` to the row of `{from}` in {TABLE}; else move what needs it"
        )
    } else {
        format!(
            "`{to}` stands below: move what both need above `{from}`, or let `{to}` hand it over as an argument"
        )
    };
    let leads = leads(surveyed, reference);
    Some(format!(
        "{leads} the room `{to}`, which `{from}` doesn't know: {advice}"
    ))
}

fn outside(
    table: &Table,
    row: &CrateRow,
    surveyed: &Surveyed,
    reference: &Reference,
    to: &str,
) -> Option<String> {
    let leads = leads(surveyed, reference);
    let room = surveyed.room(reference);
    if table.row(to).is_some() {
        let (who, knows) = match row.room(room) {
            Some(known) => (room, &known.knows),
            None => (row.name.as_str(), &row.knows),
        };
        let known = knows.iter().any(|known| known == to);
        return (!known).then(|| {
            format!(
                "{leads} the crate {to}, which `{who}` doesn't know: if it should, add it to its row in {TABLE}; else move what needs it"
            )
        });
    }
    let only = table.only.get(to)?;
    let may = only.iter().any(|who| may_use(who, &row.name, room));
    (!may).then(|| {
        format!(
            "{leads} {to}, which {} alone may use: ask there, or widen [only] in {TABLE}",
            only.join(", ")
        )
    })
}

fn may_use(who: &str, within: &str, room: &str) -> bool {
    match who.split_once('/') {
        Some((name, only)) => name == within && only == room,
        None => who == within,
    }
}

/// Permissions, exceptions and rings of the table that nothing in the code asks for.
#[must_use]
pub fn unused(table: &Table, crates: &[Surveyed]) -> Vec<String> {
    let mut faults = Vec::new();
    for row in &table.crates {
        let Some(surveyed) = crates.iter().find(|one| one.name == row.name) else {
            continue;
        };
        let known = surveyed.knowledge();
        for to in &row.knows {
            if !known.keys().any(|(_, known)| known == to) {
                faults.push(dead(&row.name, to));
            }
        }
        for room in &row.rooms {
            let dead_ones = room
                .knows
                .iter()
                .filter(|to| !known.contains_key(&(room.name.as_str(), to.as_str())));
            faults.extend(dead_ones.map(|to| dead(&room.name, to)));
        }
        for exception in &table.exceptions {
            let (from, to) = &exception.rooms;
            if exception.within == row.name && !known.contains_key(&(from, to)) {
                faults.push(format!(
                    "{TABLE}: `{from}` of {} no longer knows `{to}`: delete the exception",
                    row.name
                ));
            }
        }
    }
    for (to, users) in &table.only {
        let idle = users.iter().filter(|who| !uses(crates, who, to));
        faults.extend(idle.map(|who| dead(who, to)));
    }
    faults
}

fn dead(from: &str, to: &str) -> String {
    format!("{TABLE}: `{from}` may know `{to}` and doesn't: take it from the row")
}

fn uses(crates: &[Surveyed], who: &str, to: &str) -> bool {
    crates.iter().any(|surveyed| {
        let known = surveyed.knowledge();
        known
            .keys()
            .any(|(room, known)| *known == to && may_use(who, &surveyed.name, room))
    })
}

/// Rings of more than two files that the table doesn't hold, and those it holds in vain.
#[must_use]
pub fn round(table: &Table, surveyed: &Surveyed) -> Vec<String> {
    let mut faults = Vec::new();
    let name = &surveyed.name;
    let mut held: Vec<&KnownRing> = table
        .rings
        .iter()
        .filter(|ring| ring.within == *name)
        .collect();
    for ring in rings(&surveyed.references) {
        if ring.files.len() <= SMALL {
            continue;
        }
        let files: Vec<&str> = ring
            .files
            .iter()
            .map(|file| surveyed.files[*file].path.as_str())
            .collect();
        let before = held.len();
        held.retain(|known| {
            !files
                .iter()
                .all(|file| known.files.iter().any(|known| known == file))
        });
        if held.len() == before {
            faults.push(told(surveyed, &ring, &files));
        }
    }
    faults.extend(held.iter().map(|ring| {
        format!(
            "{TABLE}: the ring of {} is open: delete it",
            ring.files.join(", ")
        )
    }));
    faults
}

fn told(surveyed: &Surveyed, ring: &Ring, files: &[&str]) -> String {
    let back = ring.back.iter().filter_map(|edge| {
        let reference = ring.edges.get(edge)?.first()?;
        let to = &surveyed.files[edge.1].path;
        Some(format!("  {} {to}", leads(surveyed, reference)))
    });
    format!(
        "{}: {} files know each other in a ring: {}\nwithout these it is open, so move what they need to a file that needs none of them:\n{}",
        surveyed.name,
        files.len(),
        files.join(", "),
        back.collect::<Vec<_>>().join("\n")
    )
}

/// Where a reference stands and what it says: the beginning of a sentence.
fn leads(surveyed: &Surveyed, reference: &Reference) -> String {
    let file = &surveyed.files[reference.from].path;
    format!("{file}:{}: `{}` leads to", reference.line, reference.name)
}
