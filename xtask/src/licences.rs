//! Licences: every dependency against the list in deny.toml, and ours in every manifest.

use crate::command::cargo;
use crate::fault::Fault;
use crate::licences_expression::permits;
use crate::trouble::Trouble;
use crate::workspace::{self, Member};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;

/// Where the list is kept; `cargo deny` reads the same file.
const KEPT_IN: &str = "deny.toml";

/// Our own licences, under the names a dependency would state them.
struct Policy {
    permitted: Vec<String>,
    /// Crates whose manifest states no or another licence than its files do.
    clarified: BTreeMap<String, String>,
    /// Crates that may have licences beyond the list.
    excepted: BTreeMap<String, Vec<String>>,
}

/// One package as cargo describes it.
struct Package {
    name: String,
    version: String,
    licence: Option<String>,
    from_outside: bool,
}

/// Checks every package that the lock file names, on whatever platform it is used.
pub(crate) fn licences() -> Result<(), Trouble> {
    let root = workspace::root();
    let policy = policy(&workspace::read(&root.join(KEPT_IN))?)?;
    let metadata = cargo(&root, &["metadata", "--locked", "--format-version", "1"]).read()?;
    let packages = packages(&metadata)?;
    let mut faults = unpermitted(&packages, &policy);
    faults.extend(not_inherited(&root, &workspace::members(&root)?)?);
    for fault in &faults {
        println!("{fault}");
    }
    let outside = packages
        .iter()
        .filter(|package| package.from_outside)
        .count();
    println!("    {outside} packages from outside, each licence read against {KEPT_IN}");
    for (name, versions) in several_versions(&packages) {
        println!(
            "    note: {name} is here in {} versions: {}",
            versions.len(),
            versions.join(", ")
        );
    }
    if cargo(&root, &["deny", "--version"]).succeeds() {
        cargo(&root, &["deny", "--offline", "check", "licenses"]).run()?;
    }
    match faults.len() {
        0 => Ok(()),
        count => Err(Trouble::Faults { count }),
    }
}

fn policy(text: &str) -> Result<Policy, Trouble> {
    let not_data = |cause: String| Trouble::NotData {
        what: KEPT_IN.to_owned(),
        cause,
    };
    let table: toml::Table = text
        .parse()
        .map_err(|cause: toml::de::Error| not_data(cause.to_string()))?;
    let licences = table
        .get("licenses")
        .ok_or_else(|| not_data("there is no [licenses]".to_owned()))?;
    let words = |table: &toml::Value, key: &str| -> Vec<String> {
        let list = table.get(key).and_then(toml::Value::as_array);
        list.into_iter()
            .flatten()
            .filter_map(toml::Value::as_str)
            .map(str::to_owned)
            .collect()
    };
    let entries = |key: &str| {
        licences
            .get(key)
            .and_then(toml::Value::as_array)
            .into_iter()
            .flatten()
    };
    let of = |entry: &toml::Value, key: &str| {
        entry
            .get(key)
            .and_then(toml::Value::as_str)
            .map(str::to_owned)
    };
    Ok(Policy {
        permitted: words(licences, "allow"),
        clarified: entries("clarify")
            .filter_map(|entry| Some((of(entry, "crate")?, of(entry, "expression")?)))
            .collect(),
        excepted: entries("exceptions")
            .filter_map(|entry| Some((of(entry, "crate")?, words(entry, "allow"))))
            .collect(),
    })
}

fn packages(metadata: &str) -> Result<Vec<Package>, Trouble> {
    let metadata: Value = serde_json::from_str(metadata).map_err(|cause| Trouble::NotData {
        what: "the answer of cargo metadata".to_owned(),
        cause: cause.to_string(),
    })?;
    let packages = metadata["packages"].as_array().into_iter().flatten();
    Ok(packages
        .map(|package| Package {
            name: package["name"].as_str().unwrap_or_default().to_owned(),
            version: package["version"].as_str().unwrap_or_default().to_owned(),
            licence: package["license"].as_str().map(str::to_owned),
            from_outside: package["source"].is_string(),
        })
        .collect())
}

