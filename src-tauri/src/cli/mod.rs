//! The command line: for administrators and scripts, by the same rules as the window.
//!
//! Exit 0: done. Exit 1: the check failed. Exit 2: bad input, with one sentence on standard error.

mod checks;
mod input;
mod keeping;
mod score;
mod standing;

use std::{path::PathBuf, process::ExitCode};

use chrono::NaiveDate;
use clap::{Parser, Subcommand, ValueEnum};

use crate::folder::Folder;

/// Watch a colleague put on or take off protective equipment, score it, and seal the record.
///
/// Without a subcommand it opens the window.
#[derive(Debug, Parser)]
#[command(name = "doorside", version)]
struct Arguments {
    /// The data folder; the platform's own place where it is not given.
    #[arg(long, global = true, value_name = "DIR")]
    data: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Score a log against a procedure.
    Score {
        /// The procedure file.
        #[arg(long, value_name = "FILE")]
        procedure: PathBuf,
        /// The log file; `-` reads standard input.
        #[arg(long, value_name = "FILE")]
        log: PathBuf,
        /// Print one JSON object instead of text.
        #[arg(long)]
        json: bool,
    },
    /// Work with procedure files.
    #[command(subcommand)]
    Procedure(ProcedureCommand),
    /// Work with signed records.
    #[command(subcommand)]
    Record(RecordCommand),
    /// Print how people stand as of a date.
    Roster {
        /// True on this date; today where it is not given.
        #[arg(long, value_name = "DATE")]
        as_of: Option<NaiveDate>,
        /// Known by the end of this date.
        #[arg(long, value_name = "DATE")]
        known_at: Option<NaiveDate>,
        /// Name or id of one unit.
        #[arg(long, value_name = "UNIT")]
        unit: Option<String>,
        /// The format.
        #[arg(long, value_enum, default_value = "csv")]
        format: RosterFormat,
    },
    /// Print one person's validation history.
    History {
        /// The person's staff number or id.
        #[arg(value_name = "PERSON")]
        person: String,
        /// True on this date; today where it is not given.
        #[arg(long, value_name = "DATE")]
        as_of: Option<NaiveDate>,
        /// Known by the end of this date; everything known today where it is not given.
        #[arg(long, value_name = "DATE")]
        known_at: Option<NaiveDate>,
        /// The format; the PDF is sealed by this device, with the records attached.
        #[arg(long, value_enum, default_value = "text")]
        format: HistoryFormat,
    },
    /// Print what falls due.
    Reminders {
        /// Counted from this date; today where it is not given.
        #[arg(long, value_name = "DATE")]
        as_of: Option<NaiveDate>,
        /// Due within this many days, and overdue.
        #[arg(long, value_name = "DAYS", default_value_t = 90)]
        within: u32,
        /// The format.
        #[arg(long, value_enum, default_value = "ics")]
        format: RemindersFormat,
    },
    /// Work with the ledger.
    #[command(subcommand)]
    Ledger(LedgerCommand),
    /// Back the data folder up into one new file, also while the window is in use.
    Backup {
        /// The file to make.
        #[arg(value_name = "FILE")]
        file: PathBuf,
    },
    /// Restore a backup into an empty data folder, and run the ledger check on it.
    Restore {
        /// The backup.
        #[arg(value_name = "FILE")]
        file: PathBuf,
    },
    /// Create the demo facility, play one demonstration to its signed record, and say where things are.
    Demo,
}

#[derive(Debug, Subcommand)]
enum ProcedureCommand {
    /// Name every flaw of procedure files, with its place.
    Check {
        /// The procedure files.
        #[arg(required = true, value_name = "FILE")]
        files: Vec<PathBuf>,
    },
}

#[derive(Debug, Subcommand)]
enum RecordCommand {
    /// Check a signed record; needs no ledger.
    Verify {
        /// The signed PDF.
        #[arg(value_name = "PDF")]
        pdf: PathBuf,
        /// The certificate of an authority to trust, PEM or DER.
        #[arg(long, value_name = "CERT")]
        trust: Vec<PathBuf>,
        /// A later list of revoked certificates, as the facility hands it out.
        #[arg(long, value_name = "LIST")]
        revoked: Vec<PathBuf>,
    },
}

