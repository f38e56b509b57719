//! What can be typed, described once; help and error texts come from it.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// What happens inside a pellet, a bed and the air about it, when resin is dried.
///
/// Exit codes: 0 met; 1 the plan cannot be met as it stands (the nearest safe one is named); 2 bad
/// input, every mistake listed, nothing written; 3 something could not be written or computed.
#[derive(Debug, Parser)]
#[command(name = "drybed", version, max_term_width = 80)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Any measure of humid air from any other, also after expansion.
    Air(Air),
    /// How one pellet dries, or takes up water, in any history of air.
    Curve(Curve),
    /// How dry a resin leaves the hopper, what to set, what limits it, how sure that is.
    Plan(Plan),
    /// Which dryer for a job or a cell: each closed round the hoppers, on the days of the year.
    Compare(Compare),
    /// What is wrong with the dryer, from one round with hand instruments.
    Check(Check),
    /// How large a dryer and its hoppers are for a job or a cell, without running it.
    Size(Size),
    /// What days on one dryer do to every lot: wet, in its window, too dry, hot for too long.
    Shift(Shift),
    /// How a dryer is best run through days like those of a schedule: least energy, nothing lost.
    Policy(Policy),
    /// The press has stopped: how long may the hopper stand, and what is to be done now.
    Stop(Stop),
    /// Another resin into the same hopper: what is drained, when the next is dry, a checklist.
    Changeover(Changeover),
    /// When to switch on the dryers of a hall, and in what order, to be dry in time.
    Start(Start),
    /// The library of resins: list it, show one, check a folder of your own records.
    Resin(Resin),
    /// What may stand in a job file.
    #[command(subcommand)]
    Job(JobCommand),
    /// The dryers you own or are offered: what may stand in their records, what is known of them.
    #[command(subcommand)]
    Equipment(EquipmentCommand),
    /// An invented plant worked end to end: one report in this folder.
    Demo(Demo),
}

/// Units people read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Degrees Celsius, kilograms, metres.
    Metric,
    /// Degrees Fahrenheit, pounds, feet.
    Us,
}

impl From<Units> for drybed::Units {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => Self::Metric,
            Units::Us => Self::UsCustomary,
        }
    }
}

/// How the answer is shown.
#[derive(Args, Clone, Debug)]
pub(crate) struct Shown {
    /// Units in which the answer is told; what you type may be in either.
    #[arg(long, value_enum, default_value = "metric")]
    pub(crate) units: Units,
    /// Write the whole answer as JSON instead.
    #[arg(long)]
    pub(crate) json: bool,
}

/// Where the long answer goes.
#[derive(Args, Clone, Debug)]
pub(crate) struct Reported {
    /// Also write a report: one HTML file that opens offline.
    #[arg(long, value_name = "FILE")]
    pub(crate) report: Option<PathBuf>,
    /// Open every section of the answer in the terminal.
    #[arg(long, short)]
    pub(crate) verbose: bool,
    /// A folder of your own resin records, laid over the library.
    #[arg(long, value_name = "FOLDER")]
    pub(crate) resins: Option<PathBuf>,
    /// A file of your own grade names, each standing for a resin of the library.
    #[arg(long, value_name = "FILE")]
    pub(crate) grades: Option<PathBuf>,
}

/// Any measure of humid air from any other, also after expansion.
#[derive(Args, Debug)]
pub(crate) struct Air {
    /// Temperature of the air: "80 degC".
    #[arg(long, short, allow_hyphen_values = true)]
    pub(crate) temperature: String,
    /// Its humidity: "-40 degC frost", "12 degC dew", "8 g/kg", "50 %RH", "130 ppm by volume",
    /// "9 g/m3", "1.2 kPa vapour"; a dew point may say its pressure: "3 degC dew at 7 bar(g)".
    #[arg(long, short = 'w', allow_hyphen_values = true)]
    pub(crate) humidity: String,
    /// Its pressure: "8 bar(a)", "7 bar(g)"; that of the place when left out.
    #[arg(long, short)]
    pub(crate) pressure: Option<String>,
    /// Height of the place above the sea: "1500 m".
    #[arg(long, short, allow_hyphen_values = true)]
    pub(crate) altitude: Option<String>,
    /// Pressure it is let down to: "1 atm(a)", or "site" for that of the place.
    #[arg(long, short)]
    pub(crate) expand_to: Option<String>,
    #[command(flatten)]
    pub(crate) shown: Shown,
}

