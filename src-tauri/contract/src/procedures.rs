use competency::procedure::{Phase, Precaution, Procedure};
use serde::{Deserialize, Serialize};

/// Lists the procedures in force.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ListProcedures {}

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

/// Opens one procedure in the version in force.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenProcedure {
    /// Its id.
    pub id: String,
}

/// A procedure, whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenedProcedure {
    /// The procedure.
    pub procedure: Procedure,
    /// SHA-256 of its canonical JSON, hexadecimal.
    pub hash: String,
}
