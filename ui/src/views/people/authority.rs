//! The facility's authority: its certificate, its recovery sheet, another key, other devices.

use contract::{
    AnswerJoinRequest, ReadJoinRequest, RemoveRecoverySheet, RollAuthorityOver, SaveAuthority,
    SaveRecoverySheet, SaveTrustPage, grouped,
};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    call::call,
    page,
    widgets::{
        doing::doing,
        field::{Field, Kind},
        loaded::{fault_in_form, progress},
    },
    wording::{WAITING, evidence::authority as words, facility::authority as certificate, outcome::opened},
};

pub(super) fn authority() -> impl IntoView {
    let rolled = Trigger::new();
    view! {
        <section class="card stack" aria-labelledby="authority-title">
            <h2 id="authority-title">{certificate::TITLE}</h2>
            <p class="quiet-text">{certificate::WHY}</p>
            {trust(rolled)}
            {recovery()}
            {roll(rolled)}
            {join()}
        </section>
    }
}

/// Saves the certificate, and shows the fingerprint that a reader compares; or prints how to trust it.
/// What was told before the key was rolled over is taken away, so that nobody reads out the fingerprint of another one.
fn trust(rolled: Trigger) -> impl IntoView {
    let save = doing::<SaveAuthority>(|_| ());
    let print = doing::<SaveTrustPage>(|_| ());
    Effect::new(move |_| {
        rolled.track();
        save.forget();
        print.forget();
    });
    view! {
        <div class="row">
            <button type="button" class="button" id="save-authority" disabled=move || save.busy()
                on:click=move |_| save.go(SaveAuthority {})>{certificate::SAVE}</button>
            <button type="button" class="button" id="trust" disabled=move || print.busy()
                on:click=move |_| print.go(SaveTrustPage {})>{words::TRUST}</button>
        </div>
        {save.came(WAITING, |saved| view! {
            <div class="note good stack tight" role="status">
                <p class="path">{certificate::saved(&saved.path)}</p>
                <p>{certificate::FINGERPRINT}</p>
                <p class="fingerprint">{grouped(&saved.fingerprint)}</p>
            </div>
        }.into_any())}
        {print.came(words::PRINTING, |shown| view! {
            <p class="note good path" role="status">{opened(&shown.path, shown.opened)}</p>
        }.into_any())}
    }
}

fn recovery() -> impl IntoView {
    let passphrase = RwSignal::new(String::new());
    view! {
        <details>
            <summary>{words::RECOVERY}</summary>
            <div class="stack">
                <p class="quiet-text">{words::RECOVERY_WHY}</p>
                <Field id="recovery-passphrase" label=words::PASSPHRASE value=passphrase kind=Kind::Secret />
                {sheet(passphrase, "button")}
            </div>
        </details>
    }
}

/// Makes the recovery sheet with a passphrase that was typed, and removes the file once it is printed. The passphrase
/// is forgotten once the sheet is there.
pub(crate) fn sheet(passphrase: RwSignal<String>, class: &'static str) -> impl IntoView {
    let print = doing::<SaveRecoverySheet>(move |_| passphrase.set(String::new()));
    Effect::new(move |_| {
        if print.answer().is_some() {
            print.forget();
        }
    });
    let remove = doing::<RemoveRecoverySheet>(|_| ());
    let empty = move || passphrase.with(String::is_empty);
    let go = move |_| print.go(SaveRecoverySheet { passphrase: passphrase.get_untracked() });
    view! {
        <div class="row">
            <button type="button" class=class id="recovery"
                disabled=move || print.busy() || empty() on:click=go>{words::PRINT}</button>
        </div>
        {print.came(words::PRINTING, move |shown| view! {
            <div class="note good stack tight" role="status">
                <p class="path">{opened(&shown.path, shown.opened)}</p>
                <div class="row">
                    <button type="button" class="button" id="recovery-remove" disabled=move || remove.busy()
                        on:click=move |_| remove.go(RemoveRecoverySheet {})>{words::REMOVE}</button>
                </div>
            </div>
        }.into_any())}
        {remove.came(WAITING, |_removed| view! {
            <p class="note good" role="status" id="recovery-removed">{words::REMOVED}</p>
        }.into_any())}
    }
}

