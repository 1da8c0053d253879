//! The certificate of the facility's authority, for whoever must trust its records.

use contract::SaveAuthority;
use leptos::prelude::*;

use crate::{call::call, widgets::loaded::fault_note, wording::facility::authority as words};

/// Saves it, and shows the fingerprint that a reader compares.
pub(super) fn authority() -> impl IntoView {
    let save = Action::new_local(|request: &SaveAuthority| call(request.clone()));
    let go = Callback::new(move |()| {
        save.dispatch_local(SaveAuthority {});
    });
    view! {
        <section class="card stack" aria-labelledby="authority-title">
            <h2 id="authority-title">{words::TITLE}</h2>
            <p class="quiet-text">{words::WHY}</p>
            <div class="row">
                <button type="button" class="button" id="save-authority" on:click=move |_| go.run(())>
                    {words::SAVE}</button>
            </div>
            {move || save.value().get().map(|answer| match answer {
                Ok(saved) => view! {
                    <div class="note good stack tight" role="status">
                        <p class="path">{words::saved(&saved.path)}</p>
                        <p class="hash">{words::FINGERPRINT}" "{saved.fingerprint}</p>
                    </div>
                }.into_any(),
                Err(fault) => fault_note(fault, go).into_any(),
            })}
        </section>
    }
}
