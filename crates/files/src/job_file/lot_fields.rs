//! The fields of a component of a lot.

use super::fields::{ABOVE_ZERO, MOST_MOISTURE, quantity};
use quantity::{Field, FieldKind, Meaning, Rule, Section};

pub(super) static COMPONENT: Section = Section {
    fields: &[
        Field::required(
            "name",
            FieldKind::Text,
            "regrind",
            "What you call the component",
        ),
        Field::optional(
            "resin",
            FieldKind::Text,
            "PC",
            "Name of its resin in the library, of a masterbatch that of its carrier; the resin of \
             the job when left out",
        ),
        Field::required(
            "share",
            quantity!(Fraction),
            "25 %",
            "Its share by mass of what the screw draws, weighed as it is",
        )
        .within(ABOVE_ZERO, 1.0),
        Field::defaulted(
            "pieces",
            FieldKind::Choice(&["pellets", "flakes"]),
            "pellets",
            "Pellets as the record describes them, or flakes of regrind",
        ),
        Field::optional(
            "thickness",
            quantity!(Length),
            "2.5 mm",
            "Thickness of the flakes: the wall of the parts they were ground from",
        )
        .within(1e-4, 0.05),
        Field::optional(
            "across",
            quantity!(Length),
            "6 mm",
            "Size of the flakes across: the screen of the granulator; 6 mm when left out",
        )
        .within(1e-4, 0.05),
        Field::optional(
            "size_spread",
            quantity!(Fraction),
            "20 %",
            "Spread of the size from piece to piece, one standard deviation; that of the record's \
             pellets, or 20 % for flakes (common practice, no source), when left out",
        )
        .within(0.0, 1.0),
        Field::optional(
            "bulk_density",
            quantity!(BulkDensity),
            "450 kg/m3",
            "Density of the poured pieces; that of the record, or 0.6 of it for flakes (common \
             practice, no source), when left out",
        )
        .within(100.0, 2000.0),
        Field::optional(
            "moisture",
            quantity!(Moisture),
            "0.15 % wet",
            "Moisture with which it comes; that of an opened package of its resin when left out",
        )
        .within(0.0, MOST_MOISTURE),
        Field::optional(
            "spread",
            quantity!(Fraction),
            "20 %",
            "One standard deviation of that moisture from lot to lot, as a share of it",
        )
        .within(0.0, 2.0),
        Field::defaulted(
            "surface_water",
            quantity!(MoistureDryBasis),
            "0 ppm dry",
            "Free water on its surface, beside the moisture inside",
        )
        .within(0.0, MOST_MOISTURE),
        Field::defaulted(
            "entry",
            FieldKind::Choice(&["loader", "hopper", "throat"]),
            "loader",
            "Where it joins the others: before the hopper or on top of it, and dried, or at the \
             throat, and not dried here",
        ),
    ],
    rules: &[
        Rule::When {
            field: "pieces",
            word: "pellets",
            needs: &[],
            may: &[],
        },
        Rule::When {
            field: "pieces",
            word: "flakes",
            needs: &["thickness"],
            may: &["across"],
        },
    ],
};
