use std::{
    fs,
    io::{BufRead, BufReader},
    process::{Child, Command, Stdio},
};

use tempfile::TempDir;

/// A screen and a message bus of a test's own, so that tests disturb neither each other nor anybody's desktop.
#[derive(Debug)]
pub struct Screen {
    display: String,
    bus: String,
    // Held only to end with the screen.
    _programs: [Ended; 2],
    _folder: TempDir,
}

/// A bus of a session that starts nothing by itself: only what a test puts there answers.
const BUS: &str = r#"<busconfig>
  <type>session</type>
  <listen>unix:tmpdir=/tmp</listen>
  <policy context="default">
    <allow send_destination="*" eavesdrop="true"/>
    <allow eavesdrop="true"/>
    <allow own="*"/>
  </policy>
</busconfig>
"#;

impl Screen {
    /// Starts both.
    ///
    /// # Panics
    ///
    /// Where one of the programs is missing or says no address.
    pub fn start() -> Self {
        // Large enough for every window size that is looked at.
        let (xvfb, number) = announced(Command::new("Xvfb").args([
            "-displayfd",
            "1",
            "-screen",
            "0",
            "1600x1300x24",
            "-nolisten",
            "tcp",
        ]));
        let folder = tempfile::tempdir().expect("a folder for the bus");
        let rules = folder.path().join("bus.conf");
        fs::write(&rules, BUS).expect("the folder of the bus can be written");
        let (daemon, bus) =
            announced(Command::new("dbus-daemon").arg(format!("--config-file={}", rules.display())).args([
                "--nofork",
                "--nopidfile",
                "--print-address=1",
            ]));
        Screen { display: format!(":{number}"), bus, _programs: [xvfb, daemon], _folder: folder }
    }

    /// Address of the bus.
    pub(crate) fn bus(&self) -> &str {
        &self.bus
    }

    /// Lets a program draw on this screen and talk on this bus.
    pub(crate) fn show(&self, command: &mut Command) {
        command
            .env("DISPLAY", &self.display)
            .env_remove("WAYLAND_DISPLAY")
            .env("DBUS_SESSION_BUS_ADDRESS", &self.bus)
            // Nothing listens to the desktop's own accessibility bus here, and looking for it takes seconds.
            .env("NO_AT_BRIDGE", "1")
            .env("GTK_A11Y", "none");
    }
}

/// Starts a program that prints its address as its first line.
fn announced(command: &mut Command) -> (Ended, String) {
    let name = command.get_program().to_string_lossy().into_owned();
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| panic!("{name} does not start ({error}): cargo xtask setup"));
    let mut line = String::new();
    let stdout = child.stdout.take().expect("stdout is piped");
    let ended = Ended(child);
    BufReader::new(stdout).read_line(&mut line).expect("the address is text");
    let address = line.trim().to_owned();
    assert!(!address.is_empty(), "{name} ended without saying its address");
    (ended, address)
}

/// A program that ends with the test that started it, however the test ends.
#[derive(Debug)]
pub(crate) struct Ended(pub(crate) Child);

impl Drop for Ended {
    fn drop(&mut self) {
        // It may have ended by itself already; either way there is nothing left to do about it.
        drop(self.0.kill());
        drop(self.0.wait());
    }
}
