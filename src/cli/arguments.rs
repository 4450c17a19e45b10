//! What can be asked on the command line.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Compiles a study guide for one aircraft from a model of it, proves the guide against the model, and answers questions
/// about the model.
#[derive(Debug, Parser)]
#[command(name = "ribstitch", version, arg_required_else_help = true, max_term_width = 100)]
#[command(after_help = "AIRCRAFT is a type folder, a tail file, or the name of either under `aircraft/`.\n\
    Exit status: 0 all well; 1 the model, the book or a guide has errors; 2 wrong usage; 3 the machine failed.")]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub verb: Verb,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Verb {
    /// Compile, audit and write the guide
    Guide(GuideArguments),
    /// Everything short of writing: say what is wrong with model and book
    Check(CheckArguments),
    /// What one or more faults do
    Whatif(WhatifArguments),
    /// What an item hangs on, up to its sources, and what hangs on it
    Trace(TraceArguments),
    /// The smallest sets of faults that explain what is seen
    Suspect(SuspectArguments),
    /// What works in which cockpit state
    States(StatesArguments),
    /// Electrical load, and the time left on the battery once the alternator is lost
    Endurance(EnduranceArguments),
    /// What inspection falls due when, by the log of the aircraft
    Due(DueArguments),
    /// Tachometer time beside clock time, with the sums written out
    Tach(TachArguments),
    /// JSON Schemas of the model files and of the JSON answers; with --keys the table of every key
    Schema(SchemaArguments),
    /// Write a small model, a chapter and their guide into a new folder
    New(NewArguments),
    /// What a code means, and what mends it
    Explain(ExplainArguments),
}

/// Arguments of `guide`.
#[derive(Debug, Args)]
pub struct GuideArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// Folder of the guide [default: out/<registration or name of the type folder>]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// What to write, separated by commas
    #[arg(long, value_name = "LIST", value_delimiter = ',', default_value = "html,pdf,svg")]
    pub formats: Vec<Format>,
    /// The paper that the pages are laid out for
    #[arg(long, value_enum, default_value = "a4")]
    pub paper: PaperSize,
    /// Dots an inch of png pictures, 36 to 1200 [default: 200]
    #[arg(long, value_name = "DOTS")]
    pub density: Option<String>,
    /// Warnings count as errors
    #[arg(long)]
    pub strict: bool,
    /// Only this chapter, by its id
    #[arg(long, value_name = "CHAPTER")]
    pub only: Option<String>,
}

/// What a guide is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperSize {
    /// 210 mm by 297 mm.
    A4,
    /// 8.5 in by 11 in.
    Letter,
    /// 148 mm by 210 mm.
    A5,
}

/// What can be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// One self-contained file for tablet, screen and print.
    Html,
    /// The drawings.
    Svg,
    /// The same as pages, for print shops, tablets and page readers.
    Pdf,
    /// A quick-reference card for the knee: one A5 sheet, both sides.
    Card,
    /// The pages in half size, two on each side of the paper, in the order in which the sheets are folded.
    Booklet,
    /// Pictures of the drawings.
    Png,
}

/// Arguments of `check`.
#[derive(Debug, Args)]
pub struct CheckArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// How to say it
    #[arg(long, value_enum, default_value = "human")]
    pub format: FindingFormat,
    /// The same as --format json
    #[arg(long, conflicts_with = "format")]
    pub json: bool,
    /// Warnings count as errors
    #[arg(long)]
    pub strict: bool,
    /// Print each proved sentence beside its claim, for a person to read
    #[arg(long)]
    pub claims: bool,
}

/// How findings are said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FindingFormat {
    /// For a person, with the lines in question.
    Human,
    /// One JSON object.
    Json,
    /// SARIF 2.1.0, for editors and services.
    Sarif,
}

/// In which situation a question is asked.
#[derive(Debug, Args)]
pub struct SituationArguments {
    /// Cockpit state [default: the reference state of the model]
    #[arg(long, value_name = "STATE")]
    pub state: Option<String>,
    /// The state stands and then the fault strikes, or the fault is there from the cold aircraft on
    #[arg(long, value_enum, default_value = "running")]
    pub from: From,
}

/// Where the solution starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum From {
    /// The state stands, then the fault strikes.
    Running,
    /// The fault is there from the cold aircraft on.
    Cold,
}

