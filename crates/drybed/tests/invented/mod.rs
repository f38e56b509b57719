//! A plan whose every number is invented, so that what is shown of it never moves with the physics.

use bed::profile::Level;
use bed::run::Moment;
use bed::steady::Place;
use decide::answer::{
    DewPointRow, EnergyUse, Front, FrontMoment, Limit, LimitShare, OutletMoisture, Ranged, RateEnd,
    RateWindow, Settings, SettingsMap, Start, TimePart, Verdict, Warning,
};
use decide::bag::ColdBagFound;
use decide::storage::{Stored, StoredPoint};
use decide::way::{
    HallFound, HopperFound, OpenTime, RegainRow, SampleFound, Station, WayFound, WayPoint,
};
use drybed::{HeartPlace, InsideProfile, PlanAnswer, Trouble, library};
use material::Caution;

/// The benchmark job, whose resin does not exist either.
const JOB: &str = include_str!("../../../../demo/benchmark.toml");

/// Dry resin in the bed, kg, and the time a pellet takes through it, s.
const BED: f64 = 35.0;
const STAY: f64 = 4.0 * 3600.0;

/// A plan that stands as `verdict`, under a title of anybody's choice.
pub(crate) fn plan(verdict: Verdict, title: &str) -> Result<PlanAnswer, Trouble> {
    let mut answer = drybed::plan(JOB, "invented.toml", &library(None)?)?;
    let wet = verdict == Verdict::Wet;
    let plan = &mut answer.plan;
    title.clone_into(&mut plan.title);
    plan.resin = "PX".into();
    plan.rate_kg_h = 10.0;
    plan.verdict = verdict;
    plan.settings = settings(120.0, 4.0);
    plan.nearest_safe = wet.then(|| settings(125.0, 6.0));
    plan.chosen = if wet {
        Vec::new()
    } else {
        vec!["hopper", "air flow"]
    };
    plan.outlet = outlet(if wet { 3.0 } else { 1.0 });
    plan.limits = vec![
        LimitShare {
            limit: Limit::Diffusion,
            share: 0.8,
        },
        LimitShare {
            limit: Limit::HeatLoss,
            share: 0.1,
        },
    ];
    plan.time_parts = [("diffusion in the mean pellet", 1.5), ("margin", 2.5)]
        .map(|(name, hours)| TimePart { name, hours })
        .to_vec();
    plan.surely_dry_h = Some(3.4);
    plan.customary_time_h = 4.0;
    plan.customary_temperature_c = 120.0;
    plan.needed_frost_point_c = -20.0;
    plan.dew_point_rows = [(-60.0, 88.0), (-40.0, 90.0), (-20.0, 100.0), (0.0, 180.0)]
        .map(|(frost_point_c, mean_ppm_wet)| DewPointRow {
            frost_point_c,
            mean_ppm_wet,
        })
        .to_vec();
    plan.energy = EnergyUse {
        resin_kwh_kg: 0.036,
        wall_kwh_kg: 0.006,
        return_air_kwh_kg: 0.018,
        from_hall_kwh_kg: 0.06,
        closed_loop_kwh_kg: 0.042,
        blower_kwh_kg: 0.002,
    };
    plan.rate_window = RateWindow {
        least: Some(RateEnd {
            rate_kg_h: 2.0,
            bound_by: Limit::OverDrying,
        }),
        most: Some(RateEnd {
            rate_kg_h: 14.0,
            bound_by: Limit::Diffusion,
        }),
    };
    plan.start = Start {
        first_dry_h: Some(3.0),
        hold_before_drawing_h: Some(4.0),
        computed_hold_h: Some(1.5),
        fastest_stays_wet: false,
        put_back_kg: 2.0,
    };
    plan.map = map();
    plan.way = Some(way());
    plan.path = path(90e-6 * if wet { 3.0 } else { 1.0 });
    plan.return_temperature_c = 60.0;
    (plan.water_imbalance, plan.energy_imbalance) = (1e-12, 2e-12);
    plan.transient.moments = moments();
    (
        plan.transient.water_imbalance,
        plan.transient.energy_imbalance,
    ) = (3e-12, 4e-12);
    plan.front = front();
    plan.coefficients.dry_rate_kg_h = 10.0;
    plan.coefficients.heat_transfer_units = 500.0;
    plan.coefficients.capacity_ratio = 1.5;
    plan.coefficients.pressure_kpa = 101.325;
    plan.warnings = vec![Warning {
        text: "air at 120 degC is within 8 K of the sticking temperature, 128 degC".into(),
        mend: "limit the air temperature independently".into(),
    }];
    plan.cautions = vec![Caution::Sticks];
    plan.samples = 256;
    plan.seed = 1;
    answer.heart = answer
        .plan
        .path
        .iter()
        .map(|place| HeartPlace {
            time_h: place.age / 3600.0,
            above_inlet_kg: place.height,
            heart_ppm_wet: 1e6 * place.heart,
        })
        .collect();
    answer.inside = inside();
    answer.cut = None;
    Ok(answer)
}

