//! Who may use whom: only crates listed above, and only those the row names or what they use.

use super::rooms::{Room, WALK};
use crate::fault::Fault;
use crate::workspace::{Member, TextFile};

/// Every dependency that points the wrong way or that no row allows, and rows that point down.
pub(super) fn faults(members: &[Member], rooms: &[Room], files: &[TextFile]) -> Vec<Fault> {
    let place = |name: &str| members.iter().position(|member| member.name == name);
    let mut faults = Vec::new();
    for (member, own) in members.iter().zip(0..) {
        let allowed = reach(&member.name, rooms);
        for used in &member.uses {
            let manifest = member.manifest();
            let line = line_of(files, &manifest, used);
            if place(used).is_none_or(|at| at >= own) {
                faults.push(Fault::at(
                    &manifest,
                    line,
                    format!(
                        "`{}` uses `{used}`, which is not listed above it",
                        member.name
                    ),
                    "move what both need into a crate above both, or ask in a new direction; \
                     the order of `members` in the root Cargo.toml is the rule",
                ));
            } else if !allowed.contains(used) {
                faults.push(Fault::at(
                    &manifest,
                    line,
                    format!(
                        "`{}` uses `{used}`, which its row in {WALK} does not allow",
                        member.name
                    ),
                    format!("drop the dependency, or name `{used}` in the row and say why it may"),
                ));
            }
        }
    }
    for room in rooms {
        for used in &room.uses {
            if let Some((own, at)) = place(&room.name).zip(place(used))
                && at >= own
            {
                faults.push(Fault::at(
                    WALK,
                    room.line,
                    format!(
                        "the row of `{}` allows `{used}`, which is not above it",
                        room.name
                    ),
                    "an arrow points up; remove it from the row",
                ));
            }
        }
    }
    faults
}

/// What a crate may use: what its row names, what their rows name, and so on.
fn reach(name: &str, rooms: &[Room]) -> Vec<String> {
    let mut reached: Vec<String> = Vec::new();
    let mut ahead = vec![name.to_owned()];
    while let Some(here) = ahead.pop() {
        for used in rooms
            .iter()
            .filter(|room| room.name == here)
            .flat_map(|room| &room.uses)
        {
            if !reached.contains(used) {
                reached.push(used.clone());
                ahead.push(used.clone());
            }
        }
    }
    reached
}

fn line_of(files: &[TextFile], manifest: &str, used: &str) -> usize {
    let named = |line: &str| {
        line.trim_start()
            .strip_prefix(used)
            .is_some_and(|rest| rest.starts_with(['.', ' ', '=']))
    };
    files
        .iter()
        .filter(|file| file.path == manifest)
        .flat_map(|file| file.text.lines().zip(1..))
        .find(|(line, _)| named(line))
        .map_or(1, |(_, number)| number)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn member(name: &str, uses: &[&str]) -> Member {
        Member {
            name: name.to_owned(),
            folder: format!("crates/{name}"),
            uses: uses.iter().map(|&used| used.to_owned()).collect(),
            programs: Vec::new(),
        }
    }

    fn room(name: &str, uses: &[&str]) -> Room {
        let uses = uses.iter().map(|&used| used.to_owned()).collect();
        Room {
            name: name.to_owned(),
            uses,
            line: 1,
        }
    }

    fn rows() -> Vec<Room> {
        vec![
            room("air", &[]),
            room("resin", &["air"]),
            room("shelf", &[]),
            room("bed", &["resin"]),
        ]
    }

    #[test]
    fn holds_named_and_reached_crates_are_allowed() {
        let members = [
            member("air", &[]),
            member("resin", &["air"]),
            member("shelf", &[]),
            member("bed", &["resin", "air"]),
        ];
        assert_eq!(faults(&members, &rows(), &[]), []);
    }

    #[test]
    fn holds_an_arrow_that_points_down_is_found() {
        let members = [member("air", &["resin"]), member("resin", &[])];
        let manifest = "[package]\nname = \"air\"\n[dependencies]\nresin.workspace = true\n";
        let files = [TextFile {
            path: "crates/air/Cargo.toml".to_owned(),
            text: manifest.to_owned(),
        }];
        let found = faults(&members, &rows(), &files);
        assert_eq!(found.len(), 1);
        assert_eq!(
            (found[0].file.as_str(), found[0].line),
            ("crates/air/Cargo.toml", 4)
        );
    }

    #[test]
    fn holds_an_arrow_no_row_allows_is_found() {
        let members = [
            member("air", &[]),
            member("resin", &[]),
            member("shelf", &[]),
            member("bed", &["shelf"]),
        ];
        assert_eq!(faults(&members, &rows(), &[]).len(), 1);
    }

    #[test]
    fn holds_a_crate_does_not_use_itself() {
        assert_eq!(faults(&[member("air", &["air"])], &rows(), &[]).len(), 1);
    }

    #[test]
    fn holds_a_row_that_allows_what_is_below_is_found() {
        let rows = [room("air", &["resin"]), room("resin", &[])];
        let found = faults(&[member("air", &[]), member("resin", &[])], &rows, &[]);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].file, WALK);
    }
}
