//! Notifications of the system.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// Has the system show, once a day, how many validations are overdue and how many run out soon; it names nobody.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct NotifyDue {}

/// What came of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Notified {
    /// The last day on which one was shown on this device.
    pub last: Option<NaiveDate>,
    /// Whether anything is due: without it there is none to show.
    pub due: bool,
}
