//! Where the resin lay: climates that can be stated, and those that contradict themselves.

use super::*;
use job::{Climate, Package};

/// A storage with these lines.
fn stored(lines: &str) -> String {
    format!("{SOUND}[arrival.storage]\n{lines}\n")
}

const CLIMATE: &str = "temperature = \"25 degC\"\nrelative_humidity = \"60 %RH\"\n";

#[test]
fn exact_a_climate_by_day_is_read() {
    let text = stored(&format!(
        "{CLIMATE}time = \"9 d\"\ntemperature_swing = \"6 K\"\nhumidity_swing = \"15 %RH\""
    ));
    let storage = sound(&text).arrival.storage.unwrap();
    assert_eq!(storage.package, Package::Opened);
    let Some(Climate::Daily(day)) = storage.climate else {
        panic!("{storage:?}");
    };
    assert!((day.temperature_swing.kelvin() - 6.0).abs() < 1e-12);
    assert!((day.humidity_swing.percent() - 15.0).abs() < 1e-12);
    let sealed = sound(&stored("package = \"sealed\"")).arrival.storage;
    assert_eq!(sealed.unwrap().package, Package::Sealed);
    let opened = sound(&stored("")).arrival.storage.unwrap();
    assert!(opened.climate.is_none());
}

#[test]
fn holds_climates_that_contradict_themselves_are_told() {
    let path = |lines: &str| {
        let faults = told(&stored(lines));
        assert_eq!(faults.len(), 1, "{faults:#?}");
        faults[0].place.path.replace("arrival.storage.", "")
    };
    assert_eq!(path(CLIMATE), "time");
    assert_eq!(path("time = \"3 d\""), "time");
    assert_eq!(path("from = \"0.1 % wet\""), "from");
    assert_eq!(path("temperature_swing = \"3 K\""), "temperature_swing");
    assert_eq!(
        path("temperature = \"20 degC\"\ntime = \"3 d\""),
        "relative_humidity"
    );
    assert_eq!(path("package = \"sealed\"\ntime = \"3 d\""), "time");
    let damp = format!("{CLIMATE}time = \"3 d\"\nhumidity_swing = \"45 %RH\"");
    assert_eq!(path(&damp), "humidity_swing");
    let both = format!("{CLIMATE}time = \"3 d\"\nweather = \"hall.csv\"");
    assert!(!told(&stored(&both)).is_empty());
}

#[test]
fn holds_weather_needs_the_folder_of_the_job() {
    let fault = of("[arrival.storage]\nweather = \"hall.csv\"");
    assert_eq!(fault.place.path, "arrival.storage.weather");
    assert!(fault.cause.contains("beside the job file"), "{fault}");
}

#[test]
fn exact_weather_is_found_beside_the_job() {
    let folder = std::env::temp_dir().join(format!("drybed-weather-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let job = folder.join("press.toml");
    std::fs::write(&job, stored("weather = \"hall.csv\"")).unwrap();
    let absent = open_job(&job, &LIBRARY).unwrap_err();
    let table = "time, temperature (degC), relative humidity (%)\n2025-07-01T00:00:00, 20, 50\n\
                 2025-07-01T01:00:00, 21, 130\n2025-07-01T02:00:00, 21, 52\n";
    std::fs::write(folder.join("hall.csv"), table).unwrap();
    let wrong = open_job(&job, &LIBRARY).unwrap_err();
    std::fs::write(folder.join("hall.csv"), table.replace("130", "51")).unwrap();
    let read = open_job(&job, &LIBRARY);
    std::fs::remove_dir_all(&folder).unwrap();
    assert_eq!(absent.len(), 1, "{absent}");
    assert_eq!(absent.0[0].place.path, "arrival.storage.weather");
    assert!(absent.0[0].cause.ends_with("it is not there"), "{absent}");
    assert_eq!(wrong.len(), 1, "{wrong}");
    assert_eq!(wrong.0[0].place.line, 3);
    assert!(wrong.0[0].place.file.ends_with("hall.csv"), "{wrong}");
    let storage = read.unwrap().arrival.storage.unwrap();
    assert!((storage.climate.unwrap().time().hours() - 2.0).abs() < 1e-12);
}
