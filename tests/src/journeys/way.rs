//! Before the dryer and after it: cold bags, stores, machine hoppers and samples, from file to answer.

use decide::answer::Verdict;
use decide::way::{WayFound, of_job};
use files::{Library, read_job};
use job::Job;

const PC: &str = include_str!("../../../demo/pc-lenses.toml");
const PP: &str = include_str!("../../../demo/pp-condensation.toml");

type Outcome = Result<(), Box<dyn std::error::Error>>;
type Found<T> = Result<T, Box<dyn std::error::Error>>;

fn job(text: &str) -> Found<Job> {
    Ok(read_job(text, "job.toml", &Library::shipped()?)?)
}

/// The way of the demonstration with these lines added.
fn way(lines: &str) -> Found<WayFound> {
    let found = of_job(&job(&format!("{PC}\n{lines}\n"))?)?;
    Ok(found.ok_or("this resin takes up water")?)
}

fn screw(lines: &str) -> Found<f64> {
    Ok(way(lines)?
        .at_screw()
        .ok_or("a way is stated")?
        .mean_ppm_wet)
}

fn hopper(minutes: f64, lid: &str) -> String {
    format!("[way.hopper]\ntime = \"{minutes} min\"\nlid = \"{lid}\"")
}

#[test]
fn holds_no_time_changes_nothing() -> Outcome {
    let found = way(
        "[way.conveying]\nflight = \"0 s\"\nwaiting = \"0 s\"\n[way.throat]\ntemperature = \"60 degC\"\n\
         time = \"0 s\"\n[way.sample]\ntime = \"0 s\"",
    )?;
    let first = found.leaving_ppm_wet.to_bits();
    for station in &found.stations {
        assert_eq!(station.mean_ppm_wet.to_bits(), first, "{station:?}");
    }
    let sample = found.sample.ok_or("a sample is stated")?;
    assert_eq!(sample.laboratory_ppm_wet.to_bits(), first);
    Ok(())
}

#[test]
fn holds_the_longer_and_the_damper_the_wetter() -> Outcome {
    let mut last = 0.0;
    for minutes in [1.0, 5.0, 20.0, 60.0, 300.0] {
        let found = screw(&hopper(minutes, "open"))?;
        assert!(found > last, "{minutes} min: {found} ppm after {last} ppm");
        last = found;
    }
    let mut last = 0.0;
    for damp in [20, 35, 50, 65, 80] {
        let text = PC.replace("\"50 %RH\"", &format!("\"{damp} %RH\""));
        let found = of_job(&job(&text)?)?.ok_or("water")?;
        let hour = found.regain.last().ok_or("rows")?;
        assert!(hour.cold_ppm_wet > last, "{damp} %RH: {hour:?}");
        last = hour.cold_ppm_wet;
    }
    Ok(())
}

#[test]
fn holds_hot_pellets_take_up_less_in_the_same_air() -> Outcome {
    let found = way("")?;
    for row in &found.regain {
        let (cold, hot) = (
            row.cold_ppm_wet - found.leaving_ppm_wet,
            row.hot_ppm_wet - found.leaving_ppm_wet,
        );
        assert!(cold > 0.0 && hot < 0.3 * cold, "{row:?}");
        assert!(row.cold_surface_ppm_wet > row.cold_ppm_wet, "{row:?}");
        assert!(row.cold_ppm_wet < found.balance_ppm_wet, "{row:?}");
    }
    Ok(())
}

#[test]
fn holds_a_lid_helps_and_dried_air_more() -> Outcome {
    let open = way(&hopper(90.0, "open"))?;
    let closed = way(&hopper(90.0, "closed"))?;
    let purged = way(&hopper(90.0, "purged"))?;
    let mean = |found: &WayFound| found.at_screw().map_or(f64::NAN, |s| s.mean_ppm_wet);
    assert!(mean(&open) > mean(&closed), "{open:?}");
    assert!(mean(&closed) > mean(&purged), "{closed:?}");
    // No more than the air brings.
    let supply = closed.hopper.as_ref().and_then(|h| h.supply_ppm_wet);
    let gain = mean(&closed) - closed.leaving_ppm_wet;
    assert!(gain > 0.0 && gain < supply.ok_or("a lid")?, "{gain}");
    Ok(())
}

#[test]
fn holds_the_most_a_hopper_may_hold_ends_at_the_limit() -> Outcome {
    let lines = |minutes: f64| {
        format!(
            "[target]\nlimit = \"0.03 % wet\"\n[way.hopper]\ntime = \"{minutes} min\"\nlid = \"open\"\n\
             cooling = \"10 min\"\n[way.throat]\ntemperature = \"40 degC\"\ntime = \"1 min\""
        )
    };
    let text = |minutes: f64| PC.replace("[target]\nlimit = \"0.02 % wet\"\n", &lines(minutes));
    let at =
        |minutes: f64| -> Found<WayFound> { Ok(of_job(&job(&text(minutes))?)?.ok_or("water")?) };
    let most = at(10.0)?.hopper.and_then(|hopper| hopper.most_min);
    let most = most.ok_or("an open hopper has a limit")?;
    let found = at(most)?;
    let screw = found.at_screw().ok_or("stated")?.mean_ppm_wet;
    assert!((screw - 300.0).abs() < 6.0, "{most} min: {screw} ppm");
    Ok(())
}

