//! The sections below the answer: what limits, what the time is made of, rates, start, energy.

use super::sentence::limit_words;
use super::surface::only;
use super::{PlanAnswer, surface};
use crate::pictures;
use crate::speech::{Measure, Speech, hours, percent, ppm};
use decide::answer::FrontMoment;
use document::{Block, Cell, Column, Grade, Row, Section, Table};
use quantity::constants::ZERO_CELSIUS;

/// The bed, with its picture and some heights.
pub(super) fn bed(answer: &PlanAnswer, speech: Speech) -> Section {
    let figure = pictures::bed(answer, speech);
    Section {
        title: "The bed".into(),
        summary: format!("{}.", figure.title),
        blocks: vec![
            Block::picture(figure),
            Block::table(heights(answer, speech)),
        ],
    }
}

/// The front that moves; nothing where no start was followed.
pub(super) fn front(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let figure = pictures::front(answer, speech)?;
    Some(Section {
        title: "The front that moves".into(),
        summary: format!("{}.", figure.title),
        blocks: vec![Block::picture(figure), Block::table(climb(answer, speech))],
    })
}

/// The bed at the moments of its picture, and at the end of the start.
fn climb(answer: &PlanAnswer, speech: Speech) -> Table {
    let front = &answer.plan.front;
    let row = |moment: &FrontMoment| {
        let resin: f64 = moment.levels.iter().map(|level| level.resin).sum();
        let lowest = moment.levels.first();
        let below = lowest.map_or(0.0, |level| level.moisture + level.free_water);
        let ppm = |dry: f64| Cell::precise(1e6 * dry / (1.0 + dry), 3, Grade::Computed);
        Row::new(vec![
            Cell::precise(moment.time_h, 3, Grade::Computed),
            whole(100.0 * pictures::warm_part(answer, moment.warm_up_to_kg)),
            ppm(moment.water_kg / resin.max(f64::MIN_POSITIVE)),
            ppm(below),
        ])
    };
    Table {
        caption: format!(
            "How much of the bed is at {} or more, and how wet it is",
            speech.say(Measure::Temperature, front.warm_c)
        ),
        columns: vec![
            Column::with_unit("since air on", "h"),
            Column::with_unit("height of bed that is warm", "%"),
            Column::with_unit("mean moisture of the bed", "ppm"),
            Column::with_unit("at the air inlet", "ppm"),
        ],
        rows: front.moments.iter().map(row).collect(),
    }
}

/// Inside a pellet; nothing for a resin that takes up no water.
pub(super) fn inside(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let figure = pictures::inside_pellet(answer, speech)?;
    let summary = format!("{}.", figure.title);
    let mut blocks = vec![Block::picture(figure)];
    blocks.extend(pictures::cut(answer, speech).map(Block::picture));
    Some(Section {
        title: "Inside a pellet".into(),
        summary,
        blocks,
    })
}

/// The map of settings.
pub(super) fn map(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let figure = pictures::settings_map(answer, speech)?;
    Some(Section {
        title: "The map of settings".into(),
        summary: format!("{}.", figure.title),
        blocks: vec![
            Block::picture(figure),
            Block::text(
                "The air flow and its humidity are kept all over the map, and pellets there are of \
                 one size on one stream. Both borders are practice, not measurement: they defer to \
                 the resin maker's data sheet.",
            ),
        ],
    })
}

/// What a dew point buys.
pub(super) fn dew_point(answer: &PlanAnswer, speech: Speech) -> Option<Section> {
    let figure = pictures::dew_point(answer, speech)?;
    let unit = speech.unit(Measure::Temperature);
    let rows = answer.plan.dew_point_rows.iter().map(|row| {
        let point = speech.number(Measure::Temperature, row.frost_point_c);
        Row::new(vec![
            whole(point),
            Cell::precise(row.mean_ppm_wet, 2, Grade::Computed),
        ])
    });
    Some(Section {
        title: "What a dew point buys".into(),
        summary: format!("{}.", figure.title),
        blocks: vec![
            Block::picture(figure),
            Block::table(Table {
                caption: "Outlet moisture by frost point, wet basis".into(),
                columns: vec![
                    Column::with_unit("frost point", unit),
                    Column::with_unit("mean of a shot", "ppm"),
                ],
                rows: rows.collect(),
            }),
        ],
    })
}

