//! What holds of a hose.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use super::*;
use crate::asked::trials::at_the_ends;

const ATMOSPHERE: f64 = 101_325.0;
const HALL: f64 = 293.15;
const HOT: Stream = Stream {
    dry_air: 0.04,
    temperature: 423.15,
    humidity: 1e-4,
};

fn spec() -> DuctSpec {
    DuctSpec {
        inner_diameter: Length::from_si(0.1),
        length: Length::from_si(5.0),
        layers: vec![Layer {
            thickness: Length::from_si(0.03),
            conductivity: ThermalConductivity::from_si(0.045),
        }],
        outside: Outside::StillAir {
            emissivity: Fraction::from_si(0.9),
        },
        roughness: Length::from_si(1e-4),
        fittings: 2.0,
        open: Fraction::from_si(1.0),
    }
}

#[test]
fn exact_loss_of_a_thin_wall_with_a_known_coefficient() {
    // A wall so close to the air that only the outside counts.
    let bare = DuctSpec {
        layers: Vec::new(),
        outside: Outside::Coefficient(HeatTransferCoefficient::from_si(0.5)),
        ..spec()
    };
    let carried = bare.check().unwrap().carry(&HOT, ATMOSPHERE, HALL).unwrap();
    let only_outside = (-0.5 * PI * 0.1 * 5.0 / HOT.heat_capacity()).exp();
    let left = (carried.outlet.temperature - HALL) / 130.0;
    // 0.5 W/(m2 K) outside beside some 18 inside.
    assert!(left > only_outside && (left - only_outside) / (1.0 - only_outside) < 0.03);
    assert!((carried.surface - HOT.temperature).abs() < 4.0);
}

#[test]
fn exact_resistances_from_bore_to_hall_add_up() {
    // So short that the air keeps its temperature, and the film inside is the same in all cases.
    let resistance = |layers: &[(f64, f64)], outside: f64| {
        let short = DuctSpec {
            length: Length::from_si(1e-3),
            layers: layers
                .iter()
                .map(|(thickness, conductivity)| Layer {
                    thickness: Length::from_si(*thickness),
                    conductivity: ThermalConductivity::from_si(*conductivity),
                })
                .collect(),
            outside: Outside::Coefficient(HeatTransferCoefficient::from_si(outside)),
            ..spec()
        };
        let carried = short
            .check()
            .unwrap()
            .carry(&HOT, ATMOSPHERE, HALL)
            .unwrap();
        1.0 / (PI * 0.1 * carried.coefficient)
    };
    let outer = 0.1 + 2.0 * 0.03;
    let two = [(0.01, 0.2), (0.02, 0.04)];
    let by_outside = resistance(&two, 5.0) - resistance(&two, 10.0);
    assert!((by_outside * PI * outer / 0.1 - 1.0).abs() < 1e-4);
    let inside = resistance(&[], 10.0) - 1.0 / (PI * 0.1 * 10.0);
    let layers = (1.2_f64.ln() / 0.2 + (0.16_f64 / 0.12).ln() / 0.04) / (2.0 * PI);
    let all = inside + layers + 1.0 / (PI * outer * 10.0);
    assert!((resistance(&two, 10.0) / all - 1.0).abs() < 1e-4);
}

#[test]
fn holds_bare_and_insulated_as_practice_says() {
    let carried = |spec: &DuctSpec| spec.check().unwrap().carry(&HOT, ATMOSPHERE, HALL).unwrap();
    let bare = carried(&DuctSpec {
        layers: Vec::new(),
        ..spec()
    });
    let insulated = carried(&spec());
    // Common practice: 8 to 10 W/(m2 K) outside a bare hose (and some 18 inside it), 1 to 2 under wool.
    assert!(
        (6.0..10.0).contains(&bare.coefficient),
        "{}",
        bare.coefficient
    );
    assert!(
        (1.0..2.2).contains(&insulated.coefficient),
        "{}",
        insulated.coefficient
    );
    assert!(bare.surface > 353.15 && insulated.surface < 328.15);
    assert!(bare.loss > 4.0 * insulated.loss);
    for carried in [bare, insulated] {
        assert!(carried.energy().imbalance() < 1e-12);
        assert!((carried.outlet.water() - carried.inlet.water()).abs() < 1e-18);
    }
}

