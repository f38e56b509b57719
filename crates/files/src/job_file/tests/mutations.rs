//! No text makes the reader stop, take long, or let a number through that is none.

use super::*;
use crate::mutations::Mutations;
use std::time::{Duration, Instant};

#[test]
fn holds_a_mutated_job_is_read_or_told_and_never_stops_the_reader() {
    let originals = [
        LONG,
        include_str!("../../../../../demo/benchmark.toml"),
        include_str!("../../../../../demo/pa66-housings.toml"),
        include_str!("../../../../../demo/pla-open-bag.toml"),
    ];
    let (read_whole, refused) = Mutations::of("job.toml", &originals).run(4000, |text| {
        let job = read(text)?;
        Ok(format!("{job:?}"))
    });
    // Both ends are met: mutations that matter and mutations that do not.
    assert!(read_whole > 100 && refused > 1000, "{read_whole} {refused}");
}

#[test]
fn holds_no_large_file_takes_long() {
    let n = LONGEST;
    let cases = [
        "x\n".repeat(n / 2),
        "x\n".repeat(MOST_LINES),
        "a = 1\n".repeat(MOST_LINES),
        format!("a = {}", "[".repeat(n - 8)),
        format!("{}a = 1", "a.".repeat(n / 2 - 8)),
        format!("[{}a]", "a.".repeat(n / 2 - 8)),
        format!("{SOUND}title = \"{}\"", "a".repeat(n - 200)),
        format!("format = {}", "1".repeat(n - 20)),
        "\u{0}".repeat(n),
        "\"".repeat(n),
        "x".repeat(40 << 20),
    ];
    for text in cases {
        let start = Instant::now();
        let faults = told(&text);
        assert!(!faults.is_empty());
        assert!(
            start.elapsed() < Duration::from_secs(20),
            "{:?} for {:?} ...",
            start.elapsed(),
            text.chars().take(20).collect::<String>()
        );
    }
}

#[test]
fn holds_a_file_too_long_for_a_job_is_told_so() {
    let comment = "#".repeat(200);
    let fits = format!("{SOUND}{}", format!("{comment}\n").repeat(200));
    assert!(read(&fits).is_ok());
    let longer = format!("{SOUND}{}", format!("{comment}\n").repeat(400));
    let faults = told(&longer);
    assert_eq!(faults[0].kind, FaultKind::Unreadable);
    assert!(
        faults[0].cause.contains("bytes in 405 lines"),
        "{}",
        faults[0]
    );
    let lines = SOUND.lines().count();
    let most = format!("{SOUND}{}", "\n".repeat(MOST_LINES - lines));
    assert!(read(&most).is_ok());
    assert_eq!(told(&format!("{most}\n")).len(), 1);
}

#[test]
fn holds_files_that_cannot_be_read_are_told() {
    let folder = std::env::temp_dir().join(format!("drybed-job-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("press.toml");
    let of = |bytes: &[u8]| {
        std::fs::write(&path, bytes).unwrap();
        open_job(&path, &LIBRARY)
    };
    let good = of(LONG.as_bytes());
    let untitled = of(SOUND.as_bytes());
    let binary = of(&[0x89, 0x50, 0x4e, 0x47, 0x0a, 0xff, 0x00]);
    let archive = of(b"PK\x03\x04\x14\x00\x00\x00");
    let empty = of(b"");
    let absent = open_job(&folder.join("pres.toml"), &LIBRARY);
    let a_folder = open_job(&folder, &LIBRARY);
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(good.unwrap().title, "PC lenses, press 4");
    assert_eq!(untitled.unwrap().title, "press");
    let only = |read: Result<Job, Faults>| {
        let faults = read.unwrap_err();
        assert_eq!(faults.len(), 1, "{faults}");
        assert_eq!(faults.0[0].kind, FaultKind::Unreadable, "{faults}");
        faults.0[0].clone()
    };
    assert_eq!(only(binary).cause, "the file is not UTF-8 text");
    assert!(
        only(archive)
            .cause
            .starts_with("this is not a line of TOML")
    );
    assert_eq!(only(absent).mend, "did you mean press.toml?");
    assert_eq!(
        only(a_folder).cause,
        "this is a folder, and a file is wanted"
    );
    let missing: Vec<String> = empty
        .unwrap_err()
        .iter()
        .map(|fault| fault.place.path.clone())
        .collect();
    assert_eq!(missing, ["demand", "format", "resin"]);
}