/// What limits the drying.
pub(super) fn limits(answer: &PlanAnswer) -> Section {
    let limits = &answer.plan.limits;
    if super::lot::nothing_left(answer) {
        return Section {
            title: "What limits it".into(),
            summary: format!(
                "{} is dry as it leaves the hopper; what joins undried decides.",
                answer.plan.resin
            ),
            blocks: vec![Block::text(
                "No longer stay, hotter or drier air helps the blend: only what joins undried does.",
            )],
        };
    }
    let rows = limits.iter().map(|share| {
        Row::new(vec![
            Cell::text(limit_words(share.limit)),
            Cell::precise(100.0 * share.share, 2, Grade::Computed),
        ])
    });
    let rows: Vec<Row> = rows.collect();
    let summary = limits.first().map_or_else(String::new, |first| {
        format!(
            "Without {} the moisture would fall by {}.",
            limit_words(first.limit),
            percent(first.share)
        )
    });
    if only(answer) {
        return surface_limits();
    }
    let blocks = if rows.is_empty() {
        vec![Block::text("Nothing was found that limits it.")]
    } else {
        vec![
            Block::table(Table {
                caption: "How far the outlet moisture would fall if one thing were taken away"
                    .into(),
                columns: vec![Column::new("without"), Column::with_unit("fall", "%")],
                rows,
            }),
            Block::text(
                "Each is taken away alone, so the shares need not add up to a whole: where one \
                 thing limits, the others hardly count.",
            ),
        ]
    };
    Section {
        title: "What limits it".into(),
        summary,
        blocks,
    }
}

/// The same of a resin that carries water on its surface only.
fn surface_limits() -> Section {
    Section {
        title: "What limits it".into(),
        summary: "Water on the surface alone: warming the pellets and carrying the water off."
            .into(),
        blocks: vec![Block::text(
            "The resin takes up no water inside, so diffusion, drier air and a long stay buy nothing. \
             Water leaves the surface as soon as the pellets are warmer than the dew point of the \
             air about them and enough air passes to take it along: that takes minutes. More heat \
             comes with more air or with warmer pellets; on cold ones water condenses anew.",
        )],
    }
}

/// What the residence time is made of.
pub(super) fn time(answer: &PlanAnswer, speech: Speech) -> Section {
    let plan = &answer.plan;
    let total: f64 = plan.time_parts.iter().map(|part| part.hours).sum();
    let mut rows: Vec<Row> = plan
        .time_parts
        .iter()
        .map(|part| time_row(surface::part_name(answer, part.name), part.hours, total))
        .collect();
    rows.push(time_row("all together", total, total));
    let stated = answer.job.data_sheet.as_ref();
    let needed = super::sentence::needed_words(total);
    let own = format!(
        "Limit and margin need {needed}; the {} {} at {}.",
        match stated.and_then(|sheet| sheet.time) {
            Some(_) => "data sheet says",
            None => "trade takes",
        },
        hours(plan.customary_time_h),
        speech.say(Measure::Temperature, plan.customary_temperature_c)
    );
    Section {
        title: "What the time is made of".into(),
        summary: own,
        blocks: vec![
            Block::table(Table {
                caption: format!(
                    "Residence at {}, each effect added to those before it",
                    speech.say(Measure::Temperature, plan.settings.air_temperature_c)
                ),
                columns: vec![
                    Column::new("for"),
                    Column::with_unit("time", "h"),
                    Column::with_unit("share", "%"),
                ],
                rows,
            }),
            Block::text(beside_custom(answer)),
            Block::text(format!(
                "The hopper as planned gives {}. The margin stands once, in its own line, and no \
                 other number of this plan carries one.",
                hours(plan.settings.residence_h)
            )),
        ],
    }
}

/// The residence that nearly all draws call long enough, beside the customary one, and what the gap is.
fn beside_custom(answer: &PlanAnswer) -> String {
    /// Times that count as the same.
    const SAME: f64 = 1.25;
    let plan = &answer.plan;
    let custom = hours(plan.customary_time_h);
    let Some(sure) = plan.surely_dry_h else {
        return format!(
            "No stay of up to two days meets the limit in 95 of 100 draws; practice takes {custom}."
        );
    };
    let said = format!(
        "After {} the limit is met in 95 of 100 draws, heating of the bed and spread of size and stay among \
         them; practice takes {custom}.",
        super::sentence::needed_words(sure)
    );
    let gap = plan.customary_time_h / sure;
    if gap > SAME {
        format!(
            "{said} Custom is the longer: it also covers what is not in this plan, such as lots wetter than \
             stated, air that is cooler or less at the pellets than it is set, a cold start, larger pellets, a \
             core that runs ahead. No value was moved to close the gap; measure before you go below custom."
        )
    } else if gap < 1.0 / SAME {
        format!(
            "{said} Computed is the longer: the limit is stricter, the lot wetter or the pellet larger than \
             custom has in mind, or the record dries too slowly; one measured moisture after the customary \
             time tells which."
        )
    } else {
        said
    }
}

