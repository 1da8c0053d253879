//! The roster and what is saved from it.

use contract::{OpenRosterPage, OpenUnitFindings, SaveReminders, SaveRoster};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn open_roster(desk: State<'_, Opened>, request: OpenRosterPage) -> Answer<OpenRosterPage> {
    desk.desk()?.open_roster(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_roster(desk: State<'_, Opened>, request: SaveRoster) -> Answer<SaveRoster> {
    desk.desk()?.save_roster(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_reminders(desk: State<'_, Opened>, request: SaveReminders) -> Answer<SaveReminders> {
    desk.desk()?.save_reminders(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn open_unit_findings(
    desk: State<'_, Opened>,
    request: OpenUnitFindings,
) -> Answer<OpenUnitFindings> {
    desk.desk()?.open_unit_findings(&request, &clock::now())
}
