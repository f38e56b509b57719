//! The page and the plain text of a document that holds every kind of part.
#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use document::{
    Balance, Block, Cell, Column, Document, DocumentFault, Extent, Figure, Grade, Note, Row,
    Section, State, Table, Value,
};
use figure::{Axis, Cross, Panel, Part, Point, Scale, Series, Tone, Weight};

const NASTY: &str = "<script>alert(1)</script> & \"quoted\" \u{1b}[2J\u{202e}";

fn curve() -> Figure {
    let points = vec![
        Point::new(0.0, 2000.0),
        Point::new(2.0, 400.0),
        Point::new(4.0, 90.0),
    ];
    let series = vec![
        Series::line("mean", points),
        Series::limit("limit 200 ppm", 200.0),
    ];
    let panel = Panel::new(Axis::log10("moisture", "ppm"), series);
    Figure::stacked("The limit is met", Axis::linear("time", "h"), vec![panel])
}

fn balance() -> Balance {
    let mut balance = Balance::new("Half of it leaves hot", "kW", Tone::Heat);
    balance.entering = vec![Part::new("heater", 4.0, Grade::Computed)];
    balance.leaving = vec![
        Part::new("exhaust", 2.0, Grade::Computed),
        Part::new("wall", 1.996, Grade::CommonPractice),
        Part::new(NASTY, 0.004, Grade::Computed),
    ];
    balance
}

fn table() -> Table {
    Table {
        caption: "At the outlet".into(),
        columns: vec![
            Column::new("what"),
            Column::with_unit("moisture", "ppm"),
            Column::new("state"),
        ],
        rows: vec![
            Row::new(vec![
                Cell::text("mean of a shot"),
                Cell::ranged(93.4, 51.0, 168.0, Grade::Computed),
                Cell::state(State::InWindow),
            ])
            .leaning_on(&[0]),
            Row::new(vec![
                Cell::text(NASTY),
                Cell::ranged(8.0, 2.0, 20.0, Grade::CommonPractice),
                Cell::Blank,
            ]),
        ],
    }
}

fn whole() -> Document {
    let mut document = Document::new("Is it dry?", "It leaves at 90 ppm (50 to 170).", table());
    document.state = Some(State::InWindow);
    document.picture = Some(curve());
    document.notes = vec![
        Note::source("a specimen of a source"),
        Note::doubt(NASTY),
        Note::caution("hot air burns"),
    ];
    document.sections = vec![Section {
        title: "More".into(),
        summary: "and more".into(),
        blocks: vec![
            Block::text(NASTY),
            Block::picture(curve()),
            Block::table(table()),
            Block::balance(balance()),
        ],
    }];
    document.imprint = vec!["Values in data are invented.".into()];
    document
}

/// Every tag that opens closes, in order; the tags without content are known.
fn balanced(html: &str) -> Result<(), String> {
    let mut open: Vec<&str> = Vec::new();
    for piece in html.split('<').skip(1) {
        let (tag, _) = piece.split_once('>').ok_or(piece)?;
        if tag.starts_with('!') || tag.ends_with('/') {
            continue;
        }
        let name = tag.split([' ', '\n']).next().unwrap_or(tag);
        if let Some(closing) = name.strip_prefix('/') {
            if open.pop() != Some(closing) {
                return Err(format!("</{closing}> closes nothing"));
            }
        } else if name != "meta" {
            open.push(name);
        }
    }
    if open.is_empty() {
        Ok(())
    } else {
        Err(open.join(" "))
    }
}

