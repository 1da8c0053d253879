//! One person's history: how they stand, and every record.

use competency::{
    report::{Outcome, Severity},
    validity::Standing,
};
use contract::{History, HistoryLine, OpenHistory, RosterColumn, ShowRecord};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    widgets::{
        loaded::{ask, fault_note, loaded},
        standing::state,
        title::title,
    },
    wording::{self, facility::people, outcome as outcome_words, standing::history as words},
};

/// The history of the person of that id.
pub(crate) fn history(person: String) -> impl IntoView {
    let asked = ask(move || OpenHistory { person: person.clone(), as_of: None });
    view! { <div class="stack wide">{loaded(asked, |history| page(history).into_any())}</div> }
}

fn page(history: History) -> impl IntoView {
    let History { person, as_of, standings, demonstrations } = history;
    let under = people::line(&person.number, &person.unit_name, &person.role);
    view! {
        <div class="page-head">
            <div class="stack tight">
                {title(person.name)}
                <p class="lead">{format!("{under}. {} {}.", wording::standing::roster::AS_OF, wording::date(as_of))}</p>
            </div>
            <a class="button primary" href=Route::Start(Some(person.id)).href()>{words::START}</a>
        </div>
        <section class="stack" aria-labelledby="standings-title">
            <h2 id="standings-title">{words::STANDINGS}</h2>
            {standing_list(standings)}
        </section>
        <section class="stack" aria-labelledby="records-title">
            <h2 id="records-title">{words::RECORDS}</h2>
            {records(demonstrations)}
        </section>
    }
}

fn standing_list(standings: Vec<(RosterColumn, Standing)>) -> impl IntoView {
    if standings.is_empty() {
        return view! { <p class="note">{words::NO_STANDINGS}</p> }.into_any();
    }
    let each = standings.into_iter().map(|(procedure, standing)| {
        view! {
            <li class="line">
                <strong>{procedure.title}</strong>
                <span class="quiet-text">{standing.because}</span>
                <span class="aside">{state(standing.state)}</span>
            </li>
        }
    });
    view! { <ul class="lines" id="standings">{each.collect_view()}</ul> }.into_any()
}

fn records(lines: Vec<HistoryLine>) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{words::NO_RECORDS}</p> }.into_any();
    }
    view! { <ol class="stack" id="records">{lines.into_iter().map(record).collect_view()}</ol> }.into_any()
}

fn record(line: HistoryLine) -> impl IntoView {
    let show = Action::new_local(|record: &String| call(ShowRecord { record: record.clone() }));
    let class = match line.outcome {
        Outcome::Competent => "outcome good",
        Outcome::NotYetCompetent => "outcome danger",
        Outcome::NotAssessed => "outcome",
    };
    let about = format!(
        "{} · {} · {} · {}",
        wording::facility::procedures::version(&line.version),
        wording::purpose(line.purpose),
        wording::mode(line.mode),
        words::observed_by(&line.observer)
    );
    let until = match (line.valid_until, line.ended_on) {
        (None, _) => words::GRANTED_NOTHING.to_owned(),
        (Some(_), Some(ended)) => words::ended(&wording::date(ended)),
        (Some(date), None) => format!("{} {}", outcome_words::sign::UNTIL, wording::date(date)),
    };
    let count = line.findings.len();
    let findings = line.findings.into_iter().map(|(severity, text)| {
        let critical = severity == Severity::Critical;
        view! { <li><span class="tag" class:tag-danger=critical>{wording::severity(severity)}</span>" "{text}</li> }
    });
    let findings = if count == 0 {
        view! { <p class="quiet-text">{words::NO_FINDINGS}</p> }.into_any()
    } else {
        view! {
            <details>
                <summary>{words::findings(count)}</summary>
                <ul class="stack tight">{findings.collect_view()}</ul>
            </details>
        }
        .into_any()
    };
    let on = wording::date(line.on);
    let name = words::open_name(&line.procedure, &on);
    let id = line.record;
    let button_id = format!("record-{id}");
    let open = Callback::new(move |()| {
        show.dispatch_local(id.clone());
    });
    view! {
        <li class="card stack record">
            <div class="row apart">
                <div>
                    <h3>{line.procedure}</h3>
                    <p>{on}</p>
                    <p class="quiet-text">{about}</p>
                </div>
                <button type="button" class="button" id=button_id aria-label=name
                    disabled=move || show.pending().get() on:click=move |_| open.run(())>{words::OPEN}</button>
            </div>
            <p class="row">
                <strong class=class>{wording::outcome(line.outcome)}</strong>
                <span>{outcome_words::review::headline(line.steps_well, line.steps_counted)}</span>
                <span>{until}</span>
            </p>
            {findings}
            {move || show.value().get().map(|answer| match answer {
                Ok(shown) => view! {
                    <p class="note good path" role="status">{outcome_words::opened(&shown.path, shown.opened)}</p>
                }.into_any(),
                Err(fault) => fault_note(fault, open).into_any(),
            })}
            <p class="small quiet-text hash">{format!("{} {}", words::DIGEST, line.digest)}</p>
        </li>
    }
}
