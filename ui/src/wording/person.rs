//! Words of one person's page: what is stated about them.

use contract::{About, RequiredBy};
use evidence_words::fit_result;

use super::{counted, date, listed};

pub(crate) const CLEARANCES: &str = "Clearance, or what is missing";
pub(crate) const STANDINGS: &str = "How this person stands, and why";
pub(crate) const NO_STANDINGS: &str = "Nothing is required of this person, and nothing was demonstrated.";
pub(crate) const STATED: &str = "What is stated";
pub(crate) const NOTHING_STATED: &str =
    "Nothing yet: no fit test, leave, suspension or evidence from elsewhere.";
pub(crate) const STATE: &str = "State something";
pub(crate) const KIND: &str = "What";
pub(crate) const GO: &str = "State it";
pub(crate) const DONE: &str = "It is written down.";
pub(crate) const HISTORY: &str = "History and records";
pub(crate) const SIGNED: &str = "Signed by";
pub(crate) const SIGN_WHY: &str = "It grants or takes away that somebody may go in, so an observer signs it.";
pub(crate) const PIN: &str = "PIN of that observer";
pub(crate) const PROCEDURE: &str = "Procedure";
pub(crate) const EVERYTHING: &str = "Everything";
pub(crate) const MODEL: &str = "Make and model";
pub(crate) const MODEL_HINT: &str = "As the procedure lists it; only the very model counts.";
pub(crate) const STYLE: &str = "Style";
pub(crate) const STYLE_HINT: &str = "Such as half facepiece.";
pub(crate) const SIZE: &str = "Size";
pub(crate) const TESTER: &str = "Who tested";
pub(crate) const RESULT: &str = "Result";
pub(crate) const PASSED: &str = "Qualitative test passed";
pub(crate) const NOT_PASSED: &str = "Qualitative test not passed";
pub(crate) const MEASURED_HALF: &str = "Fit factor measured, half facepiece";
pub(crate) const MEASURED_FULL: &str = "Fit factor measured, full facepiece";
pub(crate) const FACTOR: &str = "Fit factor";
pub(crate) const FACTOR_HINT: &str =
    "Only where it was measured: 100 or more passes with a half facepiece, 500 with a full one.";
pub(crate) const ON: &str = "On";
pub(crate) const FROM: &str = "From";
pub(crate) const THROUGH: &str = "Through";
pub(crate) const AS_IT_SAYS: &str = "The last day on which it holds, as the evidence says. Year-month-day.";
pub(crate) const OPEN_END: &str = "Empty where it is open.";
pub(crate) const SOURCE: &str = "Source";
pub(crate) const SOURCE_HINT: &str = "Who says so, and in what.";
pub(crate) const CLEARANCE: &str = "What occupational health says";
pub(crate) const CLEARED: &str = "Medically cleared for a respirator";
pub(crate) const NOT_CLEARED: &str = "Not medically cleared for a respirator";
pub(crate) const CLEARED_HINT: &str = "Findings and reasons stay with occupational health.";
pub(crate) const WHY: &str = "Why";
pub(crate) const NOTED: &str = "What was noted";
pub(crate) const NEW_UNIT: &str = "New unit";
pub(crate) const LEAVES: &str = "Leaves the facility";
pub(crate) const NEW_ROLE: &str = "Role";
pub(crate) const LIFTS: &str = "Suspension";
pub(crate) const TAKES_BACK: &str = "What was stated by mistake";
pub(crate) const AWAY_FROM: &str = "First day away";
pub(crate) const LEAVE_HINT: &str = "Why somebody is away is nobody's business here.";

/// What is told at a field in which nothing was chosen yet.
pub(crate) mod lacking {
    pub(crate) const MODEL: &str = "Say which make and model was tested.";
    pub(crate) const RESULT: &str = "Choose what came of the test.";
    pub(crate) const FACTOR: &str = "Write the fit factor that was measured, as a whole number.";
    pub(crate) const CLEARED: &str = "Choose what occupational health says.";
    pub(crate) const PROCEDURE: &str = "Choose the procedure.";
    pub(crate) const SUSPENSION: &str = "Choose the suspension.";
    pub(crate) const STATED: &str = "Choose what was stated by mistake.";
}

/// The kinds of statements, in the order in which they are offered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Fit,
    Medical,
    Evidence,
    Leave,
    Moved,
    Suspended,
    Lifted,
    Skill,
    TakenBack,
}

impl Kind {
    pub(crate) const ALL: [Kind; 9] = [
        Kind::Fit,
        Kind::Medical,
        Kind::Evidence,
        Kind::Leave,
        Kind::Moved,
        Kind::Suspended,
        Kind::Lifted,
        Kind::Skill,
        Kind::TakenBack,
    ];

