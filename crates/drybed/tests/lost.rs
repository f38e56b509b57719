//! What is lost to wet, cooked and too dry resin, and what that costs.

use decide::DecideError;
use decide::case::Case;
use decide::compare::{Batches, Compared, Dried, Dryer, Duty, Offered, Question, compare};
use decide::size::Part;
use job::{Cell, Plant, Prices};
use line::{Account, Room};
use quantity::{EnergyPrice, Fraction, MassPrice, Quantity, TimePrice};

type Failure = Box<dyn std::error::Error>;

/// A chamber that leaves water between lower edge (0) and limit (1), and keeps the resin hot for a share of the
/// longest stay.
#[derive(Clone, Copy)]
struct Chamber {
    between: f64,
    stay: f64,
}

impl Batches for Chamber {
    fn title(&self) -> &'static str {
        "chamber"
    }

    fn dry(&self, cases: &[Case], _: &Room, _: f64) -> Result<Dried, DecideError> {
        let mut account = Account::default();
        account.electricity("chamber", 1.0);
        let left = |case: &Case| {
            let edge = case.lower_edge.unwrap_or(0.0);
            edge + self.between * (case.limit - edge)
        };
        Ok(Dried {
            outlets: cases.iter().map(left).collect(),
            stays: cases.iter().map(|case| self.stay * case.hold()).collect(),
            account,
            shortfalls: Vec::new(),
            warnings: Vec::new(),
        })
    }

    fn parts(&self, _: &Duty) -> Vec<Part> {
        Vec::new()
    }
}

/// 20 kg/h of a polyamide, which has a lower edge, on a chamber.
fn found(between: f64, stay: f64) -> Result<Compared, Failure> {
    let text = "format = 1\ntitle = \"invented\"\n[resin]\nname = \"PA66\"\n\
                [demand]\nrate = \"20 kg/h\"\n[hopper]\nvolume = \"120 l\"\n";
    let job = files::read_job(text, "job.toml", &drybed::library(None)?)?;
    let cell = Cell {
        plant: Plant {
            days: Vec::new(),
            prices: Some(prices()),
        },
        ..job.into()
    };
    let chamber = Chamber { between, stay };
    let question = Question {
        cell: &cell,
        dryers: vec![Offered::of(Box::new(move |_: &Duty| {
            Dryer::Batches(Box::new(chamber))
        }))],
        samples: 256,
        seed: 1,
    };
    let mut found = compare(&question, &|_| ())?;
    found.dryers.pop().ok_or_else(|| "no dryer".into())
}

fn prices() -> Prices {
    Prices {
        currency: "EUR".into(),
        electricity: EnergyPrice::from_per_kwh(0.20),
        tariff: Vec::new(),
        compressed_air: None,
        cooling_water: None,
        carbon: None,
        hours_per_year: 5000.0,
        years: 10.0,
        interest: Fraction::from_si(0.0),
        press_hour: Some(TimePrice::from_per_hour(60.0)),
        resin: Some(MassPrice::from_per_kg(3.0)),
        starts_per_year: None,
        doubt: None,
        dryers: Vec::new(),
    }
}

/// Each hour of 5000 costs 20 kg at 3 and a press hour at 60.
const ALL: f64 = 5000.0 * (20.0 * 3.0 + 60.0);

/// What is lost to wet, cooked and too dry resin, of all that could be.
fn shares(between: f64, stay: f64) -> Result<[f64; 3], Failure> {
    let dryer = found(between, stay)?;
    let money = dryer.year.money.ok_or("no money")?;
    let lost = money.lost.ok_or("no loss")?;
    let by = [
        lost.wet_per_year,
        lost.cooked_per_year,
        lost.too_dry_per_year,
    ];
    let all: f64 = by.iter().sum();
    assert!((money.lost_per_year.ok_or("lost")? - all).abs() < 1e-9 * ALL);
    Ok(by.map(|lost| lost / ALL))
}

fn are(found: [f64; 3], wanted: [f64; 3]) {
    for (a, b) in found.into_iter().zip(wanted) {
        assert!((a - b).abs() < 1e-9, "{found:?} {wanted:?}");
    }
}

#[test]
fn exact_wet_cooked_and_too_dry_resin_are_each_lost_once() -> Result<(), Failure> {
    are(shares(0.5, 0.01)?, [0.0, 0.0, 0.0]);
    are(shares(1.1, 0.01)?, [1.0, 0.0, 0.0]);
    are(shares(-0.1, 0.01)?, [0.0, 0.0, 1.0]);
    are(shares(0.5, 100.0)?, [0.0, 1.0, 0.0]);
    // What is both counts once.
    are(shares(1.1, 100.0)?, [1.0, 0.0, 0.0]);
    are(shares(-0.1, 100.0)?, [0.0, 1.0, 0.0]);
    Ok(())
}

#[test]
fn holds_a_stay_as_long_as_the_resin_bears_cooks_it_in_about_half_the_draws() -> Result<(), Failure>
{
    let [wet, cooked, too_dry] = shares(0.5, 1.0)?;
    assert!(wet + too_dry < 1e-9);
    // Half, give or take two standard errors of 256 draws and the skew of the spread.
    assert!((cooked - 0.5).abs() < 0.08, "{cooked}");
    let [_, later, _] = shares(0.5, 0.7)?;
    assert!(later > 0.0 && later < cooked, "{later} {cooked}");
    Ok(())
}
