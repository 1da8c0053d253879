//! Home and the first start.

use contract::{BackUp, BringBackup, CreateFacility, OpenHome, RestoreBackup};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn open_home(desk: State<'_, Opened>, request: OpenHome) -> Answer<OpenHome> {
    desk.desk()?.open_home(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn create_facility(desk: State<'_, Opened>, request: CreateFacility) -> Answer<CreateFacility> {
    desk.desk()?.create_facility(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn back_up(desk: State<'_, Opened>, request: BackUp) -> Answer<BackUp> {
    desk.desk()?.back_up(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn bring_backup(desk: State<'_, Opened>, request: BringBackup) -> Answer<BringBackup> {
    desk.desk()?.bring_backup(&request)
}

#[tauri::command(async)]
pub(crate) fn restore_backup(desk: State<'_, Opened>, request: RestoreBackup) -> Answer<RestoreBackup> {
    desk.restore(&request)
}
