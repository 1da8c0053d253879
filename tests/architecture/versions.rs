use crate::metadata;

/// `wasm-bindgen` refuses to work with code compiled against any version but its own.
#[test]
fn the_page_is_bundled_by_the_wasm_bindgen_it_was_compiled_with() {
    let versions = |name: &str| -> Vec<String> {
        metadata()
            .packages
            .iter()
            .filter(|package| package.name == name)
            .map(|package| package.version.to_string())
            .collect()
    };
    let compiled = versions("wasm-bindgen");
    assert_eq!(compiled.len(), 1, "one wasm-bindgen in Cargo.lock");
    assert_eq!(
        compiled,
        versions("wasm-bindgen-cli-support"),
        "mend xtask/Cargo.toml to the other's version"
    );
}
