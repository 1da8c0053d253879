//! `cargo xtask`: everything that is done to this workspace, from an empty machine to a tested program.
//!
//! What is deliberately absent: nothing here knows a rule of the trade or a crate of the workspace.
//! It starts cargo, apt, Python and the finished program, and prints each step before it begins.
#![expect(clippy::print_stdout, reason = "a program of the command line speaks on stdout")]
#![expect(clippy::print_stderr, reason = "what went wrong goes to stderr")]

mod bench;
mod bundle;
mod check;
mod fault;
mod place;
mod run;
mod setup;
mod step;
mod test;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::{fault::Fault, place::Place, setup::Need, step::Steps};

/// Everything that is done to this workspace.
#[derive(Debug, Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Debug, Clone, Copy, Subcommand)]
enum Task {
    /// Set up, build, play one demonstration in the demo facility, and open the window on it.
    Run,
    /// Set up, check, and run every test.
    Test,
    /// Formatting, lints, and the crates that must compile for other targets.
    Check,
    /// Print the measures, as ratios within one run.
    Bench,
    /// Build the window's page into `ui/dist`.
    Bundle,
    /// Install what is missing for building and testing.
    Setup,
}

fn main() -> ExitCode {
    let Arguments { task } = Arguments::parse();
    let steps = Steps::begin();
    let done = Place::find().and_then(|place| carry_out(task, &place, &steps));
    match done {
        Ok(()) => {
            steps.say("done");
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("\nxtask: {fault}");
            fault.exit_code()
        }
    }
}

fn carry_out(task: Task, place: &Place, steps: &Steps) -> Result<(), Fault> {
    match task {
        Task::Run => run::run(place, steps),
        Task::Test => test::test(place, steps),
        Task::Check => {
            setup::setup(place, steps, Need::Build)?;
            check::check(place, steps)
        }
        Task::Bench => {
            setup::setup(place, steps, Need::Build)?;
            bench::bench(place, steps)
        }
        Task::Bundle => {
            setup::targets(steps, &[setup::WINDOW])?;
            bundle::bundle(place, steps)
        }
        Task::Setup => setup::setup(place, steps, Need::Test),
    }
}
