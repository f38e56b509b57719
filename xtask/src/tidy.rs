//! The rules of this house that the compiler does not know; each fault names its mend.

mod arrows;
mod bibliography;
mod components;
mod house;
mod pages;
mod ranges;
mod rooms;
mod rust_text;
mod source;
mod whole;
mod words;

use crate::fault::Fault;
use crate::trouble::Trouble;
use crate::workspace;
use house::House;

/// Prints every fault, then says how many rules hold.
pub(crate) fn tidy() -> Result<(), Trouble> {
    let root = workspace::root();
    let members = workspace::members(&root)?;
    let files = workspace::text_files(&root)?;
    let rust = rust_text::rust_files(&files);
    let house = House::kept()?;
    let walk = files.iter().find(|file| file.path == rooms::WALK);
    let rooms = walk
        .map(|file| rooms::rooms(&file.text))
        .unwrap_or_default();

    let rules: Vec<(&str, Vec<Fault>)> = vec![
        ("a row for each crate", rooms::faults(&members, &rooms)),
        ("arrows", arrows::faults(&members, &rooms, &files)),
        ("a sentence on top", source::without_opening(&rust)),
        ("size", source::too_long(&rust, &house)),
        ("test names", source::test_names(&rust, &house)),
        ("no Other(", source::other_variants(&rust)),
        ("no printing in libraries", source::printing(&rust)),
        (
            "same on every machine",
            source::platform_functions(&rust, &members, &house),
        ),
        ("ranges", ranges::faults(&rust)),
        (
            "components",
            components::faults(&files, &rust, &members, &house),
        ),
        ("bibliography", bibliography::faults(&files, &house)),
        ("links", pages::faults(&files)),
        ("words", words::faults(&files, &house)),
    ];

    let count = rules.iter().map(|(_, faults)| faults.len()).sum();
    for (rule, faults) in &rules {
        match faults.len() {
            0 => println!("    ok      {rule}"),
            1 => println!("    1 fault {rule}"),
            several => println!("    {several} faults {rule}"),
        }
    }
    for (_, faults) in &rules {
        for fault in faults {
            println!("{fault}");
        }
    }
    if count > 0 {
        Err(Trouble::Faults { count })
    } else {
        Ok(())
    }
}
