//! The facility's authority and its observers.

use contract::{
    AnswerJoinRequest, AppointObserver, ListObservers, MakeJoinRequest, ReadJoinRequest, RemoveRecoverySheet,
    RevokeSigning, RollAuthorityOver, SaveAuthority, SaveRecoverySheet, SaveTrustPage, Shown,
};
use tauri::{AppHandle, State};
use tauri_plugin_opener::OpenerExt;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn appoint_observer(desk: State<'_, Opened>, request: AppointObserver) -> Answer<AppointObserver> {
    desk.desk()?.appoint_observer(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn list_observers(desk: State<'_, Opened>, request: ListObservers) -> Answer<ListObservers> {
    desk.desk()?.list_observers(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn revoke_signing(desk: State<'_, Opened>, request: RevokeSigning) -> Answer<RevokeSigning> {
    desk.desk()?.revoke_signing(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_authority(desk: State<'_, Opened>, request: SaveAuthority) -> Answer<SaveAuthority> {
    desk.desk()?.save_authority(&request)
}

#[tauri::command(async)]
pub(crate) fn save_trust_page(
    app: AppHandle,
    desk: State<'_, Opened>,
    request: SaveTrustPage,
) -> Answer<SaveTrustPage> {
    Ok(handed_over(&app, desk.desk()?.save_trust_page(&request, &clock::now())?))
}

#[tauri::command(async)]
pub(crate) fn save_recovery_sheet(
    app: AppHandle,
    desk: State<'_, Opened>,
    request: SaveRecoverySheet,
) -> Answer<SaveRecoverySheet> {
    Ok(handed_over(&app, desk.desk()?.save_recovery_sheet(&request, &clock::now())?))
}

#[tauri::command(async)]
pub(crate) fn remove_recovery_sheet(
    desk: State<'_, Opened>,
    request: RemoveRecoverySheet,
) -> Answer<RemoveRecoverySheet> {
    desk.desk()?.remove_recovery_sheet(&request)
}

#[tauri::command(async)]
pub(crate) fn roll_authority_over(
    desk: State<'_, Opened>,
    request: RollAuthorityOver,
) -> Answer<RollAuthorityOver> {
    desk.desk()?.roll_authority_over(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn make_join_request(
    desk: State<'_, Opened>,
    request: MakeJoinRequest,
) -> Answer<MakeJoinRequest> {
    desk.desk()?.make_join_request(&request)
}

#[tauri::command(async)]
pub(crate) fn read_join_request(
    desk: State<'_, Opened>,
    request: ReadJoinRequest,
) -> Answer<ReadJoinRequest> {
    desk.desk()?.read_join_request(&request)
}

#[tauri::command(async)]
pub(crate) fn answer_join_request(
    desk: State<'_, Opened>,
    request: AnswerJoinRequest,
) -> Answer<AnswerJoinRequest> {
    desk.desk()?.answer_join_request(&request, &clock::now())
}

/// Lets the device's own program show a file.
pub(super) fn handed_over(app: &AppHandle, mut shown: Shown) -> Shown {
    shown.opened = app.opener().open_path(&shown.path, None::<&str>).is_ok();
    shown
}