    /// Names it on the page.
    pub(crate) fn id(self) -> &'static str {
        match self {
            Kind::Fit => "fit",
            Kind::Medical => "medical",
            Kind::Evidence => "evidence",
            Kind::Leave => "leave",
            Kind::Moved => "moved",
            Kind::Suspended => "suspended",
            Kind::Lifted => "lifted",
            Kind::Skill => "skill",
            Kind::TakenBack => "taken-back",
        }
    }

    pub(crate) fn words(self) -> (&'static str, &'static str) {
        match self {
            Kind::Fit => ("Fit test", "With the very model that is worn."),
            Kind::Medical => ("Medical clearance", "What occupational health says."),
            Kind::Evidence => ("Evidence from elsewhere", "A validation that agency or new staff bring."),
            Kind::Leave => ("Leave", "Days away, without a reason."),
            Kind::Moved => ("Move or leave", "Another unit or role, or gone."),
            Kind::Suspended => ("Suspend", "Not to be sent in for now."),
            Kind::Lifted => ("Lift a suspension", "What was shown counts again."),
            Kind::TakenBack => ("Take something back", "It was stated by mistake; the entry stays."),
            Kind::Skill => ("Loss of skill", "Noted by an observer: it is shown again."),
        }
    }
}

/// One thing stated, in one sentence. `title` gives a procedure's title.
pub(crate) fn stated(what: &About, title: impl Fn(&str) -> String) -> String {
    let of = |procedure: &Option<String>| {
        procedure.as_ref().map_or_else(|| "everything".to_owned(), |id| title(id))
    };
    match what {
        About::FitTest { model, style, size, result, tester, .. } => {
            format!("Fit test with {model} ({style}, size {size}), by {tester}: {}.", fit_result(*result))
        }
        About::Medical { cleared: true, until: None, source, .. } => {
            format!("Medically cleared for a respirator, by {source}.")
        }
        About::Medical { cleared: true, until: Some(until), source, .. } => {
            format!("Medically cleared for a respirator through {}, by {source}.", date(*until))
        }
        About::Medical { cleared: false, source, .. } => {
            format!("Not medically cleared for a respirator, by {source}.")
        }
        About::Leave { through: Some(through), .. } => format!("Away through {}.", date(*through)),
        About::Leave { through: None, .. } => "Away, the last day is open.".to_owned(),
        About::Moved { unit: Some(_), role, .. } => format!("Moved: {role}."),
        About::Moved { unit: None, .. } => "Left.".to_owned(),
        About::OutsideEvidence { procedure, source, valid_until, .. } => format!(
            "Accepted from elsewhere for {}: {source}, valid through {}.",
            title(procedure),
            date(*valid_until)
        ),
        About::Suspended { procedure, why, .. } => format!("Suspended from {}: {why}", of(procedure)),
        About::Lifted { why, .. } => format!("A suspension was lifted: {why}"),
        About::TakenBack { why, .. } => format!("Taken back: {why}"),
        About::LossOfSkill { procedure, noted } => format!("Loss of skill in {}: {noted}", of(procedure)),
    }
}

/// Beside a statement: when it was written, and by whom.
pub(crate) fn written(on: &str, signed_by: Option<&str>) -> String {
    signed_by.map_or_else(|| format!("written {on}"), |name| format!("written {on}, signed by {name}"))
}

/// What requires a procedure of a person.
pub(crate) fn required(all: &[RequiredBy]) -> String {
    if all.is_empty() {
        return "Not required.".to_owned();
    }
    let each: Vec<String> = all
        .iter()
        .map(|one| {
            let whom = super::manager::requirements::of(one.unit.as_deref(), one.role.as_deref());
            let months = usize::try_from(one.months).unwrap_or(usize::MAX);
            let days: Vec<String> = one.lead_days.iter().map(u32::to_string).collect();
            format!(
                "{whom}: every {}, reminders {} days ahead",
                counted(months, "month", "months"),
                listed(&days, "and")
            )
        })
        .collect();
    format!("Required. {}.", each.join("; "))
}

mod evidence_words {
    use competency::clearance::factor_passes;
    use contract::FitResult;

    /// What came of a fit test.
    pub(super) fn fit_result(result: FitResult) -> String {
        let word = |passed| if passed { "passed" } else { "not passed" };
        match result {
            FitResult::Qualitative { passed } => word(passed).to_owned(),
            FitResult::Quantitative { fit_factor, full_facepiece } => {
                format!("fit factor {fit_factor}, {}", word(factor_passes(fit_factor, full_facepiece)))
            }
        }
    }
}

/// Erasing a name.
pub(crate) mod erase {
    pub(crate) const TITLE: &str = "Erase the name";
    pub(crate) const BELONGS_HERE: &str = "A name is kept while its person belongs to a unit. Once they have left and the \
        time is over for which the facility must keep it, it is erased here.";
    pub(crate) const ERASED: &str =
        "The name and the staff number were erased. What was observed stays, and names nobody.";
    pub(crate) const WHAT_IT_MEANS: [&str; 4] = [
        "The name and the staff number go for good; nothing brings them back. Everywhere in the window, on new papers \
         and in new tables it then says: name erased.",
        "Every entry stays, with its signature; the chain is whole, and the ledger check finds nothing wrong.",
        "The records that were signed keep the name, on their pages and in their data; so does an observer’s \
         certificate. They were signed so, and no program can take it out.",
        "So do papers, tables and backups that were saved or printed before, on this device and elsewhere. Destroy \
         those as your policy says.",
    ];
    pub(crate) const NUMBER: &str = "Staff number of this person";
    pub(crate) const NUMBER_HINT: &str = "Type it to say that you mean this person.";
    pub(crate) const GO: &str = "Erase the name for good";
    pub(crate) const GOING: &str = "Erasing the name";
}
