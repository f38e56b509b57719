//! How often the true cause is found: faults put into the model, read with instruments that err, and
//! held against the
//! loop.
//!
//! `DRYBED_TRIALS=20 DRYBED_WRITE_PAGES=1 cargo test --release -p drybed --test check found` writes
//! the tables of
//! docs/check.md anew.

mod sizes;

use decide::check::{
    Cause, Checked, Prepared, Question, Rehearsal, held_against, prepare, rehearse,
};
use drybed::{Trouble, dryer_of};
use job::{ControlledAt, DryerKind, Job, Reading, ReadingKind as R, RoundDryer};
use line::equipment::Equipment;
use quantity::{Humidity, Quantity, Value};
use std::fmt::Write as _;

const JOB: &str = r#"
format = 1
title = "PC housings, invented"
[resin]
name = "PC"
[demand]
rate = "25 kg/h"
[hopper]
volume = "150 l"
cone_angle = "60 deg"
"#;

/// A dryer and what it runs.
struct Bench<'a> {
    job: &'a Job,
    dryer: &'a dyn Fn(f64, f64) -> Equipment,
    prepared: Prepared,
}

fn stated(kind: DryerKind) -> RoundDryer {
    RoundDryer {
        kind,
        rated_flow: None,
        controlled_at: ControlledAt::Hopper,
        cooler: true,
        dew_point_doubt: None,
    }
}

fn question<'a>(
    job: &'a Job,
    dryer: &'a dyn Fn(f64, f64) -> Equipment,
    readings: &'a [Reading],
) -> Question<'a> {
    Question {
        job,
        dryer,
        controlled_at: ControlledAt::Hopper,
        dew_point_doubt: None,
        readings,
        good: None,
    }
}

fn job() -> Result<Job, Trouble> {
    Ok(files::read_job(JOB, "job.toml", &drybed::library(None)?)?)
}

impl<'a> Bench<'a> {
    fn of(job: &'a Job, dryer: &'a dyn Fn(f64, f64) -> Equipment) -> Result<Self, Trouble> {
        let prepared = prepare(&question(job, dryer, &[]))?;
        Ok(Self {
            job,
            dryer,
            prepared,
        })
    }

    /// Those that were solved, and two wrong instruments.
    fn causes(&self) -> Vec<Cause> {
        let mut causes = self.prepared.causes();
        causes.push(Cause::WrongReading(R::SupplyDewPoint));
        causes.push(Cause::WrongReading(R::ReturnTemperature));
        causes
    }

    fn read(&self, trial: &Rehearsal<'_>) -> Result<Vec<Reading>, Trouble> {
        Ok(rehearse(&question(self.job, self.dryer, &[]), trial)?.0)
    }

    fn check(&self, readings: &[Reading]) -> Result<Checked, Trouble> {
        let asked = question(self.job, self.dryer, readings);
        Ok(held_against(&asked, &self.prepared)?)
    }
}

/// Readings of a thorough round, and of one with a thermometer and a dew point meter.
const THOROUGH: &[R] = &[
    R::HopperInletTemperature,
    R::ReturnTemperature,
    R::DesiccantInletTemperature,
    R::SupplyDewPoint,
    R::ReturnDewPoint,
    R::ProcessFlow,
    R::FilterDrop,
    R::RegenerationInletTemperature,
    R::RegenerationOutletTemperature,
    R::RegenerationHeaterCurrent,
    R::RegenerationHeaterOutput,
    R::ProcessHeaterCurrent,
    R::ProcessHeaterOutput,
    R::CoolingWaterIn,
    R::CoolingWaterOut,
    R::DryerOutletTemperature,
    R::HopperLevel,
    R::Rate,
    R::WheelSpeed,
];
const SHORT: &[R] = &[
    R::HopperInletTemperature,
    R::ReturnTemperature,
    R::DesiccantInletTemperature,
    R::SupplyDewPoint,
    R::RegenerationInletTemperature,
];

/// How often a cause was found.
#[derive(Clone, Debug)]
struct Score {
    cause: Cause,
    draws: usize,
    first: usize,
    among_three: usize,
    /// Probability that the true cause was given, and whether it was the first, draw by draw.
    given: Vec<(f64, bool)>,
    /// The probability of the first cause, and whether it was the true one.
    called: Vec<(f64, bool)>,
}

/// What would be read with each cause, so many draws of each.
type Trials = Vec<(Cause, Vec<Vec<Reading>>)>;

/// Puts causes into a dryer and reads all of it.
fn trials(truth: &Question<'_>, causes: &[Cause], draws: u32) -> Trials {
    let mut all = Vec::new();
    for (index, cause) in (0_u32..).zip(causes) {
        let read = |draw| {
            let trial = Rehearsal {
                cause: *cause,
                draw: (draw, 11 + index),
                drawn: true,
                place: None,
                kinds: THOROUGH,
            };
            // What settles nowhere cannot be read.
            rehearse(truth, &trial).ok().map(|(readings, _)| readings)
        };
        all.push((*cause, (0..draws).filter_map(read).collect()));
    }
    all
}

