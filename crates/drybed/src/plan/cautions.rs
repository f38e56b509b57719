//! What can hurt someone or spoil a lot, and who decides: the usual cautions of drying.
//!
//! Each defers to local codes, the resin maker's data sheet and licensed practice. What stands here
//! is common practice of the trade; a named standard is where to read on.

use super::PlanAnswer;
use crate::speech::{Speech, capital, localised};
use document::{Block, Note, Section};
use material::Caution::{self, CrystallisedOnly};

/// What holds wherever resin is dried.
const STANDING: [&str; 5] = [
    "Air, hopper, hoses and pellets are hot; metal above 55 degC burns on touch. Insulate, wear \
     gloves, let it cool before opening, and drain into a covered chute. ISO 13732-1 and local \
     rules say more.",
    "Fines and dust from pellets, regrind and filters can burn and explode. Bond and earth, clean \
     with a rated vacuum cleaner and never with compressed air, and have the dust of your own plant \
     tested; local codes decide.",
    "What hot resin gives off belongs out of the hall: vent the exhaust outdoors, and read the \
     safety data sheet and the local list of exposure limits.",
    "A plan replaces no protective device: the heater keeps its independent temperature limiter and \
     its air-flow interlock, and nobody enters a hopper or frees a bridge from inside.",
    "The data sheet of your grade outranks every number here; local codes and licensed practice \
     decide what may be built and run.",
];

/// What a resin can give off or do.
pub(crate) fn of_resin(caution: Caution, resin: &str) -> String {
    match caution {
        Caution::Formaldehyde => format!(
            "{resin} gives off formaldehyde when it is overheated. It must never share a dryer, \
             loader, grinder or barrel with PVC: the two react violently. Both safety data sheets \
             say more."
        ),
        Caution::HydrogenChloride => format!(
            "{resin} gives off hydrogen chloride when it is overheated. It must never share a dryer, \
             loader, grinder or barrel with POM: the two react violently. Both safety data sheets \
             say more."
        ),
        Caution::Styrene => format!(
            "{resin} gives off styrene while it is hot: vent the exhaust outdoors and keep to the \
             local exposure limit."
        ),
        Caution::Caprolactam => format!(
            "{resin} gives off caprolactam, which settles in coolers, filters and desiccant: vent, \
             clean, and keep to the local exposure limit."
        ),
        Caution::Acrylonitrile => format!(
            "{resin} can give off traces of acrylonitrile, a poison and a suspected cause of cancer, \
             when it is hot: vent the exhaust outdoors and keep to the local exposure limit."
        ),
        Caution::Acetaldehyde => format!(
            "{resin} gives off acetaldehyde when it is overheated, which irritates and taints what is \
             packed in it: keep the stay short and vent the exhaust outdoors."
        ),
        Caution::AceticAcid => format!(
            "{resin} gives off acetic acid when it is overheated, which irritates and corrodes steel: \
             vent the exhaust outdoors and dry no hotter than the data sheet says."
        ),
        Caution::Ammonia => format!(
            "{resin} held long and hot gives off ammonia and amines: vent the exhaust outdoors and \
             turn the temperature down when the machine stops."
        ),
        Caution::HydrogenFluoride => format!(
            "{resin} gives off hydrogen fluoride and other poisons when it is overheated, far above \
             any drying temperature: keep an independent limiter, vent outdoors, and let no smoking \
             material or flame near its dust. The safety data sheet says more."
        ),
        Caution::Dust => format!(
            "Dust and fibre of {resin} smoulder and explode more readily than pellets: keep filters \
             and hot surfaces clean, know its self-heating temperature, and have the dust of your \
             own plant tested; local codes decide."
        ),
        Caution::Plasticiser => format!(
            "{resin} loses plasticiser, which fouls desiccant and filters: dry no hotter than the \
             data sheet says, and look after the filters."
        ),
        Caution::Oligomer => format!(
            "Oligomers leave {resin} and foul filters, coolers and desiccant: keep the return cool \
             and filtered."
        ),
        Caution::Hydrolysis => format!(
            "Water and heat together cut the chains of {resin}: wet pellets must not wait hot, and \
             a wet melt loses strength that no drying brings back."
        ),
        Caution::Oxidation => format!(
            "Hot air yellows {resin} or makes it brittle in time: keep the stay short and turn the \
             temperature down when the machine stops."
        ),
        Caution::Sticks => format!(
            "{resin} pellets fuse to a block near their softening temperature, wet ones sooner: \
             limit the temperature independently, and never break a block with power tools inside."
        ),
        Caution::CrystallisedOnly => format!(
            "The drying temperature of {resin} holds for crystallised pellets only: amorphous ones \
             fuse to a block far below it. Ask which yours are, and crystallise amorphous ones with \
             agitation first."
        ),
    }
}

impl PlanAnswer {
    /// That the temperature holds for crystallised pellets only, where it does for any of what is
    /// dried.
    pub(super) fn crystallised_only(&self) -> Option<String> {
        let dried = self.job.lot.iter().filter(|part| part.entry.is_dried());
        let resins = dried.map(|part| &part.resin);
        let alone = self.job.lot.is_empty().then_some(&self.job.resin);
        let mut all = resins.chain(alone);
        let resin = all.find(|resin| resin.cautions.contains(&CrystallisedOnly))?;
        Some(of_resin(CrystallisedOnly, &resin.name))
    }
}

/// The notes of the margin: what is special about this plan, then one line for the rest.
pub(super) fn notes(answer: &PlanAnswer, speech: Speech) -> Vec<Note> {
    let plan = &answer.plan;
    let only = answer.crystallised_only();
    let mut notes: Vec<Note> = only.map(Note::caution).into_iter().collect();
    notes.extend(plan.warnings.iter().map(|warning| {
        let text = format!("{}: {}.", capital(&warning.text), warning.mend);
        Note::caution(localised(&text, speech))
    }));
    let others = plan.cautions.iter().filter(|c| **c != CrystallisedOnly);
    notes.extend(others.map(|caution| Note::caution(of_resin(*caution, &plan.resin))));
    notes.push(Note::caution(
        "Hot surfaces burn, dust can explode, vapours belong outdoors. The data sheet of your \
         grade, local codes and licensed practice decide; see the cautions below.",
    ));
    notes
}

/// Warnings and cautions in full.
pub(super) fn section(answer: &PlanAnswer, speech: Speech) -> Section {
    let plan = &answer.plan;
    let mut blocks = Vec::new();
    let mut say = |text: &str| blocks.push(Block::text(localised(text, speech)));
    for warning in &plan.warnings {
        say(&format!("{}: {}.", capital(&warning.text), warning.mend));
    }
    for caution in &plan.cautions {
        say(&of_resin(*caution, &plan.resin));
    }
    if !plan.over_drying.trim().is_empty() {
        say(&format!(
            "Staying too long or too dry: {}",
            plan.over_drying
        ));
    }
    for text in STANDING {
        say(text);
    }
    Section {
        title: "Warnings and cautions".into(),
        summary: match plan.warnings.len() {
            0 => "No warning; the usual cautions of hot resin.".into(),
            1 => "One warning, and the usual cautions of hot resin.".into(),
            count => format!("{count} warnings, and the usual cautions of hot resin."),
        },
        blocks,
    }
}
