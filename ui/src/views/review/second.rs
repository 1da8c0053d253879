//! Another observer's own log of the same demonstration, from a replay.

use contract::{BeginDemonstration, Person, Review, SecondLog};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    page,
    widgets::{
        loaded::{fault_note, progress},
        person_picker::PersonPicker,
    },
    wording::{self, beside::second as words},
};

pub(super) fn second(review: &Review) -> impl IntoView + use<> {
    let opened = &review.demonstration;
    let logs = review.second_logs.iter().map(log).collect_view();
    let observer = RwSignal::new(None::<Person>);
    let begin = Action::new_local(|request: &BeginDemonstration| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(begun)) = begin.value().get() {
            page::go(&Route::Live(begun.demonstration).href());
        }
    });
    let request = BeginDemonstration {
        // Named anew below; the same press twice begins one log.
        demonstration: page::random_id(),
        person: opened.person_id.clone(),
        observer: String::new(),
        assistant: None,
        procedure: opened.procedure.id.clone(),
        version: opened.procedure.version.clone(),
        purpose: opened.purpose,
        mode: opened.mode,
        conditions: opened.conditions.clone(),
        paper_form: None,
        second_of: Some(opened.demonstration.clone()),
    };
    let go = Callback::new(move |()| {
        if let Some(person) = observer.get_untracked() {
            begin.dispatch_local(BeginDemonstration { observer: person.id, ..request.clone() });
        }
    });
    let wearer = opened.person_id.clone();
    let refusal = Callback::new(move |person: Person| {
        let may = person.observes && person.id != wearer;
        (!may).then_some(wording::door::start::NO_CERTIFICATE)
    });
    view! {
        <details class="card" id="second">
            <summary>{words::TITLE}</summary>
            <div class="stack">
                <p>{words::LEAD}</p>
                <ul class="points" id="second-logs">{logs}</ul>
                <PersonPicker prefix="second" search_id="second-search" label=words::WHO chosen=observer refusal=refusal />
                {move || begin.value().get().and_then(Result::err).map(|fault| fault_note(fault, go))}
                <div class="row">
                    <button type="button" class="button" id="begin-second"
                        disabled=move || observer.with(Option::is_none) || begin.pending().get()
                        on:click=move |_| go.run(())>{words::GO}</button>
                    {move || begin.pending().get().then(|| progress(wording::door::start::GOING))}
                </div>
            </div>
        </details>
    }
}

fn log(log: &SecondLog) -> impl IntoView + use<> {
    let said = words::log(&log.observer, &wording::date(log.on), log.observations);
    let on = (!log.ended).then(|| {
        let href = Route::Live(log.demonstration.clone()).href();
        view! { " "<a href=href>{words::NOT_ENDED}</a> }
    });
    view! { <li>{said}{on}</li> }
}
