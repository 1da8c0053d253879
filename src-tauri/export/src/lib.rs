//! Rosters and due dates in the formats that other programs read: CSV, XLSX, JSON, iCalendar; and people in
//! the CSV that personnel systems write ([`people`]).
//!
//! Bytes in and out, never a file: whoever calls decides where they go. What this crate does *not* hold: no rule
//! of who is due, no clock (every time is given), no SQL. The same input gives the same bytes.

mod calendar;
mod error;
mod folding;
mod history;
mod invitations;
pub mod people;
mod reminders;
mod roster;
mod sheet;
mod table;

pub use calendar::{TakenBack, reminders_ics};
pub use error::ExportError;
pub use history::history_csv;
pub use invitations::{Invitation, Invitations, invitations_csv, invitations_ics};
pub use reminders::{Reminder, Reminders, reminders_csv};
pub use roster::{roster_csv, roster_json};
pub use sheet::roster_xlsx;
