//! Checking a draft, deciding what it asks of people, and publishing it.

use chrono::NaiveDate;
use competency::{
    flaw::Flaw,
    procedure::{Procedure, check, compare, in_names, odd},
};
use contract::{DropDraft, Person, PublishDraft, Revalidate};
use leptos::prelude::*;

use super::bench::Bench;
use crate::{
    app::Route,
    call::call,
    widgets::{
        announcer::Announcer,
        changes,
        choice::{Choice, choices},
        field::{Field, Kind},
        loaded::{fault_note, progress},
        person_picker::PersonPicker,
    },
    wording::{facility::create, workbench as words},
};

pub(super) fn publish(bench: Bench) -> impl IntoView {
    let told = |found: Vec<Flaw>, draft: &Procedure| -> Vec<String> {
        found.into_iter().map(|flaw| in_names(&flaw.text, draft)).collect()
    };
    let flaws = bench.read(move |draft| told(check(draft), draft));
    let odds = bench.read(move |draft| told(odd(draft), draft));
    let published = StoredValue::new(bench.published());
    let differs = bench.read(move |draft| {
        published.with_value(|old| old.as_ref().is_none_or(|old| !compare(old, draft).is_empty()))
    });
    view! {
        <section class="card stack" aria-labelledby="flaws">
            <h2 id="flaws">{move || match flaws.with(Vec::len) {
                0 => words::NO_FLAW.to_owned(),
                count => format!("{}: {}", words::FLAWS, words::flaws(count)),
            }}</h2>
            {move || listed(flaws.get(), "note danger")}
            {move || (!odds.with(Vec::is_empty)).then(|| view! {
                <h3>{words::ODD}</h3>
                {listed(odds.get(), "note warning")}
            })}
        </section>
        {changes(bench)}
        {move || (flaws.with(Vec::is_empty) && differs.get()).then(|| decide(bench))}
        {drop_it(bench)}
    }
}

fn listed(said: Vec<String>, class: &'static str) -> impl IntoView {
    let each = said.into_iter().map(|text| view! { <li class=class>{text}</li> });
    view! { <ul class="stack tight">{each.collect_view()}</ul> }
}

/// What changed since the published version, what asks most first.
fn changes(bench: Bench) -> impl IntoView {
    let told = move || match bench.published() {
        None => view! { <p>{words::FIRST_VERSION}</p> }.into_any(),
        Some(published) => {
            let comparison = bench.procedure.with(|draft| compare(&published, draft));
            if comparison.is_empty() {
                view! { <p>{words::NO_CHANGE}</p> }.into_any()
            } else {
                view! { <div id="changes">{changes::changes(comparison.changes)}</div> }.into_any()
            }
        }
    };
    view! {
        <section class="card stack" aria-labelledby="changes-title">
            <h2 id="changes-title">{words::CHANGES}</h2>
            {told}
        </section>
    }
}

