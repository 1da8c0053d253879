//! The first start: a new facility with its first unit and observer, one that is joined, or one that is restored.

mod keep;
mod restore;

use contract::CreateFacility;
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    widgets::{
        choice::{Choice, choices},
        field::{Field, Kind},
        loaded::{fault_in_form, progress},
        mark::DoorMark,
        title::title,
    },
    wording::{NAME, evidence::verify, facility::create},
};

/// What was typed.
#[derive(Debug, Clone, Copy)]
struct Entry {
    name: RwSignal<String>,
    unit: RwSignal<String>,
    observer_name: RwSignal<String>,
    observer_number: RwSignal<String>,
    observer_role: RwSignal<String>,
    evidence: RwSignal<String>,
    passphrase: RwSignal<String>,
    passphrase_again: RwSignal<String>,
    pin: RwSignal<String>,
    pin_again: RwSignal<String>,
}

impl Entry {
    fn new() -> Entry {
        let empty = || RwSignal::new(String::new());
        Entry {
            name: empty(),
            unit: empty(),
            observer_name: empty(),
            observer_number: empty(),
            observer_role: empty(),
            evidence: empty(),
            passphrase: empty(),
            passphrase_again: empty(),
            pin: empty(),
            pin_again: empty(),
        }
    }

    fn all(self) -> [RwSignal<String>; 10] {
        [
            self.name,
            self.unit,
            self.observer_name,
            self.observer_number,
            self.observer_role,
            self.evidence,
            self.passphrase,
            self.passphrase_again,
            self.pin,
            self.pin_again,
        ]
    }

    fn complete(self) -> bool {
        self.all().iter().all(|value| !value.with(|text| text.trim().is_empty()))
            && !self.pins_differ()
            && !self.passphrases_differ()
    }

    fn pins_differ(self) -> bool {
        self.pin.get() != self.pin_again.get()
    }

    fn passphrases_differ(self) -> bool {
        self.passphrase.get() != self.passphrase_again.get()
    }

    fn request(self) -> CreateFacility {
        let text = |value: RwSignal<String>| value.get_untracked().trim().to_owned();
        CreateFacility {
            name: text(self.name),
            unit: text(self.unit),
            zone: None,
            observer_name: text(self.observer_name),
            observer_number: text(self.observer_number),
            observer_role: text(self.observer_role),
            evidence: text(self.evidence),
            passphrase: self.passphrase.get_untracked(),
            pin: self.pin.get_untracked(),
        }
    }
}

/// How a device begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Create,
    Join,
    Restore,
}

#[component]
pub(crate) fn Create() -> impl IntoView {
    let way = RwSignal::new(None::<Way>);
    // It outlives the form, whose own signals go with it.
    let passphrase = RwSignal::new(String::new());
    let created = RwSignal::new(false);
    let done = Callback::new(move |typed: String| {
        passphrase.set(typed);
        created.set(true);
    });
    move || if created.get() { keep::keep(passphrase).into_any() } else { ways(way, done).into_any() }
}

/// The choice, and below it what was chosen.
fn ways(way: RwSignal<Option<Way>>, done: Callback<String>) -> impl IntoView {
    view! {
        <div class="stack wide create">
            <p class="brand"><DoorMark />{NAME}</p>
            <div class="stack tight">
                {title(create::TITLE)}
                <p class="lead">{create::LEAD}</p>
            </div>
            {choices("way", create::WAY, all_ways(), way)}
            {move || way.get().map(|way| match way {
                Way::Create => new_facility(done).into_any(),
                Way::Join => restore::join().into_any(),
                Way::Restore => restore::restore().into_any(),
            })}
            <div class="row">
                <a class="button plain" id="to-verify" href=Route::Verify.href()>{verify::TITLE}</a>
            </div>
        </div>
    }
}

