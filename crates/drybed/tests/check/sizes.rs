//! How often a leak, worn seals or a worn desiccant are found, by their size.

use super::*;
use decide::check::Stand;

/// Thirds of the sizes of a cause: from what nobody would notice to what nobody misses.
const THIRDS: [&str; 3] = ["small", "plain", "large"];

/// Place of the middle of a third.
fn middle(third: usize) -> f64 {
    (third as f64 + 0.5) / 3.0
}

/// By how much a cause moves the supply dew point, K, at a place.
fn moves(bench: &Bench<'_>, cause: Cause, place: f64) -> Result<f64, Trouble> {
    let truth = question(bench.job, bench.dryer, &[]);
    Ok(supply(&truth, cause, place)? - supply(&truth, Cause::Healthy, 0.0)?)
}

/// The rows of a cause, one a third of its sizes, so many draws of each.
fn thirds(bench: &Bench<'_>, cause: Cause, draws: u32) -> Result<String, Trouble> {
    let mut rows = String::new();
    for (third, name) in THIRDS.iter().enumerate() {
        let (mut first, mut three, mut wrong, mut whole) = (0, 0, 0, 0);
        for draw in 0..draws {
            let within = (f64::from(draw) + 0.5) / f64::from(draws);
            let trial = Rehearsal {
                cause,
                draw: (draw, 71),
                drawn: true,
                place: Some((third as f64 + within) / 3.0),
                kinds: THOROUGH,
            };
            let Ok(readings) = bench.read(&trial) else {
                continue;
            };
            let found = bench.check(&readings)?;
            let place = found.causes.iter().position(|one| one.cause == cause);
            whole += 1;
            first += usize::from(place == Some(0));
            three += usize::from(place.is_some_and(|place| place < 3));
            wrong += usize::from(!matches!(found.stand, Stand::Healthy | Stand::Open));
        }
        let sizes = [0.0, 1.0].map(|end| {
            let words = bench.prepared.size_at(cause, (third as f64 + end) / 3.0);
            words.unwrap_or_default()
        });
        let _ = writeln!(
            rows,
            "| {} | {name} | {} to {} | {:+.0} K | {} | {} | {} |",
            cause.name(),
            sizes[0],
            sizes[1],
            moves(bench, cause, middle(third))?,
            percent(wrong, whole),
            percent(first, whole),
            percent(three, whole),
        );
    }
    Ok(rows)
}

#[test]
fn holds_a_larger_leak_moves_the_dew_point_more() -> Result<(), Trouble> {
    let (job, mut page) = (job()?, String::new());
    for (kind, name, draws, causes) in [
        (
            DryerKind::Wheel,
            "A wheel",
            draws(),
            [
                Cause::HallAirLeak,
                Cause::DeliveryLeak,
                Cause::WornSeals,
                Cause::DesiccantWorn,
            ],
        ),
        (
            DryerKind::Towers,
            "Twin towers",
            draws().div_ceil(2),
            [
                Cause::HallAirLeak,
                Cause::DeliveryLeak,
                Cause::ValveBypass,
                Cause::DesiccantWorn,
            ],
        ),
    ] {
        if draws <= 2 && kind == DryerKind::Towers {
            continue;
        }
        let dryer = dryer_of(&stated(kind), None)?;
        let bench = Bench::of(&job, &dryer)?;
        let _ = writeln!(
            page,
            "### {name}, by size\n\n| cause | size | how much | supply dew point at its middle | said to be faulty | \
             first | among the first three |\n| --- | --- | --- | --- | --- | --- | --- |"
        );
        for cause in causes {
            let (small, large) = (
                moves(&bench, cause, middle(0))?,
                moves(&bench, cause, middle(2))?,
            );
            // The bed of towers has room to spare: until it is full nothing shows.
            let shows = large > small + 3.0 && small > -0.5;
            assert!(
                shows || kind == DryerKind::Towers,
                "{cause:?} {small} {large}"
            );
            if draws > 2 {
                page += &thirds(&bench, cause, draws)?;
            }
        }
        page += "\n";
    }
    write_tables("sizes", &page);
    Ok(())
}
