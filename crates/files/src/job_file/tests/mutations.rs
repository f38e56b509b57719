//! No text makes the reader stop, take long, or let a number through that is none.

use super::*;
use std::time::{Duration, Instant};

/// What a slip of the hand, of a program or of a disk puts into a file.
const PIECES: &[&str] = &[
    "nan",
    "inf",
    "-inf",
    "1e999",
    "-1",
    "0",
    "1e-320",
    "\"",
    "'''",
    "\"\"\"",
    "\n",
    "[",
    "]",
    "{",
    "}",
    "[[",
    "=",
    ",",
    ".",
    "#",
    "\u{0}",
    "\r",
    "\t",
    "µ",
    "°",
    "\u{2212}",
    "\u{feff}",
    "🧪",
    " wet",
    " dry",
    " degC",
    " degF",
    " frost",
    " dew",
    " bar",
    "(g)",
    "(a)",
    " at ",
    " %",
    " kg/h",
    "[air]",
    "[model.heat]",
    "[resin.isotherm]",
    "form = \"gab\"\n",
    "inline = true\n",
    "like = \"PA66\"\n",
    "volume = \"1 l\"\n",
    "true",
    "{ value = ",
    "spread = \"± 1\"",
];

/// A fixed sequence of picks, so that a failure is met again.
struct Picks(u64);

impl Picks {
    fn below(&mut self, end: usize) -> usize {
        // Knuth's MMIX multiplier and increment.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let high = usize::try_from(self.0 >> 33).unwrap();
        high % end.max(1)
    }

    fn place(&mut self, text: &str) -> usize {
        let mut at = self.below(text.len() + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    }
}

fn mutate(text: &mut String, picks: &mut Picks) {
    let at = picks.place(text);
    match picks.below(7) {
        0 => text.insert_str(at, PIECES[picks.below(PIECES.len())]),
        1 => {
            let end = picks.place(text);
            let (from, to) = (at.min(end), at.max(end).min(at.min(end) + 12));
            if text.is_char_boundary(to) {
                text.replace_range(from..to, PIECES[picks.below(PIECES.len())]);
            }
        }
        2 => text.truncate(at),
        3 => {
            let mut lines: Vec<&str> = text.lines().collect();
            let count = lines.len();
            if count > 1 {
                lines.swap(picks.below(count), picks.below(count));
            }
            *text = lines.join("\n");
        }
        4 => {
            let lines: Vec<&str> = text.lines().collect();
            let line = lines.get(picks.below(lines.len())).copied();
            let line = line.unwrap_or_default().to_owned();
            text.push('\n');
            text.push_str(&line);
        }
        5 => {
            let mut lines: Vec<&str> = text.lines().collect();
            if !lines.is_empty() {
                lines.remove(picks.below(lines.len()));
            }
            *text = lines.join("\n");
        }
        _ => {
            let digits: Vec<usize> = text
                .char_indices()
                .filter(|(_, letter)| letter.is_ascii_digit())
                .map(|(at, _)| at)
                .collect();
            if let Some(&at) = digits.get(picks.below(digits.len())) {
                let with = ["", "9", "0", "-", "e9", ".", "99999", ","];
                text.replace_range(at..=at, with[picks.below(with.len())]);
            }
        }
    }
}

#[test]
fn holds_a_mutated_job_is_read_or_told_and_never_stops_the_reader() {
    let originals = [
        LONG,
        include_str!("../../../../../demo/benchmark.toml"),
        include_str!("../../../../../demo/pa66-housings.toml"),
        include_str!("../../../../../demo/pla-open-bag.toml"),
    ];
    let mut picks = Picks(20_240_229);
    let (mut read_whole, mut refused) = (0, 0);
    for round in 0..4000 {
        let mut text = originals[round % originals.len()].to_owned();
        for _ in 0..=picks.below(4) {
            mutate(&mut text, &mut picks);
        }
        match read(&text) {
            Ok(job) => {
                read_whole += 1;
                // A number that is none would be written as such.
                let numbers = Job {
                    resin: sound(SOUND).resin,
                    title: String::new(),
                    ..job
                };
                let shown = format!("{numbers:?}");
                assert!(!shown.contains("NaN") && !shown.contains("inf"), "{text}");
            }
            Err(faults) => {
                refused += 1;
                assert!(!faults.is_empty(), "{text}");
                for fault in &faults {
                    assert!(!fault.cause.is_empty() && !fault.mend.is_empty(), "{fault}");
                    assert_eq!(fault.place.file, "job.toml", "{fault}\n{text}");
                }
            }
        }
    }
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
