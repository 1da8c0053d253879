//! The procedures in force.

use contract::{ListProcedures, OpenProcedure, SaveForm, SaveProcedure};
use tauri::{AppHandle, State};
use tauri_plugin_opener::OpenerExt;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn list_procedures(desk: State<'_, Opened>, request: ListProcedures) -> Answer<ListProcedures> {
    desk.desk()?.list_procedures(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn open_procedure(desk: State<'_, Opened>, request: OpenProcedure) -> Answer<OpenProcedure> {
    desk.desk()?.open_procedure(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_procedure(desk: State<'_, Opened>, request: SaveProcedure) -> Answer<SaveProcedure> {
    desk.desk()?.save_procedure(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_form(app: AppHandle, desk: State<'_, Opened>, request: SaveForm) -> Answer<SaveForm> {
    let mut shown = desk.desk()?.save_form(&request, &clock::now())?;
    shown.opened = app.opener().open_path(&shown.path, None::<&str>).is_ok();
    Ok(shown)
}