fn unpermitted(packages: &[Package], policy: &Policy) -> Vec<Fault> {
    let mut faults = Vec::new();
    for package in packages {
        let stated = policy
            .clarified
            .get(&package.name)
            .or(package.licence.as_ref());
        let mut permitted = policy.permitted.clone();
        permitted.extend(
            policy
                .excepted
                .get(&package.name)
                .into_iter()
                .flatten()
                .cloned(),
        );
        let what = match stated.map(|licence| (licence, permits(licence, &permitted))) {
            Some((_, Some(true))) => continue,
            Some((licence, Some(false))) => {
                format!("has the licence {licence}, which is not listed")
            }
            Some((licence, None)) => format!("states {licence}, which is no licence expression"),
            None => "states no licence".to_owned(),
        };
        faults.push(Fault::at(
            KEPT_IN,
            1,
            format!("{} {} {what}", package.name, package.version),
            "do without the package, or read its licence and add it under [licenses] with the reason",
        ));
    }
    faults
}

fn several_versions(packages: &[Package]) -> BTreeMap<&str, Vec<&str>> {
    let mut versions: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for package in packages {
        versions
            .entry(&package.name)
            .or_default()
            .push(&package.version);
    }
    versions.retain(|_, versions| versions.len() > 1);
    versions
}

fn not_inherited(root: &Path, members: &[Member]) -> Result<Vec<Fault>, Trouble> {
    let mut faults = Vec::new();
    for member in members {
        let manifest = member.manifest();
        let text = workspace::read(&root.join(&manifest))?;
        if !inherits(&text) {
            faults.push(Fault::at(
                &manifest,
                1,
                format!(
                    "`{}` does not inherit the licence of the workspace",
                    member.name
                ),
                "write `license.workspace = true` under [package]",
            ));
        }
    }
    Ok(faults)
}

fn inherits(manifest: &str) -> bool {
    let inherited = |table: &toml::Table| {
        table
            .get("package")?
            .get("license")?
            .get("workspace")?
            .as_bool()
    };
    manifest
        .parse::<toml::Table>()
        .ok()
        .as_ref()
        .and_then(inherited)
        .unwrap_or(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    const LIST: &str = "\
[licenses]
allow = [\"MIT\"]
exceptions = [{ crate = \"odd\", allow = [\"Zlib\"] }]
[[licenses.clarify]]
crate = \"silent\"
expression = \"MIT\"
license-files = []
";

    fn package(name: &str, licence: Option<&str>) -> Package {
        Package {
            name: name.to_owned(),
            version: "1.0.0".to_owned(),
            licence: licence.map(str::to_owned),
            from_outside: true,
        }
    }

    fn count(packages: &[Package]) -> Result<usize, Trouble> {
        Ok(unpermitted(packages, &policy(LIST)?).len())
    }

    #[test]
    fn holds_listed_excepted_and_clarified_licences_pass() -> Result<(), Trouble> {
        let packages = [
            package("a", Some("MIT")),
            package("odd", Some("Zlib")),
            package("silent", None),
        ];
        assert_eq!(count(&packages)?, 0);
        Ok(())
    }

    #[test]
    fn holds_any_other_licence_is_found() -> Result<(), Trouble> {
        let packages = [
            package("a", Some("Zlib")),
            package("b", None),
            package("c", Some("MIT AND")),
        ];
        assert_eq!(count(&packages)?, 3);
        Ok(())
    }

    #[test]
    fn holds_the_licence_is_inherited() {
        assert!(inherits(
            "[package]\nname = \"a\"\nlicense.workspace = true\n"
        ));
        assert!(!inherits("[package]\nname = \"a\"\nlicense = \"MIT\"\n"));
        assert!(!inherits("[package]\nname = \"a\"\n"));
    }

    #[test]
    fn holds_a_package_in_two_versions_is_noted() {
        let mut newer = package("a", None);
        newer.version = "2.0.0".to_owned();
        let packages = [package("a", None), newer, package("b", None)];
        assert_eq!(
            several_versions(&packages).into_iter().collect::<Vec<_>>(),
            [("a", vec!["1.0.0", "2.0.0"])]
        );
    }
}
