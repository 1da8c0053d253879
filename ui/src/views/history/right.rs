//! Puts a record right, or voids it: what, why, who says so, and their PIN.

use contract::{Change, CorrectRecord, History, ListObservers, ObserverLine, Signing};
use leptos::prelude::*;

use crate::{
    call::call,
    page,
    widgets::{
        announcer::Announcer,
        choice::{Choice, choices},
        field::{Field, Kind},
        loaded::{ask, fault_in_form, loaded, progress},
    },
    wording::{CANCEL, evidence::right as words},
};

/// What is put right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Righting {
    pub(super) entry: String,
    /// Id of the person whose record it is.
    pub(super) person: String,
    pub(super) meant: Meant,
    /// Which record, as a person says it.
    pub(super) about: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Meant {
    Record,
    Correction,
}

/// What may be chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    Void,
    Date,
    Note,
}

pub(super) fn form(
    one: Righting,
    righting: RwSignal<Option<Righting>>,
    corrected: RwSignal<Option<History>>,
) -> impl IntoView {
    let observers = ask(|| ListObservers {});
    let only_void = one.meant == Meant::Correction;
    let what = RwSignal::new(only_void.then_some(What::Void));
    let [day, text, reason, author, pin] = [(); 5].map(|()| RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let announcer = Announcer::here();
    let correct = Action::new_local(|request: &CorrectRecord| call(request.clone()));
    let correction = page::random_id();
    Effect::new(move |_| match correct.value().get() {
        Some(Ok(history)) => {
            announcer.say(words::DONE.to_owned());
            righting.set(None);
            corrected.set(Some(history));
            page::focus("title");
        }
        Some(Err(_)) => page::focus("right-pin"),
        None => {}
    });
    Effect::new(move |_| page::focus("right-title"));
    let entry = one.entry.clone();
    let go = Callback::new(move |()| {
        tried.set(true);
        let held = |value: RwSignal<String>| value.with_untracked(|text| text.trim().to_owned());
        let change = match what.get_untracked() {
            Some(What::Void) => Some(Change::Void),
            Some(What::Date) => held(day).parse().ok().map(Change::Date),
            Some(What::Note) => Some(held(text)).filter(|text| !text.is_empty()).map(Change::Note),
            None => None,
        };
        let whole = [reason, author, pin].into_iter().all(|value| !held(value).is_empty());
        if let (Some(change), true) = (change, whole) {
            correct.dispatch_local(CorrectRecord {
                correction: correction.clone(),
                entry: entry.clone(),
                change,
                reason: held(reason),
                author: held(author),
                pin: pin.get_untracked(),
            });
        }
    });
    let missing = move |value: RwSignal<String>| {
        Signal::derive(move || {
            (tried.get() && value.with(|text| text.trim().is_empty())).then_some(words::MISSING)
        })
    };
    let bad_day = Signal::derive(move || {
        let good = day.with(|day| day.trim().parse::<chrono::NaiveDate>().is_ok());
        (tried.get() && !good).then_some(words::DAY_HINT)
    });
    let no_choice = move || tried.get() && what.with(Option::is_none);
    let person = one.person;
    view! {
        <form class="card stack right" novalidate aria-labelledby="right-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="right-title" tabindex="-1">{words::TITLE}</h2>
            <p class="lead">{one.about}</p>
            <p class="quiet-text">{words::WHY}</p>
            {if only_void {
                view! { <p><strong>{words::VOID_CORRECTION}</strong></p> }.into_any()
            } else {
                choices("right-what", words::WHAT, all(), what).into_any()
            }}
            {move || no_choice().then(|| view! { <p class="wrong">{words::MISSING}</p> })}
            {move || (what.get() == Some(What::Date)).then(|| view! {
                <Field id="right-day" label=words::DAY value=day hint=words::DAY_HINT wrong=bad_day />
            })}
            {move || (what.get() == Some(What::Note)).then(|| view! {
                <Field id="right-text" label=words::TEXT value=text wrong=missing(text) />
            })}
            <Field id="right-reason" label=words::REASON value=reason wrong=missing(reason) />
            {loaded(observers, move |observers| {
                author_choice(observers.lines, &person, author, missing(author)).into_any()
            })}
            <Field id="right-pin" label=words::PIN value=pin kind=Kind::Pin wrong=missing(pin) />
            {move || correct.value().get().and_then(Result::err).map(fault_in_form)}
            <div class="row">
                <button type="submit" class="button primary" id="right-go"
                    disabled=move || correct.pending().get()>{words::GO}</button>
                <button type="button" class="button plain" on:click=move |_| righting.set(None)>{CANCEL}</button>
                {move || correct.pending().get().then(|| progress(words::GOING))}
            </div>
        </form>
    }
}

fn all() -> Vec<Choice<What>> {
    Choice::all([
        (What::Void, "right-void", words::VOID, words::VOID_HINT),
        (What::Date, "right-date", words::DATE, words::DATE_HINT),
        (What::Note, "right-note", words::NOTE, words::NOTE_HINT),
    ])
}

fn author_choice(
    lines: Vec<ObserverLine>,
    person: &str,
    author: RwSignal<String>,
    wrong: Signal<Option<&'static str>>,
) -> impl IntoView {
    let may = |line: &ObserverLine| matches!(line.signing, Signing::Here(_)) && line.person.id != person;
    let each = lines.into_iter().filter(may).map(|line| {
        let selected = author.get_untracked() == line.person.id;
        view! { <option value=line.person.id selected=selected>{line.person.name}</option> }
    });
    view! {
        <div class="field">
            <label for="right-author">{words::AUTHOR}</label>
            <select id="right-author" aria-describedby="right-author-hint"
                aria-invalid=move || wrong.get().map(|_| "true")
                on:change:target=move |event| author.set(event.target().value())>
                <option value="">{words::CHOOSE}</option>
                {each.collect_view()}
            </select>
            <p class="hint" id="right-author-hint">{words::AUTHOR_HINT}</p>
            {move || wrong.get().map(|wrong| view! { <p class="wrong">{wrong}</p> })}
        </div>
    }
}
