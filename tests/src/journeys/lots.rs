//! Lots of several components, planned from file to answer.

use decide::answer::{LotAnswer, Plan, Verdict};
use files::{Library, read_job};

type Outcome = Result<(), Box<dyn std::error::Error>>;

const HEAD: &str = "format = 1\n[resin]\nname = \"PC\"\n[demand]\nrate = \"20 kg/h\"\n\
    [arrival]\nmoisture = \"0.18 % wet\"\n[hopper]\nvolume = \"120 l\"\n\
    [air]\ntemperature = \"120 degC\"\nhumidity = \"-35 degC frost\"\n\
    flow = \"45 m3/h at 20 degC and 1 atm\"\n[model]\nsamples = 32\n";

fn plan(lot: &str) -> Result<Plan, Box<dyn std::error::Error>> {
    let library = Library::shipped()?;
    Ok(decide::plan(&read_job(
        &format!("{HEAD}{lot}"),
        "lot.toml",
        &library,
    )?)?)
}

fn lot_of(plan: &Plan) -> Result<&LotAnswer, &'static str> {
    plan.lot.as_ref().ok_or("no lot in the answer")
}

fn virgin(share: f64) -> String {
    format!("[[lot]]\nname = \"virgin\"\nshare = \"{share} %\"\n")
}

#[test]
fn exact_a_lot_of_one_is_the_resin_alone() -> Outcome {
    let (alone, lot) = (plan("")?, plan(&virgin(100.0))?);
    let ratio = lot.outlet.mean_ppm_wet.value / alone.outlet.mean_ppm_wet.value;
    assert!((ratio - 1.0).abs() < 1e-9, "{ratio}");
    let twins = plan(&format!(
        "{}[[lot]]\nname = \"twin\"\nshare = \"40 %\"\nmoisture = \"0.18 % wet\"\n",
        virgin(60.0)
    ))?;
    let ratio = twins.outlet.mean_ppm_wet.value / alone.outlet.mean_ppm_wet.value;
    assert!((ratio - 1.0).abs() < 1e-4, "twins: {ratio}");
    Ok(())
}

#[test]
fn exact_what_components_bring_adds_up_to_the_blend() -> Outcome {
    let plan = plan(&format!(
        "{}[[lot]]\nname = \"regrind\"\nshare = \"25 %\"\npieces = \"flakes\"\n\
         thickness = \"2.5 mm\"\nmoisture = \"0.25 % wet\"\n\
         [[lot]]\nname = \"colour\"\nshare = \"3 %\"\nmoisture = \"0.1 % wet\"\nentry = \"throat\"\n",
        virgin(72.0)
    ))?;
    let lot = lot_of(&plan)?;
    let dry: f64 = lot.parts.iter().map(|part| part.brings_ppm * 1e-6).sum();
    let wet = dry / (1.0 + dry) * 1e6;
    assert!(
        (wet / lot.screw_ppm_wet - 1.0).abs() < 1e-9,
        "{wet} {}",
        lot.screw_ppm_wet
    );
    Ok(())
}

#[test]
fn holds_thicker_flakes_leave_wetter() -> Outcome {
    let mut last = 0.0;
    for thickness in [1.0, 2.0, 3.0, 4.0] {
        let plan = plan(&format!(
            "{}[[lot]]\nname = \"regrind\"\nshare = \"30 %\"\npieces = \"flakes\"\n\
             thickness = \"{thickness} mm\"\nmoisture = \"0.18 % wet\"\n",
            virgin(70.0)
        ))?;
        let regrind = &lot_of(&plan)?.parts[1];
        assert!(regrind.leaving_ppm_wet > last, "{thickness} mm");
        last = regrind.leaving_ppm_wet;
    }
    Ok(())
}

#[test]
fn holds_an_undried_share_that_decides_is_named() -> Outcome {
    let plan = plan(&format!(
        "{}[[lot]]\nname = \"black\"\nresin = \"ABS\"\nshare = \"4 %\"\nmoisture = \"0.6 % wet\"\n\
         entry = \"throat\"\n",
        virgin(96.0)
    ))?;
    assert_eq!(plan.verdict, Verdict::Wet);
    assert_eq!(lot_of(&plan)?.decides.as_deref(), Some("black"));
    // Dried with the rest it is no trouble.
    let dried = self::plan(&format!(
        "{}[[lot]]\nname = \"black\"\nresin = \"PC\"\nshare = \"4 %\"\nmoisture = \"0.6 % wet\"\n",
        virgin(96.0)
    ))?;
    assert_eq!(dried.verdict, Verdict::InWindow);
    Ok(())
}

#[test]
fn exact_pellets_lead_wherever_they_stand_in_the_list() -> Outcome {
    let flakes = "[[lot]]\nname = \"regrind\"\nshare = \"30 %\"\npieces = \"flakes\"\n\
                  thickness = \"2 mm\"\nmoisture = \"0.2 % wet\"\n";
    let last = plan(&format!("{}{flakes}", virgin(70.0)))?;
    let first = plan(&format!("{flakes}{}", virgin(70.0)))?;
    assert_eq!(lot_of(&first)?.leads, "virgin");
    let ratio = lot_of(&first)?.screw_ppm_wet / lot_of(&last)?.screw_ppm_wet;
    assert!((ratio - 1.0).abs() < 1e-12, "{ratio}");
    Ok(())
}

/// The invented lots of `demo/lots`, with how their plan stands.
const LOTS: [(&str, Verdict); 11] = [
    ("abs-white-small", Verdict::InWindow),
    ("pa66-gf30-slow-press", Verdict::Cooked),
    ("pbt-gf30-regrind", Verdict::InWindow),
    ("pc-abs-five-classes", Verdict::InWindow),
    ("pc-black-decides", Verdict::Wet),
    ("pc-regrind-colour", Verdict::InWindow),
    ("peek-regrind", Verdict::InWindow),
    ("pet-with-flake", Verdict::CrystalliseFirst),
    ("pla-opened-bag", Verdict::InWindow),
    ("pmma-big-pellets", Verdict::InWindow),
    ("pp-black", Verdict::InWindow),
];

#[test]
fn holds_the_invented_lots_stand_as_they_are_said_to() -> Outcome {
    let library = Library::shipped()?;
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo/lots");
    assert_eq!(std::fs::read_dir(folder)?.count(), LOTS.len());
    for (name, verdict) in LOTS {
        let path = format!("{folder}/{name}.toml");
        let mut job = files::open_job(path.as_ref(), &library)?;
        job.model.samples = 8;
        job.model.parcels = Some(24);
        let plan = decide::plan(&job)?;
        assert_eq!(plan.verdict, verdict, "{name}");
        if verdict != Verdict::CrystalliseFirst {
            assert!(plan.front.settled_h.is_some(), "{name}");
        }
        assert!(
            plan.water_imbalance.abs() < 1e-9,
            "{name}: {}",
            plan.water_imbalance
        );
        assert!(
            plan.energy_imbalance.abs() < 1e-9,
            "{name}: {}",
            plan.energy_imbalance
        );
        assert!(plan.transient.water_imbalance < 1e-9, "{name}");
        assert!(plan.transient.energy_imbalance < 1e-9, "{name}");
    }
    Ok(())
}
