use chrono::NaiveDate;
use competency::validity::State;
use serde::{Deserialize, Serialize};

use crate::RosterColumn;

/// Opens the sessions, how much falls due in each week, and the plan.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct OpenSessions {
    /// What was chosen by hand and is not given yet.
    pub chosen: Vec<Chosen>,
}

/// A place chosen by hand.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Chosen {
    /// Id of the person.
    pub person: String,
    /// Id of the procedure.
    pub procedure: String,
    /// The session; the plan decides where it is `None`.
    pub session: Option<String>,
}

/// Sessions and plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sessions {
    /// Today, in the facility's calendar.
    pub today: NaiveDate,
    /// How many validations run out in each week, each named by its Monday, for a year.
    pub weeks: Vec<(NaiveDate, u32)>,
    /// How many have run out already, or were never validated.
    pub overdue: u32,
    /// The sessions from today on, in the order of their days.
    pub sessions: Vec<SessionLine>,
    /// Where everyone who falls due is placed.
    pub plan: Vec<PlanLine>,
    /// How many lapse all the same.
    pub lapsing: u32,
    /// How the plan was made, in one sentence.
    pub because: String,
    /// How many places of the plan differ from what was given.
    pub changed: u32,
    /// Who may observe, by id and name.
    pub observers: Vec<(String, String)>,
    /// The procedures that are required.
    pub procedures: Vec<RosterColumn>,
}

/// One session.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SessionLine {
    /// Names it.
    pub session: String,
    /// Its day.
    pub on: NaiveDate,
    /// When it begins and ends, `10:00` and `12:00`; the whole day where it is `None`.
    pub at: Option<(String, String)>,
    /// Where.
    pub place: String,
    /// Id and name of the observer.
    pub observer: (String, String),
    /// How many demonstrations there is time for.
    pub places: u32,
    /// How many places the plan fills.
    pub filled: u32,
    /// Titles of the procedures that it is for; all where it is empty.
    pub procedures: Vec<String>,
}

/// One validation to be renewed, and where the plan places it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlanLine {
    /// Id of the person.
    pub person: String,
    /// Their name.
    pub name: String,
    /// Their staff number.
    pub number: String,
    /// Name of their unit.
    pub unit: String,
    /// Id of the procedure.
    pub procedure: String,
    /// Its title.
    pub title: String,
    /// Their state today.
    pub state: State,
    /// Valid through this date, where there is one.
    pub valid_until: Option<NaiveDate>,
    /// The session; `None` where there is none.
    pub session: Option<String>,
    /// Whether it was chosen by hand.
    pub by_hand: bool,
    /// The place that was given so far.
    pub given: Option<String>,
    /// Whether the validation runs out before it is renewed.
    pub lapses: bool,
    /// Why so, in one sentence.
    pub because: String,
}

/// Sets a session; one of the same id takes its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetSession {
    /// Made by the window, so that a repeated request sets only one.
    pub session: String,
    /// Its day.
    pub on: NaiveDate,
    /// When it begins and ends, `10:00` and `12:00` on the facility's clock; the whole day where it is `None`.
    pub at: Option<(String, String)>,
    /// Where.
    pub place: String,
    /// Id of the observer.
    pub observer: String,
    /// How many demonstrations there is time for.
    pub places: u32,
    /// Ids of the procedures that it is for; every one where it is empty.
    pub procedures: Vec<String>,
    /// `false` takes it back.
    pub held: bool,
}

/// Gives the places as the plan has them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GivePlaces {
    /// What was chosen by hand.
    pub chosen: Vec<Chosen>,
}

/// Saves the places that were given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SaveInvitations {
    /// As what.
    pub form: InvitationForm,
}

/// As what invitations are saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum InvitationForm {
    /// A calendar file.
    Calendar,
    /// A list to print.
    List,
    /// A table.
    Table,
}
