//! The `doorside` program: the window, and the subcommands that share every rule with it.

fn main() -> std::process::ExitCode {
    doorside::cli::main()
}
