//! A backup of everything, with one press.

use contract::BackUp;
use leptos::prelude::*;

use crate::{
    call::call,
    widgets::loaded::{fault_note, progress},
    wording::evidence::backup as words,
};

pub(super) fn backup() -> impl IntoView {
    let make = Action::new_local(|request: &BackUp| call(request.clone()));
    let go = Callback::new(move |()| {
        make.dispatch_local(BackUp {});
    });
    view! {
        <section class="card stack" aria-labelledby="backup-title">
            <h2 id="backup-title">{words::TITLE}</h2>
            <p class="quiet-text">{words::WHY}</p>
            <div class="row">
                <button type="button" class="button" id="back-up" disabled=move || make.pending().get()
                    on:click=move |_| go.run(())>{words::GO}</button>
                {move || make.pending().get().then(|| progress(words::GOING))}
            </div>
            {move || make.value().get().map(|answer| match answer {
                Ok(made) => view! {
                    <p class="note good path" role="status" id="backed-up">{words::made(&made.path, made.records)}</p>
                }.into_any(),
                Err(fault) => fault_note(fault, go).into_any(),
            })}
        </section>
    }
}
