//! `drybed resin`.

use crate::arguments::{NewResin, Reported, ResinCommand, Shown, Units};
use crate::outcome::{Failure, Outcome};
use crate::show::{self, mistakes, tell};
use crate::write::write_new;
use drybed::{Library, NewResinWords, ResinSearch};
use std::path::Path;

/// Answers a question about the library.
pub(crate) fn run(command: &ResinCommand) -> Result<Outcome, Failure> {
    match command {
        ResinCommand::List {
            word,
            family,
            shown,
            reported,
        } => show::with_library(reported, |library| {
            let search = ResinSearch {
                word: word.clone(),
                family: family.clone(),
            };
            let lines = drybed::find_resins(library, &search)?;
            let document = drybed::resin_table(&lines, shown.units.into());
            show::answer(&document, || drybed::json(&lines), shown, reported)?;
            Ok(Outcome::Met)
        }),
        ResinCommand::Show {
            name,
            shown,
            reported,
        } => show::with_library(reported, |library| {
            let answer = drybed::resin(name, library)?;
            let document = answer.document(shown.units.into());
            show::answer(&document, || answer.json(), shown, reported)?;
            Ok(Outcome::Met)
        }),
        ResinCommand::Compare {
            names,
            shown,
            reported,
        } => show::with_library(reported, |library| {
            let answer = drybed::compare(names, library)?;
            let document = answer.document(shown.units.into());
            show::answer(&document, || answer.json(), shown, reported)?;
            Ok(Outcome::Met)
        }),
        ResinCommand::New(asked) => {
            show::with_library(&asked.reported, |library| new(asked, library))
        }
        ResinCommand::Check {
            folder,
            json,
            report,
        } => check(folder, *json, report.as_deref()),
    }
}

/// Writes a new record, and shows what it comes to.
fn new(asked: &NewResin, library: &Library) -> Result<Outcome, Failure> {
    let words = NewResinWords {
        name: asked.name.clone(),
        like: asked.like.clone(),
        title: asked.title.clone(),
        sheet: asked.sheet.clone(),
        density: asked.density.clone(),
        bulk_density: asked.bulk_density.clone(),
        temperature: asked.temperature.clone(),
        time: asked.time.clone(),
        hold: asked.hold.clone(),
        dew_point: asked.dew_point.clone(),
        limit: asked.limit.clone(),
        limit_extrusion: asked.limit_extrusion.clone(),
        limit_fibre: asked.limit_fibre.clone(),
        lower_edge: asked.lower_edge.clone(),
        glass_transition: asked.glass_transition.clone(),
        melting: asked.melting.clone(),
        filler: asked.filler.clone(),
    };
    let answer = drybed::new_resin(&words, library)?;
    has_folder(&asked.into)?;
    let path = asked.into.join(format!("{}.toml", answer.key));
    write_new(&path, &answer.text)?;
    let document = answer.document(asked.shown.units.into());
    show::answer(&document, || answer.json(), &asked.shown, &asked.reported)?;
    tell(&format!("record: {}", path.display()));
    Ok(Outcome::Met)
}

/// Whether a folder is there to write into.
fn has_folder(folder: &Path) -> Result<(), Failure> {
    if folder.as_os_str().is_empty() || folder.is_dir() {
        return Ok(());
    }
    Err(Failure::Asked(drybed::no_folder(
        &folder.display().to_string(),
        folder.exists(),
    )))
}

/// Checks a folder: what can be used is data, what is wrong is talk.
fn check(folder: &Path, json: bool, report: Option<&Path>) -> Result<Outcome, Failure> {
    let answer = drybed::check_records(folder)?;
    let shown = Shown {
        units: Units::Metric,
        json,
    };
    let reported = Reported {
        report: report.map(Path::to_path_buf),
        verbose: false,
        resins: None,
        grades: None,
    };
    show::answer(&answer.document(), || answer.json(), &shown, &reported)?;
    if answer.is_sound() {
        return Ok(Outcome::Met);
    }
    tell(&answer.faults.to_string());
    tell(&format!("\n{}.", mistakes(answer.faults.len())));
    Ok(Outcome::Refused)
}
