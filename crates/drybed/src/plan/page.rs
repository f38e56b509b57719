//! The plan as a document, in the order of the house: question, answer, picture, table, details.

use super::outlet::Leaning;
use super::{
    PlanAnswer, arrived, cautions, data_sheet, details, evidence, harm, ledgers, lot, outlet,
    rates, refused, sentence, settings, surface, way,
};
use crate::pictures;
use crate::speech::{Speech, counted, localised};
use document::{Block, Document, Note, Section};
use job::Process;
use quantity::Units;

impl PlanAnswer {
    /// The plan as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        if self.plan.verdict.is_refused() {
            return refused::document(self, speech);
        }
        let mut notes = cautions::notes(self, speech);
        notes.extend(doubts(self, units));
        notes.extend(data_sheet::note(self, speech));
        let leaning = sources(self, &mut notes);
        let mut document = Document::new(
            sentence::question(self, speech),
            sentence::answer(self, speech),
            outlet::table(self, leaning),
        );
        document.state = sentence::state(self.plan.verdict);
        document.picture = Some(pictures::journey(self, speech));
        document.notes = notes;
        document.sections = sections(self, speech);
        document.imprint = imprint();
        document
    }
}

/// The details, in the order in which one goes on asking.
fn sections(answer: &PlanAnswer, speech: Speech) -> Vec<Section> {
    let mut all = vec![
        settings::section(answer, speech),
        outlet::how_sure(answer),
        details::limits(answer),
        details::bed(answer, speech),
    ];
    all.splice(1..1, lot::section(answer));
    all.extend(details::front(answer, speech));
    all.splice(1..1, data_sheet::section(answer, speech));
    all.extend(details::inside(answer, speech));
    all.extend(details::map(answer, speech));
    all.extend(details::dew_point(answer, speech));
    all.extend(way::section(answer, speech));
    all.extend(arrived::sections(answer, speech));
    all.push(details::time(answer, speech));
    all.extend(harm::section(answer));
    all.extend(rates::rates(answer, speech));
    all.push(details::start(answer, speech));
    all.push(details::energy(answer, speech));
    all.push(evidence_section(answer, speech.0));
    all.push(cautions::section(answer, speech));
    all.push(ledgers::coefficients(answer, speech));
    all.push(ledgers::ledgers(answer, speech));
    all
}

/// What the answer leans on that is not known well.
fn doubts(answer: &PlanAnswer, units: Units) -> Vec<Note> {
    let estimates = answer.evidence.iter().filter(|row| row.estimate).count();
    let mut notes = Vec::new();
    if estimates > 0 {
        notes.push(Note::doubt(format!(
            "{estimates} of the {} numbers of the resin are estimates, carried over from something \
             similar or common practice: they are marked ≈ below.",
            answer.evidence.len()
        )));
    }
    for text in files::job_notes(&answer.job, units) {
        notes.push(Note::doubt(format!("In this job {text}.")));
    }
    if answer.job.lot.is_empty() {
        notes.extend(arrived::note(answer, Speech(units)).map(Note::doubt));
    }
    notes.extend(lot::unmeasured(answer).map(Note::doubt));
    notes.extend(surface::only(answer).then(|| Note::doubt(surface::DOUBT)));
    if answer.plan.samples == 0 {
        notes.push(Note::doubt(
            "No doubt was sampled for this job, so no range stands beside the mean.",
        ));
    }
    notes
}

/// Where the numbers that matter most come from.
fn sources(answer: &PlanAnswer, notes: &mut Vec<Note>) -> Leaning {
    let mut note = |head: &str, begins: &str| {
        let row = answer
            .evidence
            .iter()
            .find(|row| row.what.starts_with(begins))?;
        let cited = answer.sources.iter().find(|c| c.key == row.source);
        let from = match (cited, row.source.as_str()) {
            (Some(citation), _) => citation.text.clone(),
            (None, "common-practice") => "what the trade does, no source".to_owned(),
            (None, "stated") => "stated in the job".to_owned(),
            (None, "data-sheet") => row.place.clone(),
            (None, key) => key.to_owned(),
        };
        let stated = ["stated", "data-sheet"].contains(&row.source.as_str());
        let place = if row.place.is_empty() || stated {
            String::new()
        } else {
            format!(", {}", row.place)
        };
        let grade = if stated {
            String::new()
        } else {
            format!("; {}", row.grade)
        };
        notes.push(Note::source(format!("{head}: {from}{place}{grade}.")));
        Some(notes.len() - 1)
    };
    let limit = if answer.job.target.limit.is_some() {
        None
    } else {
        note("Limit", limit_of(answer))
    };
    Leaning {
        diffusivity: note("Diffusivity", "diffusivity, "),
        isotherm: note("Water in equilibrium", "isotherm, "),
        limit,
    }
}

/// The row of the limit that stands: that of the process, or the one it falls back to.
fn limit_of(answer: &PlanAnswer) -> &'static str {
    let limits = &answer.job.resin.limit;
    match answer.job.target.process {
        Process::Fibre if limits.fibre.is_some() => "limit for fibre",
        Process::Fibre | Process::Extrusion if limits.extrusion.is_some() => "limit for extrusion",
        _ => "limit for moulding",
    }
}

/// The evidence with its grades, and the sources in full.
pub(super) fn evidence_section(answer: &PlanAnswer, units: Units) -> Section {
    let rows = &answer.evidence;
    let estimates = rows.iter().filter(|row| row.estimate).count();
    let mut blocks = vec![Block::table(evidence::table(
        "Every number of the resin",
        rows,
        units,
    ))];
    for row in rows {
        if let Some(note) = &row.note {
            blocks.push(Block::text(format!("{}: {note}.", row.what)));
        }
    }
    for source in &answer.sources {
        blocks.push(Block::text(format!("[{}] {}", source.key, source.text)));
    }
    Section {
        title: "Evidence".into(),
        summary: format!(
            "{} numbers, {estimates} of them estimates, {}.",
            rows.len(),
            counted(answer.sources.len(), "source", "sources")
        ),
        blocks,
    }
}

/// What closes every page of the program.
pub(crate) fn imprint() -> Vec<String> {
    vec![
        localised(
            "Computed by drybed from the sources named; a plan is no measurement. Verify the \
             moisture at the throat.",
            Speech(Units::Metric),
        ),
        format!("drybed {}", env!("CARGO_PKG_VERSION")),
    ]
}
