//! Builds the window's page into `ui/dist`: compiled code, one style sheet, fonts, the page itself.

mod stamp;
mod styles;

use std::{
    fs,
    path::{Path, PathBuf},
};

use wasm_bindgen_cli_support::Bindgen;

use crate::{
    fault::Fault,
    place::Place,
    setup::WINDOW,
    step::{Steps, cargo},
};

/// Files and folders of `ui/` that are copied as they are.
const COPIED: &[&str] = &["index.html", "start.js", "fonts"];

/// Compiles the page and lays `ui/dist` out anew if anything in it would change.
pub(crate) fn bundle(place: &Place, steps: &Steps) -> Result<(), Fault> {
    steps.run(
        "compiling the window's page",
        cargo(place.root()).args([
            "build",
            "--locked",
            "--package",
            "ui",
            "--target",
            WINDOW,
            "--profile",
            "wasm",
        ]),
    )?;
    let code = place.target().join(WINDOW).join("wasm/ui.wasm");
    let style = styles::joined(&place.ui())?;
    let mut copied = Vec::new();
    for name in COPIED {
        gather(&place.ui().join(name), Path::new(name), &mut copied)?;
    }

    let stamp = stamp::of(&code, &style, &copied)?;
    let stamp_file = place.target().join("xtask/page.stamp");
    let dist = place.dist();
    if dist.join("index.html").is_file() && fs::read_to_string(&stamp_file).is_ok_and(|old| old == stamp) {
        steps.say("the window's page has not changed");
        return Ok(());
    }

    steps.say(format!("laying out the window's page in {}", dist.display()));
    // The new page is laid out beside the old one, so that a failure half-way leaves the old one whole.
    let fresh = place.target().join("xtask/page");
    clear(&fresh)?;
    lay_out(&code, &style, &copied, &fresh)?;
    clear(&dist)?;
    copy_tree(&fresh, &dist)?;
    write(&stamp_file, stamp.as_bytes())
}

fn lay_out(code: &Path, style: &str, copied: &[(PathBuf, PathBuf)], into: &Path) -> Result<(), Fault> {
    Bindgen::new()
        .input_path(code)
        .out_name("ui")
        .web(true)
        .and_then(|bindgen| {
            bindgen.typescript(false).remove_name_section(true).remove_producers_section(true).generate(into)
        })
        .map_err(|error| Fault::Bindgen { path: code.to_path_buf(), words: format!("{error:#}") })?;
    write(&into.join("style.css"), style.as_bytes())?;
    for (from, name) in copied {
        copy(from, &into.join(name))?;
    }
    Ok(())
}

/// Adds a file, or every file below a folder, as (where it is, its name in the page), in order of names.
fn gather(from: &Path, name: &Path, into: &mut Vec<(PathBuf, PathBuf)>) -> Result<(), Fault> {
    if !from.is_dir() {
        into.push((from.to_path_buf(), name.to_path_buf()));
        return Ok(());
    }
    for entry in entries(from)? {
        let name = entry.file_name().map_or_else(|| name.to_path_buf(), |file| name.join(file));
        gather(&entry, &name, into)?;
    }
    Ok(())
}

/// What a folder holds, in order of names.
fn entries(folder: &Path) -> Result<Vec<PathBuf>, Fault> {
    let mut paths = fs::read_dir(folder)
        .and_then(|found| found.map(|entry| entry.map(|e| e.path())).collect::<Result<Vec<_>, _>>())
        .map_err(|source| Fault::File { doing: "list", path: folder.to_path_buf(), source })?;
    paths.sort();
    Ok(paths)
}

fn copy_tree(from: &Path, to: &Path) -> Result<(), Fault> {
    let mut files = Vec::new();
    gather(from, Path::new(""), &mut files)?;
    files.iter().try_for_each(|(file, name)| copy(file, &to.join(name)))
}

fn copy(from: &Path, to: &Path) -> Result<(), Fault> {
    make_folder_of(to)?;
    fs::copy(from, to).map(|_bytes| ()).map_err(|source| Fault::File {
        doing: "copy",
        path: from.to_path_buf(),
        source,
    })
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Fault> {
    make_folder_of(path)?;
    fs::write(path, bytes).map_err(|source| Fault::File { doing: "write", path: path.to_path_buf(), source })
}

fn make_folder_of(path: &Path) -> Result<(), Fault> {
    let folder = path.parent().unwrap_or(path);
    fs::create_dir_all(folder).map_err(|source| Fault::File {
        doing: "make",
        path: folder.to_path_buf(),
        source,
    })
}

fn clear(folder: &Path) -> Result<(), Fault> {
    if folder.exists() {
        fs::remove_dir_all(folder).map_err(|source| Fault::File {
            doing: "clear",
            path: folder.to_path_buf(),
            source,
        })?;
    }
    Ok(())
}