#[derive(Debug, Subcommand)]
enum LedgerCommand {
    /// Replay every entry and compare with what the ledger says.
    Check {
        /// A signed record, a history or a backup that was kept elsewhere, to notice that the last entries are gone.
        #[arg(long, value_name = "FILE")]
        known: Vec<PathBuf>,
    },
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum RosterFormat {
    Csv,
    Xlsx,
    Pdf,
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum HistoryFormat {
    Text,
    Csv,
    Pdf,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum RemindersFormat {
    Ics,
    Csv,
}

/// How a subcommand ended.
enum Ending {
    /// Exit 0.
    Done,
    /// Exit 1.
    CheckFailed,
}

/// Bad input, or something that did not work: exit 2 and this sentence.
#[derive(Debug)]
struct Complaint(String);

impl Complaint {
    fn new(sentence: impl Into<String>) -> Self {
        Complaint(sentence.into())
    }
}

impl From<contract::Fault> for Complaint {
    fn from(fault: contract::Fault) -> Self {
        Complaint(fault.text)
    }
}

/// Runs the program.
pub fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        // Help and version are answers, and clap prints them where they belong.
        Err(error) if !error.use_stderr() => error.exit(),
        Err(error) => {
            crate::window::complain(&in_one_sentence(&error));
            return ExitCode::from(2);
        }
    };
    let Some(command) = arguments.command else {
        return crate::window::open(arguments.data);
    };
    match carry_out(command, arguments.data) {
        Ok(Ending::Done) => ExitCode::SUCCESS,
        Ok(Ending::CheckFailed) => ExitCode::from(1),
        Err(Complaint(sentence)) => {
            crate::window::complain(&sentence);
            ExitCode::from(2)
        }
    }
}

/// What clap found wrong, without its headings and hints, and where to read more.
fn in_one_sentence(error: &clap::Error) -> String {
    let told = error.render().to_string();
    let lines = told.lines().take_while(|line| !line.starts_with("Usage:") && !line.trim().is_empty());
    let said = lines.map(str::trim).collect::<Vec<_>>().join(" ");
    let said = said.strip_prefix("error: ").unwrap_or(&said).trim_end_matches('.');
    format!("{said}; see doorside --help for how it is used.")
}

fn carry_out(command: Command, data: Option<PathBuf>) -> Result<Ending, Complaint> {
    match command {
        Command::Score { procedure, log, json } => score::score(&procedure, &log, json),
        Command::Procedure(ProcedureCommand::Check { files }) => checks::procedures(&files),
        Command::Record(RecordCommand::Verify { pdf, trust, revoked }) => {
            checks::record(&pdf, &trust, &revoked, data.map(Folder::at).as_ref())
        }
        Command::Roster { as_of, known_at, unit, format } => {
            standing::roster(&folder(data)?, as_of, known_at, unit, format)
        }
        Command::History { person, as_of, known_at, format } => {
            standing::history(&folder(data)?, &person, as_of, known_at, format)
        }
        Command::Reminders { as_of, within, format } => {
            standing::reminders(&folder(data)?, as_of, within, format)
        }
        Command::Ledger(LedgerCommand::Check { known }) => checks::ledger(&folder(data)?, &known),
        Command::Backup { file } => keeping::back_up(&folder(data)?, &file),
        Command::Restore { file } => keeping::restore(&folder(data)?, &file),
        Command::Demo => {
            crate::demo::play(&folder(data)?, &mut print).map(|()| Ending::Done).map_err(Complaint::from)
        }
    }
}

fn folder(data: Option<PathBuf>) -> Result<Folder, Complaint> {
    data.map(Folder::at).or_else(Folder::of_platform).map(Folder::with_key_store).ok_or_else(|| {
        Complaint::new("This system names no place for a program's data; give one with --data DIR.")
    })
}

/// Prints a line of the answer. A reader that has gone away, such as `head`, is no failure.
#[expect(clippy::let_underscore_must_use, reason = "a closed pipe is the reader's choice")]
fn print(text: &str) {
    use std::io::Write;
    let _ = writeln!(std::io::stdout(), "{text}");
}

/// Writes bytes to standard output as they are.
fn print_bytes(bytes: &[u8]) -> Result<(), Complaint> {
    use std::io::Write;
    std::io::stdout().write_all(bytes).map_err(|error| {
        Complaint::new(format!("The answer could not be written to standard output: {error}."))
    })
}
