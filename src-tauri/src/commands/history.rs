//! A person's history and its records.

use contract::{OpenHistory, SaveHistory, ShowRecord};
use tauri::{AppHandle, State};
use tauri_plugin_opener::OpenerExt;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn open_history(desk: State<'_, Opened>, request: OpenHistory) -> Answer<OpenHistory> {
    desk.desk()?.open_history(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn show_record(
    app: AppHandle,
    desk: State<'_, Opened>,
    request: ShowRecord,
) -> Answer<ShowRecord> {
    let mut shown = desk.desk()?.show_record(&request)?;
    shown.opened = app.opener().open_path(&shown.path, None::<&str>).is_ok();
    Ok(shown)
}

#[tauri::command(async)]
pub(crate) fn save_history(desk: State<'_, Opened>, request: SaveHistory) -> Answer<SaveHistory> {
    desk.desk()?.save_history(&request, &clock::now())
}
