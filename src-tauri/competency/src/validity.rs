//! How long a validation holds, and how a person stands with a procedure on a date.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// What a demonstration is for; said before the first act.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// Practice.
    Practice,
    /// Validation: the only purpose that grants validity.
    Validation,
    /// Observed during live care.
    LiveCare,
}

/// How a person stands with one procedure on one date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// A validation holds, with more than the lead time left.
    Current,
    /// A validation holds, but not for longer than the lead time.
    DueSoon,
    /// The last validation has run out.
    Overdue,
    /// The latest completed validation attempt was not yet competent.
    NotYetCompetent,
    /// No validation attempt was ever completed.
    NeverValidated,
    /// Suspended by a signed entry.
    Suspended,
    /// Nothing requires it of this person, and nothing was demonstrated.
    NotRequired,
}

/// How a person stands, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Standing {
    /// The state.
    pub state: State,
    /// Valid through this date, in the unit's civil calendar; of the validation that decides, run out or not.
    pub valid_until: Option<NaiveDate>,
    /// Date of the demonstration that decides.
    pub decided_on: Option<NaiveDate>,
    /// One plain sentence.
    pub because: String,
}
