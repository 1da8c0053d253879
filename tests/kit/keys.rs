use std::{
    fs,
    io::Write,
    process::{Command, Stdio},
    thread::sleep,
    time::{Duration, Instant},
};

use tempfile::TempDir;
use zbus::{blocking, blocking::fdo::DBusProxy};

use crate::screen::{Ended, Screen};

/// How long it may take to answer; long, because a loaded machine is no failure.
const PATIENCE: Duration = Duration::from_mins(1);

/// What a desktop has to keep secrets: GNOME's key store, opened, on the screen's own bus, with a home of its own.
#[derive(Debug)]
pub struct Keys {
    home: TempDir,
    running: Option<Ended>,
}

impl Keys {
    /// Starts it and opens it, as signing in does.
    ///
    /// # Panics
    ///
    /// Where it does not start.
    pub fn open(screen: &Screen) -> Keys {
        let mut keys = Keys { home: tempfile::tempdir().expect("a home for the key store"), running: None };
        keys.open_again(screen);
        keys
    }

    /// Opens the same one again.
    ///
    /// # Panics
    ///
    /// Where it does not start.
    pub fn open_again(&mut self, screen: &Screen) {
        let mut command = Command::new("gnome-keyring-daemon");
        command
            .args(["--foreground", "--unlock", "--components=secrets"])
            .env("HOME", self.home.path())
            .env("XDG_RUNTIME_DIR", self.home.path())
            .env_remove("XDG_DATA_HOME")
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        screen.show(&mut command);
        let mut child = command.spawn().unwrap_or_else(|error| {
            panic!("gnome-keyring-daemon does not start ({error}): cargo xtask setup")
        });
        // It takes its password from its input, to the end.
        let mut input = child.stdin.take().expect("its input is a pipe");
        input.write_all(b"a password of the test").expect("it reads its password");
        drop(input);
        self.running = Some(Ended(child));
        let bus = blocking::connection::Builder::address(screen.bus())
            .and_then(blocking::connection::Builder::build)
            .expect("the bus answers");
        let bus = DBusProxy::new(&bus).expect("the bus answers");
        let since = Instant::now();
        let name = "org.freedesktop.secrets".try_into().expect("a name");
        while !bus.name_has_owner(Clone::clone(&name)).expect("the bus answers") {
            assert!(since.elapsed() < PATIENCE, "the key store does not answer");
            sleep(Duration::from_millis(20));
        }
    }

    /// Ends it, as signing out does.
    pub fn close(&mut self) {
        self.running = None;
    }

    /// How many bytes it keeps, all sealed by its password.
    ///
    /// # Panics
    ///
    /// Where its folder cannot be read.
    pub fn bytes(&self) -> u64 {
        let kept = fs::read_dir(self.home.path().join(".local/share/keyrings")).expect("it has a folder");
        kept.map(|file| file.and_then(|file| file.metadata()).expect("its files can be read").len()).sum()
    }
}
