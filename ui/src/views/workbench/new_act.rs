//! A new act, by what it is called.

use competency::procedure::{ActId, Edit, fresh_id};
use leptos::prelude::*;

use super::bench::Bench;
use crate::wording::workbench as words;

/// A field that adds an act to the draft and says which.
pub(super) fn new_act(bench: Bench, id: &'static str, added: impl Fn(ActId) + 'static) -> impl IntoView {
    let called = RwSignal::new(String::new());
    let add = move |_| {
        let label = called.get_untracked().trim().to_owned();
        if label.is_empty() {
            return;
        }
        let act = bench.procedure.with_untracked(|draft| {
            fresh_id(&label, draft.acts.keys().chain(draft.combined_acts.keys()).map(String::as_str))
        });
        if bench.edit(&Edit::SetAct { id: act.clone(), label }) {
            added(act);
            called.set(String::new());
        }
    };
    view! {
        <div class="row">
            <div class="field">
                <label for=id>{words::NEW_ACT}</label>
                <input id=id type="text" autocomplete="off" prop:value=called
                    on:input:target=move |event| called.set(event.target().value()) />
            </div>
            <button type="button" class="button" id=format!("add-{id}") on:click=add>{words::ADD_ACT}</button>
        </div>
    }
}
