//! What a job states that is possible, and so unusual that whoever wrote it should know.

use job::Job;
use material::Behaviour;
use quantity::{MoistureDryBasis, Quantity, Units, show};

/// A moisture is called more than the resin holds from this factor on: the saturation of a record
/// is rarely known better. Common practice, no source.
pub(super) const BEYOND_SATURATION: f64 = 1.1;

/// Sentences about what is allowed and unusual; none for most jobs.
///
/// Air colder than the pellets fed makes the hopper a cooler. Moisture above what the sorption law
/// of the resin holds at the temperature of the feed means that part of it is free water, or that
/// the record or the measurement is off.
pub fn job_notes(job: &Job, system: Units) -> Vec<String> {
    [colder_than_feed(job, system), wetter_than_held(job, system)]
        .into_iter()
        .flatten()
        .chain(super::storage::notes(job))
        .collect()
}

fn colder_than_feed(job: &Job, system: Units) -> Option<String> {
    let (air, feed) = (job.air.temperature?, job.arrival.temperature);
    (air.si() < feed.si()).then(|| {
        format!(
            "the air of {} is colder than the pellets fed at {}: this hopper cools them",
            show(air, system),
            show(feed, system)
        )
    })
}

fn wetter_than_held(job: &Job, system: Units) -> Option<String> {
    let moisture = job.arrival.moisture?.dry_basis();
    let feed = job.arrival.temperature;
    let held = job.resin.isotherm.law.moisture(feed.kelvin(), 1.0);
    let beyond =
        job.resin.behaviour == Behaviour::Hygroscopic && moisture.si() > BEYOND_SATURATION * held;
    beyond.then(|| {
        format!(
            "the moisture stated, {}, is more than the {} that {} holds at {} by its sorption \
             law: part of it is surface water, or one of the two is off",
            show(moisture, system),
            show(MoistureDryBasis::from_si(held), system),
            job.resin.name,
            show(feed, system)
        )
    })
}