fn ids(html: &str) -> Vec<&str> {
    html.split(" id=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .collect()
}

#[test]
fn holds_the_page_stands_alone() {
    let page = whole().html().unwrap();
    assert_eq!(balanced(&page), Ok(()));
    assert!(page.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
    for outside in [
        "<script",
        "<link",
        "<img",
        "<iframe",
        "@import",
        "src=",
        "javascript:",
    ] {
        assert!(!page.contains(outside), "{outside}");
    }
    // The only addresses are the name of the SVG language and places on the page itself.
    let addresses = page.matches("http").count();
    let names =
        page.matches("http-equiv").count() + page.matches("http://www.w3.org/2000/svg").count();
    assert_eq!(addresses, names);
    assert!(page.contains("default-src 'none'"));
    assert!(
        page.split("href=\"")
            .skip(1)
            .all(|rest| rest.starts_with('#'))
    );
}

#[test]
fn holds_every_id_is_used_once() {
    let page = whole().html().unwrap();
    let all = ids(&page);
    let mut once = all.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(all.len(), once.len());
    for target in page
        .split("url(#")
        .skip(1)
        .filter_map(|rest| rest.split(')').next())
    {
        assert!(all.contains(&target), "{target}");
    }
}

#[test]
fn holds_the_four_parts_come_in_order() {
    let document = whole();
    for shown in [document.html().unwrap(), document.text().unwrap()] {
        let place = |words: &str| shown.find(words).unwrap_or_else(|| unreachable!("{words}"));
        let (question, answer) = (place("Is it dry?"), place("It leaves at"));
        let picture = shown[answer..].find("The limit is met").unwrap() + answer;
        let (table, caution) = (place("At the outlet"), place("hot air burns"));
        assert!(question < answer && answer < picture && picture < table && table < caution);
        assert!(caution < place("a specimen of a source"));
    }
}

#[test]
fn holds_nothing_in_the_data_is_run_or_steers_the_terminal() {
    let document = whole();
    let page = document.html().unwrap();
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert!(!page.contains("<script"));
    for text in [document.text().unwrap(), document.full_text().unwrap()] {
        assert!(!text.contains(['\u{1b}', '\u{202e}', '\r']));
    }
}

#[test]
fn holds_a_caption_stands_outside_the_box_that_scrolls() {
    let page = whole().html().unwrap();
    let tables = page.matches("<table").count();
    let captions = page.matches(
        "<p class=\"caption\">At the outlet</p>\n<div class=\"scroll\" role=\"region\" aria-label=\"At the outlet\"",
    );
    assert_eq!((tables, captions.count()), (2, 2));
    assert!(!page.contains("<caption"));
}

#[test]
fn holds_an_estimate_looks_like_one() {
    let document = whole();
    let page = document.html().unwrap();
    assert!(page.contains("<td class=\"number estimate\">≈\u{a0}8</td>"));
    assert!(page.contains("2\u{a0}to</span> 20, common practice"));
    let text = document.text().unwrap();
    assert!(text.contains("≈ 8  2 to 20, common practice"), "{text}");
}

#[test]
fn holds_a_state_is_a_word_and_a_shape() {
    let states = [
        (State::InWindow, "in window", '●'),
        (State::Wet, "wet", '▲'),
        (State::TooDry, "too dry", '▼'),
        (State::Cooked, "cooked", '◆'),
        (State::Unknown, "unknown", '○'),
    ];
    let mut signs = Vec::new();
    for (state, word, mark) in states {
        let mut document = whole();
        document.state = Some(state);
        let page = document.html().unwrap();
        let sign = page.split("<span class=\"state ").nth(1).unwrap();
        let sign = sign.split("</span></span>").next().unwrap().to_owned();
        assert!(sign.ends_with(word));
        signs.push(sign.split_once('>').unwrap().1.replace(word, ""));
        assert!(
            document
                .text()
                .unwrap()
                .contains(&format!("\n{mark} {word}\n"))
        );
    }
    signs.sort();
    signs.dedup();
    assert_eq!(signs.len(), 5, "each state has its own shape");
}

#[test]
fn holds_text_keeps_to_eighty_columns() {
    let mut document = whole();
    document.question = "long words ".repeat(40);
    document.table.columns[0].name = "a name that is rather long for the head of a column".into();
    document.table.rows[0].cells[0] = Cell::text("words ".repeat(30));
    for text in [document.text().unwrap(), document.full_text().unwrap()] {
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        assert!(text.ends_with('\n') && !text.ends_with("\n\n"));
    }
}

#[test]
fn exact_points_with_a_range_share_one_scale_with_their_limit() {
    let cross = |name: &str, (low, value, high): (f64, f64, f64), grade| {
        Series::Cross(Cross {
            name: name.into(),
            at: Point::new(1.0, value),
            along: Extent {
                low: 0.9,
                high: 1.1,
            },
            value: Extent { low, high },
            grade,
            tone: Tone::Water,
            weight: Weight::Plain,
        })
    };
    let series = vec![
        cross("wheel", (1.0, 10.0, 100.0), Grade::Computed),
        cross(
            "towers of a long name, twice",
            (10.0, 100.0, 1000.0),
            Grade::Assumed,
        ),
        Series::limit("limit 100 ppm", 100.0),
    ];
    let mut document = whole();
    document.picture = Some(Figure::stacked(
        "Two of them",
        Axis::linear("cost", "EUR"),
        vec![Panel::new(Axis::log10("moisture", "ppm"), series)],
    ));
    let text = document.text().unwrap();
    let expected = "\
  moisture / ppm (logarithmic)
  wheel                      10 ──────────●──────────┼           1 to 100
  ≈ towers of a long name,… 100           ╌╌╌╌╌╌╌╌╌╌╌●╌╌╌╌╌╌╌╌╌╌ 10 to 1000
                                                     │ limit 100 ppm
";
    assert!(text.contains(expected), "{text}");
}

#[test]
fn exact_a_balance_stands_as_bars_of_its_shares() {
    let text = whole().full_text().unwrap();
    let bars = |sign: char| text.matches(sign).count();
    assert!(
        text.contains("Half of it leaves hot\n  in / kW\n  heater"),
        "{text}"
    );
    // All, a half, and an estimate of a half; a part too small for a bar keeps its line.
    assert_eq!((bars('▒'), bars('▏')), (14, 1), "{text}");
    assert!(
        text.contains(&format!("    4 {}\n", "█".repeat(28))),
        "{text}"
    );
    assert!(
        text.contains(&format!("    2 {}\n", "█".repeat(14))),
        "{text}"
    );
    let mut document = whole();
    document.sections[0].blocks[3] = Block::balance(Balance::new("x", "kW", Tone::Heat));
    assert!(matches!(
        document.check().unwrap_err()[..],
        [DocumentFault::Picture { .. }]
    ));
}

#[test]
fn holds_notes_are_numbered_as_shown() {
    let document = whole();
    let page = document.html().unwrap();
    // The source is the third to be shown: caution, doubt, source.
    assert!(page.contains("mean of a shot<a class=\"ref\" href=\"#note-3\""));
    assert!(page.contains("id=\"note-3\"><span class=\"kind\">Source"));
    let text = document.text().unwrap();
    assert!(text.contains("mean of a shot [3]") && text.contains("[3] Source: a specimen"));
}

#[test]
fn holds_mistakes_are_named_with_their_place() {
    let faults = |change: fn(&mut Document)| {
        let mut document = whole();
        change(&mut document);
        let found = document.check().err().unwrap_or_default();
        assert_eq!(document.html().err().unwrap_or_default().len(), found.len());
        found
    };
    assert_eq!(faults(|_| {}), []);
    assert_eq!(faults(|d| d.question.clear()), [DocumentFault::NoQuestion]);
    assert_eq!(faults(|d| d.answer = " ".into()), [DocumentFault::NoAnswer]);
    assert_eq!(
        faults(|d| d.notes[1].text.clear()),
        [DocumentFault::EmptyNote { note: 2 }]
    );
    let short = faults(|d| d.table.rows[1].cells.truncate(2));
    assert!(matches!(
        short[..],
        [DocumentFault::RowLength {
            row: 2,
            cells: 2,
            columns: 3,
            ..
        }]
    ));
    let beyond = faults(|d| d.table.rows[0].notes = vec![3]);
    assert!(matches!(
        beyond[..],
        [DocumentFault::NoSuchNote {
            note: 3,
            notes: 3,
            ..
        }]
    ));
    assert_eq!(faults(|d| d.table.rows[0].notes = vec![2]), []);
    let value = |value, low, high| {
        Cell::Value(Value {
            value,
            range: Some(Extent { low, high }),
            digits: None,
            grade: Grade::Computed,
        })
    };
    let mut document = whole();
    document.table.rows[0].cells[1] = value(f64::NAN, 1.0, 2.0);
    document.table.rows[1].cells[1] = value(1.5, 2.0, 1.0);
    let found = document.check().unwrap_err();
    assert!(matches!(
        found[..],
        [
            DocumentFault::NotFinite { row: 1, .. },
            DocumentFault::RangeReversed { row: 2, .. }
        ]
    ));
    let drawn = faults(|d| d.picture.as_mut().unwrap().panels.clear());
    assert!(matches!(drawn[..], [DocumentFault::Picture { .. }]));
    let inside = faults(|d| match &mut d.sections[0].blocks[1] {
        Block::Picture { figure } => figure.shared.scale = Scale::Log10,
        other => unreachable!("{other:?}"),
    });
    assert!(
        matches!(&inside[..], [DocumentFault::Picture { place, .. }] if place == "section 1, block 2")
    );
}

#[test]
fn holds_a_document_survives_json() {
    let document = whole();
    let text = serde_json::to_string(&document).unwrap();
    assert_eq!(serde_json::from_str::<Document>(&text).unwrap(), document);
}

#[test]
fn pinned_the_text_has_not_moved() {
    let expected = "\
Is it dry?

● in window
It leaves at 90 ppm (50 to 170).

The limit is met
  moisture / ppm (logarithmic)
  mean                      2000 ███▇▇▇▇▇▇▆▆▆▆▆▅▅▅▅▅▄▄▄▄▄▄▃▃▃▃▃▃▂▂▂▂▂▂▁▁▁ 90
  - limit 200 ppm
                                 over time / h, 0 to 4
";
    let text = whole().text().unwrap();
    assert!(text.starts_with(expected), "{text}");
}
