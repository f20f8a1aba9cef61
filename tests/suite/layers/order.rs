//! The table by itself: it can hold no circle, and nothing twice.

use super::table::{CrateRow, TABLE, Table};

/// What is wrong with the table, whatever the code says.
#[must_use]
pub fn faults(table: &Table) -> Vec<String> {
    let mut faults = Vec::new();
    let crates: Vec<&str> = table.crates.iter().map(|row| row.name.as_str()).collect();
    for (at, row) in table.crates.iter().enumerate() {
        faults.extend(twice(&crates, at));
        faults.extend(downward(&row.name, &row.knows, &crates[..at]));
        faults.extend(rooms(row));
    }
    for exception in &table.exceptions {
        let (from, to) = &exception.rooms;
        let row = table.row(&exception.within);
        let place = |room: &String| row.and_then(|row| row.place(room));
        match (place(from), place(to)) {
            (Some(from), Some(to)) if from < to => {}
            (Some(_), Some(_)) => faults.push(format!(
                "{TABLE}: `{from}` stands below `{to}`, so it needs no exception: list `{to}` in its `knows`"
            )),
            _ => faults.push(format!(
                "{TABLE}: an exception names `{from}` and `{to}` of {}, and not both are there: delete it or spell it as the row does",
                exception.within
            )),
        }
    }
    faults
}

fn rooms(row: &CrateRow) -> Vec<String> {
    let rooms: Vec<&str> = row.rooms.iter().map(|room| room.name.as_str()).collect();
    let mut faults = Vec::new();
    for (at, room) in row.rooms.iter().enumerate() {
        faults.extend(twice(&rooms, at));
        // what the crate may know, any of its rooms may ask for
        let mut above = rooms[..at].to_vec();
        above.extend(row.knows.iter().map(String::as_str));
        faults.extend(downward(&room.name, &room.knows, &above));
    }
    faults
}

fn twice(names: &[&str], at: usize) -> Option<String> {
    let name = names[at];
    names[..at]
        .contains(&name)
        .then(|| format!("{TABLE}: `{name}` has two rows: make one of them"))
}

fn downward(name: &str, knows: &[String], above: &[&str]) -> Vec<String> {
    let below = knows
        .iter()
        .filter(|known| !above.contains(&known.as_str()));
    below
        .map(|known| {
            format!(
                "{TABLE}: `{name}` lists `{known}`, which doesn't stand above it: move what both need to a row above, or turn the dependency round"
            )
        })
        .collect()
}