#[test]
fn exact_laminar_drop_is_that_of_poiseuille() {
    let thin = DuctSpec {
        inner_diameter: Length::from_si(0.02),
        fittings: 0.0,
        ..spec()
    };
    let slow = HOT.at(HALL).of(2e-4);
    let carried = thin
        .check()
        .unwrap()
        .carry(&slow, ATMOSPHERE, HALL)
        .unwrap();
    let volume = slow.volume_flow(ATMOSPHERE);
    let poiseuille =
        128.0 * slow.viscosity(ATMOSPHERE) * 5.0 * volume / (PI * libm::pow(0.02, 4.0));
    assert!((carried.drop / poiseuille - 1.0).abs() < 1e-12);
    assert!(carried.reynolds < 2300.0);
}

#[test]
fn holds_friction_is_continuous_at_the_turn() {
    for end in [TURN.0, TURN.1] {
        let at = |reynolds| friction_factor(reynolds, 0.01).unwrap();
        assert!((at(end - 1e-6) / at(end + 1e-6) - 1.0).abs() < 1e-7);
        let film = |reynolds| nusselt(reynolds, 0.7).unwrap();
        assert!((film(end - 1e-6) / film(end + 1e-6) - 1.0).abs() < 1e-7);
    }
}

#[test]
fn holds_a_hose_pressed_flat_costs_pressure() {
    let drop = |open| {
        let hose = DuctSpec {
            open: Fraction::from_si(open),
            ..spec()
        };
        hose.check()
            .unwrap()
            .carry(&HOT, ATMOSPHERE, HALL)
            .unwrap()
            .drop
    };
    // Half the section: four times the velocity head, and nearly twice the length in diameters.
    assert!((4.0..8.0).contains(&(drop(0.5) / drop(1.0))));
}

#[test]
fn holds_still_air_and_cold_hoses() {
    let duct = spec().check().unwrap();
    let still = duct.carry(&HOT.of(0.0), ATMOSPHERE, HALL).unwrap();
    assert!(still.loss.abs() < 1e-12 && still.drop.abs() < 1e-12);
    let cold = duct.carry(&HOT.at(273.15), ATMOSPHERE, HALL).unwrap();
    assert!(cold.loss < 0.0 && cold.surface < HALL);
    let same = duct.carry(&HOT.at(HALL), ATMOSPHERE, HALL).unwrap();
    assert!(same.loss.abs() < 1e-9);
}

#[test]
fn holds_ranges_at_their_ends_and_every_mistake_told() {
    let with = |change: &dyn Fn(&mut DuctSpec)| {
        let mut spec = spec();
        spec.roughness = Length::from_si(0.0);
        change(&mut spec);
        spec.check().is_ok()
    };
    at_the_ends(&BORE_HOLDS, |x| {
        with(&|spec| spec.inner_diameter = Length::from_si(x))
    });
    at_the_ends(&HOSE_LENGTH_HOLDS, |x| {
        with(&|spec| spec.length = Length::from_si(x))
    });
    at_the_ends(&LAYER_HOLDS, |x| {
        with(&|spec| spec.layers[0].thickness = Length::from_si(x))
    });
    at_the_ends(&LAYER_CONDUCTIVITY_HOLDS, |x| {
        with(&|spec| spec.layers[0].conductivity = ThermalConductivity::from_si(x))
    });
    at_the_ends(&OUTSIDE_HOLDS, |x| {
        with(&|spec| {
            spec.outside = Outside::Coefficient(HeatTransferCoefficient::from_si(x));
        })
    });
    at_the_ends(&ROUGHNESS_HOLDS, |x| {
        with(&|spec| spec.roughness = Length::from_si(0.1 * x))
    });
    at_the_ends(&FITTINGS_HOLDS, |x| with(&|spec| spec.fittings = x));
    at_the_ends(&OPEN_HOLDS, |x| {
        with(&|spec| spec.open = Fraction::from_si(x))
    });
    at_the_ends(&PIPE_REYNOLDS_HOLDS, |x| friction_factor(x, 0.01).is_ok());
    let duct = spec().check().unwrap();
    at_the_ends(&HALL_HOLDS, |x| {
        duct.carry(&HOT, ATMOSPHERE, x + ZERO_CELSIUS).is_ok()
    });
    let wrong = DuctSpec {
        length: Length::from_si(f64::NAN),
        outside: Outside::StillAir {
            emissivity: Fraction::from_si(1.5),
        },
        fittings: -1.0,
        ..spec()
    };
    assert_eq!(wrong.check().unwrap_err().len(), 3);
}
