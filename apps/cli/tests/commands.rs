//! The program as a user meets it: what it prints, where, and with which exit code.
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn drybed(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_drybed"))
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn talk(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// An empty folder of this test.
fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).unwrap();
    path
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The benchmark job with a line changed: quick, and of a resin that does not exist.
fn job(folder: &std::path::Path, from: &str, to: &str) -> String {
    let text = fs::read_to_string(root().join("demo/benchmark.toml")).unwrap();
    assert!(text.contains(from), "{from}");
    let path = folder.join("job.toml");
    fs::write(&path, text.replace(from, to)).unwrap();
    path.to_str().unwrap().to_owned()
}

const AIR: [&str; 5] = [
    "air",
    "--temperature",
    "80 degC",
    "--humidity",
    "-40 degC frost",
];

#[test]
fn holds_air_is_answered_on_stdout() {
    let output = drybed(&AIR);
    assert_eq!(code(&output), 0);
    assert!(out(&output).contains("127 ppm by volume"));
    assert_eq!(talk(&output), "");
    let mut json = AIR.to_vec();
    json.push("--json");
    let output = drybed(&json);
    let read: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let ratio = read["state"]["humidity_ratio_g_kg"].as_f64().unwrap();
    assert!((ratio - 0.0793).abs() < 1e-4, "{ratio}");
}

#[test]
fn holds_bad_input_lists_every_mistake_and_writes_nothing() {
    let output = drybed(&["air", "-t", "80", "-w", "-40 degC", "--altitude", "x"]);
    assert_eq!(code(&output), 2);
    assert_eq!(out(&output), "");
    let said = talk(&output);
    for flag in ["--temperature", "--humidity", "--altitude", "3 mistakes"] {
        assert!(said.contains(flag), "{flag} in {said}");
    }
    let here = folder("bad-input");
    let path = job(
        &here,
        "rate = \"10.02 kg/h\"",
        "rate = \"0 kg/h\"\nspeed = 3",
    );
    let report = here.join("report.html");
    let output = drybed(&["plan", &path, "--report", report.to_str().unwrap()]);
    assert_eq!(code(&output), 2);
    let said = talk(&output);
    assert!(
        said.contains("demand.rate") && said.contains("demand.speed"),
        "{said}"
    );
    assert!(said.contains("2 mistakes"), "{said}");
    assert_eq!(out(&output), "");
    assert!(!report.exists());
}

#[test]
fn holds_a_missing_file_is_bad_input() {
    let output = drybed(&["plan", "no-such-job.toml"]);
    assert_eq!(code(&output), 2);
    assert!(talk(&output).contains("no-such-job.toml"));
}

#[test]
fn holds_a_plan_that_is_met_says_so_everywhere() {
    let here = folder("met");
    let path = job(&here, "format = 1", "format = 1");
    let report = here.join("report.html");
    let output = drybed(&[
        "plan",
        &path,
        "--json",
        "--report",
        report.to_str().unwrap(),
    ]);
    assert_eq!(code(&output), 0, "{}", talk(&output));
    let read: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(read["schema_version"], 1);
    assert_eq!(read["plan"]["verdict"], "in-window");
    for name in ["coefficients", "transient", "path", "evidence"] {
        assert!(!read["plan"][name].is_null(), "{name}");
    }
    assert!(fs::read_to_string(&report).unwrap().contains("in window"));
    let left: Vec<_> = fs::read_dir(&here).unwrap().collect();
    assert_eq!(left.len(), 2, "job and report, and no part of it");
}

#[test]
fn holds_a_plan_that_cannot_be_met_is_an_answer() {
    let here = folder("not-met");
    let path = job(&here, "limit = \"200 ppm dry\"", "limit = \"20 ppm dry\"");
    let output = drybed(&["plan", &path]);
    assert_eq!(code(&output), 1, "{}", talk(&output));
    assert!(out(&output).contains("▲ wet"));
}

#[test]
fn holds_what_cannot_be_written_is_one_clear_error() {
    let here = folder("unwritable");
    let path = job(&here, "format = 1", "format = 1");
    for target in ["no/such/folder/report.html", "."] {
        let target = here.join(target);
        let output = drybed(&["plan", &path, "--report", target.to_str().unwrap()]);
        assert_eq!(code(&output), 3);
        assert_eq!(talk(&output).lines().count(), 1, "{}", talk(&output));
        assert!(talk(&output).contains("was not written"));
    }
    let left: Vec<_> = fs::read_dir(&here).unwrap().collect();
    assert_eq!(left.len(), 1, "the job alone");
}

#[cfg(target_os = "linux")]
#[test]
fn holds_a_full_disk_is_one_clear_error() {
    let full = fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_drybed"))
        .args(AIR)
        .stdout(full)
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
        .wait_with_output()
        .unwrap();
    assert_eq!(code(&output), 3);
    assert!(talk(&output).contains("the answer was not written"));
}

#[test]
fn holds_a_curve_is_the_same_from_words_and_from_a_file() {
    let here = folder("curve");
    let file = here.join("oven.toml");
    fs::write(
        &file,
        "format = 1\ntitle = \"PC pellet\"\nresin.name = \"PC\"\nstart.moisture = \"0.2 % wet\"\n\
         [[air]]\ntemperature = \"120 degC\"\nhumidity = \"-40 degC frost\"\nduration = \"4 h\"\n",
    )
    .unwrap();
    let words = drybed(&[
        "curve",
        "--resin",
        "PC",
        "--moisture",
        "0.2 % wet",
        "--air",
        "120 degC, -40 degC frost, 4 h",
    ]);
    let from_file = drybed(&["curve", file.to_str().unwrap()]);
    assert_eq!(code(&words), 0, "{}", talk(&words));
    assert_eq!(out(&words), out(&from_file));
}

#[test]
fn holds_resins_are_listed_shown_and_checked() {
    assert!(out(&drybed(&["resin", "list"])).contains("Polycarbonate"));
    assert!(out(&drybed(&["resin", "show", "pc"])).contains("golovoy1989"));
    let unknown = drybed(&["resin", "show", "PX"]);
    assert_eq!(code(&unknown), 2);
    let materials = root().join("materials");
    let output = drybed(&["resin", "check", materials.to_str().unwrap()]);
    assert_eq!(code(&output), 0, "{}", talk(&output));
    let here = folder("records");
    fs::write(here.join("px.toml"), "format = 1\nname = \"PX\"\n").unwrap();
    let output = drybed(&["resin", "check", here.to_str().unwrap()]);
    assert_eq!(code(&output), 2);
    assert!(talk(&output).contains("px.toml"));
    assert!(out(&output).contains("0 of 1 record can be used"));
}

#[test]
fn holds_a_broken_record_is_told_and_the_rest_is_used() {
    let here = folder("half-broken");
    fs::write(here.join("px.toml"), "format = 1\nname = \"PX\"\n").unwrap();
    let records = here.to_str().unwrap();
    let report = here.join("pc.html");
    let output = drybed(&[
        "resin",
        "show",
        "PC",
        "--resins",
        records,
        "--report",
        report.to_str().unwrap(),
    ]);
    assert_eq!(code(&output), 0);
    assert!(talk(&output).contains("without px"), "{}", talk(&output));
    assert!(fs::read_to_string(&report).unwrap().contains("<svg"));
    let unknown = drybed(&["resin", "show", "PX", "--resins", records]);
    assert_eq!(code(&unknown), 2);
}

#[test]
fn holds_resins_are_compared_and_looked_for() {
    let output = drybed(&["resin", "compare", "PC", "PA66"]);
    assert_eq!(code(&output), 0, "{}", talk(&output));
    assert!(out(&output).contains("one pellet"));
    let json = drybed(&["resin", "compare", "PC", "PA66", "--json"]);
    let read: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    assert_eq!(read["resins"][1]["line"]["name"], "PA66");
    assert_eq!(code(&drybed(&["resin", "compare", "PC", "PX"])), 2);
    let few = drybed(&["resin", "list", "nylon"]);
    assert!(out(&few).contains("pa66") && !out(&few).contains("Polycarbonate"));
    assert_eq!(code(&drybed(&["resin", "list", "unobtainium"])), 2);
}

#[test]
fn holds_a_new_record_is_written_once_and_can_be_used() {
    let here = folder("new-record");
    let into = here.to_str().unwrap();
    let ask = |more: &[&str]| {
        let mut all = vec![
            "resin", "new", "--name", "Lens 7", "--like", "PC", "--into", into,
        ];
        all.extend_from_slice(more);
        drybed(&all)
    };
    let wrong = ask(&[
        "--temperature",
        "110 .. 120",
        "--time",
        "4 kg",
        "--filler",
        "sand",
    ]);
    assert_eq!(code(&wrong), 2);
    let said = talk(&wrong);
    for flag in ["--temperature", "--time", "--filler", "3 mistakes"] {
        assert!(said.contains(flag), "{flag} in {said}");
    }
    assert_eq!(fs::read_dir(&here).unwrap().count(), 0);
    let right = [
        "--temperature",
        "110 degC .. 120 degC",
        "--limit",
        "0.02 % wet",
        "--filler",
        "20 % glass fibre",
    ];
    let output = ask(&right);
    assert_eq!(code(&output), 0, "{}", talk(&output));
    let (shown, said) = (out(&output), talk(&output));
    assert!(
        shown.contains("from the data sheet") && shown.contains("from PC"),
        "{shown}"
    );
    assert!(said.contains("lens-7.toml"), "{said}");
    let written = fs::read_to_string(here.join("lens-7.toml")).unwrap();
    let again = ask(&right);
    assert_eq!(code(&again), 2);
    assert!(talk(&again).contains("there already"), "{}", talk(&again));
    assert_eq!(
        fs::read_to_string(here.join("lens-7.toml")).unwrap(),
        written
    );
    let checked = drybed(&["resin", "check", into]);
    assert_eq!(code(&checked), 0, "{}", talk(&checked));
    let shown = drybed(&["resin", "show", "lens 7", "--resins", into]);
    assert!(out(&shown).contains("≈"), "{}", talk(&shown));
}

#[test]
fn holds_a_grade_by_the_users_name_is_a_resin() {
    let here = folder("grades");
    let grades = here.join("names.toml");
    let text = "format = 1\n[[grade]]\nname = \"lens clear 7\"\nresin = \"PC\"\ntime = \"4 h\"\n";
    fs::write(&grades, text).unwrap();
    let path = grades.to_str().unwrap();
    let shown = drybed(&["resin", "show", "lens clear 7", "--grades", path]);
    assert_eq!(code(&shown), 0, "{}", talk(&shown));
    let curve = drybed(&[
        "curve",
        "--resin",
        "lens clear 7",
        "--air",
        "120 degC, -40 degC frost, 1 h",
        "--grades",
        path,
    ]);
    assert_eq!(code(&curve), 0, "{}", talk(&curve));
    let job = here.join("job.toml");
    let asked =
        "format = 1\nresin.name = \"lens clear 7\"\ndemand.rate = \"20 kg/h\"\nmodel.samples = 0\n";
    fs::write(&job, asked).unwrap();
    let plan = drybed(&["plan", job.to_str().unwrap(), "--grades", path]);
    assert_eq!(code(&plan), 0, "{}", talk(&plan));
    assert!(
        out(&plan).contains("The data sheet of lens clear 7"),
        "{}",
        out(&plan)
    );
    fs::write(&grades, text.replace("PC", "PX")).unwrap();
    let broken = drybed(&["plan", job.to_str().unwrap(), "--grades", path]);
    assert_eq!(code(&broken), 2);
    assert!(
        talk(&broken).contains("grade[1].resin"),
        "{}",
        talk(&broken)
    );
}

#[test]
fn holds_a_new_record_needs_a_folder() {
    let here = folder("no-folder");
    let missing = here.join("mine");
    let into = missing.to_str().unwrap();
    let new = [
        "resin", "new", "--name", "L", "--like", "PC", "--into", into,
    ];
    let output = drybed(&new);
    assert_eq!(code(&output), 2, "{}", talk(&output));
    assert_eq!(out(&output), "");
    assert!(talk(&output).contains("--into"), "{}", talk(&output));
    assert!(talk(&output).contains("make it first"), "{}", talk(&output));
    fs::write(&missing, "").unwrap();
    let output = drybed(&new);
    assert_eq!(code(&output), 2, "{}", talk(&output));
    assert!(talk(&output).contains("no folder"), "{}", talk(&output));
}

#[test]
fn holds_mistakes_of_grades_are_told_once_and_stop_only_who_uses_them() {
    let here = folder("faulty-grades");
    let grades = here.join("names.toml");
    let text = "format = 1\n[[grade]]\nname = \"lens 7\"\nresin = \"PC\"\ntime = \"4 kg\"\n";
    fs::write(&grades, text).unwrap();
    let path = grades.to_str().unwrap();
    let told = |output: &Output| talk(output).matches("grade[1].time").count();
    // What does not use the grade is answered, and ends as it would without the file.
    let other = drybed(&["resin", "show", "PC", "--grades", path]);
    assert_eq!(code(&other), 0, "{}", talk(&other));
    assert_eq!(told(&other), 1, "{}", talk(&other));
    assert!(talk(&other).contains("answered without lens 7"));
    let plan = job(&here, "limit = \"200 ppm dry\"", "limit = \"20 ppm dry\"");
    let plan = drybed(&["plan", &plan, "--grades", path]);
    assert_eq!(code(&plan), 1, "{}", talk(&plan));
    assert_eq!(told(&plan), 1, "{}", talk(&plan));
    // What uses it is refused with its mistakes.
    let shown = drybed(&["resin", "show", "lens 7", "--grades", path]);
    assert_eq!(code(&shown), 2);
    assert_eq!(out(&shown), "");
    assert_eq!(told(&shown), 1, "{}", talk(&shown));
    // Of a file that cannot be read nobody knows the names: asked for one, both are told.
    fs::write(&grades, text.replace("[[grade]]", "[[grade]")).unwrap();
    let torn = drybed(&["resin", "show", "lens 7", "--grades", path]);
    assert_eq!(code(&torn), 2);
    let said = talk(&torn);
    assert!(
        said.contains("names.toml:2") && said.contains("2 mistakes"),
        "{said}"
    );
}

#[test]
fn holds_job_fields_and_schema_are_told() {
    assert!(out(&drybed(&["job", "fields"])).contains("[demand]"));
    let schema: serde_json::Value =
        serde_json::from_slice(&drybed(&["job", "schema"]).stdout).unwrap();
    assert!(schema["properties"]["demand"].is_object());
}

#[test]
fn holds_equipment_is_told_and_its_mistakes_end_with_two() {
    assert!(out(&drybed(&["equipment", "fields"])).contains("## As a table"));
    let schema: serde_json::Value =
        serde_json::from_slice(&drybed(&["equipment", "schema"]).stdout).unwrap();
    assert_eq!(schema["properties"]["format"]["const"], 1);
    let examples = root().join("equipment");
    let sound = drybed(&["equipment", "check", examples.to_str().unwrap()]);
    assert_eq!(code(&sound), 0, "{}", talk(&sound));
    let path = folder("equipment").join("dryers.csv");
    let rows = "key,kind,rated flow (kg/h dry air)\none,hot air,80\ntwo,steam,80\n";
    fs::write(&path, rows).unwrap();
    let broken = drybed(&["equipment", "check", path.to_str().unwrap()]);
    assert_eq!(code(&broken), 2);
    assert!(
        out(&broken).contains("one dryer can be compared"),
        "{}",
        out(&broken)
    );
    assert!(
        talk(&broken).contains("column B, kind"),
        "{}",
        talk(&broken)
    );
    let here = folder("equipment-none");
    let job = job(&here, "format = 1", "format = 1");
    let none = here.join("none.xlsx");
    let output = drybed(&["compare", &job, "--equipment", none.to_str().unwrap()]);
    assert_eq!(code(&output), 2);
    assert!(talk(&output).contains("1 mistake"), "{}", talk(&output));
}
