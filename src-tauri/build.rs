//! Generates the permissions of the shell's commands, and makes a fresh clone build.

use std::{error::Error, fs, path::Path};

use tauri_build::{AppManifest, Attributes};

fn main() -> Result<(), Box<dyn Error>> {
    placeholder_window(Path::new("../ui/dist"))?;
    println!("cargo:rerun-if-changed=../ui/dist");
    println!("cargo:rerun-if-changed=capabilities/main.json");
    let commands = allowed_commands(&fs::read_to_string("capabilities/main.json")?)?;
    let manifest = AppManifest::new().commands(commands.leak());
    tauri_build::try_build(Attributes::new().app_manifest(manifest))?;
    Ok(())
}

/// The shell embeds `ui/dist`, which only `cargo xtask bundle` makes; until then it finds this page.
fn placeholder_window(dist: &Path) -> std::io::Result<()> {
    let page = dist.join("index.html");
    if page.exists() {
        return Ok(());
    }
    fs::create_dir_all(dist)?;
    fs::write(
        page,
        "<!doctype html><html lang=\"en\"><title>Doorside</title>\
         <p>The window is not built yet: run cargo xtask bundle, then build again.</p></html>\n",
    )
}

/// The commands are those that the capability allows, so that the two cannot disagree.
fn allowed_commands(capability: &str) -> Result<Vec<&'static str>, Box<dyn Error>> {
    let capability: serde_json::Value = serde_json::from_str(capability)?;
    let permissions = capability
        .get("permissions")
        .and_then(serde_json::Value::as_array)
        .ok_or("capabilities/main.json lists no permissions")?;
    Ok(permissions
        .iter()
        .filter_map(|permission| permission.as_str()?.strip_prefix("allow-"))
        .map(|name| &*name.replace('-', "_").leak())
        .collect())
}
