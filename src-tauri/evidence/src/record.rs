use chrono::{DateTime, FixedOffset, NaiveDate, TimeDelta};
use competency::{
    journal::{Folded, Line, decided, fold},
    log::{Log, Observation, What},
    procedure::{By, Mode, Procedure},
    report::{Outcome, Report},
    sentence,
    validity::{Purpose, granted_until},
};
use serde::{Deserialize, Serialize};

use crate::{DemonstrationId, Digest, EvidenceError, PersonId, Place, canonical, read_strictly};

/// The format of `record.json` that this program writes.
///
/// 2 added hand-overs, the observer's stricter decision, what is coached, corrections and the team's own
/// errors to the trace and the log, and those who observed before; 3 added the times written on a paper
/// form. A record of an earlier format reads as it is.
pub const RECORD_FORMAT: u32 = 3;

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

    /// What in it does not follow from the rest of it, though it must; each continues a sentence. Neither the score,
    /// which is its rules' to make, nor the procedure's hash are looked at here. `begun` is the civil date in its zone
    /// on which it began.
    pub fn contradictions(&self, begun: NaiveDate) -> Vec<&'static str> {
        // Whoever made the data may have put any number there.
        let lasted = TimeDelta::try_milliseconds(self.log.ended.at_ms.unwrap_or(0));
        let ended = lasted.and_then(|lasted| self.begun.checked_add_signed(lasted));
        let granted = granted_until(self.purpose, self.mode, &self.procedure, self.outcome(), self.on);
        let day = if self.log.transcribed { self.on <= begun } else { self.on == begun };
        let claims = [
            (self.folded().log == self.log, "its log is not what was acknowledged line by line"),
            (self.valid_until == granted, "what it grants is not what its outcome grants"),
            (day, "its date is not the day on which it began"),
            (ended == Some(self.ended), "it does not end when its log ends"),
        ];
        claims.into_iter().filter(|(holds, _)| !holds).map(|(_, wrong)| wrong).collect()
    }

    /// Whether it may be signed at a moment: not before the demonstration in it ended. A minute covers how far the wall
    /// clock and the clock that measured it drift apart, and that a signature tells whole seconds.
    pub fn may_be_signed_at(&self, when: DateTime<FixedOffset>) -> bool {
        when + TimeDelta::minutes(1) >= self.ended
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

    /// Wall clock of an observation, `10:02:03`; says so where it was entered afterwards. From a paper form
    /// it is the time written there.
    pub fn time_of(&self, observation: &Observation) -> String {
        if self.log.transcribed {
            return observation.at_ms.map_or_else(|| "on paper".to_owned(), sentence::time_of_day);
        }
        match observation.at_ms.and_then(TimeDelta::try_milliseconds) {
            Some(after) if !observation.late => {
                self.begun.checked_add_signed(after).map(|at| at.format("%H:%M:%S").to_string())
            }
            Some(_) | None => None,
        }
        .unwrap_or_else(|| "late entry".to_owned())
    }

    /// The label of an act, which may stand for several.
    pub fn act<'a>(&'a self, act: &'a str) -> &'a str {
        let combined = self.procedure.combined_acts.get(act).map(|combined| &combined.label);
        self.procedure.acts.get(act).or(combined).map_or(act, String::as_str)
    }

    /// What an observation is of, as the observer saw it.
    pub fn label_of(&self, observation: &Observation) -> String {
        match &observation.what {
            What::Act(act) => self.act(act).to_owned(),
            What::Contamination(event) => format!("Contamination: {} from {}", event.site, event.from),
            What::Condition(id) => self.procedure.condition_text(id).to_owned(),
            What::NotSeen(step) => {
                let found = self.procedure.steps.iter().find(|one| one.id == *step);
                format!("Not seen: {}", found.map_or(step, |step| &step.text))
            }
            What::TeamError(what) => format!("The {}’s own error: {what}", sentence::by(observation.by)),
        }
    }

    /// An observation with everything that was noted with it, for whoever reads it line by line.
    pub fn told(&self, observation: &Observation) -> String {
        let mut said = vec![self.label_of(observation)];
        if let (Some(from), Some(until)) = (observation.at_ms, observation.until_ms) {
            said.push(format!("{} s", until.saturating_sub(from) / 1000));
        }
        if let Some(lasted) = observation.lasted_ms {
            said.push(format!("{} s", lasted / 1000));
        }
        match observation.by {
            By::Wearer => {}
            By::Assistant | By::Observer => said.push(format!("by the {}", sentence::by(observation.by))),
        }
        if observation.prompted {
            said.push("prompted".to_owned());
        }
        let faults = self.procedure.steps.iter().flat_map(|step| &step.technique_faults);
        for code in &observation.faults {
            let fault = faults.clone().find(|fault| fault.code == *code);
            said.push(format!("fault: {}", fault.map_or(code, |fault| &fault.text)));
        }
        said.join(", ")
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
