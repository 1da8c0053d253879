//! Appoints a person as an observer, on evidence from outside.

use contract::{AppointObserver, Person};
use leptos::prelude::*;

use crate::{
    call::call,
    page,
    widgets::{
        announcer::Announcer,
        field::{Field, Kind},
        loaded::{fault_in_form, progress},
    },
    wording::{
        CANCEL,
        facility::{create, people},
    },
};

/// The form that appoints a person; it closes itself once that is done.
pub(super) fn appoint(
    person: Person,
    open: RwSignal<Option<Person>>,
    appointed: Callback<()>,
) -> impl IntoView {
    let [evidence, passphrase, pin, pin_again] = [(); 4].map(|()| RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let announcer = Announcer::here();
    let appoint = Action::new_local(|request: &AppointObserver| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(person)) = appoint.value().get() {
            announcer.say(people::appointed(&person.name));
            open.set(None);
            appointed.run(());
            page::focus("title");
        }
    });
    // The form stands above the list, so the focus goes to it.
    Effect::new(move |_| page::focus("appoint-evidence"));

    let id = person.id.clone();
    let go = Callback::new(move |()| {
        tried.set(true);
        let whole = [evidence, passphrase, pin].iter().all(|value| !value.with_untracked(String::is_empty));
        if whole && pin.get_untracked() == pin_again.get_untracked() {
            appoint.dispatch_local(AppointObserver {
                person: id.clone(),
                evidence: evidence.get_untracked().trim().to_owned(),
                passphrase: passphrase.get_untracked(),
                pin: pin.get_untracked(),
            });
        }
    });
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || (tried.get() && value.with(String::is_empty)).then_some(create::MISSING))
    };
    let differs =
        Signal::derive(move || (tried.get() && pin.get() != pin_again.get()).then_some(create::PIN_DIFFERS));
    view! {
        <form class="card stack appoint" novalidate aria-labelledby="appoint-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="appoint-title">{people::appoint_title(&person.name)}</h2>
            <div class="columns">
                <Field id="appoint-evidence" label=create::EVIDENCE value=evidence hint=create::EVIDENCE_HINT
                    wrong=missing(evidence) />
                <Field id="appoint-passphrase" label=create::PASSPHRASE value=passphrase kind=Kind::Secret
                    wrong=missing(passphrase) />
                <Field id="appoint-pin" label=create::PIN value=pin kind=Kind::Pin hint=create::PIN_HINT
                    wrong=missing(pin) />
                <Field id="appoint-pin-again" label=create::PIN_AGAIN value=pin_again kind=Kind::Pin wrong=differs />
            </div>
            {move || appoint.value().get().and_then(Result::err).map(fault_in_form)}
            <div class="row">
                <button type="submit" class="button primary" id="appoint"
                    disabled=move || appoint.pending().get()>{people::APPOINT_GO}</button>
                <button type="button" class="button plain" on:click=move |_| open.set(None)>{CANCEL}</button>
                {move || appoint.pending().get().then(|| progress(people::APPOINTING))}
            </div>
        </form>
    }
}
