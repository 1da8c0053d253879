//! A backup of everything, with one press.

use contract::BackUp;
use leptos::prelude::*;

use crate::{widgets::doing::doing, wording::evidence::backup as words};

pub(super) fn backup() -> impl IntoView {
    let make = doing::<BackUp>(|_| ());
    view! {
        <section class="card stack" aria-labelledby="backup-title">
            <h2 id="backup-title">{words::TITLE}</h2>
            <p class="quiet-text">{words::WHY}</p>
            <div class="row">
                <button type="button" class="button" id="back-up" disabled=move || make.busy()
                    on:click=move |_| make.go(BackUp {})>{words::GO}</button>
            </div>
            {make.came(words::GOING, |made| view! {
                <p class="note good path" role="status" id="backed-up">{words::made(&made.path, made.records)}</p>
            }.into_any())}
        </section>
    }
}
