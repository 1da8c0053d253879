use std::{
    fs,
    path::{Path, PathBuf},
};

use super::entries;
use crate::fault::Fault;

/// Come first: every other sheet leans on the tokens, and base is what the others refine.
const FIRST: &[&str] = &["style/tokens.css", "style/base.css"];

/// One style sheet of every `.css` below `ui/`: tokens, base, then the rest in order of their paths.
pub(super) fn joined(ui: &Path) -> Result<String, Fault> {
    let mut rest = Vec::new();
    find(ui, &ui.join("dist"), &mut rest)?;
    let first: Vec<PathBuf> = FIRST.iter().map(|name| ui.join(name)).collect();
    let mut sheet = String::new();
    for path in first.iter().chain(rest.iter().filter(|path| !first.contains(path))) {
        let css = fs::read_to_string(path).map_err(|source| Fault::File {
            doing: "read",
            path: path.clone(),
            source,
        })?;
        sheet.push_str(css.trim_end());
        sheet.push_str("\n\n");
    }
    Ok(sheet)
}

fn find(folder: &Path, without: &Path, into: &mut Vec<PathBuf>) -> Result<(), Fault> {
    for path in entries(folder)? {
        if path.is_dir() && path != without {
            find(&path, without, into)?;
        } else if path.extension().is_some_and(|extension| extension == "css") {
            into.push(path);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_and_base_come_first_and_the_finished_page_is_left_out() {
        let ui = tempfile::tempdir().unwrap();
        for (name, css) in [
            ("style/base.css", "base"),
            ("style/tokens.css", "tokens"),
            ("src/views/home/home.css", "home"),
            ("src/app.css", "app"),
            ("dist/style.css", "old"),
        ] {
            let path = ui.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, css).unwrap();
        }
        let sheet = joined(ui.path()).unwrap();
        assert_eq!(sheet.split_whitespace().collect::<Vec<_>>(), ["tokens", "base", "app", "home"]);
    }

    #[test]
    fn a_missing_token_sheet_is_named() {
        let ui = tempfile::tempdir().unwrap();
        let fault = joined(ui.path()).unwrap_err().to_string();
        assert!(fault.contains("style/tokens.css"), "{fault}");
    }
}
