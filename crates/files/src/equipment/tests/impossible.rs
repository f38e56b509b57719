//! Dryers that cannot be: the record, lines added to it, and the path and a part of the cause of the one
//! fault they earn.

use super::{HOT, LINE_AIR, TOWERS, WHEEL};

pub(super) const IMPOSSIBLE: &[(&str, &str, &str, &str)] = &[
    (
        WHEEL,
        "[wheel]\nprocess_angle = \"250 deg\"\nregeneration_angle = \"80 deg\"\ncooling_angle = \"60 deg\"",
        "wheel.cooling_angle",
        "250 + 80 + 60 = 390 degrees",
    ),
    (
        WHEEL,
        "[wheel]\nprocess_angle = \"360 deg\"",
        "wheel.process_angle",
        "regeneration_angle has none left",
    ),
    (WHEEL, "leak = \"-1 %\"", "leak", "-1 % lies outside"),
    (
        WHEEL,
        "[wheel]\nseal_leak = \"-1 %\"",
        "wheel.seal_leak",
        "-1 % lies outside",
    ),
    (
        WHEEL,
        "[wheel]\ncooling_angle = \"30 deg\"\ncooling_share = \"0 %\"",
        "wheel.cooling_share",
        "gets no air",
    ),
    (
        WHEEL,
        "[wheel]\ncooling_angle = \"0 deg\"\ncooling_share = \"10 %\"",
        "wheel.cooling_share",
        "not there",
    ),
    (
        WHEEL,
        "[wheel]\ndiameter = \"200 mm\"\nhub_diameter = \"250 mm\"",
        "wheel.hub_diameter",
        "a hub of 250 mm leaves no face",
    ),
    (
        WHEEL,
        "[regeneration]\ntemperature = \"45 degC\"",
        "regeneration.temperature",
        "no hotter than the process air",
    ),
    (
        WHEEL,
        "hottest = \"150 degC\"\n[cooler]\nwith = \"nothing\"\n[regeneration]\ntemperature = \"140 degC\"",
        "regeneration.temperature",
        "150",
    ),
    (
        WHEEL,
        "[regeneration]\ntemperature = \"200 degC\"\nheater.outlet_limit = \"180 degC\"",
        "regeneration.heater.outlet_limit",
        "180 °C at most, and the regeneration wants 200 °C",
    ),
    (
        HOT,
        "hottest = \"140 degC\"\n[heater]\noutlet_limit = \"120 degC\"",
        "heater.outlet_limit",
        "120 °C at most",
    ),
    (
        HOT,
        "[heater]\nelements = 2\nelements_lost = 3",
        "heater.elements_lost",
        "3 elements are lost, and it has 2",
    ),
    (
        TOWERS,
        "[towers]\nswap_after = \"3 h\"\nregeneration_time = \"2.5 h\"\ncooling_time = \"1 h\"",
        "towers.swap_after",
        "take 3.5 h, and the towers swap after 3 h",
    ),
    (
        TOWERS,
        "[towers]\nswap = \"dew point\"\nswap_dew_point = \"5 %RH\"",
        "towers.swap_dew_point",
        "no dew or frost point",
    ),
    (
        LINE_AIR,
        "[compressed_air]\ndew_point = \"8 g/kg\"",
        "compressed_air.dew_point",
        "no dew or frost point",
    ),
    (
        LINE_AIR,
        "[compressed_air]\ndew_point = \"40 degC dew\"\ntemperature = \"25 degC\"",
        "compressed_air.dew_point",
        "lies above the temperature of the line",
    ),
    (
        LINE_AIR,
        "[compressed_air]\nenergy = \"0.03 kWh/m3\"",
        "compressed_air.energy",
        "so little energy",
    ),
    (
        TOWERS,
        "[towers]\ncharge = \"1000 kg\"\ndepth = \"20 mm\"\ndensity = \"50 kg/m3\"",
        "kind",
        "tower diameter",
    ),
    (
        HOT,
        "[ownership]\nprice = 100",
        "ownership.currency",
        "price counts in it",
    ),
    (
        HOT,
        "[wheel]\ndepth = \"200 mm\"",
        "wheel",
        "no part in kind",
    ),
    (
        WHEEL,
        "[wheel]\ndesiccant = \"molecular-sieve-31x\"",
        "wheel.desiccant",
        "no desiccant has this key",
    ),
    (
        WHEEL,
        "[wheel]\nchannel_pitch = \"1 mm\"\nchannel_height = \"3 mm\"",
        "wheel.channel_height",
        "height over pitch",
    ),
    (
        HOT,
        "[[blower.point]]\nflow = \"0 m3/h\"\nrise = \"5 kPa\"\n[[blower.point]]\n\
             flow = \"90 m3/h\"\nrise = \"3 kPa\"\n[[blower.point]]\nflow = \"80 m3/h\"\nrise = \"1 kPa\"",
        "blower.point[3].flow",
        "does not rise",
    ),
    (
        HOT,
        "[heater]\npower = { value = \"4 kW\", source = \"name plate\", spread = \"± 1 K\" }",
        "heater.power.spread",
        "",
    ),
];
