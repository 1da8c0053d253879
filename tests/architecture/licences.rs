use std::collections::{BTreeMap, BTreeSet};

use cargo_metadata::{DependencyKind, PackageId};
use spdx::{Expression, ParseMode};

use crate::metadata;

/// Licences that ask for no more than their own text to be kept. MPL-2.0 binds only its own files,
/// OFL-1.1 only the fonts.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "OFL-1.1",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Everything that the workspace's crates reach through normal dependencies.
fn reached() -> BTreeSet<PackageId> {
    let resolve = metadata().resolve.as_ref().expect("cargo metadata resolves");
    let nodes: BTreeMap<&PackageId, _> = resolve.nodes.iter().map(|node| (&node.id, node)).collect();
    let mut open: Vec<&PackageId> = metadata().workspace_members.iter().collect();
    let mut reached = BTreeSet::new();
    while let Some(id) = open.pop() {
        if reached.insert(id.clone()) {
            open.extend(
                nodes[id]
                    .deps
                    .iter()
                    .filter(|dep| dep.dep_kinds.iter().any(|kind| kind.kind == DependencyKind::Normal))
                    .map(|dep| &dep.pkg),
            );
        }
    }
    reached
}

#[test]
fn every_dependency_has_a_permissive_licence() {
    let reached = reached();
    assert!(reached.len() > metadata().workspace_members.len(), "dependencies were followed");
    let refused: Vec<String> = metadata()
        .packages
        .iter()
        .filter(|package| reached.contains(&package.id))
        .filter(|package| !package.license.as_deref().is_some_and(is_permissive))
        .map(|package| format!("{} {}: {:?}", package.name, package.version, package.license))
        .collect();
    assert_eq!(refused, Vec::<String>::new(), "these licences are not on the list");
}

fn is_permissive(licence: &str) -> bool {
    // Lax: older crates write a slash for `OR`.
    Expression::parse_mode(licence, ParseMode::LAX).is_ok_and(|expression| {
        expression.evaluate(|wanted| wanted.license.id().is_some_and(|id| ALLOWED.contains(&id.name)))
    })
}

#[test]
fn a_choice_is_free_and_a_sum_is_not() {
    for (licence, expected) in [
        ("MIT", true),
        ("MIT/Apache-2.0", true),
        ("MIT OR Apache-2.0 OR LGPL-2.1-or-later", true),
        ("Apache-2.0 WITH LLVM-exception", true),
        ("MIT AND GPL-3.0-only", false),
        ("AGPL-3.0-or-later", false),
        ("house licence", false),
    ] {
        assert_eq!(is_permissive(licence), expected, "{licence}");
    }
}
