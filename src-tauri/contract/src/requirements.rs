use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::Unit;

/// Opens what the facility asks of whom.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenRequirements {}

/// What the facility asks of whom.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Requirements {
    /// Today, in the facility's calendar.
    pub today: NaiveDate,
    /// The requirements that hold today.
    pub lines: Vec<RequirementLine>,
    /// The units.
    pub units: Vec<Unit>,
    /// The roles that people have.
    pub roles: Vec<String>,
    /// The procedures in force that may be required, with how many months a validation of each holds.
    pub procedures: Vec<RequiredProcedure>,
    /// What the facility chose where the rules leave it the choice.
    pub rules: FacilityRules,
}

/// One requirement.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RequirementLine {
    /// The procedure's id.
    pub procedure: String,
    /// Its title.
    pub title: String,
    /// Id and name of the unit whose people it means; everyone's where it is `None`.
    pub unit: Option<Unit>,
    /// The role that it means; every role where it is `None`.
    pub role: Option<String>,
    /// At least every so many months; as often as the procedure says where it is `None`.
    pub months: Option<u32>,
    /// How many days before it runs out to remind, the most first.
    pub lead_days: Vec<u32>,
    /// Since when it holds.
    pub from: NaiveDate,
    /// How many people it means today.
    pub means: u32,
    /// How many of them hold it today.
    pub hold: u32,
}

/// A procedure that may be required.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RequiredProcedure {
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: String,
    /// How many months a validation holds.
    pub months: u32,
}

/// Sets a requirement from today on; one for the same procedure, unit and role takes the place of an earlier one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetRequirement {
    /// The procedure's id.
    pub procedure: String,
    /// Id of the unit whose people it means; everyone's where it is `None`.
    pub unit: Option<String>,
    /// The role that it means; every role where it is `None`.
    pub role: Option<String>,
    /// `false` takes it back.
    pub required: bool,
    /// At least every so many months; as often as the procedure says where it is `None`.
    pub months: Option<u32>,
    /// How many days before it runs out to remind.
    pub lead_days: Vec<u32>,
}

/// What the facility chose where the rules leave it the choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct FacilityRules {
    /// How many days away are allowed before everything must be shown again; any number where it is `None`.
    pub leave_limit_days: Option<u32>,
    /// A year is 365 days at most, rather than twelve calendar months.
    pub strict_year: bool,
    /// Whoever wears a respirator must be medically cleared for it.
    pub medical_clearance: bool,
}

/// Sets what the facility chose, from today on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetFacilityRules {
    /// What it chose.
    pub rules: FacilityRules,
}

/// Asks for an early re-validation, since other equipment came into use.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AskAgain {
    /// Of the people of this unit; of everyone where it is `None`.
    pub unit: Option<String>,
    /// In these procedures.
    pub procedures: Vec<String>,
    /// Which equipment.
    pub what: String,
    /// Earlier validations hold through this date at most.
    pub by: NaiveDate,
}
