//! What the stay does to the resin: molar mass lost to water, and the dose of oxidation.

use super::PlanAnswer;
use document::{Block, Section};
use quantity::digits;

/// What is known of it in a section; none where the record has no rate.
pub(super) fn section(answer: &PlanAnswer) -> Option<Section> {
    let harm = &answer.plan.harm;
    let resin = &answer.plan.resin;
    let mut lines = Vec::new();
    if let Some(loss) = harm.molar_mass_loss {
        lines.push(format!(
            "Water and heat take about {} % of the molar mass of {resin} between feed and throat.",
            share(loss)
        ));
    }
    if let Some(dose) = harm.oxidation_dose {
        lines.push(format!(
            "Hot air gives {resin} about {} % of the dose at which yellowing or brittleness shows.",
            share(dose)
        ));
    }
    let summary = lines.first()?.clone();
    let mut blocks: Vec<Block> = lines.into_iter().map(Block::text).collect();
    blocks.push(Block::text(
        "Computed along the way of the mean pellet from the rates of its record, which are known to \
         a factor of two at best; stabilisers and the grade decide.",
    ));
    if harm.oxidation_dose.is_some() {
        blocks.push(Block::text(
            "Whether a stay is too long is judged by one criterion alone: every hour of it counted as \
             hot as the air, against the longest stay borne in such air. The dose is less than that, \
             because on its way the mean pellet is hot for a part of the stay only; it is told, not \
             judged, since slow streams and a stopped press leave pellets hot for all of it.",
        ));
    }
    Some(Section {
        title: "What the stay does to the resin".into(),
        summary,
        blocks,
    })
}

/// A share in percent, with no more digits than such a rate bears.
fn share(share: f64) -> String {
    let percent = 100.0 * share;
    if percent < 0.01 {
        "less than 0.01".to_owned()
    } else {
        digits(percent, 2)
    }
}

#[cfg(test)]
mod tests {
    use super::share;

    #[test]
    fn exact_a_share_is_told_with_two_digits() {
        assert_eq!(share(0.012_34), "1.2");
        assert_eq!(share(1.34), "130");
        assert_eq!(share(3e-5), "less than 0.01");
    }
}
