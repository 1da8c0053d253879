//! People from a personnel system's export.

use contract::{ConfirmImport, ReadPeopleFile, TryImport};
use tauri::State;

use super::Answer;
use crate::{
    clock,
    desk::{Desk, Opened},
};

#[tauri::command(async)]
pub(crate) fn read_people_file(request: ReadPeopleFile) -> Answer<ReadPeopleFile> {
    Desk::read_people_file(&request)
}

#[tauri::command(async)]
pub(crate) fn try_import(desk: State<'_, Opened>, request: TryImport) -> Answer<TryImport> {
    desk.desk()?.try_import(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn confirm_import(desk: State<'_, Opened>, request: ConfirmImport) -> Answer<ConfirmImport> {
    desk.desk()?.confirm_import(&request, &clock::now())
}