/// How one pellet dries, or takes up water, in any history of air.
#[derive(Args, Debug)]
#[command(
    after_help = "Either a curve file, or --resin and one --air for each stretch:\n  \
    drybed curve --resin PC --moisture \"0.2 % wet\" --air \"120 degC, -40 degC frost, 4 h\"\n\
    What may stand in a curve file: drybed curve --fields"
)]
pub(crate) struct Curve {
    /// A curve file (TOML); "-" reads it from the standard input.
    #[arg(value_name = "FILE", conflicts_with_all = ["resin", "air"])]
    pub(crate) file: Option<PathBuf>,
    /// Name of a resin of the library.
    #[arg(long, required_unless_present_any = ["file", "fields"])]
    pub(crate) resin: Option<String>,
    /// A stretch of air: temperature, humidity, duration, with commas between.
    #[arg(long, value_name = "AIR", allow_hyphen_values = true)]
    pub(crate) air: Vec<String>,
    /// Moisture at the beginning: "0.2 % wet"; that of an opened package when left out.
    #[arg(long, conflicts_with = "file")]
    pub(crate) moisture: Option<String>,
    /// Water on the surface at the beginning: "2000 ppm dry".
    #[arg(long, conflicts_with = "file")]
    pub(crate) surface_water: Option<String>,
    /// Temperature of the pellet at the beginning.
    #[arg(long, conflicts_with = "file", allow_hyphen_values = true)]
    pub(crate) start_temperature: Option<String>,
    /// Diameter of the pellet: "3 mm"; that of the record when left out.
    #[arg(long, conflicts_with = "file")]
    pub(crate) diameter: Option<String>,
    /// Length of the pellet.
    #[arg(long, conflicts_with = "file")]
    pub(crate) length: Option<String>,
    /// Moisture it is held against; the limit for moulding of the record when left out.
    #[arg(long, conflicts_with = "file")]
    pub(crate) limit: Option<String>,
    /// Height above the sea.
    #[arg(long, conflicts_with = "file", allow_hyphen_values = true)]
    pub(crate) altitude: Option<String>,
    /// Print what may stand in a curve file.
    #[arg(long)]
    pub(crate) fields: bool,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// How dry a resin leaves the hopper, what to set, what limits it, how sure that is.
#[derive(Args, Debug)]
pub(crate) struct Plan {
    /// A job file (TOML); "-" reads it from the standard input.
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// Which dryer for a job or a cell: each closed round the hoppers, on the days of the year.
#[derive(Args, Debug)]
#[command(
    after_help = "Days and prices come from [[day]] and [prices] of the job file; without them three \
    usual days and the energy alone decide."
)]
pub(crate) struct Compare {
    /// Job files (TOML), dried one after another on one dryer for equal parts of the time, or one cell
    /// file; "-" alone reads a job from the standard input.
    #[arg(value_name = "JOB", required = true)]
    pub(crate) jobs: Vec<PathBuf>,
    /// Compare the dryers you own or are offered instead of those sized by custom: a folder of
    /// records, one record (TOML), or a table (.csv, .xlsx).
    #[arg(long, value_name = "PATH")]
    pub(crate) equipment: Option<PathBuf>,
    /// Draws of doubt for each dryer and day.
    #[arg(long, value_name = "COUNT", default_value_t = drybed::USUAL_SAMPLES)]
    pub(crate) samples: u32,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// What is wrong with the dryer, from one round with hand instruments.
#[derive(Args, Debug)]
#[command(
    after_help = "Exit code 0: nothing speaks against the dryer; 1: a fault fits. What may stand in a round file: \
    drybed check --fields"
)]
pub(crate) struct Check {
    /// A round file (TOML); "-" reads it from the standard input.
    #[arg(value_name = "ROUND", required_unless_present = "fields")]
    pub(crate) round: Option<PathBuf>,
    /// Print what may stand in a round file.
    #[arg(long)]
    pub(crate) fields: bool,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// When to switch on the dryers of a hall, and in what order, to be dry in time.
#[derive(Args, Debug)]
#[command(after_help = "For example:\n  \
    drybed start demo/hall/*.toml --ready \"2026-03-23 06:00\" --peak \"8.1 kW\"\n\
    Exit code 1: no order keeps the limit, or a dryer is not dry when its hold is over.")]
pub(crate) struct Start {
    /// Schedule files (TOML), one a dryer.
    #[arg(value_name = "SCHEDULE", required = true)]
    pub(crate) schedules: Vec<PathBuf>,
    /// When the first dry pellet is wanted: "2026-03-23 06:00" on the clocks of the first schedule; once for
    /// all, or once for each file; when each press first draws when left out.
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub(crate) ready: Vec<String>,
    /// What all together may take: "12 kW".
    #[arg(long, value_name = "POWER")]
    pub(crate) peak: Option<String>,
    /// What else is on all the time and counts: "3 kW".
    #[arg(long, value_name = "POWER")]
    pub(crate) base: Option<String>,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// How large a dryer and its hoppers are for a job or a cell, and what decides it.
#[derive(Args, Debug)]
pub(crate) struct Size {
    /// Job files (TOML), dried one after another on one dryer, or one cell file; "-" alone reads a job
    /// from the standard input.
    #[arg(value_name = "JOB", required = true)]
    pub(crate) jobs: Vec<PathBuf>,
    /// Show the dryers you own or are offered instead of those sized by custom: a folder of records,
    /// one record (TOML), or a table (.csv, .xlsx).
    #[arg(long, value_name = "PATH")]
    pub(crate) equipment: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// What days on one dryer do to every lot of resin.
#[derive(Args, Debug)]
#[command(
    after_help = "Exit code 0: all of the resin comes to the screw in its window; 1: some does not. What may stand in a \
    schedule file: drybed shift --fields"
)]
pub(crate) struct Shift {
    /// A schedule file (TOML); "-" reads it from the standard input.
    #[arg(value_name = "SCHEDULE", required_unless_present = "fields")]
    pub(crate) schedule: Option<PathBuf>,
    /// Print what may stand in a schedule file.
    #[arg(long)]
    pub(crate) fields: bool,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// How a dryer is best run through days like those of a schedule.
#[derive(Args, Debug)]
#[command(
    after_help = "Exit code 0: no fresh week failed by the way that was found; 1: one did, or more."
)]
pub(crate) struct Policy {
    /// A schedule file (TOML).
    #[arg(value_name = "SCHEDULE")]
    pub(crate) schedule: PathBuf,
    /// Fresh weeks on which the way that was found is run.
    #[arg(long, value_name = "COUNT", default_value_t = drybed::USUAL_WEEKS, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub(crate) weeks: u32,
    /// Seed of all that is drawn; the same seed gives the same answer.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) seed: u32,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// Which dryer is meant.
#[derive(Args, Clone, Debug)]
pub(crate) struct DryerMeant {
    /// Its kind: "desiccant wheel", "twin towers", "compressed air" or "hot air".
    #[arg(long, value_name = "KIND", conflicts_with = "equipment")]
    pub(crate) dryer: Option<String>,
    /// Its own record (TOML).
    #[arg(long, value_name = "FILE")]
    pub(crate) equipment: Option<PathBuf>,
}

/// The press has stopped: how long may the hopper stand, and what is to be done now.
#[derive(Args, Debug)]
#[command(
    after_help = "For example: drybed stop demo/pc-lenses.toml --for \"5 h\"\n\
    Exit code 0: something that can be done loses nothing; 1: nothing does."
)]
pub(crate) struct Stop {
    /// The job file (TOML) that the hopper runs; "-" reads it from the standard input.
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// How long the press is expected to stand: "5 h".
    #[arg(long = "for", value_name = "TIME")]
    pub(crate) length: String,
    #[command(flatten)]
    pub(crate) dryer: DryerMeant,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// Another resin into the same hopper.
#[derive(Args, Debug)]
#[command(
    after_help = "For example: drybed changeover demo/pc-lenses.toml demo/abs-small.toml\n\
    Exit code 0: it may be done; 1: it must not be, or no dry pellet comes."
)]
pub(crate) struct Changeover {
    /// The job file (TOML) that runs.
    #[arg(value_name = "FROM")]
    pub(crate) from: PathBuf,
    /// The job file (TOML) that comes.
    #[arg(value_name = "TO")]
    pub(crate) to: PathBuf,
    #[command(flatten)]
    pub(crate) dryer: DryerMeant,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

/// The library of resins.
#[derive(Args, Debug)]
pub(crate) struct Resin {
    #[command(subcommand)]
    pub(crate) command: ResinCommand,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ResinCommand {
    /// Every resin in a line, or those that are looked for.
    List {
        /// A part of the key, the title, the family or one of the names.
        #[arg(value_name = "WORD")]
        word: Option<String>,
        /// A part of the family they are listed under.
        #[arg(long, value_name = "FAMILY")]
        family: Option<String>,
        #[command(flatten)]
        shown: Shown,
        #[command(flatten)]
        reported: Reported,
    },
    /// Everything known of one, each number with its source, grade and spread.
    Show {
        /// Its key or name.
        name: String,
        #[command(flatten)]
        shown: Shown,
        #[command(flatten)]
        reported: Reported,
    },
    /// Two to five resins side by side.
    Compare {
        /// Their keys or names.
        #[arg(value_name = "NAME", required = true)]
        names: Vec<String>,
        #[command(flatten)]
        shown: Shown,
        #[command(flatten)]
        reported: Reported,
    },
    /// A record file from the few numbers of a data sheet, everything else by analogy.
    New(Box<NewResin>),
    /// Whether the records of a folder can be used, with every mistake in them.
    Check {
        /// The folder.
        folder: PathBuf,
        /// Write the whole answer as JSON instead.
        #[arg(long)]
        json: bool,
        /// Also write a report: one HTML file that opens offline.
        #[arg(long, value_name = "FILE")]
        report: Option<PathBuf>,
    },
}

/// A record file from the few numbers of a data sheet.
#[derive(Args, Debug)]
#[command(after_help = "For example:\n  \
    drybed resin new --name \"lens clear 7\" --like PC --temperature \"110 degC .. 120 degC\" \\\n    \
    --time \"4 h\" --limit \"0.02 % wet\" --into my-records")]
pub(crate) struct NewResin {
    /// The name you give it; its file is called after it.
    #[arg(long)]
    pub(crate) name: String,
    /// The resin or family that is nearest, from which everything else is taken.
    #[arg(long, value_name = "RESIN")]
    pub(crate) like: String,
    /// The folder in which to write it; a file that is there already stays as it is.
    #[arg(long, value_name = "FOLDER", default_value = ".")]
    pub(crate) into: PathBuf,
    /// What it is, in a few words.
    #[arg(long)]
    pub(crate) title: Option<String>,
    /// Which data sheet: its date or number.
    #[arg(long)]
    pub(crate) sheet: Option<String>,
    /// Density of the dry grade, filler and all: "1200 kg/m3".
    #[arg(long)]
    pub(crate) density: Option<String>,
    /// Density of poured pellets: "700 kg/m3".
    #[arg(long)]
    pub(crate) bulk_density: Option<String>,
    /// Drying temperature: "120 degC", or "110 degC .. 120 degC".
    #[arg(long)]
    pub(crate) temperature: Option<String>,
    /// Drying time: "4 h", or "2 h .. 4 h".
    #[arg(long)]
    pub(crate) time: Option<String>,
    /// Longest stay in the dryer: "24 h".
    #[arg(long)]
    pub(crate) hold: Option<String>,
    /// Frost point of the air: "-30 degC frost".
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) dew_point: Option<String>,
    /// Highest moisture for moulding: "0.02 % wet".
    #[arg(long)]
    pub(crate) limit: Option<String>,
    /// Highest moisture for extrusion, sheet and film.
    #[arg(long)]
    pub(crate) limit_extrusion: Option<String>,
    /// Highest moisture for spinning fibre.
    #[arg(long)]
    pub(crate) limit_fibre: Option<String>,
    /// Moisture below which it is too dry.
    #[arg(long)]
    pub(crate) lower_edge: Option<String>,
    /// Glass transition of the dry grade.
    #[arg(long, allow_hyphen_values = true)]
    pub(crate) glass_transition: Option<String>,
    /// Melting point.
    #[arg(long)]
    pub(crate) melting: Option<String>,
    /// What is mixed in: "30 % glass fibre".
    #[arg(long)]
    pub(crate) filler: Option<String>,
    #[command(flatten)]
    pub(crate) shown: Shown,
    #[command(flatten)]
    pub(crate) reported: Reported,
}

#[derive(Debug, Subcommand)]
pub(crate) enum JobCommand {
    /// The reference of its fields, in Markdown.
    Fields,
    /// Its JSON schema.
    Schema,
}

#[derive(Debug, Subcommand)]
pub(crate) enum EquipmentCommand {
    /// The reference of a record's fields and of a table's headings, in Markdown.
    Fields,
    /// The JSON schema of a record.
    Schema,
    /// What is known of each dryer, what is an estimate, and every mistake.
    Check {
        /// A folder of records, one record (TOML), or a table (.csv, .xlsx).
        #[arg(value_name = "PATH")]
        path: PathBuf,
        #[command(flatten)]
        shown: Shown,
        /// Also write a report: one HTML file that opens offline.
        #[arg(long, value_name = "FILE")]
        report: Option<PathBuf>,
        /// Open every section of the answer in the terminal.
        #[arg(long, short)]
        verbose: bool,
    },
}

/// An invented plant worked end to end.
#[derive(Args, Debug)]
pub(crate) struct Demo {
    /// The report to write.
    #[arg(long, value_name = "FILE", default_value = "drybed-report.html")]
    pub(crate) report: PathBuf,
    #[command(flatten)]
    pub(crate) shown: Shown,
}