#[test]
fn holds_a_sample_reads_what_it_took_up() -> Outcome {
    let read = |lines: &str| -> Found<f64> {
        let sample = way(&format!("[way.sample]\n{lines}"))?.sample;
        let sample = sample.ok_or("a sample is stated")?;
        Ok(sample.laboratory_ppm_wet - sample.throat_ppm_wet)
    };
    let open = read("time = \"10 min\"\nvessel = \"open\"")?;
    let half = read("time = \"10 min\"\nvessel = \"closed\"\nfill = \"50 %\"")?;
    let full = read("time = \"10 min\"\nvessel = \"closed\"\nfill = \"95 %\"")?;
    assert!(
        open > 100.0 && open > half && half > full,
        "{open} {half} {full}"
    );
    Ok(())
}

#[test]
fn holds_the_plan_is_judged_at_the_screw() -> Outcome {
    let small = PC.replace("[site]", "[model]\nsamples = 0\n\n[site]");
    let short = decide::plan(&job(&small)?)?;
    assert_eq!(short.verdict, Verdict::InWindow);
    let long = decide::plan(&job(&format!("{small}\n{}\n", hopper(300.0, "open")))?)?;
    assert_eq!(long.outlet.mean_ppm_wet, short.outlet.mean_ppm_wet);
    assert_eq!(long.verdict, Verdict::Wet);
    let told = long
        .warnings
        .iter()
        .any(|w| w.text.contains("reach the screw wet"));
    assert!(told, "{:?}", long.warnings);
    Ok(())
}

#[test]
fn holds_no_number_of_a_way_is_missing() -> Outcome {
    let found = way(&format!(
        "[way.conveying]\nair = \"dry\"\nwaiting = \"2 min\"\n{}\n[way.throat]\ntemperature = \
         \"50 degC\"\ntime = \"2 min\"\n[way.sample]\ntime = \"5 min\"",
        hopper(40.0, "closed")
    ))?;
    let said = format!("{found:?}");
    assert!(!said.contains("NaN") && !said.contains("inf"), "{said}");
    let names: Vec<&str> = found.stations.iter().map(|station| station.name).collect();
    assert_eq!(
        names,
        [
            "leaving the dryer",
            "conveyed",
            "leaving the machine hopper",
            "at the screw"
        ]
    );
    let rising = found
        .course
        .windows(2)
        .all(|pair| pair[0].minutes <= pair[1].minutes);
    assert!(rising && found.course.len() > 20);
    Ok(())
}

#[test]
fn holds_a_resin_without_water_inside_has_no_way() -> Outcome {
    assert!(of_job(&job(PP)?)?.is_none());
    Ok(())
}

/// The polypropylene of the demonstration from a bag brought in at 4 degC.
fn bag(lines: &str) -> Found<decide::answer::Plan> {
    let text = PP
        .replace("surface_water = \"1500 ppm dry\"\n", "")
        .replace("temperature = \"4 degC\"\n", "")
        .replace("[hopper]", &format!("[arrival.bag]\n{lines}\n\n[hopper]"));
    let small = text.replace("[site]", "[model]\nsamples = 0\n\n[site]");
    Ok(decide::plan(&job(&small)?)?)
}

#[test]
fn holds_water_condenses_on_cold_pellets_until_the_bag_has_stood() -> Outcome {
    let cold = bag("temperature = \"4 degC\"")?;
    let found = cold.bag.ok_or("a bag is stated")?;
    assert!(found.condensed_ppm_dry > 300.0, "{found:?}");
    assert!(found.condensed_ppm_dry < 5000.0, "{found:?}");
    assert!(
        (cold.outlet.arriving_ppm_wet - 30.0 - found.condensed_ppm_dry).abs() < 20.0,
        "{found:?}"
    );
    let warned = cold.warnings.iter().any(|w| w.text.contains("condense"));
    assert!(warned, "{:?}", cold.warnings);
    let hours = found.should_stand_h.ok_or("the hall is warm")?;
    assert!(hours > 0.5 && hours < 24.0, "{found:?}");
    // A minute longer, and nothing condenses.
    let minutes = 60.0 * hours + 1.0;
    let stood = bag(&format!(
        "temperature = \"4 degC\"\nstanding = \"{minutes} min\""
    ))?;
    let found = stood.bag.ok_or("a bag is stated")?;
    assert!(found.condensed_ppm_dry < 1.0, "{found:?}");
    assert!(!stood.warnings.iter().any(|w| w.text.contains("condense")));
    Ok(())
}