/// Holds what was read, of some kinds, against a dryer.
fn scores(bench: &Bench<'_>, trials: &Trials, kinds: &[R]) -> Result<Vec<Score>, Trouble> {
    let mut all = Vec::new();
    for (cause, rounds) in trials {
        let mut score = Score {
            cause: *cause,
            draws: rounds.len(),
            first: 0,
            among_three: 0,
            given: Vec::new(),
            called: Vec::new(),
        };
        for readings in rounds {
            let known = readings
                .iter()
                .filter(|reading| kinds.contains(&reading.of));
            let found = bench.check(&known.copied().collect::<Vec<_>>())?;
            let place = found.causes.iter().position(|one| one.cause == *cause);
            let given = place.map_or(0.0, |place| found.causes[place].probability);
            let first = place == Some(0);
            score.first += usize::from(first);
            score.among_three += usize::from(place.is_some_and(|place| place < 3));
            score.given.push((given, first));
            score.called.push((found.causes[0].probability, first));
        }
        all.push(score);
    }
    Ok(all)
}

fn percent(part: usize, whole: usize) -> String {
    format!("{:.0} %", 100.0 * part as f64 / whole.max(1) as f64)
}

/// The table of one set of readings, and how the probabilities hold.
fn table(title: &str, scores: &[Score]) -> String {
    let mut page = format!(
        "### {title}\n\n| cause | draws | first | among the first three | mean probability given |\n\
         | --- | --- | --- | --- | --- |\n"
    );
    for score in scores {
        let mean: f64 = score.given.iter().map(|(p, _)| p).sum::<f64>() / score.draws.max(1) as f64;
        let _ = writeln!(
            page,
            "| {} | {} | {} | {} | {:.0} % |",
            score.cause.name(),
            score.draws,
            percent(score.first, score.draws),
            percent(score.among_three, score.draws),
            100.0 * mean
        );
    }
    page += "\nOf those called with a probability, so many were right, each cause counted as often as it is met:\n\n\
             | called with | share of rounds | right |\n| --- | --- | --- |\n";
    for (low, high) in [
        (0.0, 0.5),
        (0.5, 0.7),
        (0.7, 0.9),
        (0.9, 0.97),
        (0.97, 1.01),
    ] {
        let (mut rounds, mut right, mut whole) = (0.0, 0.0, 0.0);
        for score in scores {
            let weight = score.cause.often() / score.draws.max(1) as f64;
            for (probability, is_right) in &score.called {
                whole += weight;
                if (low..high).contains(probability) {
                    rounds += weight;
                    right += weight * f64::from(u8::from(*is_right));
                }
            }
        }
        let _ = writeln!(
            page,
            "| {:.0} to {:.0} % | {:.0} % | {:.0} % |",
            100.0 * low,
            100.0 * f64::min(high, 1.0),
            100.0 * rounds / whole,
            100.0 * right / f64::max(rounds, 1e-9)
        );
    }
    page
}

/// Draws of each cause: few in the usual run, as many as asked for otherwise.
fn draws() -> u32 {
    let asked = std::env::var("DRYBED_TRIALS").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(2)
}

fn rounds(scores: &[Score]) -> (f64, f64, f64) {
    let (mut first, mut three, mut whole) = (0.0, 0.0, 0.0);
    for score in scores {
        first += score.first as f64;
        three += score.among_three as f64;
        whole += score.draws as f64;
    }
    let healthy = scores.iter().find(|score| score.cause == Cause::Healthy);
    let healthy = healthy.map_or(0.0, |one| one.first as f64 / one.draws.max(1) as f64);
    (first / whole, three / whole, healthy)
}

#[test]
fn holds_the_true_cause_is_mostly_found() -> Result<(), Trouble> {
    let job = job()?;
    let dryer = dryer_of(&stated(DryerKind::Wheel), None)?;
    let bench = Bench::of(&job, &dryer)?;
    let read = trials(&question(&job, &dryer, &[]), &bench.causes(), draws());
    let thorough = scores(&bench, &read, THOROUGH)?;
    let (first, three, healthy) = rounds(&thorough);
    let mut page = table("A wheel, a thorough round", &thorough);
    if draws() > 2 {
        page += "\n";
        page += &table(
            "A wheel, a thermometer and a dew point meter",
            &scores(&bench, &read, SHORT)?,
        );
        for (kind, name) in [
            (DryerKind::CompressedAir, "Compressed air"),
            (DryerKind::HotAir, "Hot air"),
            (DryerKind::Towers, "Twin towers"),
        ] {
            let dryer = dryer_of(&stated(kind), None)?;
            let bench = Bench::of(&job, &dryer)?;
            let few = draws().div_ceil(2);
            let read = trials(&question(&job, &dryer, &[]), &bench.causes(), few);
            page += "\n";
            page += &table(
                &format!("{name}, a thorough round"),
                &scores(&bench, &read, THOROUGH)?,
            );
        }
    }
    // Sizes are drawn over the whole range, those that nobody would notice among them.
    write_tables("tables", &page);
    assert!(first > 0.45 && three > 0.6, "{first} {three}\n{page}");
    assert!(healthy >= 0.5, "{healthy}");
    Ok(())
}

