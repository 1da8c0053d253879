//! People and observers.

use contract::{AddPerson, AppointObserver, ListPeople, SaveAuthority};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn list_people(desk: State<'_, Opened>, request: ListPeople) -> Answer<ListPeople> {
    desk.desk()?.list_people(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn add_person(desk: State<'_, Opened>, request: AddPerson) -> Answer<AddPerson> {
    desk.desk()?.add_person(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn appoint_observer(desk: State<'_, Opened>, request: AppointObserver) -> Answer<AppointObserver> {
    desk.desk()?.appoint_observer(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn save_authority(desk: State<'_, Opened>, request: SaveAuthority) -> Answer<SaveAuthority> {
    desk.desk()?.save_authority(&request)
}
