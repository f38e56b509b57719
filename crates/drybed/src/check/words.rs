//! What is said of a cause to a person at the press: what to look at, and what a steady round cannot tell.

use decide::check::Cause;

/// What to do about a cause, as one imperative sentence.
pub(super) fn mend(cause: Cause) -> &'static str {
    match cause {
        Cause::Healthy => "Leave the dryer alone.",
        Cause::HallAirLeak => {
            "Look for hall air drawn in before the blower: hose, lid, gasket, loader flap; a strip of paper shows where \
             it is sucked."
        }
        Cause::DeliveryLeak => {
            "Look for hot air blowing out between dryer and hopper: hose, clamps, distributor."
        }
        Cause::WornSeals => "Have the seals of the wheel looked at and changed.",
        Cause::WheelStands => "See whether the wheel turns: belt, motor, drive pin.",
        Cause::RegenerationElements => {
            "Have the current of each phase of the regeneration heater measured, and the dead element changed."
        }
        Cause::RegenerationOff => {
            "Have the regeneration heater looked at: fuse, contactor, over-temperature trip, all elements."
        }
        Cause::RegenerationAir => {
            "Clean or change the regeneration filter, and see that its blower runs and the right way round."
        }
        Cause::CoolerFouled => "Clean the return-air cooler, its fins first.",
        Cause::CoolingWaterShut => "See whether the cooling water is open: valve, strainer, hose.",
        Cause::CoolingWaterWarm => "Find out why the cooling water comes warm.",
        Cause::DesiccantWorn => {
            "Have the desiccant baked out once; where that does not help for weeks, it has to be changed. Age and \
             contamination look alike in one round: smell and oil in the filter housing speak for contamination."
        }
        Cause::ValveBypass | Cause::ValveStuck => {
            "Watch one change-over of the towers: valve, cylinder, its air, its switches."
        }
        Cause::FilterClogged => "Clean or change the process filter.",
        Cause::BlowerBackwards => {
            "Look at the turning arrow of the process blower; after electrical work have two phases changed over."
        }
        Cause::HoseCollapsed => {
            "Feel along supply and return hose for a flat or kinked piece, and look inside for a loose lining."
        }
        Cause::LineAirThrottled => "Look at regulator, filter and shut-off of the compressed air.",
        Cause::SetOtherwise => {
            "Turn the air to the set point of the job, and see that its sensor sits in the air; have the independent \
             temperature limiter checked, and feel for lumps from outside. Resin kept too hot may be yellowed or \
             fused: look at it before it is moulded. Resin kept too cold is not dry."
        }
        Cause::ProcessElements => {
            "Have the current of each phase of the process heater measured, and the dead element changed."
        }
        Cause::HoseBare => {
            "Insulate the hose to the hopper, and control the temperature at the hopper inlet."
        }
        Cause::LevelLow => {
            "Fill the hopper, and find out why it was not: loader, level switch, store."
        }
        Cause::LotWetter => {
            "Have the moisture of what is loaded tested; look at bags, silo, regrind."
        }
        Cause::RateHigher => "Count shots, or weigh: more is drawn than the job says.",
        Cause::RateLower => {
            "Count shots, or weigh: less is drawn than the job says; lower the level or the temperature where the \
             resin suffers from a long stay."
        }
        Cause::PlantDryer => "Have the compressed-air dryer of the plant looked at.",
        Cause::SensorUnderPressure => {
            "Let the air for the dew point sensor down to the hall's pressure before it is read."
        }
        Cause::Regain => {
            "Look after the hopper: conveying by hall air, a machine hopper that is open or too big, pauses."
        }
        Cause::WrongReading(_) => "Take that reading again, with another instrument.",
        Cause::SomethingElse => {
            "Take the readings again; where they stay, something is wrong that is not on this list."
        }
    }
}

/// The first thing of what to do about a cause.
pub(super) fn first_of(cause: Cause) -> &'static str {
    let all = mend(cause);
    all.split_once(". ").map_or(all, |(first, _)| first)
}

/// What one round at rest cannot tell, and the reading that would.
pub(super) const CANNOT: &[(&str, &str)] = &[
    (
        "Pellets bridged or fused to a lump",
        "level constant while the machine runs out, loader silent; the throat grows cold",
    ),
    (
        "Pellets that run through the middle (rat-hole)",
        "throat temperature that jumps; a few pellets of another colour on top that arrive far too early",
    ),
    (
        "Cold slugs of a big loader batch",
        "return temperature over a few refills: a saw-tooth in step with the loader",
    ),
    (
        "Fines that build up in the bed",
        "pressure before the hopper over days, with a sudden fall at a refill",
    ),
    (
        "Supply and return hose exchanged at the hopper",
        "a hand on both hoses: the bottom one must be the hotter",
    ),
    (
        "Splay after a pause only (machine hopper)",
        "whether it fades within minutes of running; a fault of the dryer stays",
    ),
    (
        "Age or contamination of the desiccant",
        "the dew point after one long hot regeneration: contamination comes back in part, age does not",
    ),
    (
        "A sensor that sticks at a plausible number",
        "whether it moves when the hopper lid is opened for a minute",
    ),
    (
        "Two faults at once",
        "another round after the first is mended",
    ),
];
