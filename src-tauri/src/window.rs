//! The window: Tauri's builder, the commands, and nothing of the trade.

use std::{path::PathBuf, process::ExitCode};

use tauri::Manager;

use crate::{commands, desk::Opened, folder::Folder};

/// The identifier of tauri.conf.json, which names the platform's own data folder.
pub(crate) const IDENTIFIER: &str = "org.doorside.tablet";

/// Opens the window on a data folder; the platform's own where none is given.
pub(crate) fn open(data: Option<PathBuf>) -> ExitCode {
    let built = tauri::Builder::default()
        .plugin(tauri_plugin_opener::init())
        .plugin(tauri_plugin_notification::init())
        .invoke_handler(commands::handler())
        .setup(move |app| {
            let root = match data {
                Some(root) => root,
                None => app.path().app_data_dir()?,
            };
            // A folder that cannot be opened is told in the window, where the person is.
            app.manage(Opened::at(Folder::at(root).with_key_store()));
            Ok(())
        })
        .run(tauri::generate_context!());
    match built {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            complain(&format!(
                "The window could not be opened: {error}. Where there is no display, use the subcommands (doorside --help)."
            ));
            ExitCode::from(2)
        }
    }
}

/// Says what is wrong on standard error, which on a tablet is the system's log.
#[expect(
    clippy::let_underscore_must_use,
    reason = "there is nowhere left to say that standard error is gone"
)]
pub(crate) fn complain(sentence: &str) {
    use std::io::Write;
    let _ = writeln!(std::io::stderr(), "doorside: {sentence}");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_identifier_is_that_of_the_configuration() {
        let configuration: serde_json::Value =
            serde_json::from_str(include_str!("../tauri.conf.json")).unwrap();
        assert_eq!(
            configuration["identifier"], IDENTIFIER,
            "tauri.conf.json and the command line name one folder"
        );
    }
}
