//! The system's own notifications: asked for here, in the shell, so that the page needs no right to them.

use contract::{Fault, Next};
use tauri::AppHandle;
use tauri_plugin_notification::{NotificationExt, PermissionState};

/// Has the system show one, where it lets this program.
///
/// # Errors
/// Where it takes none, or does not let this program; both say where reminders are all the same.
pub(crate) fn show(app: &AppHandle, title: &str, text: &str) -> Result<(), Fault> {
    taken()?;
    let notification = app.notification();
    let allowed = match notification.permission_state() {
        Ok(PermissionState::Granted) => PermissionState::Granted,
        Ok(_) => notification.request_permission().map_err(not_taken)?,
        Err(error) => return Err(not_taken(error)),
    };
    if allowed != PermissionState::Granted {
        return Err(Fault::new(
            Next::AskForHelp,
            "This device does not let Doorside show notifications; allow them in its settings and try again. What is due stands here on Today in any case.",
        ));
    }
    notification.builder().title(title).body(text).show().map_err(not_taken)
}

/// Whether anybody takes notifications at all. The plugin hands them over on a thread of its own and does not say
/// that nobody took one; a reminder that was not shown must not count as sent.
#[cfg(all(unix, not(any(target_os = "macos", target_os = "ios", target_os = "android"))))]
fn taken() -> Result<(), Fault> {
    notify_rust::get_server_information().map(|_server| ()).map_err(not_taken)
}

#[cfg(not(all(unix, not(any(target_os = "macos", target_os = "ios", target_os = "android")))))]
#[expect(clippy::unnecessary_wraps, reason = "elsewhere the system itself always takes them")]
fn taken() -> Result<(), Fault> {
    Ok(())
}

fn not_taken(error: impl std::fmt::Display) -> Fault {
    crate::window::complain(&format!("no notification could be shown: {error}"));
    Fault::new(
        Next::TryAgain,
        "This system takes no notifications now, so none was shown. What is due stands here on Today in any case.",
    )
}
