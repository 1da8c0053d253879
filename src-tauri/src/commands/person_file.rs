//! What is known of one person, and who may go in.

use contract::{CheckPrerequisites, EraseName, OpenPerson, StateAbout, WhoMayGoIn};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn open_person(desk: State<'_, Opened>, request: OpenPerson) -> Answer<OpenPerson> {
    desk.desk()?.open_person(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn state_about(desk: State<'_, Opened>, request: StateAbout) -> Answer<StateAbout> {
    desk.desk()?.state_about(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn erase_name(desk: State<'_, Opened>, request: EraseName) -> Answer<EraseName> {
    desk.desk()?.erase_name(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn who_may_go_in(desk: State<'_, Opened>, request: WhoMayGoIn) -> Answer<WhoMayGoIn> {
    desk.desk()?.who_may_go_in(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn check_prerequisites(
    desk: State<'_, Opened>,
    request: CheckPrerequisites,
) -> Answer<CheckPrerequisites> {
    desk.desk()?.check_prerequisites(&request, &clock::now())
}
