//! What holds of a changeover.

#![expect(
    clippy::expect_used,
    reason = "a trial that cannot be built has failed"
)]

use super::*;

fn asked(from: &str, to: &str) -> Changeover {
    let library = Library::shipped().expect("the library reads");
    let path = |name: &str| format!("{}/../../demo/{name}", env!("CARGO_MANIFEST_DIR"));
    let (from, to) = (path(from), path(to));
    let found = changeover_files(
        (Path::new(&from), Path::new(&to)),
        &library,
        DryerAsked::default(),
    );
    found.expect("the changeover is followed").changeover
}

#[test]
fn holds_a_hopper_is_cut_where_it_is_dry() {
    let found = asked("pc-lenses.toml", "abs-small.toml");
    let half = found.half_dried.expect("the top is not dry yet");
    let all = found.dry.mass_kg + half.mass_kg;
    assert!((all / found.drain.drained_kg - 1.0).abs() < 1e-9);
    assert!(found.dry.mean_ppm_wet < found.limit_ppm_wet);
    assert!(half.mean_ppm_wet > found.limit_ppm_wet);
    assert!(found.never.is_none() && found.next_dry_h.is_some_and(|next| next > 0.5));
    // ABS that comes into the hotter air of PC would fuse.
    assert!(
        found
            .cool_first_c
            .is_some_and(|cool| cool < found.set_points_c.0)
    );
}
