//! What changes a standing without a demonstration.

use chrono::NaiveDate;
use competency::{report::Report, validity::contamination_ends};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::{DemonstrationId, DemonstrationSealed, PersonId, ProcedureId, UnitId};

/// What the facility chose where the rules leave it the choice; whole, so that a later one replaces it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FacilityRulesSet {
    /// How many days away are allowed before everything must be shown again; any number where it is `None`.
    pub leave_limit_days: Option<u32>,
    /// A year is 365 days at most, rather than twelve calendar months.
    pub strict_year: bool,
    /// Whoever wears a respirator must be medically cleared for it.
    pub medical_clearance: bool,
    /// From this civil date.
    pub from: NaiveDate,
}

/// A person may not be sent in for now.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PersonSuspended {
    /// The person.
    pub person: PersonId,
    /// From these procedures; from every one where it is `None`.
    pub procedures: Option<Vec<ProcedureId>>,
    /// Why.
    pub why: String,
    /// From this civil date.
    pub from: NaiveDate,
}

/// A suspension ends. What the person had shown counts again, for as long as it would have held anyway.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SuspensionLifted {
    /// Id of the entry that suspended them.
    pub suspension: Uuid,
    /// The person.
    pub person: PersonId,
    /// Why.
    pub why: String,
    /// From this civil date.
    pub from: NaiveDate,
}

/// A person is away. Why they are away is nobody's business here, and never written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeaveStated {
    /// The person.
    pub person: PersonId,
    /// The first day away; a later entry with the same first day takes the place of an earlier one.
    pub from: NaiveDate,
    /// The last day away; open where it is `None`.
    pub through: Option<NaiveDate>,
}

/// What was shown up to a day must be shown again early.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RevalidationAsked {
    /// Of this person; of everybody where it is `None`.
    pub person: Option<PersonId>,
    /// Of the people who are in this unit on `on`; of every unit where it is `None`.
    pub unit: Option<UnitId>,
    /// In these procedures; in every one where it is `None`.
    pub procedures: Option<Vec<ProcedureId>>,
    /// The day of what asks for it.
    pub on: NaiveDate,
    /// Through this date earlier validations hold at most; the day before `on` where there is no grace.
    pub by: NaiveDate,
    /// What asks for it.
    pub cause: Cause,
}

impl RevalidationAsked {
    /// What a sealed demonstration asks for, to be written together with it; `None` where it asks for nothing.
    /// It may have been for practice or in live care: see [`competency::validity::contamination_ends`].
    pub fn of(sealed: &DemonstrationSealed, report: &Report) -> Option<Self> {
        contamination_ends(report).then(|| RevalidationAsked {
            person: Some(sealed.person.clone()),
            unit: None,
            procedures: Some(vec![sealed.procedure.clone()]),
            on: sealed.on,
            by: sealed.on.pred_opt().unwrap_or(sealed.on),
            cause: Cause::Contamination { demonstration: Some(sealed.demonstration.clone()) },
        })
    }
}

/// What asks for an early re-validation, other than a version, which says so itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Cause {
    /// A contamination event that was not recognised or not dealt with, whatever it was seen for: see
    /// [`competency::validity::contamination_ends`].
    Contamination {
        /// The sealed demonstration in which it was seen; where that is voided, so is this.
        demonstration: Option<DemonstrationId>,
    },
    /// Other equipment came into use, such as a respirator model.
    Equipment {
        /// Which.
        what: String,
    },
    /// An observer noted that the skill is lost.
    LossOfSkill {
        /// What was noted.
        noted: String,
    },
}

/// A fit test, with what 29 CFR 1910.134(m)(2)(i) asks to be written: name or identification, type of test,
/// make, model, style and size, date, and pass or fail or the fit factor.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FitTested {
    /// The person.
    pub person: PersonId,
    /// Make and model, as the procedures list it among their respirator models.
    pub model: String,
    /// Style, such as `half facepiece`.
    pub style: String,
    /// Size.
    pub size: String,
    /// How it was tested, and what came of it.
    pub result: FitResult,
    /// The civil date of the test.
    pub on: NaiveDate,
    /// Who tested.
    pub tester: String,
}

/// How a fit test was done, and what came of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum FitResult {
    /// By taste, smell or irritation.
    Qualitative {
        /// Whether it was passed.
        passed: bool,
    },
    /// By measurement.
    Quantitative {
        /// The fit factor.
        fit_factor: u32,
        /// Whether the facepiece covers the whole face.
        full_facepiece: bool,
    },
}

/// What occupational health says about wearing a respirator. Findings and reasons are theirs, and never here.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MedicallyEvaluated {
    /// The person.
    pub person: PersonId,
    /// Whether they are cleared.
    pub cleared: bool,
    /// The civil date.
    pub on: NaiveDate,
    /// Through this date; open where it is `None`.
    pub until: Option<NaiveDate>,
    /// Who says so.
    pub source: String,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Body, Entry, entry::tests::entry};

    fn day() -> NaiveDate {
        "2026-11-25".parse().unwrap()
    }

    fn asked(cause: Cause) -> Body {
        let by = day().pred_opt().unwrap();
        RevalidationAsked { person: None, unit: None, procedures: None, on: day(), by, cause }.into()
    }

    fn tested(result: FitResult) -> Body {
        let text = str::to_owned;
        FitTested {
            person: text("p"),
            model: text("Acme 9"),
            style: text("half facepiece"),
            size: text("M"),
            result,
            on: day(),
            tester: text("t"),
        }
        .into()
    }

    #[test]
    fn every_kind_is_read_back_from_its_bytes() {
        let (person, why) = ("p".to_owned(), "why".to_owned());
        let suspension = Uuid::nil();
        for body in [
            FacilityRulesSet {
                leave_limit_days: Some(180),
                strict_year: true,
                medical_clearance: true,
                from: day(),
            }
            .into(),
            PersonSuspended { person: person.clone(), procedures: None, why: why.clone(), from: day() }
                .into(),
            SuspensionLifted { suspension, person: person.clone(), why: why.clone(), from: day() }.into(),
            LeaveStated { person: person.clone(), from: day(), through: None }.into(),
            asked(Cause::Contamination { demonstration: None }),
            asked(Cause::Equipment { what: why.clone() }),
            asked(Cause::LossOfSkill { noted: why.clone() }),
            tested(FitResult::Qualitative { passed: true }),
            tested(FitResult::Quantitative { fit_factor: 120, full_facepiece: false }),
            MedicallyEvaluated { person, cleared: true, on: day(), until: None, source: why }.into(),
        ] {
            let written: Entry = entry(body);
            let bytes = written.to_bytes().unwrap();
            assert_eq!(Entry::read(&bytes).unwrap(), written);
            assert!(!matches!(written.body, Body::Unknown { .. }));
        }
    }
}
