//! Erases a person's name, when its retention ends.

use contract::{EraseName, NameKept, PersonFile};
use leptos::prelude::*;

use crate::{
    widgets::{
        doing::doing,
        field::{Field, Kind},
    },
    wording::{evidence::authority, person::erase as words},
};

pub(super) fn erase(file: &PersonFile, changed: Callback<()>) -> AnyView {
    match file.name_kept {
        NameKept::Erased => view! { <p class="note" id="name-erased">{words::ERASED}</p> }.into_any(),
        NameKept::BelongsHere => {
            section(view! { <p class="quiet-text">{words::BELONGS_HERE}</p> }.into_any())
        }
        NameKept::MayBeErased => section(form(file.person.id.clone(), changed).into_any()),
    }
}

fn section(within: AnyView) -> AnyView {
    view! {
        <details class="card">
            <summary id="erase-open">{words::TITLE}</summary>
            <div class="stack">{within}</div>
        </details>
    }
    .into_any()
}

fn form(person: String, changed: Callback<()>) -> impl IntoView {
    let [number, passphrase] = [(); 2].map(|()| RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let erase = doing::<EraseName>(move |_file| changed.run(()));
    let go = move || {
        tried.set(true);
        let text = |value: RwSignal<String>| value.get_untracked();
        if !text(number).trim().is_empty() && !text(passphrase).is_empty() {
            erase.go(EraseName {
                person: person.clone(),
                number: text(number).trim().to_owned(),
                passphrase: text(passphrase),
            });
        }
    };
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || {
            (tried.get() && value.with(|text| text.trim().is_empty())).then_some(authority::MISSING)
        })
    };
    view! {
        <form class="stack" novalidate on:submit=move |event| { event.prevent_default(); go(); }>
            <ul class="stack tight">
                {words::WHAT_IT_MEANS.into_iter().map(|said| view! { <li>{said}</li> }).collect_view()}
            </ul>
            <div class="columns">
                <Field id="erase-number" label=words::NUMBER value=number hint=words::NUMBER_HINT
                    wrong=missing(number) />
                <Field id="erase-passphrase" label=authority::PASSPHRASE value=passphrase kind=Kind::Secret
                    wrong=missing(passphrase) />
            </div>
            {erase.in_form(words::GOING)}
            <div class="row">
                <button type="submit" class="button primary" id="erase-go"
                    disabled=move || erase.busy()>{words::GO}</button>
            </div>
        </form>
    }
}
