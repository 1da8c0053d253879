//! The table on the machine at hand, and in the browser's.
#![expect(clippy::expect_used, reason = "a test that cannot go on says so and fails")]

use std::{env, process::Command};

use cargo_metadata::{Message, camino::Utf8PathBuf};
use wasmi::{Engine, Linker, Module, Store};

#[test]
fn every_report_is_the_same_here() {
    let lines = platforms::table().expect("the table");
    assert!(
        lines.iter().map(String::as_str).eq(platforms::DIGESTS.lines()),
        "if the rules were meant to change, tests/platforms/digests.txt is now:\n{}",
        lines.join("\n")
    );
}

/// The same program compiled for wasm32, where addresses have 32 bits, and run by an interpreter.
#[test]
fn every_report_is_the_same_in_the_browsers_machine() {
    let bytes = std::fs::read(built_for_the_browser()).expect("the compiled program");
    let engine = Engine::default();
    let module = Module::new(&engine, &bytes).expect("a module that asks for nothing from outside");
    let mut store = Store::new(&engine, ());
    let program = Linker::new(&engine).instantiate_and_start(&mut store, &module).expect("an instance");
    let main = program.get_typed_func::<(i32, i32), i32>(&store, "main").expect("its main function");
    let first_wrong = main.call(&mut store, (0, 0)).expect("it runs to its end");
    assert_eq!(first_wrong, 0, "this line of tests/platforms/digests.txt is another one there");
}

fn built_for_the_browser() -> Utf8PathBuf {
    let output = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
        .args(["build", "--locked", "--package", "platforms", "--bin", "platforms", "--release"])
        .args(["--target", "wasm32-unknown-unknown", "--message-format", "json"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("cargo starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    Message::parse_stream(output.stdout.as_slice())
        .filter_map(Result::ok)
        .find_map(|message| {
            let Message::CompilerArtifact(artifact) = message else { return None };
            artifact.filenames.into_iter().find(|file| file.extension() == Some("wasm"))
        })
        .expect("a compiled program")
}