fn settings(air_temperature_c: f64, residence_h: f64) -> Settings {
    Settings {
        air_temperature_c,
        residence_h,
        air_flow_kg_h: 20.0,
        air_flow_m3_h_at_20_c: 16.6,
        air_per_resin_kg_kg: 2.0,
        frost_point_c: -40.0,
        humidity_g_kg: 0.079,
        bed_mass_kg: BED,
        below_inlet_kg: 2.0,
        hopper_volume_l: 60.0,
        fill: 0.9,
        diameter_mm: 400.0,
        bed_height_mm: 400.0,
    }
}

fn outlet(times: f64) -> OutletMoisture {
    OutletMoisture {
        mean_ppm_wet: Ranged {
            value: 93.0 * times,
            low: 51.0 * times,
            high: 168.0 * times,
        },
        surface_ppm_wet: 20.0,
        heart_ppm_wet: 180.0 * times,
        limit_ppm_wet: 200.0,
        lower_edge_ppm_wet: None,
        wettest_percent_ppm_wet: 160.0 * times,
        driest_percent_ppm_wet: 40.0 * times,
        share_above_limit: if times > 1.0 { 0.8 } else { 0.004 },
        probability_within: if times > 1.0 { 0.06 } else { 0.98 },
        floor_ppm_wet: 15.0,
        arriving_ppm_wet: 2000.0,
    }
}

fn map() -> SettingsMap {
    let temperature_c: Vec<f64> = (0..9).map(|k| 100.0 + 5.0 * f64::from(k)).collect();
    let residence_h: Vec<f64> = (0..8).map(|k| 1.0 + f64::from(k)).collect();
    let mean = |t: f64, h: f64| 15.0 + 2000.0 * (-h * ((t - 120.0) / 25.0).exp() * 0.8).exp();
    let heat = |t: f64, h: f64| 4e-4 * (t - 25.0) + 1e-3 * h;
    SettingsMap {
        closed_loop_kwh_kg: residence_h
            .iter()
            .map(|h| temperature_c.iter().map(|t| heat(*t, *h)).collect())
            .collect(),
        mean_ppm_wet: residence_h
            .iter()
            .map(|h| temperature_c.iter().map(|t| mean(*t, *h)).collect())
            .collect(),
        temperature_c,
        residence_h,
        sticking_c: 128.0,
        hold_h: 7.0,
        hold_over_temperature_h: vec![7.0; 9],
        temperature_spread_k: 1.5,
        residence_spread_h: 0.3,
    }
}

/// Pellets that take up water with the root of time.
fn way() -> WayFound {
    let cold = |minutes: f64| 93.0 + 70.0 * minutes.sqrt();
    let hot = |minutes: f64| 93.0 + 6.0 * minutes.sqrt();
    WayFound {
        hall: HallFound {
            temperature_c: 23.0,
            relative_humidity_percent: 50.0,
            dew_point_c: 12.0,
            assumed: true,
        },
        balance_ppm_wet: 1500.0,
        leaving_c: 118.0,
        leaving_ppm_wet: 93.0,
        regain: [5.0, 15.0, 30.0, 60.0]
            .map(|minutes| RegainRow {
                minutes,
                cold_ppm_wet: cold(minutes),
                cold_surface_ppm_wet: 1400.0,
                hot_ppm_wet: hot(minutes),
                hot_surface_ppm_wet: 130.0,
            })
            .to_vec(),
        open_cold: OpenTime {
            to_limit_min: Some(2.3),
            to_half_margin_min: Some(0.6),
        },
        open_hot: OpenTime {
            to_limit_min: None,
            to_half_margin_min: Some(80.0),
        },
        stations: Vec::new(),
        hopper: None,
        sample: None,
        course: (0..=30)
            .map(|step| {
                let minutes = f64::from(step * step) / 15.0;
                WayPoint {
                    minutes,
                    temperature_c: 23.0,
                    mean_ppm_wet: cold(minutes),
                    surface_ppm_wet: if step == 0 { 20.0 } else { 1400.0 },
                }
            })
            .collect(),
    }
}

/// Ten days in a store.
pub(crate) fn stored() -> Stored {
    let course = (0..=40).map(|step| {
        let time_d = 0.25 * f64::from(step);
        let wave = (std::f64::consts::TAU * time_d).sin();
        StoredPoint {
            time_d,
            air_c: 22.0 + 5.0 * wave,
            relative_humidity_percent: 60.0 - 12.0 * wave,
            mean_ppm_wet: 500.0 + 470.0 * time_d.sqrt(),
            surface_ppm_wet: 2100.0 - 400.0 * wave,
        }
    });
    Stored {
        moisture_kg_kg: 2e-3,
        course: course.collect(),
    }
}

/// A bag from the cold.
pub(crate) fn bag() -> ColdBagFound {
    ColdBagFound {
        brought_c: 2.0,
        hall_c: 22.0,
        hall_dew_point_c: 12.0,
        hall_assumed: false,
        stood_h: 1.0,
        opened_c: 8.0,
        coldest_c: 5.0,
        time_constant_h: 2.5,
        should_stand_h: Some(2.4),
        condensed_ppm_dry: 900.0,
        wettest_after_min: 0.4,
        fed_c: 12.0,
    }
}

