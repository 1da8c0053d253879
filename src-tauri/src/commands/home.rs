//! Home and the first start.

use contract::{CreateFacility, OpenHome};
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
