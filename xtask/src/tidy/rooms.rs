//! The rows of ARCHITECTURE.md: one for each crate, in the order of the root manifest.

use crate::fault::Fault;
use crate::workspace::Member;

/// The page that holds the rows.
pub(super) const WALK: &str = "ARCHITECTURE.md";

/// One row: a crate and what it says it uses.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Room {
    pub(super) name: String,
    pub(super) uses: Vec<String>,
    pub(super) line: usize,
}

/// Every row of the tables whose columns are headed `crate` and `uses`.
pub(super) fn rooms(page: &str) -> Vec<Room> {
    let mut rooms = Vec::new();
    let mut columns: Option<(usize, usize)> = None;
    for (text, line) in page.lines().zip(1..) {
        let Some(cells) = cells(text) else {
            columns = None;
            continue;
        };
        let Some((name_at, uses_at)) = columns else {
            let at = |heading: &str| cells.iter().position(|cell| *cell == heading);
            columns = at("crate").zip(at("uses"));
            continue;
        };
        let named = cells
            .get(name_at)
            .map(|cell| in_backticks(cell))
            .unwrap_or_default();
        if let Some(name) = named.first() {
            let uses = cells
                .get(uses_at)
                .map(|cell| in_backticks(cell))
                .unwrap_or_default();
            rooms.push(Room {
                name: name.clone(),
                uses,
                line,
            });
        }
    }
    rooms
}

fn cells(text: &str) -> Option<Vec<&str>> {
    let inner = text.trim().strip_prefix('|')?;
    Some(
        inner
            .trim_end_matches('|')
            .split('|')
            .map(str::trim)
            .collect(),
    )
}

fn in_backticks(cell: &str) -> Vec<String> {
    cell.split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

/// A crate without a row, a row without a crate, and rows out of order.
pub(super) fn faults(members: &[Member], rooms: &[Room]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for member in members {
        if !rooms.iter().any(|room| room.name == member.name) {
            faults.push(Fault::at(
                WALK,
                1,
                format!("the crate `{}` has no row", member.name),
                "say in one row what it is, which crates it uses and what it knows nothing of",
            ));
        }
        let folder = member.folder.strip_prefix("crates/");
        if folder.is_some_and(|folder| folder != member.name) {
            faults.push(Fault::at(
                &member.manifest(),
                1,
                format!("the crate `{}` lives in {}", member.name, member.folder),
                "a crate under crates/ bears the name of its folder; rename one of them",
            ));
        }
    }
    let place = |room: &Room| members.iter().position(|member| member.name == room.name);
    for (room, next) in rooms.iter().zip(rooms.iter().skip(1)) {
        if place(room) > place(next) && place(next).is_some() {
            faults.push(Fault::at(
                WALK,
                next.line,
                format!(
                    "the row of `{}` stands below that of `{}`",
                    next.name, room.name
                ),
                "the rows follow the order of `members` in the root Cargo.toml; move one",
            ));
        }
    }
    for room in rooms {
        if place(room).is_none() {
            faults.push(Fault::at(
                WALK,
                room.line,
                format!("there is no crate `{}`", room.name),
                "remove the row, or list the crate in `members` of the root Cargo.toml",
            ));
        }
        for used in &room.uses {
            if !members.iter().any(|member| member.name == *used) {
                faults.push(Fault::at(
                    WALK,
                    room.line,
                    format!(
                        "the row of `{}` names `{used}`, which is no crate",
                        room.name
                    ),
                    "name crates of the workspace only",
                ));
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    fn member(name: &str) -> Member {
        let folder = format!("crates/{name}");
        Member {
            name: name.to_owned(),
            folder,
            uses: Vec::new(),
            programs: Vec::new(),
        }
    }

    const PAGE: &str = "\
| file | uses |
| --- | --- |
| `no` | `row` |

| crate | what it is | uses |
| --- | --- | --- |
| `one` | first | nothing |
| `two` | second | `one` |
";

    #[test]
    fn holds_rows_are_read_with_their_arrows() {
        let rooms = rooms(PAGE);
        assert_eq!(rooms.len(), 2);
        assert_eq!((rooms[1].name.as_str(), rooms[1].line), ("two", 8));
        assert!(rooms[0].uses.is_empty());
        assert_eq!(rooms[1].uses, ["one"]);
    }

    #[test]
    fn holds_each_crate_has_a_row_and_back() {
        let rooms = rooms(PAGE);
        assert_eq!(faults(&[member("one"), member("two")], &rooms), []);
        assert_eq!(
            faults(&[member("one"), member("two"), member("three")], &rooms).len(),
            1
        );
        assert_eq!(faults(&[member("one")], &rooms).len(), 1);
        assert_eq!(faults(&[member("two")], &rooms).len(), 2);
    }

    #[test]
    fn holds_rows_out_of_order_are_found() {
        let found = faults(&[member("two"), member("one")], &rooms(PAGE));
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].line, 8);
    }

    #[test]
    fn holds_folder_and_name_agree() {
        let mut one = member("one");
        one.folder = "crates/uno".to_owned();
        assert_eq!(faults(&[one, member("two")], &rooms(PAGE)).len(), 1);
    }
}
