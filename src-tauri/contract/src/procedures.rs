use chrono::NaiveDate;
use competency::procedure::{Phase, Precaution, Procedure};
use serde::{Deserialize, Serialize};

use crate::Revalidate;

/// Lists procedures by title.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ListProcedures {
    /// Those that were retired, instead of those in force.
    pub retired: bool,
}

/// One procedure in a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ProcedureLine {
    /// Its id.
    pub id: String,
    /// Its version in force.
    pub version: String,
    /// Its title.
    pub title: String,
    /// Putting on or taking off.
    pub phase: Phase,
    /// The precautions it belongs to.
    pub precautions: Vec<Precaution>,
    /// How many steps it has.
    pub steps: u32,
    /// How many of them are critical.
    pub critical: u32,
    /// Some step or order rests on a source given from memory.
    pub from_memory: bool,
}

/// Opens one procedure.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenProcedure {
    /// Its id.
    pub id: String,
    /// The version; the one in force, or else the latest, where it is `None`.
    pub version: Option<String>,
}

/// A procedure, whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenedProcedure {
    /// The procedure.
    pub procedure: Procedure,
    /// SHA-256 of its canonical JSON, hexadecimal.
    pub hash: String,
    /// Every version that was published, the latest first.
    pub versions: Vec<VersionLine>,
    /// Since when and why it is retired, where it is.
    pub retired: Option<(NaiveDate, String)>,
}

/// One published version.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct VersionLine {
    /// The version.
    pub version: String,
    /// In force from this date.
    pub from: NaiveDate,
    /// Who approved it, and when; `None` where it came with the program.
    pub approved: Option<(String, NaiveDate)>,
    /// Through which date validations on earlier versions hold at most, and why; `None` where they hold on.
    pub revalidate: Option<Revalidate>,
}
