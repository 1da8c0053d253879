//! What the window may ask, one file a view. A command unpacks, makes one call and answers; it holds
//! no rule. Each runs off the ui thread; the window
//! sends a tap only when the one before it was answered, so taps keep their order.

mod demonstration;
mod history;
mod home;
mod people;
mod procedures;
mod roster;

use contract::{Command, Fault};
use tauri::{Wry, ipc::Invoke};

/// What a command answers.
type Answer<C> = Result<<C as Command>::Reply, Fault>;

/// Every command, by name.
pub(crate) fn handler() -> impl Fn(Invoke<Wry>) -> bool + Send + Sync + 'static {
    tauri::generate_handler![
        home::open_home,
        home::create_facility,
        people::list_people,
        people::add_person,
        people::appoint_observer,
        procedures::list_procedures,
        procedures::open_procedure,
        demonstration::begin_demonstration,
        demonstration::open_demonstration,
        demonstration::tap,
        demonstration::review_demonstration,
        demonstration::seal_demonstration,
        roster::open_roster,
        roster::save_roster,
        roster::save_reminders,
        history::open_history,
        history::show_record,
    ]
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use contract::COMMANDS;

    /// The manifest is made from the capability by the build script, so those two agree by construction.
    #[test]
    fn the_window_may_ask_what_the_contract_lists_and_nothing_else() {
        let listed: BTreeSet<String> = COMMANDS.iter().map(|name| (*name).to_owned()).collect();
        let capability: serde_json::Value =
            serde_json::from_str(include_str!("../../capabilities/main.json")).unwrap();
        let allowed: BTreeSet<String> = capability["permissions"]
            .as_array()
            .unwrap()
            .iter()
            .map(|permission| permission.as_str().unwrap().replacen("allow-", "", 1).replace('-', "_"))
            .collect();
        assert_eq!(allowed, listed, "the capability allows what the contract lists");
        assert_eq!(capability["windows"], serde_json::json!(["main"]), "and only the main window");

        let handler = include_str!("mod.rs");
        let list = handler.split("generate_handler![").nth(1).unwrap().split(']').next().unwrap();
        let handled: BTreeSet<String> = list
            .lines()
            .filter_map(|line| line.trim().trim_end_matches(',').split_once("::"))
            .map(|(_view, name)| name.to_owned())
            .collect();
        assert_eq!(handled, listed, "the shell handles what the contract lists");
    }
}
