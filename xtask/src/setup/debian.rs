use std::process::Command;

use super::Need;
use crate::{
    fault::Fault,
    step::{Steps, answer},
};

/// What a build of the shell links against or calls.
const BUILD: &[&str] =
    &["build-essential", "libgtk-3-dev", "librsvg2-dev", "libwebkit2gtk-4.1-dev", "pkg-config"];

/// What the tests call besides: the window's driver and screen, other people's PDF readers, a font
/// for the window, Python.
const TEST: &[&str] = &[
    "dbus-daemon",
    "fonts-noto-core",
    "gnome-keyring",
    "libnss3-tools",
    "poppler-utils",
    "python3-venv",
    "qpdf",
    "strace",
    "webkit2gtk-driver",
    "xauth",
    "xvfb",
];

/// Installs the missing ones through apt; on a system without dpkg it says what it did not look for.
pub(super) fn packages(steps: &Steps, need: Need) -> Result<(), Fault> {
    let wanted = wanted(need);
    let Some(installed) = installed() else {
        steps.say(format!(
            "no dpkg here, so the packages are yours to see to; on Debian they are: {}",
            wanted.join(" ")
        ));
        return Ok(());
    };
    let missing = missing(&wanted, &installed);
    if missing.is_empty() {
        steps.say("Debian packages: all there");
        return Ok(());
    }
    let Some(root) = way_to_root() else {
        return Err(Fault::Missing {
            what: format!("Debian packages are ({})", missing.join(", ")),
            line: format!(
                "sudo apt-get update && sudo apt-get install -y --no-install-recommends {}",
                missing.join(" ")
            ),
        });
    };
    steps.run("asking apt for its newest lists", apt(&root).args(["update", "--quiet"]))?;
    steps.run(
        format!("installing Debian packages: {}", missing.join(" ")),
        apt(&root).args(["install", "--quiet", "-y", "--no-install-recommends"]).args(&missing),
    )
}

fn wanted(need: Need) -> Vec<&'static str> {
    match need {
        Need::Build => BUILD.to_vec(),
        Need::Test => [BUILD, TEST].concat(),
    }
}

/// Names of all installed packages, one a line, or `None` where this is no Debian.
fn installed() -> Option<String> {
    answer(Command::new("dpkg-query").args(["--show", "--showformat=${db:Status-Abbrev}${binary:Package}\n"]))
}

/// Those of `wanted` that dpkg does not call installed (`ii`). Some names carry their architecture.
fn missing(wanted: &[&'static str], installed: &str) -> Vec<&'static str> {
    let there: Vec<&str> = installed
        .lines()
        .filter_map(|line| line.strip_prefix("ii "))
        .map(|name| name.split(':').next().unwrap_or(name))
        .collect();
    wanted.iter().copied().filter(|name| !there.contains(name)).collect()
}

/// The words to put before a command that needs root; `None` where there is no way without a password.
fn way_to_root() -> Option<Vec<&'static str>> {
    if answer(Command::new("id").arg("-u")).is_some_and(|id| id.trim() == "0") {
        Some(vec![])
    } else {
        answer(Command::new("sudo").args(["-n", "true"])).map(|_| vec!["sudo", "-n"])
    }
}

fn apt(root: &[&str]) -> Command {
    let mut words = root.to_vec();
    words.extend(["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"]);
    let mut words = words.into_iter();
    let mut command = Command::new(words.next().unwrap_or("env"));
    command.args(words);
    command
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The shape is that of `dpkg-query(1)`, field `db:Status-Abbrev`.
    const DPKG: &str = "ii build-essential\nii libgtk-3-dev:amd64\nrc qpdf\nun xvfb\nii pkg-config:amd64\n";

    #[test]
    fn only_installed_packages_count_as_there() {
        assert_eq!(
            missing(&["build-essential", "libgtk-3-dev", "pkg-config"], DPKG),
            Vec::<&str>::new(),
            "an architecture after the name does not hide a package"
        );
        assert_eq!(missing(&["qpdf", "xvfb", "xauth"], DPKG), ["qpdf", "xvfb", "xauth"]);
    }

    #[test]
    fn tests_need_all_that_a_build_needs() {
        assert!(BUILD.iter().all(|name| wanted(Need::Test).contains(name)));
        assert_eq!(wanted(Need::Build), BUILD, "opening the window asks for nothing that only tests use");
    }
}
