//! One person: whether they may go in, how they stand and why, and what is stated about them.

mod about;
mod erase;

use competency::validity::Standing;
use contract::{OpenPerson, PersonFile, RequiredBy, RosterColumn, StatedLine, SuspensionLine};
use leptos::prelude::*;

use crate::{
    app::Route,
    views::go_in::answer,
    widgets::{
        announcer::Announcer,
        loaded::{ask, loaded},
        standing::state,
        title::title,
    },
    wording::{self, facility::people, person as words, standing::history},
};

/// The page of the person of that id.
pub(crate) fn person(id: String) -> impl IntoView {
    let asked = ask(move || OpenPerson { person: id.clone() });
    let announcer = Announcer::here();
    let changed = Callback::new(move |()| {
        announcer.say(words::DONE);
        asked.refetch();
    });
    view! { <div class="stack wide">{loaded(asked, move |file| page(file, changed).into_any())}</div> }
}

fn page(file: PersonFile, changed: Callback<()>) -> impl IntoView {
    let person = &file.person;
    let under = people::line(&person.number, &person.unit_name, &person.role);
    let erased = erase::erase(&file, changed);
    let (history_of, start) = (Route::History(person.id.clone()), Route::Start(Some(person.id.clone())));
    view! {
        <div class="page-head">
            <div class="stack tight">
                {title(person.name.clone())}
                <p class="lead">{format!("{under}. {}.", wording::date(file.today))}</p>
            </div>
            <div class="row">
                <a class="button" href=history_of.href()>{words::HISTORY}</a>
                <a class="button primary" href=start.href()>{history::START}</a>
            </div>
        </div>
        {suspensions(file.suspensions.clone())}
        <div class="columns person-columns">
            <section class="stack" aria-labelledby="clearances-title">
                <h2 id="clearances-title">{words::CLEARANCES}</h2>
                <ul class="lines" id="clearances">{file.clearances.clone().into_iter().map(|(precaution, clearance)| view! {
                    <li class="line">
                        <strong>{wording::precaution(precaution)}</strong>
                        <span class="answer">{answer(clearance)}</span>
                    </li>
                }).collect_view()}</ul>
            </section>
            <section class="stack" aria-labelledby="standings-title">
                <h2 id="standings-title">{words::STANDINGS}</h2>
                {standings(file.standings.clone())}
            </section>
        </div>
        <section class="stack" aria-labelledby="stated-title">
            <h2 id="stated-title">{words::STATED}</h2>
            {stated(&file)}
        </section>
        {about::about(file, changed)}
        {erased}
    }
}

fn suspensions(held: Vec<SuspensionLine>) -> impl IntoView {
    held.into_iter().map(|one| view! { <p class="note danger" role="status">{one.text}</p> }).collect_view()
}

fn standings(all: Vec<(RosterColumn, Standing, Vec<RequiredBy>)>) -> impl IntoView {
    if all.is_empty() {
        return view! { <p class="note">{words::NO_STANDINGS}</p> }.into_any();
    }
    let each = all.into_iter().map(|(procedure, standing, required)| {
        view! {
            <li class="line">
                <strong>{procedure.title}</strong>
                <span class="said">{standing.because}</span>
                <span class="small quiet-text said">{words::required(&required)}</span>
                <span class="aside">{state(standing.state)}</span>
            </li>
        }
    });
    view! { <ul class="lines" id="standings">{each.collect_view()}</ul> }.into_any()
}

fn stated(file: &PersonFile) -> impl IntoView + use<> {
    if file.stated.is_empty() {
        return view! { <p class="note">{words::NOTHING_STATED}</p> }.into_any();
    }
    let procedures = file.procedures.clone();
    let title = move |id: &str| {
        let found = procedures.iter().find(|one| one.id == id);
        found.map_or_else(|| id.to_owned(), |one| one.title.clone())
    };
    let each = file.stated.iter().map(|line: &StatedLine| {
        let beside = words::written(&wording::short_date(line.written), line.signed_by.as_deref());
        view! {
            <li class="line">
                <strong>{wording::date(line.on)}</strong>
                <span class="said">{words::stated(&line.what, &title)}</span>
                <span class="aside small">{beside}</span>
            </li>
        }
    });
    view! { <ul class="lines" id="stated">{each.collect_view()}</ul> }.into_any()
}
