//! Trials of columns in which several kinds of pellet travel together.

use crate::BedError;
use crate::column::{Column, Drive};
use crate::run::follow;
use crate::trials::{DRIVE, GAB, HENRY, PLASTICISED, column, constant, steadily};
use pellet::blend::Beside;
use pellet::contact::Contact;

/// The column of `lead` with pellets of the other column beside it.
fn with_beside(mut lead: Column, share: f64, other: Contact, water: (f64, f64)) -> Column {
    lead.beside.push(Beside {
        share,
        contact: other,
        moisture: water.0,
        free_water: water.1,
    });
    lead
}

/// A masterbatch in a nylon, a nylon in a polyester, small dry pellets among big wet ones.
fn lots() -> Result<Vec<(Column, Drive)>, BedError> {
    let nylon = column(GAB, PLASTICISED, 24)?;
    let swelling = column(GAB, constant(50e3), 40)?;
    let polyester = column(HENRY, constant(33.1e3), 40)?;
    let mut big = polyester.contact.clone();
    big.interior = big.interior.scaled(1.6);
    big.exchange.heat /= 2.56;
    big.exchange.vapour /= 2.56;
    let cooler = Drive {
        air_temperature: 353.15,
        ..DRIVE
    };
    Ok(vec![
        (
            with_beside(polyester.clone(), 0.25, big.clone(), (5e-3, 0.0)),
            DRIVE,
        ),
        (
            with_beside(
                with_beside(polyester, 0.25, big, (5e-3, 0.0)),
                0.2,
                swelling.contact.clone(),
                (1.5e-2, 2e-3),
            ),
            DRIVE,
        ),
        (
            with_beside(nylon, 0.3, swelling.contact, (1.2e-2, 0.0)),
            Drive {
                feed_moisture: 8e-3,
                ..cooler
            },
        ),
    ])
}

#[test]
fn exact_two_parts_of_one_kind_are_one_kind() -> Result<(), BedError> {
    for (isotherm, feed) in [(HENRY, 2e-3), (GAB, 8e-3)] {
        let drive = Drive {
            feed_moisture: feed,
            ..DRIVE
        };
        let whole = column(isotherm, constant(40e3), 30)?;
        let parts = with_beside(whole.clone(), 0.37, whole.contact.clone(), (feed, 0.0));
        let (one, two) = (whole.steady(&drive)?, parts.steady(&drive)?);
        for found in [two.outlet_moisture, two.lead.water(), two.beside[0].water()] {
            let ratio = found / one.outlet_moisture;
            assert!((ratio - 1.0).abs() < 1e-5, "steady: {ratio}");
        }
        let run = |column: &Column| {
            let state = column.filled(drive.feed_temperature, drive.feed_moisture, 0.0);
            follow(column, state, 5.0 * 3600.0, 0.0, 0.0, steadily(drive))
        };
        let (one, two) = (run(&whole)?, run(&parts)?);
        assert_eq!(one.moments.len(), two.moments.len());
        for (a, b) in one.moments.iter().zip(&two.moments) {
            assert!((a.dried / b.dried - 1.0).abs() < 1e-6, "{a:?} {b:?}");
            assert!((a.return_humidity - b.return_humidity).abs() < 1e-7);
        }
    }
    Ok(())
}

#[test]
fn holds_water_and_energy_close_for_every_lot() -> Result<(), BedError> {
    for (column, drive) in lots()? {
        let state = column.filled(drive.feed_temperature, drive.feed_moisture, 0.0);
        let run = follow(&column, state, 6.0 * 3600.0, 0.0, 0.0, steadily(drive))?;
        let (water, energy) = (run.water.imbalance(), run.energy.imbalance());
        assert!(
            water < 1e-9 && energy < 1e-9,
            "water {water}, energy {energy}"
        );
        let steady = column.steady(&drive)?;
        assert!(
            steady.water_imbalance.abs() < 1e-9,
            "{}",
            steady.water_imbalance
        );
        assert!(
            steady.energy_imbalance.abs() < 1e-9,
            "{}",
            steady.energy_imbalance
        );
    }
    Ok(())
}

#[test]
fn holds_the_transient_of_a_lot_ends_in_its_steady_state() -> Result<(), BedError> {
    for (column, drive) in lots()? {
        let steady = column.steady(&drive)?;
        let state = column.filled(drive.air_temperature, drive.feed_moisture, 0.0);
        let run = follow(&column, state, 60.0 * 3600.0, 0.0, 0.0, steadily(drive))?;
        let end = run.moments.last().map_or(0.0, |moment| moment.dried);
        let ratio = end / (steady.outlet_moisture + steady.outlet_free_water);
        assert!((ratio - 1.0).abs() < 1e-4, "{end} over steady: {ratio}");
    }
    Ok(())
}

#[test]
fn holds_a_bigger_pellet_leaves_wetter_than_its_lead() -> Result<(), BedError> {
    let (column, drive) = &lots()?[0];
    let steady = column.steady(drive)?;
    assert!(steady.beside[0].water() > 2.0 * steady.lead.water());
    Ok(())
}
