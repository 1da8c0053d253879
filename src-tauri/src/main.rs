//! The `doorside` program: the window, and the subcommands that share every rule with it.

#[cfg(desktop)]
fn main() -> std::process::ExitCode {
    doorside::cli::main()
}

#[cfg(mobile)]
fn main() {
    doorside::run();
}
