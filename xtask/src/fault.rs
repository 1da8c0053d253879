use std::{io, path::PathBuf, process::ExitCode};

/// Why a task stopped.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Fault {
    /// A program could not be started at all.
    #[error("could not start `{program}`: {source}. Is it installed and on the PATH?")]
    Start {
        /// What was to be started.
        program: String,
        /// Why it did not start.
        source: io::Error,
    },
    /// A program ran and failed; its own words are on the screen above.
    #[error("`{command}` failed ({how}); its own words are above")]
    Failed {
        /// The command line.
        command: String,
        /// Its exit status.
        how: String,
    },
    /// A file could not be read or written.
    #[error("could not {doing} {}: {source}", path.display())]
    File {
        /// What was being done, as a verb.
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// Why it failed.
        source: io::Error,
    },
    /// `wasm-bindgen` refused the page's code.
    #[error("wasm-bindgen could not make the page from {}: {words}", path.display())]
    Bindgen {
        /// The compiled code.
        path: PathBuf,
        /// The library's own words, with their causes.
        words: String,
    },
    /// Something is missing that only the person at the keyboard can install.
    #[error(
        "{what} missing, and this user may not install it. Run this once, then try again:\n\n    {line}\n"
    )]
    Missing {
        /// What is missing.
        what: String,
        /// The one line to run.
        line: String,
    },
    /// The task was started outside the workspace it belongs to.
    #[error("found no workspace at {}; start it as `cargo xtask` inside the checkout", .0.display())]
    NoWorkspace(PathBuf),
}

impl Fault {
    /// 2 where a person has to do something first, 1 where a step failed.
    pub(crate) fn exit_code(&self) -> ExitCode {
        match self {
            Fault::Missing { .. } | Fault::NoWorkspace(_) => ExitCode::from(2),
            Fault::Start { .. } | Fault::Failed { .. } | Fault::File { .. } | Fault::Bindgen { .. } => {
                ExitCode::FAILURE
            }
        }
    }
}
