//! One record of a history: what came of it, observation by observation, and what was put right since.

use chrono::NaiveDate;
use competency::report::{Outcome, Severity};
use contract::{Amended, Amendment, Countersigned, HistoryLine, ShowRecord};
use leptos::prelude::*;

use super::right::{Meant, Righting};
use crate::{
    views::sign::second::second,
    widgets::doing::doing,
    wording::{
        self, WAITING,
        evidence::{history as own, right as words, second as words_of_second},
        outcome as outcome_words,
        standing::history,
    },
};

pub(super) fn record(
    line: HistoryLine,
    person: String,
    righting: RwSignal<Option<Righting>>,
    // Of all records only one shows the form of the second signature.
    seconding: RwSignal<Option<String>>,
) -> impl IntoView {
    let show = doing::<ShowRecord>(|_| ());
    let class = match line.outcome {
        Outcome::Competent if line.counts => "outcome good",
        Outcome::NotYetCompetent if line.counts => "outcome danger",
        Outcome::Competent | Outcome::NotYetCompetent | Outcome::NotAssessed => "outcome",
    };
    let about = format!(
        "{} · {} · {}",
        wording::facility::procedures::version(&line.version),
        wording::purpose(line.purpose),
        wording::mode(line.mode),
    );
    let observer = own::observer(&line.observer, line.observer_then.0, &line.observer_then.1);
    let until = match (line.valid_until, line.ended_on) {
        (None, _) => history::GRANTED_NOTHING.to_owned(),
        (Some(_), Some(ended)) => history::ended(&wording::date(ended)),
        (Some(date), None) => format!("{} {}", outcome_words::sign::UNTIL, wording::date(date)),
    };
    let until = if line.counts { until } else { words::NO_LONGER.to_owned() };
    let on = wording::date(line.on);
    let name = history::open_name(&line.procedure, &on);
    let id = line.record.clone();
    let button_id = format!("record-{id}");
    let open = move |_| show.go(ShowRecord { record: id.clone() });
    let of_second = line.record.clone();
    let meant = Righting {
        entry: line.entry.clone(),
        person: person.clone(),
        meant: Meant::Record,
        about: format!("{}, {on}", line.procedure),
    };
    let right_id = format!("right-{}", line.entry);
    let right = line.counts.then(|| {
        view! {
            <div class="row">
                <button type="button" class="button" id=right_id
                    on:click=move |_| righting.set(Some(meant.clone()))>{words::OPEN}</button>
            </div>
        }
    });
    let amended =
        amendments(line.amendments, &format!("{}, {on}", line.procedure), &person, righting).into_any();
    view! {
        <li class="card stack record" class:void=!line.counts>
            <div class="row apart">
                <div>
                    <h3>{line.procedure.clone()}</h3>
                    <p>{words::carried_out(&wording::date(line.sealed_on), &on)}</p>
                    <p class="quiet-text">{about}</p>
                    <p class="quiet-text">{observer}</p>
                </div>
                <button type="button" class="button" id=button_id aria-label=name
                    disabled=move || show.busy() on:click=open>{history::OPEN}</button>
            </div>
            <p class="row">
                <strong class=class>{wording::outcome(line.outcome)}</strong>
                <span>{outcome_words::review::headline(line.steps_well, line.steps_counted)}</span>
                <strong class:void-word=!line.counts>{until}</strong>
            </p>
            {line.disputed.then(|| view! { <p class="note warning">{words::DISPUTED}</p> })}
            {amended}
            {findings(line.findings)}
            {observations(line.observations)}
            {second_signature(line.second, line.counts, of_second, seconding)}
            {show.came(WAITING, |shown| view! {
                <p class="note good path" role="status">{outcome_words::opened(&shown.path, shown.opened)}</p>
            }.into_any())}
            {right}
            <p class="small quiet-text hash">{format!("{} {}", history::DIGEST, line.digest)}</p>
        </li>
    }
}

fn amendments(
    all: Vec<Amendment>,
    about: &str,
    person: &str,
    righting: RwSignal<Option<Righting>>,
) -> impl IntoView {
    let each = all.into_iter().map(|amendment| {
        let correction = match amendment.what {
            Amended::Date { .. } | Amended::Note(_) => amendment.counts,
            Amended::Voided | Amended::NotAccepted => false,
        };
        let meant = Righting {
            entry: amendment.entry.clone(),
            person: person.to_owned(),
            meant: Meant::Correction,
            about: about.to_owned(),
        };
        let void_id = format!("right-{}", amendment.entry);
        let void = correction.then(|| {
            view! {
                <div class="row">
                    <button type="button" class="button" id=void_id
                        on:click=move |_| righting.set(Some(meant.clone()))>{words::VOID_CORRECTION}</button>
                </div>
            }
        });
        view! { <li class="note stack tight amended"><p>{words::amended(&amendment)}</p>{void}</li> }
    });
    let each: Vec<_> = each.collect();
    (!each.is_empty()).then(|| view! { <ul class="stack tight">{each}</ul> })
}

fn findings(all: Vec<(Severity, String)>) -> impl IntoView {
    let count = all.len();
    if count == 0 {
        return view! { <p class="quiet-text">{history::NO_FINDINGS}</p> }.into_any();
    }
    let each = all.into_iter().map(|(severity, text)| {
        let critical = severity == Severity::Critical;
        view! { <li><span class="tag" class:tag-danger=critical>{wording::severity(severity)}</span>" "{text}</li> }
    });
    view! {
        <details>
            <summary>{history::findings(count)}</summary>
            <ul class="stack tight">{each.collect_view()}</ul>
        </details>
    }
    .into_any()
}

fn second_signature(
    there: Option<(bool, NaiveDate)>,
    counts: bool,
    record: String,
    seconding: RwSignal<Option<String>>,
) -> impl IntoView {
    if let Some((declined, on)) = there {
        return view! { <p>{words_of_second::on(declined, on)}</p> }.into_any();
    }
    if !counts {
        return ().into_any();
    }
    let done = RwSignal::new(None::<Countersigned>);
    let signed = Callback::new(move |answer| done.set(Some(answer)));
    let button_id = format!("second-{record}");
    let open = StoredValue::new(record.clone());
    let press = move |_| seconding.set(Some(open.get_value()));
    view! {
        {move || match (done.get(), seconding.with(|open| open.as_ref() == Some(&record))) {
            (Some(done), _) => view! {
                <p class="note good path" role="status">{words_of_second::done(done.declined, &done.path)}</p>
            }.into_any(),
            (None, true) => second(record.clone(), signed).into_any(),
            (None, false) => view! {
                <div class="row">
                    <button type="button" class="button" id=button_id.clone() on:click=press>
                        {words_of_second::ADD}</button>
                </div>
            }.into_any(),
        }}
    }
    .into_any()
}

fn observations(all: Vec<(String, String)>) -> impl IntoView {
    let count = all.len();
    if count == 0 {
        return view! { <p class="quiet-text">{own::NO_OBSERVATIONS}</p> }.into_any();
    }
    let each = all.into_iter().map(|(time, what)| {
        view! { <li class="observed"><span class="quiet-text">{time}</span><span>{what}</span></li> }
    });
    view! {
        <details>
            <summary>{own::observations(count)}</summary>
            <ol class="stack tight">{each.collect_view()}</ol>
        </details>
    }
    .into_any()
}
