//! One person's history as of any date: how they stand, and every record.

mod record;
mod right;
mod save;

use chrono::NaiveDate;
use competency::validity::Standing;
use contract::{History, HistoryLine, OpenHistory, RosterColumn};
use leptos::prelude::*;

use crate::{
    app::Route,
    widgets::{
        field::Field,
        loaded::{ask, loaded},
        standing::state,
        title::title,
    },
    wording::{self, evidence::history as own, facility::people, standing::history as words},
};

/// The history of the person of that id.
pub(crate) fn history(person: String) -> impl IntoView {
    let as_of = RwSignal::new(String::new());
    // `Err` while what stands in the field is no date; the history shown stays the last good one.
    let wanted = Memo::new(move |_| read_date(&as_of.get()));
    let good = Memo::new(move |last: Option<&Option<NaiveDate>>| match wanted.get() {
        Ok(date) => date,
        Err(()) => last.copied().flatten(),
    });
    let wrong = Signal::derive(move || wanted.get().is_err().then_some(own::BAD_DATE));
    // What a correction answered, until another date is asked for.
    let corrected = RwSignal::new(None::<History>);
    let asked = ask(move || {
        corrected.set(None);
        OpenHistory { person: person.clone(), as_of: good.get() }
    });
    let righting = RwSignal::new(None::<right::Righting>);
    view! {
        <div class="stack wide">
            {loaded(asked, move |history| {
                view! {
                    {move || page(corrected.get().unwrap_or_else(|| history.clone()), as_of, wrong, righting)}
                    {move || righting.get().map(|one| right::form(one, righting, corrected))}
                }
                .into_any()
            })}
        </div>
    }
}

fn read_date(text: &str) -> Result<Option<NaiveDate>, ()> {
    match text.trim() {
        "" => Ok(None),
        date => date.parse().map(Some).map_err(|_not_a_date| ()),
    }
}

fn page(
    history: History,
    as_of_text: RwSignal<String>,
    wrong: Signal<Option<&'static str>>,
    righting: RwSignal<Option<right::Righting>>,
) -> impl IntoView {
    let History { person, as_of, facility: _, standings, demonstrations } = history;
    let records = records(demonstrations, &person.id, righting).into_any();
    let save = save::save(person.id.clone(), as_of).into_any();
    let under = people::line(&person.number, &person.unit_name, &person.role);
    view! {
        <div class="page-head">
            <div class="stack tight">
                {title(person.name)}
                <p class="lead">{format!("{under}. {} {}.", wording::standing::roster::AS_OF, wording::date(as_of))}</p>
            </div>
            <a class="button primary" href=Route::Start(Some(person.id.clone())).href()>{words::START}</a>
        </div>
        <Field id="history-as-of" label=own::AS_OF value=as_of_text hint=own::AS_OF_HINT wrong=wrong />
        <section class="stack" aria-labelledby="standings-title">
            <h2 id="standings-title">{words::STANDINGS}</h2>
            {standing_list(standings)}
        </section>
        <section class="stack" aria-labelledby="records-title">
            <h2 id="records-title">{words::RECORDS}</h2>
            {records}
        </section>
        {save}
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

fn records(
    lines: Vec<HistoryLine>,
    person: &str,
    righting: RwSignal<Option<right::Righting>>,
) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{words::NO_RECORDS}</p> }.into_any();
    }
    let seconding = RwSignal::new(None::<String>);
    let each = lines.into_iter().map(|line| record::record(line, person.to_owned(), righting, seconding));
    view! { <ol class="stack" id="records">{each.collect_view()}</ol> }.into_any()
}
