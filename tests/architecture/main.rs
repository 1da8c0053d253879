//! The architecture's own tests: what DEVELOPERS.md says of the workspace is held here.

#![expect(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test that cannot go on says so and fails; there is nobody to hand an error to"
)]

mod commands;
mod documents;
mod edges;
mod layout;
mod licences;
mod versions;

use std::sync::OnceLock;

use cargo_metadata::{Metadata, MetadataCommand};
use suite::place;

/// What cargo says of the workspace and everything below it.
fn metadata() -> &'static Metadata {
    static METADATA: OnceLock<Metadata> = OnceLock::new();
    METADATA.get_or_init(|| {
        MetadataCommand::new()
            .manifest_path(place::root().join("Cargo.toml"))
            .other_options(["--locked".to_owned()])
            .exec()
            .expect("cargo metadata")
    })
}
