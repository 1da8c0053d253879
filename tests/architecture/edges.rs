use std::collections::{BTreeMap, BTreeSet};

use cargo_metadata::DependencyKind;

use crate::metadata;

/// The dependency rule: which crates of ours a crate may know. Nothing points back.
const MAY_KNOW: &[(&str, &[&str])] = &[
    ("competency", &[]),
    ("picture", &[]),
    ("evidence", &["competency"]),
    ("contract", &["competency", "evidence"]),
    ("ledger", &["competency", "evidence", "picture", "contract"]),
    ("paper", &["competency", "evidence", "picture", "contract"]),
    ("sealing", &["competency", "evidence", "picture", "contract"]),
    ("export", &["competency", "evidence", "picture", "contract"]),
    ("doorside", &["competency", "evidence", "picture", "contract", "ledger", "paper", "sealing", "export"]),
    ("ui", &["competency", "picture", "contract"]),
    // Tests may use everything but the shell's and the window's insides.
    ("suite", &["competency", "evidence", "picture", "contract", "ledger", "paper", "sealing", "export"]),
    ("platforms", &["competency"]),
    ("xtask", &[]),
];

/// What each crate fences off: nobody else may depend on these directly.
const FENCED: &[(&str, &[&str])] = &[
    ("doorside", &["tauri", "tauri-plugin-opener", "tauri-plugin-notification", "notify-rust"]),
    ("ledger", &["rusqlite", "rusqlite_migration"]),
    ("paper", &["printpdf"]),
    ("sealing", &["p256", "ring", "x509-cert", "cms"]),
    ("export", &["csv", "icalendar", "rust_xlsxwriter"]),
    ("picture", &["rust-sugiyama"]),
    ("ui", &["leptos", "leptos_router", "web-sys"]),
    ("xtask", &["wasm-bindgen-cli-support"]),
];

/// Direct normal dependencies of every crate of ours, by name.
fn known() -> BTreeMap<String, BTreeSet<String>> {
    metadata()
        .workspace_packages()
        .into_iter()
        .map(|package| {
            let names = package
                .dependencies
                .iter()
                .filter(|dependency| dependency.kind == DependencyKind::Normal)
                .map(|dependency| dependency.name.clone())
                .collect();
            (package.name.to_string(), names)
        })
        .collect()
}

#[test]
fn crates_know_only_what_the_dependency_rule_allows() {
    let known = known();
    let ours: BTreeSet<&str> = known.keys().map(String::as_str).collect();
    let ruled: BTreeSet<&str> = MAY_KNOW.iter().map(|(name, _)| *name).collect();
    assert_eq!(ours, ruled, "every crate of the workspace stands in the dependency rule, and no other");
    for (name, allowed) in MAY_KNOW {
        for other in known[*name].iter().filter(|other| ours.contains(other.as_str())) {
            assert!(allowed.contains(&other.as_str()), "{name} must not know {other}");
        }
    }
}

#[test]
fn each_crate_alone_knows_what_it_fences_off() {
    let known = known();
    for (owner, fenced) in FENCED {
        for (name, dependencies) in known.iter().filter(|(name, _)| name != owner) {
            for dependency in dependencies {
                assert!(
                    !fenced.contains(&dependency.as_str()),
                    "only {owner} may know {dependency}, but {name} does"
                );
            }
        }
    }
}
