use chrono::NaiveDate;
use competency::{clearance::Clearance, procedure::Precaution, validity::Standing};
pub use evidence::FitResult;
use serde::{Deserialize, Serialize};

use crate::{Person, RosterColumn, Unit};

/// Opens what is known of one person.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenPerson {
    /// The person's id.
    pub person: String,
}

/// What is known of one person today.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PersonFile {
    /// The person.
    pub person: Person,
    /// Today, in the facility's calendar.
    pub today: NaiveDate,
    /// How they stand, and what asks for it.
    pub standings: Vec<(RosterColumn, Standing, Vec<RequiredBy>)>,
    /// Whether they may go in, for each kind of precautions that a procedure in force is for.
    pub clearances: Vec<(Precaution, Clearance)>,
    /// What was stated about them, the latest first.
    pub stated: Vec<StatedLine>,
    /// The suspensions that hold.
    pub suspensions: Vec<SuspensionLine>,
    /// The procedures in force.
    pub procedures: Vec<RosterColumn>,
    /// The respirator models that procedures in force list.
    pub models: Vec<String>,
    /// The units.
    pub units: Vec<Unit>,
    /// The roles that people have.
    pub roles: Vec<String>,
    /// Who may sign: the observers, by id and name.
    pub observers: Vec<(String, String)>,
    /// Whether the name is kept.
    pub name_kept: NameKept,
}

/// Whether a person's name is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NameKept {
    /// They belong to a unit, and the name cannot be erased.
    BelongsHere,
    /// They belong to no unit any more, and it may be erased.
    MayBeErased,
    /// It was erased.
    Erased,
}

/// Erases a person's name and staff number, when their retention ends. Nothing brings them back.
#[derive(Clone, Serialize, Deserialize)]
pub struct EraseName {
    /// The person's id.
    pub person: String,
    /// Their staff number, typed by whoever erases it.
    pub number: String,
    /// The passphrase that opens the authority's key.
    pub passphrase: String,
}

impl std::fmt::Debug for EraseName {
    /// Never shows the passphrase, or the number.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("EraseName").field("person", &self.person).finish_non_exhaustive()
    }
}

/// What requires a procedure of a person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RequiredBy {
    /// Name of the unit that it means; every one where it is `None`.
    pub unit: Option<String>,
    /// The role that it means; every one where it is `None`.
    pub role: Option<String>,
    /// At least every so many months.
    pub months: u32,
    /// How many days before it runs out to remind, the most first.
    pub lead_days: Vec<u32>,
}

/// One thing stated about a person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StatedLine {
    /// Id of its entry, to take it back by.
    pub entry: String,
    /// From or on this day.
    pub on: NaiveDate,
    /// It.
    pub what: About,
    /// The day on which it was written.
    pub written: NaiveDate,
    /// Name of whoever signed it; `None` where nobody had to.
    pub signed_by: Option<String>,
}

/// A suspension that holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SuspensionLine {
    /// Names it, to lift it.
    pub suspension: String,
    /// It, in one sentence.
    pub text: String,
}

/// States something about a person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StateAbout {
    /// The person's id.
    pub person: String,
    /// What is stated.
    pub what: About,
    /// Who signs it, where it has to be signed.
    pub signed: Option<SignedBy>,
}

/// Who signs something, and the PIN that opens their key.
#[derive(Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SignedBy {
    /// Id of the observer.
    pub observer: String,
    /// Their PIN.
    pub pin: String,
}

impl std::fmt::Debug for SignedBy {
    /// Never shows the PIN.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SignedBy").field("observer", &self.observer).finish_non_exhaustive()
    }
}

/// What may be stated about a person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum About {
    /// They were fit tested with a respirator.
    FitTest {
        /// Make and model, as the procedures list it.
        model: String,
        /// Style, such as `half facepiece`.
        style: String,
        /// Size.
        size: String,
        /// How it was tested, and what came of it.
        result: FitResult,
        /// On this day.
        on: NaiveDate,
        /// Who tested.
        tester: String,
    },
    /// What occupational health says about wearing a respirator.
    Medical {
        /// Whether they are cleared.
        cleared: bool,
        /// On this day.
        on: NaiveDate,
        /// Through this day; open where it is `None`.
        until: Option<NaiveDate>,
        /// Who says so.
        source: String,
    },
    /// They are away.
    Leave {
        /// The first day away.
        from: NaiveDate,
        /// The last day away; open where it is `None`.
        through: Option<NaiveDate>,
    },
    /// They change unit or role, or leave the facility.
    Moved {
        /// Id of their new unit; `None` where they leave.
        unit: Option<String>,
        /// Their role from then on.
        role: String,
        /// From this day on.
        from: NaiveDate,
    },
    /// A validation from elsewhere is accepted. It has to be signed.
    OutsideEvidence {
        /// Id of the procedure that it is accepted for.
        procedure: String,
        /// Who issued it, and what it is.
        source: String,
        /// The day of the demonstration that it attests.
        on: NaiveDate,
        /// Valid through this day.
        valid_until: NaiveDate,
    },
    /// They may not be sent in for now. It has to be signed.
    Suspended {
        /// Id of the procedure that they are suspended from; everything where it is `None`.
        procedure: Option<String>,
        /// Why.
        why: String,
        /// From this day on.
        from: NaiveDate,
    },
    /// A suspension ends today. It has to be signed.
    Lifted {
        /// The suspension.
        suspension: String,
        /// Why.
        why: String,
    },
    /// Something that was stated by mistake is taken back; its entry stays.
    TakenBack {
        /// Id of the entry that states it.
        entry: String,
        /// Why.
        why: String,
    },
    /// An observer noted that the skill is lost. It has to be signed.
    LossOfSkill {
        /// Id of the procedure; everything where it is `None`.
        procedure: Option<String>,
        /// What was noted.
        noted: String,
    },
}

impl About {
    /// Whether an observer has to sign it: what grants or takes away that somebody may go in.
    pub fn is_signed(&self) -> bool {
        match self {
            About::OutsideEvidence { .. }
            | About::Suspended { .. }
            | About::Lifted { .. }
            | About::TakenBack { .. }
            | About::LossOfSkill { .. } => true,
            About::FitTest { .. } | About::Medical { .. } | About::Leave { .. } | About::Moved { .. } => {
                false
            }
        }
    }
}

/// Asks who of a unit may go in under some precautions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WhoMayGoIn {
    /// Id of the unit; everyone where it is `None`.
    pub unit: Option<String>,
    /// The precautions.
    pub precaution: Precaution,
    /// On this day; today where it is `None`.
    pub on: Option<NaiveDate>,
    /// Only people whose name or number contains this text; everyone where it is empty.
    pub search: String,
    /// How many people to pass over.
    pub first: u32,
    /// At most this many people.
    pub most: u32,
}

/// Who may go in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MayGoIn {
    /// On this day.
    pub on: NaiveDate,
    /// The people of this part, by name: of everyone found, those who may come first.
    pub lines: Vec<(Person, Clearance)>,
    /// How many were found in all.
    pub found: u32,
    /// How many of them may go in.
    pub may: u32,
    /// What the answer rests on, in one sentence.
    pub covers: String,
}

/// Asks what somebody lacks before they may demonstrate a procedure today.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CheckPrerequisites {
    /// Id of the person.
    pub person: String,
    /// Id of the procedure.
    pub procedure: String,
}

/// What is missing, in sentences that say what to do; empty where nothing is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Prerequisites {
    /// The sentences.
    pub missing: Vec<String>,
}
