//! The shell: the only code that knows Tauri, the time, chance, files and the environment.
//!
//! It holds no rule of the trade. [`desk::Desk`] is the work itself, used alike by the window's
//! commands, the command line and the demo; a command unpacks a request, makes one call and answers.

mod chance;
mod checking;
#[cfg(desktop)]
pub mod cli;
mod clock;
mod commands;
#[cfg(desktop)]
mod demo;
pub mod desk;
mod device_secret;
mod fault;
mod folder;
mod judging;
mod notification;
mod printing;
mod saved;
mod window;

/// Opens the window on the platform's own data folder; where a tablet starts.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    // On a tablet nobody reads an exit status: a window that cannot open has told the system's log.
    let _status = window::open(None);
}
