//! The one way out of the window.

use contract::{Command, Fault, Next};
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::prelude::*;

use crate::wording;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = ["window", "__TAURI_INTERNALS__"], js_name = invoke, catch)]
    async fn invoke(name: &str, arguments: JsValue) -> Result<JsValue, JsValue>;
}

#[derive(Serialize)]
struct Arguments<'a, C> {
    request: &'a C,
}

/// Sends a request to the shell command of its name.
///
/// Whatever goes wrong comes back as a [`Fault`]: the shell's own, or one that says that shell and
/// window do not understand each other.
pub(crate) async fn call<C: Command>(request: C) -> Result<C::Reply, Fault> {
    // JSON-compatible: maps as plain objects and `None` as null, which is what the shell reads.
    let arguments = Arguments { request: &request }
        .serialize(&Serializer::json_compatible())
        .map_err(|_cause| Fault::new(Next::AskForHelp, wording::NOT_SENT))?;
    match invoke(C::NAME, arguments).await {
        Ok(reply) => serde_wasm_bindgen::from_value(reply)
            .map_err(|_cause| Fault::new(Next::AskForHelp, wording::NOT_UNDERSTOOD)),
        Err(cause) => Err(serde_wasm_bindgen::from_value(cause)
            .unwrap_or_else(|_not_a_fault| Fault::new(Next::AskForHelp, wording::NO_ANSWER))),
    }
}
