//! Notifications of the system.

use contract::NotifyDue;
use tauri::{AppHandle, State};

use super::Answer;
use crate::{clock, desk::Opened, notification};

#[tauri::command(async)]
pub(crate) fn notify_due(app: AppHandle, desk: State<'_, Opened>, request: NotifyDue) -> Answer<NotifyDue> {
    desk.desk()?.notify_due(&request, &clock::now(), |title, text| notification::show(&app, title, text))
}
