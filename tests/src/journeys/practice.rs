//! What the trade sees (common practice, no source), shown by models that were not told.

use decide::answer::Plan;
use decide::closed;
use dryer::condensation_temperature;
use dryer::sorption::Adsorbed;
use files::{Desiccants, Library, read_job};
use job::{Day, Job};
use line::equipment::Machine;
use line::{Carrier, usual};
use quantity::constants::ZERO_CELSIUS;
use quantity::{Fraction, Humidity, Place, Quantity, RelativeHumidity, Temperature};

type Outcome = Result<(), Box<dyn std::error::Error>>;

/// A resin in a hopper of a volume (litres) at a rate (kg/h); `more` may state air and way.
fn job(resin: &str, rate: f64, litres: f64, more: &str) -> Result<Job, Box<dyn std::error::Error>> {
    let text = format!(
        "format = 1\ntitle = \"{resin}\"\n[resin]\nname = \"{resin}\"\n[demand]\nrate = \"{rate} kg/h\"\n\
         [hopper]\nvolume = \"{litres} l\"\ncone_angle = \"60 deg\"\n{more}"
    );
    Ok(read_job(&text, "job.toml", &Library::shipped()?)?)
}

fn day(celsius: f64, percent: f64) -> Day {
    Day {
        name: "a day".to_owned(),
        temperature: Temperature::from_celsius(celsius),
        humidity: Humidity::Relative(RelativeHumidity::from_percent(percent), None),
        share: Fraction::from_percent(100.0),
    }
}

fn sieve() -> Result<Adsorbed, Box<dyn std::error::Error>> {
    let desiccants = Desiccants::shipped()?;
    let record = desiccants.find("molecular-sieve-13x", &Place::of("", "desiccant"))?;
    Ok(Adsorbed::of(&record.sorbent))
}

/// Half an hour to two hours to -30 degC from a cold, wet wheel. With tight seals it settles drier than the
/// -40 degC of practice; what the usual seals let past (an estimate made for that: no seal is tight) brings
/// it there, within the 8 K by which published isotherms part.
#[test]
fn holds_a_wheel_pulls_down_in_an_hour_or_two_to_about_minus_forty() -> Outcome {
    let sieve = sieve()?;
    let with_seals = |leak: f64| {
        let sieve = &sieve;
        move |flow: f64, hot: f64| {
            let mut equipment = usual::wheel_dryer(flow, hot, sieve.clone());
            if let Machine::Wheel(dryer) = &mut equipment.machine {
                dryer.wheel.seal_leak = Fraction::from_si(leak);
            }
            equipment
        }
    };
    let job = job("PC", 25.0, 150.0, "")?;
    let summer = day(30.0, 60.0);
    let line = closed::line(&job, &with_seals(usual::SEAL_LEAK), &summer)?;
    let mut state = line.at_rest()?;
    let run = line.run(&mut state, 3.0 * 3600.0)?;
    let point =
        |humidity: f64| condensation_temperature(humidity, line.room.pressure) - ZERO_CELSIUS;
    let dry = run
        .moments
        .iter()
        .find(|moment| point(moment.delivered.humidity) <= -30.0)
        .ok_or("it never came to -30 degC")?;
    let hours = dry.time / 3600.0;
    assert!((0.5..=2.0).contains(&hours), "{hours} h");
    let settled = point(line.steady(None)?.delivered.humidity);
    assert!((-48.0..=-34.0).contains(&settled), "{settled} degC");
    let tight = closed::line(&job, &with_seals(0.0), &summer)?.steady(None)?;
    assert!(point(tight.delivered.humidity) < settled - 5.0);
    Ok(())
}

/// All of the air that an open compressed-air dryer draws goes into the hall, with all that heats it.
#[test]
fn holds_compressed_air_ends_in_the_hall() -> Outcome {
    let job = job("PC", 2.0, 12.0, "")?;
    let line = closed::line(&job, &usual::compressed_air_dryer, &day(22.0, 50.0))?;
    let steady = line.steady(None)?;
    let air = |inward: bool| -> f64 {
        let crossings = steady.account.crossings.iter();
        let air = crossings.filter(|c| c.carrier == Carrier::Air && c.inward == inward);
        air.map(|c| c.dry_air).sum()
    };
    let wanted = line.stations[0].air_flow;
    assert!((air(false) / wanted - 1.0).abs() < 1e-12 && (air(true) / wanted - 1.0).abs() < 1e-12);
    // The rest of the heat leaves with the resin.
    let drawn: f64 = steady
        .account
        .crossings
        .iter()
        .filter(|c| c.carrier == Carrier::Electricity)
        .map(|c| c.heat)
        .sum();
    assert!(steady.account.heat_to_hall() > 0.3 * drawn);
    Ok(())
}

fn plan(job: &Job) -> Result<Plan, Box<dyn std::error::Error>> {
    Ok(decide::plan(job)?)
}

/// PC at 120 degC: practice says 3 h; what is computed is shorter, and no value was moved for it.
#[test]
fn holds_polycarbonate_is_surely_dry_before_the_customary_three_hours() -> Outcome {
    let plan = plan(&job(
        "PC",
        25.0,
        150.0,
        "[air]\ntemperature = \"120 degC\"\n",
    )?)?;
    let sure = plan.surely_dry_h.ok_or("no stay does")?;
    assert!((plan.customary_time_h - 3.0).abs() < 1e-9);
    assert!(sure > 0.6 && sure < 3.0, "{sure} h");
    // Longer than that of the best values without any margin.
    let bare: f64 = plan
        .time_parts
        .iter()
        .filter(|part| part.name != "margin" && part.name != "wettest lot")
        .map(|part| part.hours)
        .sum();
    assert!(sure > bare, "{sure} {bare}");
    Ok(())
}

/// Half to one cfm per lb/h is ordinary: from the one to the other not even half of the water left is
/// gained, while at a fifth of a cfm the heat of the air does not suffice and more than twice as much is
/// left, for a quick resin and a slow one. 1 cfm per lb/h is 3.746 m3/h per kg/h.
#[test]
fn holds_half_a_cfm_per_pound_an_hour_heats_and_a_fifth_does_not() -> Outcome {
    // Resin, and litres for the customary time at 25 kg/h.
    for (resin, litres) in [
        ("PC", 125.0),
        ("ABS", 125.0),
        ("PMMA", 150.0),
        ("PBT", 125.0),
    ] {
        let with = |cfm: f64| {
            let flow = 3.746 * cfm * 25.0;
            let air = format!("[air]\nflow = \"{flow} m3/h at 20 degC and 1 atm\"\n");
            plan(&job(resin, 25.0, litres, &air)?)
        };
        let ample = with(1.0)?;
        let (ordinary, little) = (with(0.5)?, with(0.2)?);
        let colder = |plan: &Plan| ample.return_temperature_c - plan.return_temperature_c;
        assert!(
            ordinary.outlet.mean_ppm_wet.value < 2.0 * ample.outlet.mean_ppm_wet.value + 5.0,
            "{resin}: {} {}",
            ordinary.outlet.mean_ppm_wet.value,
            ample.outlet.mean_ppm_wet.value
        );
        assert!(
            little.outlet.mean_ppm_wet.value > 2.0 * ample.outlet.mean_ppm_wet.value + 50.0,
            "{resin}: {} {}",
            little.outlet.mean_ppm_wet.value,
            ample.outlet.mean_ppm_wet.value
        );
        assert!(colder(&little) > colder(&ordinary));
    }
    Ok(())
}
