use std::{
    fmt::Display,
    path::Path,
    process::{Command, Stdio},
    time::Instant,
};

use crate::fault::Fault;

/// Prints each step with the time since the task began, and runs its programs.
#[derive(Debug)]
pub(crate) struct Steps {
    begun: Instant,
}

impl Steps {
    /// Starts counting.
    pub(crate) fn begin() -> Self {
        Steps { begun: Instant::now() }
    }

    /// One line about what begins or ended now.
    pub(crate) fn say(&self, what: impl Display) {
        let seconds = self.begun.elapsed().as_secs();
        println!("[{:>2}:{:02}] {what}", seconds / 60, seconds % 60);
    }

    /// Says what begins and runs it, with its own output on the screen. Never reads stdin, so that
    /// nothing can wait for an answer that nobody is there to give.
    pub(crate) fn run(&self, what: impl Display, command: &mut Command) -> Result<(), Fault> {
        self.say(what);
        let status = command
            .stdin(Stdio::null())
            .status()
            .map_err(|source| Fault::Start { program: name_of(command), source })?;
        if status.success() {
            Ok(())
        } else {
            Err(Fault::Failed { command: line_of(command), how: status.to_string() })
        }
    }
}

/// What a program printed, or `None` where it cannot be started or fails: for questions, not for work.
pub(crate) fn answer(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).stderr(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
}

/// `cargo` in the workspace: the very cargo that started xtask, so that toolchains never mix.
pub(crate) fn cargo(root: &Path) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command
        .current_dir(root)
        // Settings of the package that xtask is would otherwise reach the build scripts of others.
        .env_remove("CARGO_MANIFEST_DIR")
        // Incremental files cost as much disk and time again and serve nobody who builds once.
        .env("CARGO_INCREMENTAL", "0");
    command
}

/// The same cargo with the linter of its toolchain as the compiler of the workspace: it compiles, and
/// what it warns about is an error.
pub(crate) fn linting(root: &Path) -> Command {
    let mut command = cargo(root);
    let linter = Path::new(command.get_program()).with_file_name("clippy-driver");
    command
        .env("RUSTC_WORKSPACE_WRAPPER", linter)
        // The form in which `cargo clippy` itself hands arguments on.
        .env("CLIPPY_ARGS", "--deny__CLIPPY_HACKERY__warnings__CLIPPY_HACKERY__");
    command
}

fn name_of(command: &Command) -> String {
    command.get_program().to_string_lossy().into_owned()
}

fn line_of(command: &Command) -> String {
    let mut line = name_of(command);
    for argument in command.get_args() {
        line.push(' ');
        line.push_str(&argument.to_string_lossy());
    }
    line
}