/// Writes the tables into their page, where that is asked for.
fn write_tables(name: &str, page: &str) {
    if std::env::var_os("DRYBED_WRITE_PAGES").is_none() || draws() <= 2 {
        return;
    }
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/check.md");
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    let (begin, end) = (
        format!("<!-- {name} -->\n"),
        format!("<!-- end of {name} -->"),
    );
    if let (Some((before, _)), Some((_, after))) = (text.split_once(&begin), text.split_once(&end))
    {
        let whole = format!("{before}{begin}\n{}\n{end}{after}", page.trim_end());
        assert!(std::fs::write(&path, whole).is_ok(), "docs/check.md");
    }
}

#[test]
fn holds_sizes_are_told_as_they_are() -> Result<(), Trouble> {
    let job = job()?;
    let dryer = dryer_of(&stated(DryerKind::Wheel), None)?;
    let bench = Bench::of(&job, &dryer)?;
    let read = |cause, place| {
        bench.read(&Rehearsal {
            cause,
            draw: (0, 1),
            drawn: false,
            place: Some(place),
            kinds: THOROUGH,
        })
    };
    // Air at 45 % of that of the job, without any error: within one of the 37 places.
    let found = bench.check(&read(Cause::FilterClogged, 0.6)?)?;
    assert_eq!(found.causes[0].cause, Cause::FilterClogged);
    assert!(found.causes[0].probability > 0.9);
    let size = found.causes[0].size.clone().unwrap_or_default();
    assert!(size.starts_with("air at 4"), "{size}");
    // A wheel that stands, seen without looking at it.
    let blind: Vec<Reading> = read(Cause::WheelStands, 0.0)?
        .into_iter()
        .filter(|reading| reading.of != R::WheelSpeed)
        .collect();
    let found = bench.check(&blind)?;
    assert_eq!(found.causes[0].cause, Cause::WheelStands);
    assert!(!found.next.iter().any(|next| next.of == R::HallHumidity));
    // In good order nothing is off by more than rounding and the coarser wheel.
    let found = bench.check(&read(Cause::Healthy, 0.0)?)?;
    assert_eq!(found.causes[0].cause, Cause::Healthy);
    assert!(found.readings.iter().all(|one| one.healthy_off.abs() < 0.2));
    assert_eq!(found.readings.len(), THOROUGH.len());
    let sum: f64 = found.causes.iter().map(|one| one.probability).sum();
    assert!((sum - 1.0).abs() < 1e-9);
    Ok(())
}

#[test]
fn exact_a_bare_hose_loses_its_transfer_units_and_a_leak_its_share() -> Result<(), Trouble> {
    let job = job()?;
    let dryer = dryer_of(&stated(DryerKind::Wheel), None)?;
    let bench = question(&job, &dryer, &[]);
    let read = |cause, place| -> Result<Vec<f64>, Trouble> {
        let trial = Rehearsal {
            cause,
            draw: (0, 1),
            drawn: false,
            place: Some(place),
            kinds: &[
                R::HallTemperature,
                R::DryerOutletTemperature,
                R::HopperInletTemperature,
                R::ReturnTemperature,
                R::ProcessHeaterOutput,
            ],
        };
        let (readings, _) = rehearse(&bench, &trial)?;
        let number = |reading: &Reading| match reading.value {
            Value::Si(number) => number,
            _ => f64::NAN,
        };
        Ok(readings.iter().map(number).collect())
    };
    // From 0.08 to 0.4 transfer units; the air of a metre is not quite that of the whole hose.
    for (place, units) in [(0.0, 0.08), (0.5, 0.1789), (1.0, 0.4)] {
        let found = read(Cause::HoseBare, place)?;
        let left = (found[2] - found[0]) / (found[1] - found[0]);
        assert!(
            (-libm::log(left) / units - 1.0).abs() < 0.02,
            "{left} {units}"
        );
    }
    // Of the air that is heated 40 % is lost: the heater works no less, and less of its heat is left on top.
    let (sound, leaking) = (read(Cause::Healthy, 0.0)?, read(Cause::DeliveryLeak, 1.0)?);
    assert!((sound[2] - leaking[2]).abs() < 1e-6);
    assert!(leaking[4] > 0.9 * sound[4], "{sound:?} {leaking:?}");
    assert!(sound[3] - leaking[3] > 10.0, "{sound:?} {leaking:?}");
    Ok(())
}

/// Supply dew point with a cause at a place of its sizes and nothing drawn, K.
fn supply(truth: &Question<'_>, cause: Cause, place: f64) -> Result<f64, Trouble> {
    let trial = Rehearsal {
        cause,
        draw: (0, 1),
        drawn: false,
        place: Some(place),
        kinds: &[R::SupplyDewPoint],
    };
    let (readings, _) = rehearse(truth, &trial)?;
    Ok(match readings.first().map(|reading| reading.value) {
        Some(Value::Humidity(Humidity::Frost(point, _))) => point.si(),
        Some(Value::Humidity(Humidity::Dew(point, _))) => point.si(),
        _ => f64::NAN,
    })
}
