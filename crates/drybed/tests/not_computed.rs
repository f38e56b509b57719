//! Dryers that cannot be run: told with their reason, never recommended, and no end of the comparison.

use decide::DecideError;
use decide::case::Case;
use decide::compare::{
    Batches, Comparison, Dried, Dryer, Duty, Offered, Question, WhyNot, compare,
};
use decide::size::Part;
use drybed::{DryersAnswer, Units};
use job::Job;
use line::equipment::{Equipment, Machine};
use line::{Account, Room, usual};
use quantity::{Fraction, Quantity};

type Failure = Box<dyn std::error::Error>;

/// Too warm for the chamber, K.
const WARM: f64 = 295.0;

/// A chamber at next to no energy that no hall above 22 degC lets work.
struct Chamber;

impl Batches for Chamber {
    fn title(&self) -> &'static str {
        "chamber for cool halls"
    }

    fn dry(&self, cases: &[Case], room: &Room, _: f64) -> Result<Dried, DecideError> {
        if room.temperature > WARM {
            return Err(DecideError::NoJob);
        }
        Ok(Dried {
            outlets: cases.iter().map(|case| 0.1 * case.limit).collect(),
            stays: vec![0.0; cases.len()],
            account: Account::default(),
            shortfalls: Vec::new(),
            warnings: Vec::new(),
        })
    }

    fn parts(&self, _: &Duty) -> Vec<Part> {
        Vec::new()
    }
}

fn job() -> Result<Job, Failure> {
    let text = "format = 1\ntitle = \"invented\"\n[resin]\nname = \"PC\"\n\
                [demand]\nrate = \"25 kg/h\"\n[hopper]\nvolume = \"150 l\"\n";
    Ok(files::read_job(text, "job.toml", &drybed::library(None)?)?)
}

/// A dryer of hot air with something about it changed.
fn hot_air<'a>(
    title: &'static str,
    change: impl Fn(&mut line::equipment::HotAirDryer) + Sync + 'a,
) -> Offered<'a> {
    Offered::of(Box::new(move |duty: &Duty| {
        let usual = usual::hot_air_dryer(duty.air_flow().value, duty.set_point().value);
        let Machine::HotAir(mut dryer) = usual.machine else {
            return Dryer::Batches(Box::new(Chamber));
        };
        change(&mut dryer);
        Dryer::Air(Box::new(Equipment {
            title: title.to_owned(),
            machine: Machine::HotAir(dryer),
            heater: usual.heater,
        }))
    }))
}

/// Its filter lets no air through.
fn choked<'a>() -> Offered<'a> {
    hot_air("choked hot air", |dryer| dryer.process.clogging = 1e12)
}

/// Its motor is said to give nothing.
fn unbuilt<'a>() -> Offered<'a> {
    hot_air("unbuilt hot air", |dryer| {
        dryer.process.blower.motor_efficiency = Fraction::from_si(0.0);
    })
}

fn found(dryers: Vec<Offered<'_>>) -> Result<Comparison, Failure> {
    let question = Question {
        cell: &job()?.into(),
        dryers,
        samples: 8,
        seed: 1,
    };
    Ok(compare(&question, &|_| ())?)
}

#[test]
fn holds_a_dryer_that_cannot_be_run_is_told_and_the_others_are_compared() -> Result<(), Failure> {
    let alone = found(vec![hot_air("sound hot air", |_| ())])?;
    let all = found(vec![
        choked(),
        unbuilt(),
        Offered::of(Box::new(|_: &Duty| Dryer::Batches(Box::new(Chamber)))),
        hot_air("sound hot air", |_| ()),
    ])?;
    assert_eq!(all.dryers.len(), 1);
    let energy = |found: &Comparison| found.dryers[0].year.energy_kwh_kg;
    assert!(
        (energy(&all) - energy(&alone)).abs() < 1e-12,
        "the same dryer alone"
    );
    assert_eq!(all.choice.dryer, alone.choice.dryer);
    let [choked, unbuilt, chamber] = &all.not_computed[..] else {
        return Err(format!("{:?}", all.not_computed).into());
    };
    assert_eq!(choked.missing.len(), all.days.len());
    assert!(choked.missing.iter().all(|day| day.why == WhyNot::NoAir));
    assert!(choked.reasons()[0].contains("blower stands against a closed way"));
    assert!(
        unbuilt
            .missing
            .iter()
            .all(|day| day.why == WhyNot::CannotBe)
    );
    assert!(
        unbuilt.reasons()[0].contains("motor_efficiency"),
        "{:?}",
        unbuilt.reasons()
    );
    // Of one dryer some days are computed, and only the others are missing.
    assert!(!chamber.days.is_empty() && !chamber.missing.is_empty());
    assert_eq!(chamber.days.len() + chamber.missing.len(), all.days.len());
    assert!(
        chamber
            .missing
            .iter()
            .all(|day| day.why == WhyNot::NotSolved)
    );
    for day in &chamber.days {
        assert!(day.hall.0 + 273.15 <= WARM, "{}", day.day);
    }
    Ok(())
}

#[test]
fn holds_what_is_not_computed_stands_in_table_section_and_json() -> Result<(), Failure> {
    let answer = DryersAnswer {
        schema_version: 2,
        comparison: found(vec![choked(), hot_air("sound hot air", |_| ())])?,
        desiccant: String::new(),
        equipment: None,
    };
    let json: serde_json::Value = serde_json::from_str(&answer.json()?)?;
    let told = &json["comparison"]["not_computed"][0];
    assert_eq!(told["title"], "choked hot air");
    assert_eq!(told["missing"][0]["why"], "no-air");
    let document = answer.document(Units::Metric);
    let page = document.text().map_err(|faults| format!("{faults:?}"))?;
    let row = page.lines().find(|line| line.contains("choked hot air"));
    assert!(
        row.is_some_and(|row| row.contains("not computed")),
        "{page}"
    );
    let section = document
        .sections
        .iter()
        .find(|it| it.title == "choked hot air");
    let section = section.ok_or("no section")?;
    assert!(
        section.summary.starts_with("Not computed on 3 of 3 days"),
        "{}",
        section.summary
    );
    assert_eq!(section.blocks.len(), 3);
    Ok(())
}

#[test]
fn holds_only_where_no_dryer_can_be_run_it_is_an_error() -> Result<(), Failure> {
    let question = Question {
        cell: &job()?.into(),
        dryers: vec![choked(), unbuilt()],
        samples: 8,
        seed: 1,
    };
    match compare(&question, &|_| ()) {
        Err(error @ DecideError::NoneComputed(_)) => {
            let told = error.to_string();
            assert!(
                told.contains("choked hot air") && told.contains("unbuilt hot air"),
                "{told}"
            );
            Ok(())
        }
        other => Err(format!("{other:?}").into()),
    }
}
