//! What is in this repository: its crates in the order of the root manifest, and its text files.

use crate::command::cargo;
use crate::trouble::Trouble;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};

/// Folders that hold nothing of ours.
const NOT_OURS: &[&str] = &[".git", "target", "__pycache__", ".venv", "node_modules"];

/// One crate of the workspace.
#[derive(Debug, Clone)]
pub(crate) struct Member {
    /// Name of the package.
    pub(crate) name: String,
    /// Folder, from the root of the repository.
    pub(crate) folder: String,
    /// Names of the packages of this workspace it depends on, tests and build scripts included.
    pub(crate) uses: Vec<String>,
    /// Names of its programs.
    pub(crate) programs: Vec<String>,
}

impl Member {
    /// Path of its manifest, from the root of the repository.
    pub(crate) fn manifest(&self) -> String {
        format!("{}/Cargo.toml", self.folder)
    }
}

/// One text file of the repository.
#[derive(Debug, Clone)]
pub(crate) struct TextFile {
    /// Path from the root of the repository, with forward slashes.
    pub(crate) path: String,
    /// What is in it.
    pub(crate) text: String,
}

impl TextFile {
    /// Whether its name ends in this extension (without the dot).
    pub(crate) fn is(&self, extension: &str) -> bool {
        Path::new(&self.path)
            .extension()
            .is_some_and(|found| found == extension)
    }
}

/// The folder that holds the root manifest.
pub(crate) fn root() -> PathBuf {
    let xtask = Path::new(env!("CARGO_MANIFEST_DIR"));
    xtask.parent().unwrap_or(xtask).to_path_buf()
}

/// The crates of the workspace, in the order of the root manifest.
pub(crate) fn members(root: &Path) -> Result<Vec<Member>, Trouble> {
    let manifest = read(&root.join("Cargo.toml"))?;
    let answer = cargo(
        root,
        &[
            "metadata",
            "--no-deps",
            "--offline",
            "--format-version",
            "1",
        ],
    );
    members_from(&manifest, &answer.read()?, root)
}

fn members_from(manifest: &str, metadata: &str, root: &Path) -> Result<Vec<Member>, Trouble> {
    let not_data = |cause: String| Trouble::NotData {
        what: "the workspace".to_owned(),
        cause,
    };
    let manifest: toml::Table = manifest
        .parse()
        .map_err(|cause: toml::de::Error| not_data(cause.to_string()))?;
    let metadata: Value =
        serde_json::from_str(metadata).map_err(|cause| not_data(cause.to_string()))?;
    let packages = metadata["packages"].as_array().cloned().unwrap_or_default();
    let listed = manifest
        .get("workspace")
        .and_then(|workspace| workspace.get("members"))
        .and_then(toml::Value::as_array)
        .ok_or_else(|| not_data("the root manifest lists no members".to_owned()))?;

    let mut members = Vec::new();
    for folder in listed.iter().filter_map(toml::Value::as_str) {
        let manifest = root.join(folder).join("Cargo.toml");
        let package = packages
            .iter()
            .find(|package| package["manifest_path"].as_str().map(Path::new) == Some(&manifest))
            .ok_or_else(|| not_data(format!("cargo knows no package in {folder}")))?;
        members.push(member(folder, package));
    }
    Ok(members)
}

fn member(folder: &str, package: &Value) -> Member {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let mut uses: Vec<String> = list(&package["dependencies"])
        .iter()
        .filter(|dependency| dependency["path"].is_string())
        .map(|dependency| text(&dependency["name"]))
        .collect();
    uses.sort();
    uses.dedup();
    let programs = list(&package["targets"])
        .iter()
        .filter(|target| list(&target["kind"]).iter().any(|kind| kind == "bin"))
        .map(|target| text(&target["name"]))
        .collect();
    Member {
        name: text(&package["name"]),
        folder: folder.to_owned(),
        uses,
        programs,
    }
}

/// Every text file of the repository, in the order of their paths.
pub(crate) fn text_files(root: &Path) -> Result<Vec<TextFile>, Trouble> {
    let mut files = Vec::new();
    collect(root, root, &mut files)?;
    files.sort_by(|one, other| one.path.cmp(&other.path));
    Ok(files)
}

fn collect(root: &Path, folder: &Path, files: &mut Vec<TextFile>) -> Result<(), Trouble> {
    let unreadable = |cause| Trouble::Unreadable {
        path: folder.to_path_buf(),
        cause,
    };
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        let name = path
            .file_name()
            .and_then(|name| name.to_str())
            .unwrap_or_default();
        if path.is_symlink() || NOT_OURS.contains(&name) {
            continue;
        }
        if path.is_dir() {
            collect(root, &path, files)?;
            continue;
        }
        let bytes = fs::read(&path).map_err(|cause| Trouble::Unreadable {
            path: path.clone(),
            cause,
        })?;
        // What is not UTF-8 is a picture or another binary, and no rule reads those.
        if let Ok(text) = String::from_utf8(bytes) {
            let path = path.strip_prefix(root).unwrap_or(&path);
            files.push(TextFile {
                path: path.to_string_lossy().replace('\\', "/"),
                text,
            });
        }
    }
    Ok(())
}

/// The text of one file.
pub(crate) fn read(path: &Path) -> Result<String, Trouble> {
    fs::read_to_string(path).map_err(|cause| Trouble::Unreadable {
        path: path.to_path_buf(),
        cause,
    })
}

/// Writes one file, with its folder if that is missing.
pub(crate) fn write(path: &Path, text: &str) -> Result<(), Trouble> {
    let unwritable = |cause| Trouble::Unwritable {
        path: path.to_path_buf(),
        cause,
    };
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(unwritable)?;
    }
    fs::write(path, text).map_err(unwritable)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holds_order_of_the_root_manifest() -> Result<(), Trouble> {
        let manifest = "[workspace]\nmembers = [\"crates/two\", \"crates/one\"]\n";
        let metadata = r#"{"packages": [
            {"name": "one", "manifest_path": "/r/crates/one/Cargo.toml", "targets": [
                {"name": "one", "kind": ["lib"]}, {"name": "run", "kind": ["bin"]}],
             "dependencies": [{"name": "two", "path": "/r/crates/two", "kind": null},
                              {"name": "two", "path": "/r/crates/two", "kind": "dev"},
                              {"name": "serde", "kind": null}]},
            {"name": "two", "manifest_path": "/r/crates/two/Cargo.toml",
             "targets": [], "dependencies": []}]}"#;
        let members = members_from(manifest, metadata, Path::new("/r"))?;
        assert_eq!(members[0].name, "two");
        assert_eq!(members[1].name, "one");
        assert_eq!(members[1].uses, ["two"]);
        assert_eq!(members[1].programs, ["run"]);
        Ok(())
    }

    #[test]
    fn holds_a_listed_folder_without_a_package_is_an_error() {
        let manifest = "[workspace]\nmembers = [\"crates/none\"]\n";
        assert!(members_from(manifest, r#"{"packages": []}"#, Path::new("/r")).is_err());
    }
}
