//! The window: Leptos views over the contract, compiled to wasm.
//!
//! What this crate does *not* hold: no rule of the trade, no score, no date arithmetic, no SQL, no name
//! of a command. It asks the shell through the one [`call::call`], and what it shows of a running
//! demonstration it computes with the same `competency` code that scores it.

#![expect(unreachable_pub, reason = "the component macro of leptos writes `pub` for the parts it makes")]

mod app;
mod call;
mod page;
mod pictures;
mod views;
mod widgets;
mod wording;

fn main() {
    page::mount(app::App);
}
