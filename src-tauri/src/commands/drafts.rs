//! The workbench.

use contract::{BeginDraft, DropDraft, KeepDraft, ListDrafts, OpenDraft, PublishDraft, RetireProcedure};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn list_drafts(desk: State<'_, Opened>, request: ListDrafts) -> Answer<ListDrafts> {
    desk.desk()?.list_drafts(&request)
}

#[tauri::command(async)]
pub(crate) fn begin_draft(desk: State<'_, Opened>, request: BeginDraft) -> Answer<BeginDraft> {
    desk.desk()?.begin_draft(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn open_draft(desk: State<'_, Opened>, request: OpenDraft) -> Answer<OpenDraft> {
    desk.desk()?.open_draft(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn keep_draft(desk: State<'_, Opened>, request: KeepDraft) -> Answer<KeepDraft> {
    desk.desk()?.keep_draft(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn drop_draft(desk: State<'_, Opened>, request: DropDraft) -> Answer<DropDraft> {
    desk.desk()?.drop_draft(&request)
}

#[tauri::command(async)]
pub(crate) fn publish_draft(desk: State<'_, Opened>, request: PublishDraft) -> Answer<PublishDraft> {
    desk.desk()?.publish_draft(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn retire_procedure(desk: State<'_, Opened>, request: RetireProcedure) -> Answer<RetireProcedure> {
    desk.desk()?.retire_procedure(&request, &clock::now())
}
