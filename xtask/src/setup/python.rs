use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use crate::{
    fault::Fault,
    place::Place,
    step::{Steps, answer},
};

/// Makes `.venv` from `tests/requirements.txt`, anew whenever that file or the interpreter changes.
///
/// The file names every package with its version, so nothing is resolved here (`--no-deps`): a
/// package that is wanted for one file in it does not bring its own friends along.
pub(super) fn environment(place: &Place, steps: &Steps) -> Result<(), Fault> {
    let (venv, requirements) = (place.venv(), place.requirements());
    let wanted = fs::read_to_string(&requirements).map_err(|source| Fault::File {
        doing: "read",
        path: requirements.clone(),
        source,
    })?;
    let stamp = venv.join("made-from.txt");
    if fs::read_to_string(&stamp).is_ok_and(|made| made == wanted) && works(&venv) {
        steps.say("outside checkers: all there");
        return Ok(());
    }
    let Some(interpreter) = interpreter() else {
        return Err(Fault::Missing {
            what: "Python with its `venv` and `ensurepip` modules is".into(),
            line: "sudo apt-get install -y python3-venv".into(),
        });
    };
    steps.run(
        format!("making the Python environment of the outside checkers in {}", venv.display()),
        Command::new(interpreter).args(["-m", "venv", "--clear"]).arg(&venv),
    )?;
    steps.run(
        "installing the outside checkers at their pinned versions",
        Command::new(python_of(&venv))
            .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps"])
            .arg("--requirement")
            .arg(&requirements),
    )?;
    fs::write(&stamp, wanted).map_err(|source| Fault::File { doing: "write", path: stamp, source })
}

/// The first Python that can make an environment: Debian's own may be hidden by another one, and
/// either may lack `ensurepip`.
fn interpreter() -> Option<&'static str> {
    ["python3", "/usr/bin/python3"]
        .into_iter()
        .find(|python| answer(Command::new(python).args(["-c", "import ensurepip, venv"])).is_some())
}

/// An environment whose interpreter was removed or upgraded does not start any more.
fn works(venv: &Path) -> bool {
    answer(Command::new(python_of(venv)).args(["-c", "import sys"])).is_some()
}

fn python_of(venv: &Path) -> PathBuf {
    venv.join("bin/python")
}
