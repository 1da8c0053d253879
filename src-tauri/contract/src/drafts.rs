use chrono::NaiveDate;
use competency::procedure::Procedure;
use serde::{Deserialize, Serialize};

/// Lists the procedures that are being worked on.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ListDrafts {}

/// One procedure that is being worked on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct DraftLine {
    /// The draft.
    pub draft: String,
    /// Its title.
    pub title: String,
    /// The version it is to become.
    pub version: String,
    /// When it was last kept, as the facility's wall clock read, `2026-11-25 10:02`.
    pub kept: String,
}

/// Begins a draft.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct BeginDraft {
    /// Made by the window, so that a repeated request begins only one.
    pub draft: String,
    /// What it begins as.
    pub from: DraftFrom,
}

/// What a draft begins as.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DraftFrom {
    /// The next version of a procedure in force.
    NextVersion {
        /// The procedure.
        procedure: String,
    },
    /// A procedure of its own, made from one in force.
    Copy {
        /// The procedure that is copied.
        procedure: String,
    },
    /// A procedure file.
    File {
        /// The text of the file.
        text: String,
    },
}

/// Opens a draft.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenDraft {
    /// The draft.
    pub draft: String,
}

/// A draft, whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenedDraft {
    /// The draft.
    pub draft: String,
    /// The procedure as it was last kept.
    pub procedure: Procedure,
    /// The latest published version of the same procedure, to compare with; `None` for a new one.
    pub published: Option<Procedure>,
    /// The facility's civil date.
    pub today: NaiveDate,
}

/// Keeps a draft as it is now; answered once it is on the disk.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct KeepDraft {
    /// The draft.
    pub draft: String,
    /// The procedure; it may have flaws while it is worked on.
    pub procedure: Procedure,
}

/// The draft is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kept {}

/// Throws a draft away.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct DropDraft {
    /// The draft.
    pub draft: String,
}

/// Publishes a draft: it is in force from today on, and never changes again.
#[derive(Clone, Serialize, Deserialize)]
pub struct PublishDraft {
    /// The draft.
    pub draft: String,
    /// Id of the person who approves it.
    pub approved_by: String,
    /// The passphrase that opens the authority's key: whoever approves acts for the facility.
    pub passphrase: String,
    /// What the educator decided about earlier validations; `None` where they hold on.
    pub revalidate: Option<Revalidate>,
}

impl std::fmt::Debug for PublishDraft {
    /// Never shows the secret.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("PublishDraft").field("draft", &self.draft).finish_non_exhaustive()
    }
}

/// Earlier validations end.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Revalidate {
    /// Validations on earlier versions hold through this date at most.
    pub by: NaiveDate,
    /// Why.
    pub why: String,
}

/// Takes a procedure out of force from today on. What was demonstrated stays.
#[derive(Clone, Serialize, Deserialize)]
pub struct RetireProcedure {
    /// The procedure.
    pub procedure: String,
    /// Why.
    pub why: String,
    /// The passphrase that opens the authority's key.
    pub passphrase: String,
}

impl std::fmt::Debug for RetireProcedure {
    /// Never shows the secret.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("RetireProcedure").field("procedure", &self.procedure).finish_non_exhaustive()
    }
}

/// Saves a procedure as a file, in the version in force.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveProcedure {
    /// The procedure.
    pub procedure: String,
}

/// Saves a procedure as a form to observe with on paper.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveForm {
    /// The procedure.
    pub procedure: String,
}
