//! The procedures in force.

use contract::{ListProcedures, OpenProcedure};
use tauri::State;

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
