//! Start, live form, review and sign.

use contract::{
    BeginDemonstration, OpenDemonstration, ReviewDemonstration, SealDemonstration, StopReview, Tap,
};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn begin_demonstration(
    desk: State<'_, Opened>,
    request: BeginDemonstration,
) -> Answer<BeginDemonstration> {
    desk.desk()?.begin_demonstration(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn open_demonstration(
    desk: State<'_, Opened>,
    request: OpenDemonstration,
) -> Answer<OpenDemonstration> {
    desk.desk()?.open_demonstration(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn tap(desk: State<'_, Opened>, request: Tap) -> Answer<Tap> {
    desk.desk()?.tap(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn review_demonstration(
    desk: State<'_, Opened>,
    request: ReviewDemonstration,
) -> Answer<ReviewDemonstration> {
    desk.desk()?.review_demonstration(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn seal_demonstration(
    desk: State<'_, Opened>,
    request: SealDemonstration,
) -> Answer<SealDemonstration> {
    desk.desk()?.seal_demonstration(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn stop_review(desk: State<'_, Opened>, request: StopReview) -> Answer<StopReview> {
    Ok(desk.desk()?.stop_review(&request))
}
