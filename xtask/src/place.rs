use std::{
    env,
    path::{Path, PathBuf},
};

use crate::fault::Fault;

/// Where things are in the checkout. Nothing is ever kept outside it.
#[derive(Debug)]
pub(crate) struct Place {
    root: PathBuf,
}

impl Place {
    /// The workspace that this xtask belongs to, wherever in it the command was given.
    pub(crate) fn find() -> Result<Self, Fault> {
        // Cargo sets it for `cargo run`; the compiled-in value serves a bare start of the program.
        let crate_folder = env::var_os("CARGO_MANIFEST_DIR")
            .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
        match crate_folder.parent() {
            Some(root) if root.join("Cargo.lock").is_file() => Ok(Place { root: root.to_path_buf() }),
            _ => Err(Fault::NoWorkspace(crate_folder)),
        }
    }

    /// The top of the checkout.
    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    /// Sources of the window's page.
    pub(crate) fn ui(&self) -> PathBuf {
        self.root.join("ui")
    }

    /// The finished page, which the shell embeds.
    pub(crate) fn dist(&self) -> PathBuf {
        self.root.join("ui/dist")
    }

    /// Data folder of the demo facility.
    pub(crate) fn demo(&self) -> PathBuf {
        self.root.join("demo")
    }

    /// Pinned versions of the outside checkers.
    pub(crate) fn requirements(&self) -> PathBuf {
        self.root.join("tests/requirements.txt")
    }

    /// Their Python environment.
    pub(crate) fn venv(&self) -> PathBuf {
        self.root.join(".venv")
    }

    /// What cargo builds, `CARGO_TARGET_DIR` respected.
    pub(crate) fn target(&self) -> PathBuf {
        env::var_os("CARGO_TARGET_DIR").map_or_else(|| self.root.join("target"), |dir| self.root.join(dir))
    }

    /// The program as the development profile builds it.
    pub(crate) fn program(&self) -> PathBuf {
        self.target().join("debug").join(format!("doorside{}", env::consts::EXE_SUFFIX))
    }
}
