//! Adds a person.

use contract::AddPerson;
use leptos::prelude::*;

use crate::{
    call::call,
    widgets::{
        field::Field,
        loaded::{fault_note, progress},
    },
    wording::facility::{create, people},
};

/// The form that adds a person; `added` runs once one is there.
pub(super) fn add(added: Callback<()>) -> impl IntoView {
    let [name, number, unit, role] = [(); 4].map(|()| RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let add = Action::new_local(|request: &AddPerson| call(request.clone()));
    Effect::new(move |_| {
        if add.value().with(|answer| matches!(answer, Some(Ok(_)))) {
            tried.set(false);
            for value in [name, number, role] {
                value.set(String::new());
            }
            added.run(());
        }
    });
    let text = |value: RwSignal<String>| value.get_untracked().trim().to_owned();
    let go = move || {
        tried.set(true);
        let request =
            AddPerson { name: text(name), number: text(number), unit: text(unit), role: text(role) };
        if ![&request.name, &request.number, &request.unit].into_iter().any(String::is_empty) {
            add.dispatch_local(request);
        }
    };
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || {
            (tried.get() && value.with(|text| text.trim().is_empty())).then_some(create::MISSING)
        })
    };
    view! {
        <form class="card stack" novalidate aria-labelledby="add-title"
            on:submit=move |event| { event.prevent_default(); go(); }>
            <h2 id="add-title">{people::ADD}</h2>
            <div class="columns">
                <Field id="new-name" label=people::NAME value=name wrong=missing(name) />
                <Field id="new-number" label=people::NUMBER value=number wrong=missing(number) />
                <Field id="new-unit" label=people::UNIT value=unit hint=people::UNIT_HINT wrong=missing(unit) />
                <Field id="new-role" label=people::ROLE value=role />
            </div>
            {move || add.value().get().map(|answer| match answer {
                Ok(person) => view! {
                    <p class="note good" role="status">{people::added(&person.name)}</p>
                }.into_any(),
                Err(fault) => fault_note(fault, Callback::new(move |()| go())).into_any(),
            })}
            <div class="row">
                <button type="submit" class="button primary" id="add"
                    disabled=move || add.pending().get()>{people::ADD_GO}</button>
                {move || add.pending().get().then(|| progress(people::ADDING))}
            </div>
        </form>
    }
}