fn time_row(name: &str, value: f64, total: f64) -> Row {
    let share = if total > 0.0 {
        100.0 * value / total
    } else {
        0.0
    };
    Row::new(vec![Cell::text(name), hundredths(value), whole(share)])
}

/// A number to its hundredths.
fn hundredths(value: f64) -> Cell {
    let value = (100.0 * value).round() / 100.0;
    let digits = match value.abs() {
        v if v >= 100.0 => 5,
        v if v >= 10.0 => 4,
        v if v >= 1.0 => 3,
        v if v >= 0.1 => 2,
        _ => 1,
    };
    Cell::precise(value, digits, Grade::Computed)
}

/// A number without decimals.
fn whole(value: f64) -> Cell {
    let digits = match value.abs().round() {
        v if v >= 100.0 => 3,
        v if v >= 10.0 => 2,
        _ => 1,
    };
    Cell::precise(value.round(), digits, Grade::Computed)
}

/// The start.
pub(super) fn start(answer: &PlanAnswer, speech: Speech) -> Section {
    let plan = &answer.plan;
    let start = &plan.start;
    let title = pictures::start_title(answer, speech);
    let mut words = Vec::new();
    if start.fastest_stays_wet {
        words.push(
            "The fastest stream never falls below the limit, the mean of all streams does; the hold \
             is that of the mean."
                .into(),
        );
    }
    if let Some(hold) = start.hold_before_drawing_h {
        words.push(hold_words(answer, hold));
    }
    if start.put_back_kg > 0.0 {
        words.push(format!(
            "What lies below the air inlet is never dried: draw {} of it before the first shot and \
             put it back on top.",
            speech.say(Measure::Mass, start.put_back_kg)
        ));
    }
    match start.first_dry_h {
        Some(first) => words.push(format!(
            "If resin is drawn from the first minute, the first pellet below {} comes {} on the \
             fastest stream; all before it is wet.",
            ppm(plan.outlet.limit_ppm_wet),
            surface::soon(answer, first)
        )),
        None if start.fastest_stays_wet => {}
        None => words.push("In the time followed no pellet on the fastest stream is dry.".into()),
    }
    let mut blocks = vec![Block::text(words.join(" "))];
    blocks.extend(pictures::start(answer, speech).map(Block::picture));
    Section {
        title: "The start".into(),
        summary: format!("{title}."),
        blocks,
    }
}

/// Share of pellets above the limit up to which nothing wet is said to be drawn.
const FEW: f64 = 0.01;

/// How long the outlet is held before the first shot, and why so long.
fn hold_words(answer: &PlanAnswer, hold: f64) -> String {
    let plan = &answer.plan;
    let start = &plan.start;
    let computed = start.computed_hold_h.unwrap_or(hold);
    let why = if computed < hold {
        let margin = if only(answer) {
            "what is computed is shorter and carries no margin".to_owned()
        } else {
            format!("what is computed, {}, carries no margin", hours(computed))
        };
        format!("one full planned stay of the whole charge, as the trade does; {margin}")
    } else {
        format!(
            "what is computed, longer than the planned stay of {}",
            hours(plan.settings.residence_h)
        )
    };
    let dry = !start.fastest_stays_wet && plan.outlet.share_above_limit <= FEW;
    let after = if dry {
        " By the best values nothing wet is drawn afterwards.".to_owned()
    } else {
        format!(
            " {} of the pellets stay above the limit however long the outlet is held; the mean of a \
             shot is what is judged.",
            percent(plan.outlet.share_above_limit)
        )
    };
    let whole = hold + plan.settings.residence_h;
    let top = if whole > plan.map.hold_h {
        format!(
            " What lies on top then stays up to {} in warm air, and {} is borne: start with a lower \
             level, or cooler.",
            hours(whole),
            hours(plan.map.hold_h)
        )
    } else {
        String::new()
    };
    format!(
        "Hold the outlet for {} with the air at its set point before the first shot: {why}.{after}{top}",
        hours(hold)
    )
}

