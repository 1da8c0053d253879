//! Sessions, the plan, and invitations.

use contract::{GivePlaces, OpenSessions, SaveInvitations, SetSession};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn open_sessions(desk: State<'_, Opened>, request: OpenSessions) -> Answer<OpenSessions> {
    desk.desk()?.open_sessions(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn set_session(desk: State<'_, Opened>, request: SetSession) -> Answer<SetSession> {
    desk.desk()?.set_session(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn give_places(desk: State<'_, Opened>, request: GivePlaces) -> Answer<GivePlaces> {
    desk.desk()?.give_places(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_invitations(desk: State<'_, Opened>, request: SaveInvitations) -> Answer<SaveInvitations> {
    desk.desk()?.save_invitations(&request, &clock::now())
}
