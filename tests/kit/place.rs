use std::{
    env, fs,
    path::{Path, PathBuf},
    process::Command,
};

/// The top of the checkout.
pub fn root() -> &'static Path {
    let suite = Path::new(env!("CARGO_MANIFEST_DIR"));
    suite.parent().unwrap_or(suite)
}

/// The built program: where `cargo xtask test` says it is, else where the development profile leaves it.
///
/// # Panics
///
/// Where it is not built.
pub fn program() -> PathBuf {
    let program = env::var_os("DOORSIDE_PROGRAM").map_or_else(
        || {
            env::var_os("CARGO_TARGET_DIR")
                .map_or_else(|| root().join("target"), |folder| root().join(folder))
                .join("debug/doorside")
        },
        PathBuf::from,
    );
    assert!(program.is_file(), "{} is not built: cargo build --package doorside", program.display());
    program
}

/// Every file of the project, relative to [`root`]: what git tracks and what it would add.
///
/// # Panics
///
/// Where git cannot list them.
pub fn files() -> Vec<PathBuf> {
    let listed = Command::new("git")
        .args(["ls-files", "--cached", "--others", "--exclude-standard", "-z"])
        .current_dir(root())
        .output()
        .expect("git lists the project's files");
    assert!(listed.status.success(), "git ls-files: {}", String::from_utf8_lossy(&listed.stderr));
    let names = String::from_utf8(listed.stdout).expect("file names are UTF-8");
    // A file deleted but not yet committed is still listed.
    names.split_terminator('\0').map(PathBuf::from).filter(|name| root().join(name).is_file()).collect()
}

/// The text of a file of the project.
///
/// # Panics
///
/// Where it cannot be read.
pub fn text(name: impl AsRef<Path>) -> String {
    let path = root().join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}