/// The same with a way to the machine that is stated.
pub(crate) fn stated_way() -> WayFound {
    let station = |name, minutes, temperature_c, mean_ppm_wet: f64, surface_ppm_wet| Station {
        name,
        minutes,
        temperature_c,
        mean_ppm_wet,
        surface_ppm_wet,
        mean_kg_kg: 1e-6 * mean_ppm_wet,
    };
    WayFound {
        stations: vec![
            station("leaving the dryer", 0.0, 118.0, 93.0, 20.0),
            station("conveyed", 1.1, 60.0, 110.0, 400.0),
            station("leaving the machine hopper", 31.1, 40.0, 126.0, 150.0),
            station("at the screw", 33.1, 50.0, 126.0, 140.0),
        ],
        hopper: Some(HopperFound {
            holds_kg: 5.0,
            stays_min: 30.0,
            cooling_min: 60.0,
            lid: "closed",
            open: OpenTime {
                to_limit_min: Some(9.0),
                to_half_margin_min: Some(2.5),
            },
            most_min: Some(120.0),
            most_kg: Some(20.0),
            most_half_margin_kg: Some(8.0),
            supply_ppm_wet: Some(15.0),
        }),
        sample: Some(SampleFound {
            throat_ppm_wet: 126.0,
            laboratory_ppm_wet: 171.0,
            minutes: 5.0,
            closed: true,
        }),
        ..way()
    }
}

/// A pellet that warms within a tenth of its way and loses its water at one rate.
fn path(end: f64) -> Vec<Place> {
    let steps = 40;
    let rate = (2000e-6 / end).ln();
    (0..=steps)
        .map(|step| {
            let share = f64::from(step) / f64::from(steps);
            let warm = 1.0 - (-60.0 * share).exp();
            let moisture = 2000e-6 * (-rate * share).exp();
            Place {
                height: BED * (1.0 - share),
                age: STAY * share,
                temperature: 298.15 + 95.0 * warm,
                moisture,
                surface: 0.2 * moisture,
                heart: (1.9 * moisture).min(2000e-6),
                free_water: 0.0,
                air_temperature: 330.15 + 63.0 * warm,
                air_humidity: 8e-5 + 1e-3 * (1.0 - share),
            }
        })
        .collect()
}

fn moments() -> Vec<Moment> {
    (0..60)
        .map(|step| {
            let hours = 0.2 * f64::from(step);
            let dried = 90e-6 + 1900e-6 * (-0.9 * hours).exp();
            Moment {
                time: 3600.0 * hours,
                dried,
                outlet: 90e-6 + 1900e-6 * (-0.9 * (hours - 0.2).max(0.0)).exp(),
                temperature: 390.0,
                return_temperature: 333.15 - 30.0 * (-hours).exp(),
                return_humidity: 1e-3,
                held: BED,
            }
        })
        .collect()
}

/// A step of heat that climbs the bed in five hours, and moisture that follows it.
fn front() -> Front {
    let levels = |hours: f64| -> Vec<Level> {
        (0..40)
            .map(|k| {
                let height = BED * (f64::from(k) + 0.5) / 40.0;
                let cold = 1.0 / (1.0 + (0.6 * (height - 7.0 * hours)).exp());
                Level {
                    height,
                    resin: BED / 40.0,
                    temperature: 298.15 + 90.0 * cold,
                    moisture: 90e-6 + 1900e-6 * (-2.0 * cold * (1.0 - height / BED)).exp(),
                    free_water: 0.0,
                    water: 1e-3,
                    air_temperature: 300.15 + 92.0 * cold,
                    air_humidity: 1e-3,
                }
            })
            .collect()
    };
    Front {
        warm_c: 96.0,
        warm_up_to_kg: Some(0.95 * BED),
        up_h: Some(5.0),
        settled_h: Some(8.0),
        moments: [1.7, 3.3, 5.0, 6.5, 12.0]
            .map(|time_h| FrontMoment {
                time_h,
                warm_up_to_kg: (7.0 * time_h).min(0.95 * BED),
                water_kg: 0.02,
                levels: levels(time_h),
            })
            .to_vec(),
    }
}

fn inside() -> Vec<InsideProfile> {
    [(0.5, 1500.0), (4.0, 170.0)]
        .map(|(time_h, heart)| {
            let depth_mm: Vec<f64> = (0..=10).map(|k| 0.15 * f64::from(k)).collect();
            let rise = |d: &f64| 20.0 + (heart - 20.0) * (1.0 - (1.0 - d / 1.5).powi(2));
            InsideProfile {
                time_h,
                moisture_ppm_wet: depth_mm.iter().map(rise).collect(),
                depth_mm,
                mean_ppm_wet: 0.5 * heart,
            }
        })
        .to_vec()
}
