//! Days on one dryer as a document.

use super::ShiftAnswer;
use crate::pictures;
use crate::plan::{imprint, ledger_table, small};
use crate::speech::{Measure, Speech, hours, percent, ppm};
use decide::shift::{Cause, Masses, Shift, Worst};
use document::{Block, Cell, Column, Document, Grade, Note, Row, Section, State, Table};
use quantity::{Units, digits};

impl ShiftAnswer {
    /// The days as a document in the units a person reads.
    pub fn document(&self, units: Units) -> Document {
        let speech = Speech(units);
        let shift = &self.shift;
        let mut document = Document::new(
            format!(
                "What does {} go through in {} ({})?",
                shift.resin,
                hours(shift.hours),
                shift.title
            ),
            answer(shift, speech),
            masses(shift, speech),
        );
        document.state = Some(self.state());
        document.picture = Some(pictures::timeline(shift, speech, &self.days));
        document.notes = notes(self);
        document.sections = vec![
            inside(shift, speech),
            self.wettest(speech),
            self.events(),
            run(shift, speech),
            books(shift, speech),
        ];
        document.imprint = imprint();
        document
    }

    /// How the days stand.
    fn state(&self) -> State {
        let masses = &self.shift.masses;
        let part = |kg: f64| masses.is_much(kg);
        if masses.all_kg <= 0.0 {
            State::Unknown
        } else if part(masses.wet_kg) {
            State::Wet
        } else if part(masses.overstayed_kg + masses.too_dry_kg) {
            if masses.overstayed_kg > masses.too_dry_kg {
                State::Cooked
            } else {
                State::TooDry
            }
        } else {
            State::InWindow
        }
    }

    fn wettest(&self, speech: Speech) -> Section {
        let shift = &self.shift;
        let mut blocks = Vec::new();
        let mut summary = String::new();
        if let Some(worst) = &shift.wettest {
            summary = format!(
                "{} at the screw {}.",
                ppm(worst.lot.mean_ppm_wet),
                self.when(worst.lot.used_h)
            );
            blocks.push(Block::text(format!(
                "The wettest lot was filled in {}, left the air {} and came to the screw {} with {}, five in a hundred \
                 of its pellets above {}: {}.",
                self.when(worst.lot.fed_h),
                self.when(worst.lot.left_air_h),
                self.when(worst.lot.used_h),
                ppm(worst.lot.mean_ppm_wet),
                ppm(worst.lot.high_ppm_wet),
                worst.cause.words(),
            )));
            if worst.lot.taken_up_ppm >= 1.0 {
                blocks.push(Block::text(format!(
                    "Of that it took up {} on the press.",
                    ppm(worst.lot.taken_up_ppm)
                )));
            }
        }
        blocks.extend(pictures::lot_journey(shift, speech).map(Block::picture));
        if let Some(longest) = &shift.longest {
            blocks.push(Block::text(self.longest(longest)));
        }
        Section {
            title: "The wettest lot, and the one that was hot for longest".to_owned(),
            summary,
            blocks,
        }
    }

    fn longest(&self, longest: &Worst) -> String {
        let lot = &longest.lot;
        let mut text = vec![format!(
            "The lot that was hot for longest came to the screw {} after {} of the longest customary stay",
            self.when(lot.used_h),
            percent(lot.stay_share),
        )];
        if longest.cause == Cause::PressStood {
            text.push(": the press stood while it was in the hopper".to_owned());
        }
        if lot.molar_mass_loss > 5e-4 {
            text.push(format!(
                "; hydrolysis has cost it {} of its molar mass",
                percent(lot.molar_mass_loss)
            ));
        }
        if lot.oxidation_dose > 5e-3 {
            text.push(format!(
                "; it has taken {} of the dose after which yellowing shows",
                percent(lot.oxidation_dose)
            ));
        }
        text.push(".".to_owned());
        text.concat()
    }

    fn events(&self) -> Section {
        let rows = self.shift.events.iter().map(|event| {
            Row::new(vec![
                Cell::text(self.when(event.hour)),
                Cell::text(event.what.clone()),
            ])
        });
        Section {
            title: "What happened".to_owned(),
            summary: String::new(),
            blocks: vec![Block::table(Table {
                caption: format!("In the order of time, {}", self.zone),
                columns: vec![Column::new("when"), Column::new("what")],
                rows: rows.collect(),
            })],
        }
    }
}

fn answer(shift: &Shift, speech: Speech) -> String {
    let masses = &shift.masses;
    if masses.all_kg <= 0.0 {
        return format!(
            "Nothing comes to the screw; the press waits {}.",
            hours(shift.waited_h)
        );
    }
    let amiss = [
        (masses.wet_kg, "comes wet"),
        (masses.overstayed_kg, "was hot for longer than it bears"),
        (masses.too_dry_kg, "is too dry"),
    ];
    let told: Vec<String> = amiss
        .iter()
        .filter(|(kg, _)| masses.is_much(*kg))
        .map(|(kg, what)| format!("{} of it {what}", percent(kg / masses.all_kg)))
        .collect();
    let all = speech.say(Measure::Mass, masses.all_kg);
    let resin = if told.is_empty() {
        format!("{all} come to the screw, all of it in its window")
    } else {
        format!("{all} come to the screw; {}", told.join(", "))
    };
    let waits = if shift.waited_h > WAITS {
        format!(
            "; the press waits {} and does not make {}",
            hours(shift.waited_h),
            speech.say(Measure::Mass, shift.not_made_kg)
        )
    } else {
        String::new()
    };
    let energy = shift.energy_kwh_kg.map_or_else(String::new, |energy| {
        format!("; {} of current", speech.say(Measure::Energy, energy))
    });
    format!("{resin}{waits}{energy}.")
}

