//! Checks that schema and reference say what the reader does.

#![expect(clippy::unwrap_used, reason = "a test stops at the first surprise")]

use super::*;
use crate::{RESIN_RECORD, reference};

#[test]
fn exact_the_schema_of_a_resin_record() {
    let schema = schema(&RESIN_RECORD);
    assert_eq!(schema["properties"]["format"]["const"], 1);
    assert_eq!(schema["additionalProperties"], false);
    let required = schema["required"].as_array().unwrap();
    assert!(required.contains(&json!("density")) && !required.contains(&json!("melting")));
    let density = &schema["properties"]["density"];
    assert_eq!(
        density["description"],
        "Density of the dry resin; 600 kg/m³ to 3000 kg/m³."
    );
    assert_eq!(density["examples"][0], "1200 kg/m3");
    assert_eq!(density["oneOf"][0]["x-quantity"], "density");
    assert_eq!(density["oneOf"][1]["required"][0], "value");
    let isotherm = &schema["properties"]["isotherm"];
    let henry = &isotherm["allOf"][1];
    assert_eq!(henry["if"]["properties"]["form"]["const"], "henry");
    assert_eq!(henry["then"]["required"][0], "capacity");
    assert!(henry["then"]["not"]["anyOf"].as_array().unwrap().len() > 5);
    let text = serde_json::to_string(&schema).unwrap();
    assert!(!text.contains("NaN") && !text.contains("null"));
}

#[test]
fn exact_the_reference_page_has_a_row_a_field() {
    let page = reference::page(&RESIN_RECORD);
    assert!(page.starts_with("# Fields of a resin record\n"), "{page}");
    assert!(page.contains("\n## `[drying]`\n"), "{page}");
    assert!(
        page.contains(
            "| `dew_point` | frost point, alone or with its source; `dew_point = \"-30 degC frost\"` \
             | -100 °C frost point to 0.01 °C frost point | must be there | Frost point that practice \
             asks for, at one atmosphere |"
        ),
        "{page}"
    );
    assert!(page.contains(
        "With `form` \"henry\" `capacity`, `reference_temperature`, `mixing_heat` must be there."
    ));
    assert!(page.contains(
        "| `crystallise_first` | true or false; `crystallise_first = false` |  | `false` |"
    ));
}
