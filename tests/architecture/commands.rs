use std::collections::BTreeSet;

use contract::COMMANDS;
use suite::place::text;

fn contracted() -> BTreeSet<String> {
    COMMANDS.iter().map(|name| (*name).to_owned()).collect()
}

#[test]
fn the_contract_names_each_command_once() {
    assert_eq!(contracted().len(), COMMANDS.len());
}

#[test]
fn the_shell_answers_exactly_the_contracted_commands() {
    let source = text("src-tauri/src/commands/mod.rs");
    let list = source.split_once("generate_handler![").and_then(|(_, rest)| rest.split_once(']'));
    let (list, _) = list.expect("commands/mod.rs hands Tauri its list with generate_handler!");
    let answered: BTreeSet<String> = list
        .split(',')
        .filter_map(|path| path.trim().rsplit("::").next())
        .filter(|name| !name.is_empty())
        .map(str::to_owned)
        .collect();
    assert_eq!(answered, contracted());
}

#[test]
fn the_capability_allows_the_main_window_exactly_the_contracted_commands() {
    let capability: serde_json::Value =
        serde_json::from_str(&text("src-tauri/capabilities/main.json")).expect("the capability is JSON");
    assert_eq!(capability["windows"], serde_json::json!(["main"]), "one named window and no other");
    let allowed: BTreeSet<String> = capability["permissions"]
        .as_array()
        .expect("the capability lists its permissions")
        .iter()
        .map(|permission| {
            let name = permission.as_str().expect("each permission is a bare name");
            name.strip_prefix("allow-").unwrap_or(name).replace('-', "_")
        })
        .collect();
    assert_eq!(allowed, contracted());
}
