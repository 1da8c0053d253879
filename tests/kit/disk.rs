use std::{
    fs::{self, File},
    io::{ErrorKind, Write},
    path::{Path, PathBuf},
    process::Command,
};

use tempfile::TempDir;

/// A file system of its own that holds little, in memory, for as long as this lives.
#[derive(Debug)]
pub struct SmallDisk {
    folder: TempDir,
}

impl SmallDisk {
    /// Mounts one of so many MiB.
    ///
    /// # Panics
    ///
    /// Where it may not be mounted: that takes root, or `sudo` without a password, as `cargo xtask setup` does.
    pub fn mount(mib: u32) -> Self {
        let folder = tempfile::tempdir().expect("a folder to mount on");
        let size = format!("size={mib}m");
        let done = as_root("mount", &["-t", "tmpfs", "-o", &size, "doorside-test"], folder.path());
        assert!(done, "a small file system cannot be mounted: run the tests as root or with sudo");
        SmallDisk { folder }
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Takes all the room that is left; [`SmallDisk::make_room`] gives it back.
    ///
    /// # Panics
    ///
    /// Where something other than a lack of room keeps it from being taken.
    pub fn fill(&self) {
        let mut filler = File::options().append(true).create(true).open(self.filler()).expect("a file");
        // Smaller and smaller pieces, until not a byte finds room.
        for piece in [1 << 20, 1 << 12, 1] {
            let piece = vec![0xff; piece];
            loop {
                match filler.write_all(&piece) {
                    Ok(()) => {}
                    Err(error) if error.kind() == ErrorKind::StorageFull => break,
                    Err(error) => panic!("the disk cannot be filled: {error}"),
                }
            }
        }
    }

    /// Gives back what was taken.
    ///
    /// # Panics
    ///
    /// Where nothing was.
    pub fn make_room(&self) {
        fs::remove_file(self.filler()).expect("room was taken");
    }

    fn filler(&self) -> PathBuf {
        self.path().join("filler")
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        // Lazily, since a program that is just ending may still have a file open there.
        as_root("umount", &["--lazy"], self.folder.path());
    }
}

/// Runs a command on a path as root; whether it was done.
fn as_root(command: &str, arguments: &[&str], path: &Path) -> bool {
    let mut whole = if rustix::process::geteuid().is_root() {
        Command::new(command)
    } else {
        let mut sudo = Command::new("sudo");
        sudo.args(["--non-interactive", command]);
        sudo
    };
    whole.args(arguments).arg(path).status().is_ok_and(|status| status.success())
}
