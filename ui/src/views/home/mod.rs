//! Today: what is unfinished, what falls due, how the facility stands, or what to do first.

mod again;
mod aside;
mod backup;
mod notices;

use competency::{sentence::CAUTIONS, validity::State};
use contract::{Due, Home as Reply, OpenHome, ReminderForm, SaveReminders, Unfinished};
use leptos::prelude::*;

use crate::{
    app::Route,
    pictures,
    widgets::{
        doing::doing,
        loaded::{ask, loaded},
        standing::state,
        title::title,
    },
    wording::{self, facility::home, manager::reminders},
};

pub(crate) use notices::provide;

/// How far ahead reminders look, in days: a quarter, the first of the usual notices.
const REMIND_WITHIN: u32 = 90;

#[component]
pub(crate) fn Home() -> impl IntoView {
    let asked = ask(|| OpenHome {});
    // On a first start there is nothing to show but how to begin.
    Effect::new(move |_| {
        let empty = asked.with(|answer| matches!(answer, Some(Ok(home)) if home.facility.is_none()));
        if empty {
            Route::Create.go_instead();
        }
    });
    view! {
        <div class="stack wide">
            <div class="page-head">
                {title(home::TITLE)}
                <a class="button primary large" id="start" href=Route::Start(None).href()>{home::START}</a>
            </div>
            {loaded(asked, |home| page(home).into_any())}
        </div>
    }
}

fn page(home: Reply) -> impl IntoView {
    let where_and_when = home.facility.as_ref().map(|facility| {
        view! { <p class="lead"><bdi>{facility.name.clone()}</bdi>", "{wording::date(home.today)}</p> }
    });
    let empty =
        home.people < 2 || home.counts.iter().all(|(_, count)| *count == 0) && home.unfinished.is_empty();
    let load = home.due_load.clone();
    view! {
        {where_and_when}
        {(!home.set_aside.is_empty()).then(|| aside::aside(home.set_aside))}
        {(!home.unfinished.is_empty()).then(|| unfinished(home.unfinished))}
        {(!home.watch_again.is_empty()).then(|| again::again(home.watch_again))}
        {empty.then(first)}
        {(!empty).then(|| view! {
            <div class="columns home-columns">
                <div class="stack">
                    {due(home.due)}
                    {lacking(&home.counts)}
                    {remind()}
                </div>
                {counts(home.counts)}
            </div>
            <section class="card stack" aria-labelledby="load">
                <h2 id="load">{home::LOAD}</h2>
                <div class="picture-frame" inner_html=pictures::due_load(&load, 880.0)></div>
            </section>
        })}
        {notices::notices()}
        {backup::backup()}
        <p class="note small">{cautions()}</p>
    }
}

fn unfinished(all: Vec<Unfinished>) -> impl IntoView {
    let each = all.into_iter().map(|one| {
        let Unfinished { demonstration, person, procedure, begun, lines, ended, settled } = one;
        let (route, word) = match (ended, settled) {
            (true, true) => (Route::Review(demonstration), home::REVIEW_AND_SIGN),
            (true, false) => (Route::Settle(demonstration), home::REVIEW_AND_SIGN),
            (false, _) => (Route::Live(demonstration), home::GO_ON),
        };
        let lines = usize::try_from(lines).unwrap_or(usize::MAX);
        view! {
            <li><a class="line" href=route.href()>
                <strong>{format!("{person}: {procedure}")}</strong>
                <span class="quiet-text">{home::begun(&begun, lines, ended)}</span>
                <span class="aside"><span class="button primary">{word}</span></span>
            </a></li>
        }
    });
    view! {
        <section class="stack tight" aria-labelledby="unfinished">
            <h2 id="unfinished">{home::UNFINISHED}</h2>
            <p class="quiet-text">{home::UNFINISHED_HINT}</p>
            <ul class="lines unfinished">{each.collect_view()}</ul>
        </section>
    }
}