/// Arguments of `whatif`.
#[derive(Debug, Args)]
pub struct WhatifArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// What fails: an item, or one of its named faults
    #[arg(long, value_name = "ID[:FAULT]", num_args = 1.., required_unless_present = "then")]
    pub fail: Vec<String>,
    /// The situation
    #[command(flatten)]
    pub situation: SituationArguments,
    /// A control set before the fault strikes
    #[arg(long, value_name = "CONTROL=POSITION", num_args = 1..)]
    pub set: Vec<String>,
    /// A control moved afterwards; repeatable, each settled in turn
    #[arg(long, value_name = "CONTROL=POSITION", num_args = 1..)]
    pub then: Vec<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `trace`.
#[derive(Debug, Args)]
pub struct TraceArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// An item, `item.function`, or an outside fact
    pub id: String,
    /// Draw it into this file
    #[arg(long, value_name = "FILE.svg")]
    pub picture: Option<PathBuf>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `suspect`. What is not listed is not known.
#[derive(Debug, Args)]
#[group(id = "seen", required = true, multiple = true, args = ["lost", "wrong", "working", "shows", "not_shows"])]
pub struct SuspectArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// Seen dead
    #[arg(long, value_name = "ID", num_args = 1..)]
    pub lost: Vec<String>,
    /// Seen to work, and to be false
    #[arg(long, value_name = "ID", num_args = 1..)]
    pub wrong: Vec<String>,
    /// Seen to work
    #[arg(long, value_name = "ID", num_args = 1..)]
    pub working: Vec<String>,
    /// An alert that shows, or a gauge that shows a loss
    #[arg(long, value_name = "ALERT", num_args = 1..)]
    pub shows: Vec<String>,
    /// An alert or a gauge that does not
    #[arg(long, value_name = "ALERT", num_args = 1..)]
    pub not_shows: Vec<String>,
    /// The situation
    #[command(flatten)]
    pub situation: SituationArguments,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `states`.
#[derive(Debug, Args)]
pub struct StatesArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `endurance`.
#[derive(Debug, Args)]
pub struct EnduranceArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// What is shed from the first minute on: a control that then does not conduct, or an item that then draws nothing
    #[arg(long, value_name = "ID", num_args = 1..)]
    pub shed: Vec<String>,
    /// Temperature of the battery, where the model says what it gives at some [default: its rating]
    #[arg(long, value_name = "\"N degC\"", allow_hyphen_values = true)]
    pub temperature: Option<String>,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `due`.
#[derive(Debug, Args)]
pub struct DueArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// The log: lines of `date,tachometer,hour-meter,in-service,inspection` under that heading
    #[arg(long, value_name = "FILE.csv")]
    pub log: PathBuf,
    /// The day that is asked about; not before the last of the log
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub on: String,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `tach`.
#[derive(Debug, Args)]
pub struct TachArguments {
    /// Type folder, tail file, or name under `aircraft/`
    pub aircraft: PathBuf,
    /// So many minutes of clock time at this engine speed; repeatable
    #[arg(long, value_name = "RPM:MINUTES", num_args = 1.., required_unless_present_any = ["flight", "month"], conflicts_with_all = ["flight", "month"])]
    pub leg: Vec<String>,
    /// A flight of the model, with its hour-meter time and its time in service
    #[arg(long, value_name = "ID", conflicts_with = "month")]
    pub flight: Option<String>,
    /// A month and a year of the model's flights, and what the ratio of the clocks does
    #[arg(long)]
    pub month: bool,
    /// Answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `schema`.
#[derive(Debug, Args)]
pub struct SchemaArguments {
    /// Which [default: both]
    pub of: Option<SchemaOf>,
    /// The reference page of the model language: one table of every key, as Markdown
    #[arg(long, conflicts_with = "of")]
    pub keys: bool,
}

/// Which schemas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaOf {
    /// Model files.
    Model,
    /// JSON answers.
    Answers,
}

/// Arguments of `new`.
#[derive(Debug, Args)]
pub struct NewArguments {
    /// A folder that is not there yet, or empty
    pub folder: PathBuf,
}

/// Arguments of `explain`.
#[derive(Debug, Args)]
pub struct ExplainArguments {
    /// The code, as it stands in a finding: error[code]
    pub code: String,
}