/// Heat, air and electricity.
pub(super) fn energy(answer: &PlanAnswer, speech: Speech) -> Section {
    let plan = &answer.plan;
    let use_ = &plan.energy;
    let unit = speech.unit(Measure::Energy);
    let share = use_.wall_kwh_kg / use_.from_hall_kwh_kg.max(1e-12);
    let wall = if share >= 0.0 {
        format!("the wall takes {} of the heat", percent(share))
    } else {
        format!(
            "the hall adds {} of the heat through the wall",
            percent(-share)
        )
    };
    let row = |what: &str, value: f64| {
        Row::new(vec![
            Cell::text(what),
            Cell::number(speech.number(Measure::Energy, value), Grade::Computed),
            Cell::number(value * plan.rate_kg_h, Grade::Computed),
        ])
    };
    Section {
        title: "Heat, air and electricity".into(),
        summary: format!(
            "{} for air heated from the hall, {} in a closed loop; {wall}.",
            speech.say(Measure::Energy, use_.from_hall_kwh_kg),
            speech.say(Measure::Energy, use_.closed_loop_kwh_kg),
        ),
        blocks: vec![
            Block::table(Table {
                caption: "Energy for each mass of wet resin, and as power".into(),
                columns: vec![
                    Column::new("where it goes"),
                    Column::with_unit("energy", unit),
                    Column::with_unit("power", "kW"),
                ],
                rows: vec![
                    row("kept by the pellets and their water", use_.resin_kwh_kg),
                    row("through the wall of the hopper", use_.wall_kwh_kg),
                    row("still in the air that leaves", use_.return_air_kwh_kg),
                    row("all three: air heated from the hall", use_.from_hall_kwh_kg),
                    row(
                        "air heated from the return: the least a closed loop needs",
                        use_.closed_loop_kwh_kg,
                    ),
                    row("blower for the bed alone, electricity", use_.blower_kwh_kg),
                ],
            }),
            Block::text(
                "Regeneration of the desiccant, ducts, filters and losses of the dryer itself come \
                 on top and are not computed yet.",
            ),
        ],
    }
}

/// The bed at some heights, from the level down.
fn heights(answer: &PlanAnswer, speech: Speech) -> Table {
    let path = &answer.plan.path;
    let pressure = 1e3 * answer.plan.coefficients.pressure_kpa;
    let degrees = |k: f64| {
        let c = speech.number(Measure::Temperature, k - ZERO_CELSIUS);
        Cell::precise(c, 3, Grade::Computed)
    };
    let row = |place: &bed::steady::Place| {
        let height = answer.hopper.height_of(place.height);
        let frost = crate::air::mirror_c(place.air_temperature, pressure, place.air_humidity);
        let wet = place.moisture + place.free_water;
        Row::new(vec![
            Cell::number(speech.number(Measure::Height, height), Grade::Computed),
            degrees(place.temperature),
            degrees(place.air_temperature),
            frost.map_or(Cell::Blank, |c| degrees(c + ZERO_CELSIUS)),
            Cell::precise(1e6 * wet / (1.0 + wet), 3, Grade::Computed),
        ])
    };
    let degree = speech.unit(Measure::Temperature);
    Table {
        caption: "The bed from the level down to the air inlet".into(),
        columns: vec![
            Column::with_unit("height", speech.unit(Measure::Height)),
            Column::with_unit("pellets", degree),
            Column::with_unit("air", degree),
            Column::with_unit("frost point", degree),
            Column::with_unit("moisture, wet basis", "ppm"),
        ],
        rows: some(path, 9).into_iter().map(row).collect(),
    }
}

/// So many of the places at most, by equal steps of age, first and last among them.
fn some(path: &[bed::steady::Place], count: usize) -> Vec<&bed::steady::Place> {
    let end = path.last().map_or(0.0, |p| p.age);
    let mut found: Vec<&bed::steady::Place> = Vec::new();
    for step in 0..count {
        let age = end * step as f64 / (count - 1) as f64;
        let nearest = path
            .iter()
            .min_by(|a, b| (a.age - age).abs().total_cmp(&(b.age - age).abs()));
        if let Some(place) = nearest
            && found.last().is_none_or(|before| before.age < place.age)
        {
            found.push(place);
        }
    }
    found
}