fn first() -> impl IntoView {
    let steps = [
        (Route::People, home::FIRST_PEOPLE, home::FIRST_PEOPLE_WHY),
        (Route::Procedures, home::FIRST_PROCEDURES, home::FIRST_PROCEDURES_WHY),
        (Route::Start(None), home::FIRST_START, home::FIRST_START_WHY),
    ];
    let each = steps.into_iter().enumerate().map(|(index, (route, what, why))| {
        view! {
            <li><a class="first" href=route.href()>
                <span class="first-number" aria-hidden="true">{index + 1}</span>
                <strong>{what}</strong>
                <span class="quiet-text">{why}</span>
            </a></li>
        }
    });
    view! {
        <section class="stack" aria-labelledby="first">
            <h2 id="first">{home::FIRST}</h2>
            <ol class="columns first-steps">{each.collect_view()}</ol>
        </section>
    }
}

fn due(all: Vec<Due>) -> impl IntoView {
    let none = all.is_empty().then(|| view! { <p class="quiet-text">{home::NOTHING_DUE}</p> });
    let each = all.into_iter().map(|due| {
        view! {
            <li><a class="line" href=Route::History(due.person).href()>
                <strong>{due.name}</strong>
                <span class="quiet-text">{format!("{} · {}", due.procedure, due.unit)}</span>
                {due.reminded.map(|on| view! {
                    <span class="small quiet-text">{reminders::reminded(&wording::short_date(on))}</span>
                })}
                <span class="aside stack tight">
                    {state(due.state)}
                    <span class="small">{wording::short_date(due.valid_until)}</span>
                </span>
            </a></li>
        }
    });
    let list = none.is_none().then(|| view! { <ul class="lines">{each.collect_view()}</ul> });
    view! {
        <section class="stack" aria-labelledby="due">
            <h2 id="due">{home::DUE}</h2>
            {none}
            {list}
        </section>
    }
}

/// Who is required to hold something and never did, or does no more: nothing of theirs runs out, so that no date tells.
fn lacking(counts: &[(State, u32)]) -> Option<impl IntoView + use<>> {
    let lines: Vec<_> = counts
        .iter()
        .filter(|(which, count)| which.lacks() && *count > 0)
        .map(|(which, count)| {
            view! {
                <li><a class="line" href=Route::Roster(Some(*which)).href()>
                    <strong>{home::lacking(*count)}</strong>
                    <span class="quiet-text">{home::LACKING_SHOW}</span>
                    <span class="aside">{state(*which)}</span>
                </a></li>
            }
        })
        .collect();
    (!lines.is_empty()).then(|| {
        view! {
            <section class="stack" aria-labelledby="lacking">
                <h2 id="lacking">{home::LACKING}</h2>
                <ul class="lines" id="who-lacks">{lines}</ul>
            </section>
        }
    })
}

/// Reminders in the forms in which they leave.
fn remind() -> impl IntoView {
    let save = doing::<SaveReminders>(|_| ());
    let forms = [
        (ReminderForm::Calendar, "save-reminders", reminders::CALENDAR),
        (ReminderForm::Table, "save-reminders-table", reminders::TABLE),
        (ReminderForm::Notice, "save-notices", reminders::NOTICES),
    ];
    let buttons = forms.map(|(form, id, name)| {
        let go = move |_| save.go(SaveReminders { within_days: REMIND_WITHIN, form });
        view! { <button type="button" class="button" id=id disabled=move || save.busy() on:click=go>{name}</button> }
    });
    view! {
        <section class="stack tight" aria-labelledby="remind">
            <h2 id="remind">{reminders::TITLE}</h2>
            <p class="quiet-text small">{reminders::WHY}</p>
            <div class="row">{buttons.into_iter().collect_view()}</div>
            {save.saved()}
        </section>
    }
}

fn counts(all: Vec<(State, u32)>) -> impl IntoView {
    let each = all.into_iter().map(|(which, count)| {
        view! {
            <div class="count">
                <dt>{state(which)}</dt>
                <dd>{count}</dd>
            </div>
        }
    });
    view! {
        <section class="stack" aria-labelledby="counts">
            <h2 id="counts">{home::COUNTS}</h2>
            <dl class="counts">{each.collect_view()}</dl>
            <div class="row"><a class="button" href=Route::Roster(None).href()>{wording::standing::roster::TITLE}</a></div>
        </section>
    }
}

/// No record stands here, so the first one speaks of any.
fn cautions() -> String {
    let others = CAUTIONS.into_iter().skip(1);
    std::iter::once(home::RECORD_SHOWS).chain(others).collect::<Vec<_>>().join(" ")
}
