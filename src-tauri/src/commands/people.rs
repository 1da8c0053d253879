//! People.

use contract::{AddPerson, ListPeople};
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
