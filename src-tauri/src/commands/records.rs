//! Records that are checked or put right.

use contract::{CheckRecord, CorrectRecord, Countersign};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn check_record(desk: State<'_, Opened>, request: CheckRecord) -> Answer<CheckRecord> {
    desk.desk()?.check_record(&request)
}

#[tauri::command(async)]
pub(crate) fn correct_record(desk: State<'_, Opened>, request: CorrectRecord) -> Answer<CorrectRecord> {
    desk.desk()?.correct_record(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn countersign(desk: State<'_, Opened>, request: Countersign) -> Answer<Countersign> {
    desk.desk()?.countersign(&request, &clock::now())
}