fn all_ways() -> Vec<Choice<Way>> {
    Choice::all([
        (Way::Create, "way-create", create::WAY_CREATE, create::WAY_CREATE_HINT),
        (Way::Join, "way-join", create::WAY_JOIN, create::WAY_JOIN_HINT),
        (Way::Restore, "way-restore", create::WAY_RESTORE, create::WAY_RESTORE_HINT),
    ])
}

/// The form of a new facility; once it is there, `done` gets the passphrase for the recovery sheet.
fn new_facility(done: Callback<String>) -> impl IntoView {
    let entry = Entry::new();
    let tried = RwSignal::new(false);
    let create = Action::new_local(move |request: &CreateFacility| call(request.clone()));
    let go = move || {
        tried.set(true);
        if entry.complete() {
            create.dispatch_local(entry.request());
        }
    };
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || {
            (tried.get() && value.with(|text| text.trim().is_empty())).then_some(create::MISSING)
        })
    };
    let again = Signal::derive(move || {
        if tried.get() && entry.pins_differ() {
            Some(create::PIN_DIFFERS)
        } else {
            missing(entry.pin_again).get()
        }
    });
    let passphrase_again = Signal::derive(move || {
        if tried.get() && entry.passphrases_differ() {
            Some(create::PASSPHRASE_DIFFERS)
        } else {
            missing(entry.passphrase_again).get()
        }
    });
    Effect::new(move |_| {
        if create.value().with(|answer| matches!(answer, Some(Ok(_)))) {
            done.run(entry.passphrase.get_untracked());
        }
    });
    view! {
        <form class="stack wide" novalidate on:submit=move |event| { event.prevent_default(); go(); }>
            <p>{create::CREATE_LEAD}</p>
            <fieldset class="card stack">
                <legend><h2>{create::PLACE}</h2></legend>
                <div class="columns">
                    <Field id="facility-name" label=create::NAME value=entry.name wrong=missing(entry.name) />
                    <Field id="facility-unit" label=create::UNIT value=entry.unit hint=create::UNIT_HINT
                        wrong=missing(entry.unit) />
                </div>
            </fieldset>
            <fieldset class="card stack">
                <legend><h2>{create::OBSERVER}</h2></legend>
                <p class="quiet-text">{create::OBSERVER_WHY}</p>
                <div class="columns">
                    <Field id="observer-name" label=create::OBSERVER_NAME value=entry.observer_name
                        wrong=missing(entry.observer_name) />
                    <Field id="observer-number" label=create::OBSERVER_NUMBER value=entry.observer_number
                        wrong=missing(entry.observer_number) />
                    <Field id="observer-role" label=create::OBSERVER_ROLE value=entry.observer_role
                        wrong=missing(entry.observer_role) />
                    <Field id="observer-evidence" label=create::EVIDENCE value=entry.evidence
                        hint=create::EVIDENCE_HINT wrong=missing(entry.evidence) />
                </div>
            </fieldset>
            <fieldset class="card stack">
                <legend><h2>{create::SECRETS}</h2></legend>
                <p class="quiet-text">{create::SECRETS_WHY}</p>
                <div class="columns">
                    <Field id="passphrase" label=create::PASSPHRASE value=entry.passphrase kind=Kind::Secret
                        hint=create::PASSPHRASE_HINT wrong=missing(entry.passphrase) />
                    <Field id="passphrase-again" label=create::PASSPHRASE_AGAIN value=entry.passphrase_again
                        kind=Kind::Secret wrong=passphrase_again />
                    <Field id="pin" label=create::PIN value=entry.pin kind=Kind::Pin hint=create::PIN_HINT
                        wrong=missing(entry.pin) />
                    <Field id="pin-again" label=create::PIN_AGAIN value=entry.pin_again kind=Kind::Pin wrong=again />
                </div>
            </fieldset>
            {move || create.value().get().and_then(Result::err).map(fault_in_form)}
            <div class="row">
                <button type="submit" class="button primary large" id="create"
                    disabled=move || create.pending().get()>{create::GO}</button>
                {move || create.pending().get().then(|| progress(create::GOING))}
            </div>
        </form>
    }
}
