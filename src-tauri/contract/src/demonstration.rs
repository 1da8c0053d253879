use std::collections::BTreeMap;

use chrono::NaiveDate;
use competency::{
    journal::{Event, Line, TapId},
    log::Log,
    procedure::{ConditionId, Mode, Procedure},
    report::{Outcome, Report},
    validity::Purpose,
};
use serde::{Deserialize, Serialize};

/// Begins a demonstration.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct BeginDemonstration {
    /// Made by the window, so that a repeated request begins only one.
    pub demonstration: String,
    /// Id of the person observed.
    pub person: String,
    /// Id of the observer, who is neither the wearer nor the assistant.
    pub observer: String,
    /// Id of the assistant, where there is one.
    pub assistant: Option<String>,
    /// Id of the procedure.
    pub procedure: String,
    /// Its version.
    pub version: String,
    /// What it is for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// The conditions that hold at the start.
    pub conditions: Vec<ConditionId>,
    /// The date of the paper form that it is entered from; `None` where it is logged as it happens.
    pub paper_form: Option<NaiveDate>,
    /// The demonstration of which this becomes another observer's own log, from a replay. Everything but
    /// the observer is then that of the first.
    pub second_of: Option<String>,
}

/// Opens a demonstration that was begun.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenDemonstration {
    /// The demonstration.
    pub demonstration: String,
}

/// A demonstration exactly as acknowledged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenedDemonstration {
    /// The demonstration.
    pub demonstration: String,
    /// Name of the person observed.
    pub person: String,
    /// Id of the person observed.
    pub person_id: String,
    /// Name of the observer who began.
    pub observer: String,
    /// Names of those who took over, by their ids.
    pub took_over: BTreeMap<String, String>,
    /// Name of the assistant.
    pub assistant: Option<String>,
    /// The procedure, whole, in the version it is scored with.
    pub procedure: Procedure,
    /// What it is for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// The conditions that held at the start.
    pub conditions: Vec<ConditionId>,
    /// Wall clock at its beginning, `2026-11-25T10:02:03+01:00`.
    pub begun: String,
    /// Milliseconds since it began, now.
    pub elapsed_ms: i64,
    /// The lines acknowledged so far, in order.
    pub lines: Vec<Line>,
    /// The date of the paper form that it is entered from; `None` where it was logged as it happened.
    pub paper_form: Option<NaiveDate>,
    /// Whether it is sealed already.
    pub sealed: bool,
    /// The demonstration of which this is another observer's own log.
    pub second_of: Option<String>,
}

/// One tap. The shell stamps its time, writes it, and only then answers.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Tap {
    /// The demonstration.
    pub demonstration: String,
    /// Names this tap; the same id again is answered with the first line.
    pub id: TapId,
    /// What was tapped.
    pub event: Event,
}

/// The tap is durable.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Acknowledged {
    /// The line as it was written.
    pub line: Line,
}

/// Scores a demonstration that has ended.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ReviewDemonstration {
    /// The demonstration.
    pub demonstration: String,
    /// Made by the window, to name this review in [`StopReview`].
    pub review: String,
}

/// Stops a review that is being scored; the observer has left it.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct StopReview {
    /// The review.
    pub review: String,
}

/// It stops, or was done already.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stopped {}

/// The review.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Review {
    /// The demonstration, as it stands.
    pub demonstration: OpenedDemonstration,
    /// The log that was scored.
    pub log: Log,
    /// What scoring says.
    pub report: Report,
    /// The outcome that counts: by the rule, unless the observer decided stricter.
    pub outcome: Outcome,
    /// What other observers logged of it.
    pub second_logs: Vec<SecondLog>,
    /// Title of the procedure it is scored as, where another accepted sequence of the family fits best.
    pub kept_as: Option<String>,
    /// Valid through this date if it is sealed as it is; `None` where it grants nothing.
    pub would_hold_until: Option<NaiveDate>,
    /// Through which date a validation holds now that sealing this ends; `None` where it ends none.
    pub would_end: Option<NaiveDate>,
}

/// Another observer's own log of a demonstration, kept to be compared.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SecondLog {
    /// It is opened like a demonstration.
    pub demonstration: String,
    /// Name of who logged it.
    pub observer: String,
    /// The civil date on which it was logged.
    pub on: NaiveDate,
    /// How many observations it has.
    pub observations: usize,
    /// Whether it was carried through.
    pub ended: bool,
}

/// Seals a demonstration: signs the record and files it.
#[derive(Clone, Serialize, Deserialize)]
pub struct SealDemonstration {
    /// The demonstration.
    pub demonstration: String,
    /// Opens the observer's key.
    pub pin: String,
    /// What the observer adds for the person, if anything.
    pub remark: String,
}

impl std::fmt::Debug for SealDemonstration {
    /// Never shows the PIN.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SealDemonstration")
            .field("demonstration", &self.demonstration)
            .finish_non_exhaustive()
    }
}

/// The record is signed and filed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sealed {
    /// Names the record in [`crate::ShowRecord`].
    pub record: String,
    /// Where the signed PDF is.
    pub path: String,
    /// SHA-256 of the file, hexadecimal.
    pub digest: String,
    /// The person's id, to open their history.
    pub person: String,
    /// Valid through this date; `None` where it grants nothing.
    pub valid_until: Option<NaiveDate>,
}
