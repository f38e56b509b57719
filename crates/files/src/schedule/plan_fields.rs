//! The fields of a plan: a table with an order in each row.

use quantity::{Field, FieldKind, Section};

const fn heading(name: &'static str, example: &'static str, help: &'static str) -> Field {
    Field::optional(name, FieldKind::Text, example, help)
}

pub(super) static PLAN: Section = Section {
    fields: &[
        Field::required(
            "file",
            FieldKind::Text,
            "pc-plan.csv",
            "Table (.csv, .xlsx) with one heading a column and one order a row, looked for beside this file",
        ),
        heading(
            "order",
            "work order",
            "Heading of the column with the names of the orders",
        ),
        heading(
            "from",
            "planned start",
            "Heading of the column with their beginnings",
        ),
        heading("to", "planned end", "Heading of the column with their ends"),
        heading(
            "quantity",
            "open quantity (pieces)",
            "Heading of the column with their quantities, mass or pieces",
        ),
        heading(
            "rate",
            "kg per hour (kg/h)",
            "Heading of the column with the resin drawn while the press runs",
        ),
        heading(
            "shot",
            "part and runner (g)",
            "Heading of the column with the mass of a shot, its runner with it",
        ),
        heading(
            "cycle",
            "target cycle (s)",
            "Heading of the column with the cycle times",
        ),
        heading(
            "pieces_per_shot",
            "parts per shot",
            "Heading of the column with how many pieces a shot makes; one when there is none",
        ),
        heading(
            "job",
            "material file",
            "Heading of the column with the job files, looked for beside the plan",
        ),
    ],
    rules: &[],
};
