//! What the facility asks of whom.

use contract::{AskAgain, OpenRequirements, SetFacilityRules, SetRequirement};
use tauri::State;

use super::Answer;
use crate::{clock, desk::Opened};

#[tauri::command(async)]
pub(crate) fn open_requirements(
    desk: State<'_, Opened>,
    request: OpenRequirements,
) -> Answer<OpenRequirements> {
    desk.desk()?.open_requirements(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn set_requirement(desk: State<'_, Opened>, request: SetRequirement) -> Answer<SetRequirement> {
    desk.desk()?.set_requirement(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn set_facility_rules(
    desk: State<'_, Opened>,
    request: SetFacilityRules,
) -> Answer<SetFacilityRules> {
    desk.desk()?.set_facility_rules(&request, &clock::now())
}

#[tauri::command(async)]
pub(crate) fn ask_again(desk: State<'_, Opened>, request: AskAgain) -> Answer<AskAgain> {
    desk.desk()?.ask_again(&request, &clock::now())
}