fn roll(rolled: Trigger) -> impl IntoView {
    let [old, new, again, reason] = [(); 4].map(|()| RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let roll = Action::new_local(|request: &RollAuthorityOver| call(request.clone()));
    Effect::new(move |_| {
        if roll.value().with(|answer| matches!(answer, Some(Ok(_)))) {
            for field in [old, new, again, reason] {
                field.set(String::new());
            }
            tried.set(false);
            rolled.notify();
        }
    });
    let go = Callback::new(move |()| {
        tried.set(true);
        let whole =
            [old, new, reason].iter().all(|value| !value.with_untracked(|text| text.trim().is_empty()));
        if whole && new.get_untracked() == again.get_untracked() {
            roll.dispatch_local(RollAuthorityOver {
                passphrase: old.get_untracked(),
                new_passphrase: new.get_untracked(),
                reason: reason.get_untracked().trim().to_owned(),
            });
        }
    });
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || {
            (tried.get() && value.with(|text| text.trim().is_empty())).then_some(words::MISSING)
        })
    };
    let differs = Signal::derive(move || {
        (tried.get() && new.get() != again.get())
            .then_some(crate::wording::facility::create::PASSPHRASE_DIFFERS)
    });
    view! {
        <details>
            <summary id="roll-open">{words::ROLL}</summary>
            <form class="stack" novalidate on:submit=move |event| { event.prevent_default(); go.run(()); }>
                <p class="quiet-text">{words::ROLL_WHY}</p>
                <div class="columns">
                    <Field id="roll-old" label=words::ROLL_OLD value=old kind=Kind::Secret wrong=missing(old) />
                    <Field id="roll-reason" label=words::ROLL_REASON value=reason wrong=missing(reason) />
                    <Field id="roll-new" label=words::ROLL_NEW value=new kind=Kind::Secret wrong=missing(new) />
                    <Field id="roll-again" label=words::ROLL_AGAIN value=again kind=Kind::Secret wrong=differs />
                </div>
                {move || roll.value().get().map(|answer| match answer {
                    Ok(saved) => view! {
                        <div class="note good stack tight" role="status" id="rolled">
                            <p>{words::ROLLED}</p>
                            <p class="fingerprint">{grouped(&saved.fingerprint)}</p>
                            <p class="path">{words::saved(&saved.path)}</p>
                        </div>
                    }.into_any(),
                    Err(fault) => fault_in_form(fault).into_any(),
                })}
                <div class="row">
                    <button type="submit" class="button primary" id="roll"
                        disabled=move || roll.pending().get()>{words::ROLL_GO}</button>
                    {move || roll.pending().get().then(|| progress(words::ROLLING))}
                </div>
            </form>
        </details>
    }
}

fn join() -> impl IntoView {
    let request = RwSignal::new(String::new());
    let passphrase = RwSignal::new(String::new());
    let tried = RwSignal::new(false);
    let answer = Action::new_local(|request: &AnswerJoinRequest| call(request.clone()));
    let read = doing::<ReadJoinRequest>(|_| ());
    let bring = move |event: leptos::ev::Event| {
        let Some(file) = page::chosen_file(&event) else { return };
        answer.value().set(None);
        spawn_local(async move {
            if let Some(text) = page::text_of(&file).await {
                request.set(text.clone());
                read.go(ReadJoinRequest { request: text });
            }
        });
    };
    Effect::new(move |_| {
        if answer.value().with(|answer| matches!(answer, Some(Ok(_)))) {
            passphrase.set(String::new());
            request.set(String::new());
            page::clear("join-file");
            tried.set(false);
        }
    });
    let go = Callback::new(move |()| {
        tried.set(true);
        if !request.with_untracked(String::is_empty) && !passphrase.with_untracked(String::is_empty) {
            answer.dispatch_local(AnswerJoinRequest {
                request: request.get_untracked(),
                passphrase: passphrase.get_untracked(),
            });
        }
    });
    let missing =
        Signal::derive(move || (tried.get() && passphrase.with(String::is_empty)).then_some(words::MISSING));
    let no_file = move || tried.get() && request.with(String::is_empty);
    view! {
        <details>
            <summary id="join-open">{words::JOIN}</summary>
            <form class="stack" novalidate on:submit=move |event| { event.prevent_default(); go.run(()); }>
                <p class="quiet-text">{words::JOIN_WHY}</p>
                <div class="columns">
                    <div class="field">
                        <label for="join-file">{words::JOIN_FILE}</label>
                        <input id="join-file" type="file" accept=".json,application/json" on:change=bring />
                        {move || no_file().then(|| view! { <p class="wrong">{words::MISSING}</p> })}
                    </div>
                    <Field id="join-passphrase" label=words::PASSPHRASE value=passphrase kind=Kind::Secret
                        wrong=missing />
                </div>
                {read.in_form(WAITING)}
                {move || (!request.with(String::is_empty)).then(|| read.answer()).flatten().map(|read| view! {
                    <div class="note stack tight" role="status" id="join-asks">
                        <p>{words::JOIN_COMPARE}</p>
                        <p class="fingerprint">{grouped(&read.fingerprint)}</p>
                    </div>
                })}
                {move || answer.value().get().map(|answer| match answer {
                    Ok(shown) => view! {
                        <p class="note good path" role="status" id="join-answered">{words::saved(&shown.path)}</p>
                    }.into_any(),
                    Err(fault) => fault_in_form(fault).into_any(),
                })}
                <div class="row">
                    <button type="submit" class="button primary" id="join"
                        disabled=move || answer.pending().get()>{words::JOIN_GO}</button>
                    {move || answer.pending().get().then(|| progress(words::JOINING))}
                </div>
            </form>
        </details>
    }
}