fn decide(bench: Bench) -> impl IntoView {
    let again = RwSignal::new(None::<bool>);
    let approver = RwSignal::new(None::<Person>);
    let [by, why, passphrase] = [(); 3].map(|()| RwSignal::new(String::new()));
    let announcer = Announcer::here();
    let tried = RwSignal::new(false);
    let publish = Action::new_local(|request: &PublishDraft| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(opened)) = publish.value().get() {
            announcer.tell(words::published(&opened.procedure.title, &opened.procedure.version));
            Route::Procedure(opened.procedure.id).go_instead();
        }
    });
    let proposal =
        bench.published().map(|old| bench.procedure.with_untracked(|draft| compare(&old, draft).proposal()));
    again.set(Some(proposal.as_ref().is_some_and(|proposal| proposal.revalidate)));
    let date = move || by.with(|text| text.trim().parse::<NaiveDate>().ok());
    let go = Callback::new(move |()| {
        tried.set(true);
        let Some(person) = approver.get_untracked() else { return };
        let revalidate = match again.get_untracked() {
            Some(true) => match date() {
                Some(by) if !why.with_untracked(|why| why.trim().is_empty()) => {
                    Some(Revalidate { by, why: why.get_untracked().trim().to_owned() })
                }
                Some(_) | None => return,
            },
            Some(false) | None => None,
        };
        if passphrase.with_untracked(String::is_empty) {
            return;
        }
        publish.dispatch_local(PublishDraft {
            draft: bench.draft(),
            approved_by: person.id,
            passphrase: passphrase.get_untracked(),
            revalidate,
        });
    });
    let wrong_date = Signal::derive(move || (tried.get() && date().is_none()).then_some(words::WRONG_DATE));
    let no_passphrase =
        Signal::derive(move || (tried.get() && passphrase.with(String::is_empty)).then_some(create::MISSING));
    let wrong_why = Signal::derive(move || {
        (tried.get() && why.with(|why| why.trim().is_empty())).then_some(words::SAY_WHY)
    });
    let options = Choice::all([
        (false, "holds-on", words::HOLDS_ON, words::HOLDS_ON_HINT),
        (true, "again", words::AGAIN, words::AGAIN_HINT),
    ]);
    let asked = proposal.map(|proposal| {
        let proposed = if proposal.revalidate { words::AGAIN } else { words::HOLDS_ON };
        view! {
            <h3>{words::DECIDE}</h3>
            <p class="note" id="proposal">{format!("{}: {proposed}. {}", words::PROPOSED, proposal.reason)}</p>
            {choices("revalidate", words::DECIDE, options, again)}
            {move || (again.get() == Some(true)).then(|| view! {
                <div class="columns">
                    <Field id="again-by" label=words::AGAIN_BY value=by hint=words::AGAIN_BY_HINT wrong=wrong_date />
                    <Field id="again-why" label=words::AGAIN_WHY value=why wrong=wrong_why />
                </div>
            })}
        }
    });
    let anybody = Callback::new(|_person: Person| None);
    view! {
        <section class="card stack" aria-labelledby="publish-title">
            <h2 id="publish-title">{words::PUBLISH_GO}</h2>
            <p class="quiet-text">{words::PUBLISH_WHY}</p>
            {asked}
            <h3>{words::APPROVED_BY}</h3>
            <PersonPicker prefix="approver" search_id="approver-search" label=words::APPROVER_SEARCH chosen=approver
                refusal=anybody />
            {move || (tried.get() && approver.with(Option::is_none)).then(|| view! {
                <p class="wrong">{words::CHOOSE_APPROVER}</p>
            })}
            <Field id="publish-passphrase" label=create::PASSPHRASE value=passphrase kind=Kind::Secret
                hint=words::PASSPHRASE_WHY wrong=no_passphrase />
            {move || publish.value().get().and_then(Result::err).map(|fault| fault_note(fault, go))}
            <div class="row">
                <button type="button" class="button primary" id="publish" on:click=move |_| go.run(())
                    disabled=move || publish.pending().get()>{words::PUBLISH_GO}</button>
                {move || publish.pending().get().then(|| progress(words::PUBLISHING))}
            </div>
        </section>
    }
}

/// Throwing away takes two presses, since nothing brings it back.
fn drop_it(bench: Bench) -> impl IntoView {
    let sure = RwSignal::new(false);
    let drop_draft = Action::new_local(|request: &DropDraft| call(request.clone()));
    Effect::new(move |_| {
        if let Some(Ok(_)) = drop_draft.value().get() {
            Route::Procedures.go_instead();
        }
    });
    let press = move |_| {
        if sure.get_untracked() {
            drop_draft.dispatch_local(DropDraft { draft: bench.draft() });
        } else {
            sure.set(true);
        }
    };
    view! {
        <div class="row">
            <button type="button" class="button plain" id="drop-draft" on:click=press>
                {move || if sure.get() { words::DROP_SURE } else { words::DROP }}</button>
        </div>
    }
}