/// Waiting that is not told, h.
const WAITS: f64 = 0.02;

fn masses(shift: &Shift, speech: Speech) -> Table {
    let Masses {
        all_kg,
        wet_kg,
        overstayed_kg,
        too_dry_kg,
        in_window_kg,
    } = shift.masses;
    let unit = speech.unit(Measure::Mass);
    let row = |name: String, kg: f64| {
        Row::new(vec![
            Cell::text(name),
            Cell::precise(speech.number(Measure::Mass, kg), 3, Grade::Computed),
            if all_kg > 0.0 {
                Cell::precise(100.0 * kg / all_kg, 3, Grade::Computed)
            } else {
                Cell::Blank
            },
        ])
    };
    let mut rows = vec![
        row("in its window".to_owned(), in_window_kg),
        row(format!("wetter than {}", ppm(shift.limit_ppm_wet)), wet_kg),
        row("hot for longer than it bears".to_owned(), overstayed_kg),
    ];
    if let Some(edge) = shift.lower_edge_ppm_wet {
        rows.push(row(format!("drier than {}", ppm(edge)), too_dry_kg));
    }
    rows.push(row("wanted and not made".to_owned(), shift.not_made_kg));
    rows.push(row("drained at changeovers".to_owned(), shift.drained_kg));
    Table {
        caption: "Resin as weighed; a lot counts by the shares of its pellets, the last two beside what came to the screw"
            .to_owned(),
        columns: vec![
            Column::new("resin"),
            Column::with_unit("mass", unit),
            Column::with_unit("of what came to the screw", "%"),
        ],
        rows,
    }
}

fn inside(shift: &Shift, speech: Speech) -> Section {
    Section {
        title: "Inside the hopper".to_owned(),
        summary: String::new(),
        blocks: pictures::hopper_in_time(shift, speech)
            .map(Block::picture)
            .into_iter()
            .collect(),
    }
}

fn run(shift: &Shift, speech: Speech) -> Section {
    let (set_point, back) = shift.set_points_c;
    let back = back.map_or_else(String::new, |back| {
        format!(", set back to {}", speech.say(Measure::Temperature, back))
    });
    let air = shift
        .frost_points_c
        .map_or_else(String::new, |(low, high)| {
            format!(
                "; the air delivered while resin was drawn had dew points of {} to {}",
                speech.say(Measure::Temperature, low),
                speech.say(Measure::Temperature, high)
            )
        });
    let text = format!(
        "Drying at {}{back}. {} kWh in all, at most {} kW{air}.",
        speech.say(Measure::Temperature, set_point),
        digits(shift.energy_kwh, 3),
        digits(shift.peak_kw, 2)
    );
    let rows = shift.chosen.iter().map(|chosen| {
        Row::new(vec![
            Cell::text(chosen.what),
            Cell::text(chosen.value.clone()),
        ])
    });
    Section {
        title: "How the dryer is run".to_owned(),
        summary: text,
        blocks: vec![
            Block::table(Table {
                caption: "What nothing was stated of, and what was taken instead (common practice, no source)"
                    .to_owned(),
                columns: vec![Column::new("what"), Column::new("taken")],
                rows: rows.collect(),
            }),
        ],
    }
}

fn books(shift: &Shift, speech: Speech) -> Section {
    let worst = shift.water.imbalance().max(shift.energy.imbalance());
    let of = |ledger: &quantity::Ledger| {
        let caption = format!("The {} over these days", ledger.what);
        let picture = pictures::books::over_time(ledger, speech).map(Block::balance);
        let table = Block::table(ledger_table(ledger, caption));
        picture.into_iter().chain([table])
    };
    Section {
        title: "The books of water and energy".to_owned(),
        summary: format!("They close to {} of what entered.", small(worst)),
        blocks: of(&shift.water).chain(of(&shift.energy)).collect(),
    }
}

fn notes(answer: &ShiftAnswer) -> Vec<Note> {
    let mut notes = vec![
        Note::caution(
            "Hot pellets, air and surfaces burn; a bake-out drives off what may burn or harm. Local codes, the resin \
             maker's data sheet and licensed practice decide.",
        ),
        Note::doubt(
            "Shares of wet and of too dry resin come from the spread between pellets that pass sooner and later. How \
             sure the resin's own numbers are stands with drybed plan.",
        ),
        Note::doubt(
            "Harm by heat is told as a share of the longest customary stay; where the record has rates of hydrolysis \
             or oxidation, by those too. For the slow growth of the viscosity of polyamide below its window no \
             rate was found that may be used: that it is too dry is told instead.",
        ),
    ];
    notes.extend(answer.read.iter().map(|note| Note::doubt(note.clone())));
    notes
}
