//! What is stated about demonstrations and evidence from elsewhere, and what is put right afterwards.

use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::{log::HowEnded, procedure::Mode, report::Outcome, validity::Purpose};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::{DemonstrationId, Digest, PersonId, ProcedureId, UnitId};

/// A demonstration is sealed: what a roster needs, and the digests that bind the record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DemonstrationSealed {
    /// The demonstration.
    pub demonstration: DemonstrationId,
    /// The first attempt that this one repeats, where it is a repeat.
    pub first_attempt: Option<DemonstrationId>,
    /// The person observed.
    pub person: PersonId,
    /// Their unit on that day.
    pub unit: UnitId,
    /// The observer.
    pub observer: PersonId,
    /// The assistant, where there was one.
    pub assistant: Option<PersonId>,
    /// The procedure.
    pub procedure: ProcedureId,
    /// Its version.
    pub version: String,
    /// Its hash.
    pub procedure_hash: Digest,
    /// What it was for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// Civil date of the demonstration in the unit's time zone.
    pub on: NaiveDate,
    /// Wall clock at its beginning.
    pub begun: DateTime<FixedOffset>,
    /// Wall clock at its end.
    pub ended: DateTime<FixedOffset>,
    /// How it ended.
    pub how: HowEnded,
    /// The outcome.
    pub outcome: Outcome,
    /// Valid through this date; `None` where it grants nothing.
    pub valid_until: Option<NaiveDate>,
    /// Score, 0 to 1000.
    pub score_permille: u32,
    /// Steps as they should be.
    pub steps_well: u32,
    /// Steps counted.
    pub steps_counted: u32,
    /// Findings of severity critical.
    pub critical_findings: u32,
    /// Findings of severity other.
    pub other_findings: u32,
    /// SHA-256 of the signed PDF.
    pub pdf: Digest,
    /// SHA-256 of its `record.json`.
    pub record: Digest,
}

/// A validation from elsewhere is accepted, such as agency staff bring.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OutsideEvidenceAccepted {
    /// The person.
    pub person: PersonId,
    /// The procedure it is accepted for.
    pub procedure: ProcedureId,
    /// Who issued it, and what it is.
    pub source: String,
    /// Civil date of the demonstration it attests.
    pub on: NaiveDate,
    /// Valid through this date.
    pub valid_until: NaiveDate,
}

/// An entry no longer counts: a sealed demonstration, a correction, or whatever was stated about a person, such as a
/// leave, a fit test or a suspension. It stays, and so does this, for good: what was voided by mistake is demonstrated
/// or stated again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordVoided {
    /// Id of the entry that no longer counts.
    pub entry: Uuid,
    /// The person whose validity it touches.
    pub person: PersonId,
    /// Why.
    pub reason: String,
}

/// A sealed demonstration or an accepted evidence says something wrong, and this is right. What was sealed
/// stays as it is; a correction that is wrong itself is voided like a record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordCorrected {
    /// Id of the entry that says something wrong.
    pub entry: Uuid,
    /// The person whose record it is.
    pub person: PersonId,
    /// What is right.
    pub correction: Correction,
    /// Why.
    pub reason: String,
}

/// What is right. An outcome is never corrected: whoever doubts it voids the record, and the person is
/// observed again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "what", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Correction {
    /// It was carried out on another civil date, such as where the device's clock was wrong.
    Date {
        /// The civil date.
        on: NaiveDate,
        /// Valid through this date, counted anew; `None` where it grants nothing.
        valid_until: Option<NaiveDate>,
    },
    /// Anything else, in words. It shows beside the record, and changes nobody's standing.
    Note {
        /// What it should say.
        text: String,
    },
}

/// The person observed has seen a record and talked it over, or declined to sign it: the record carries a second
/// signature in another file. What they said stands in that file, not here.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordCountersigned {
    /// The demonstration; it names the record.
    pub demonstration: DemonstrationId,
    /// The person observed.
    pub person: PersonId,
    /// They declined.
    pub declined: bool,
    /// SHA-256 of the PDF with both signatures.
    pub pdf: Digest,
}
