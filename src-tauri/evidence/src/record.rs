use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::{
    journal::{Folded, Line, decided, fold},
    log::Log,
    procedure::{Mode, Procedure},
    report::{Outcome, Report},
    validity::Purpose,
};
use serde::{Deserialize, Serialize};

use crate::{DemonstrationId, Digest, EvidenceError, PersonId, Place, canonical, read_strictly};

/// The format of `record.json` that this program writes.
///
/// 2 added hand-overs, the observer's stricter decision, what is coached, corrections and the team's own
/// errors to the trace and the log, and those who observed before; a record of format 1 reads as it is.
pub const RECORD_FORMAT: u32 = 2;

/// What is attached to the PDF as `record.json`: everything that a reader needs to check the page and
/// to score the demonstration again, with no ledger at hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// [`RECORD_FORMAT`] when it was written.
    pub format: u32,
    /// The facility.
    pub facility: Named,
    /// The person's unit on that day.
    pub unit: Named,
    /// The demonstration.
    pub demonstration: DemonstrationId,
    /// The first attempt that this one repeats, where it is a repeat.
    pub first_attempt: Option<DemonstrationId>,
    /// The person observed.
    pub person: Party,
    /// The observer who saw the end, decides and signs.
    pub observer: Party,
    /// Who observed before, in order, where it was handed over; the trace says when.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub observers_before: Vec<Party>,
    /// The assistant, where there was one.
    pub assistant: Option<Party>,
    /// What the demonstration was for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// Wall clock at the beginning, with its offset.
    pub begun: DateTime<FixedOffset>,
    /// Wall clock at the end, with its offset.
    pub ended: DateTime<FixedOffset>,
    /// IANA name of the unit's time zone.
    pub zone: String,
    /// Civil date of the demonstration in that zone; validity is counted from it.
    pub on: NaiveDate,
    /// The procedure it was scored against, whole.
    pub procedure: Procedure,
    /// [`crate::procedure_hash`] of it.
    pub procedure_hash: Digest,
    /// Every line as acknowledged, undo and corrections included.
    pub trace: Vec<Line>,
    /// The log that those lines make.
    pub log: Log,
    /// What scoring said.
    pub report: Report,
    /// Version of the scoring rules.
    pub rules: u32,
    /// Valid through this date; `None` where it grants nothing.
    pub valid_until: Option<NaiveDate>,
    /// What the observer added for the person; may be empty.
    pub remark: String,
    /// The cautions printed on the page.
    pub cautions: Vec<String>,
    /// Its place in the chain: the entry that will name this record stands there.
    pub place: Place,
    /// Name and version of the program.
    pub program: String,
}

impl Record {
    /// The canonical bytes of `record.json`.
    ///
    /// # Errors
    /// When a number is too large for canonical JSON.
    pub fn to_bytes(&self) -> Result<Vec<u8>, EvidenceError> {
        canonical(self)
    }

    /// The outcome that counts: by the rule, unless the observer decided stricter.
    pub fn outcome(&self) -> Outcome {
        decided(self.report.outcome, self.folded().stricter.is_some())
    }

    /// What its trace amounts to.
    pub fn folded(&self) -> Folded {
        let folded = fold(&self.trace, self.mode, &self.log.conditions);
        if self.log.transcribed { folded.transcribed() } else { folded }
    }

    /// Reads `record.json`.
    ///
    /// # Errors
    /// When the bytes are not canonical JSON of a record in a format that this program knows.
    pub fn read(bytes: &[u8]) -> Result<Record, EvidenceError> {
        crate::entry::known_format(bytes, RECORD_FORMAT)?;
        read_strictly(bytes, "record")
    }
}

/// Something with an id and a name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Named {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub name: String,
}

/// A person as they stand on a record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Party {
    /// Their id in the ledger.
    pub id: PersonId,
    /// Their name.
    pub name: String,
    /// Their staff number.
    pub number: String,
    /// Their role.
    pub role: String,
}
