//! One person's history as of any date: how they stand, and every record.

mod record;
mod right;
mod save;

use chrono::NaiveDate;
use competency::{sentence, validity::Standing};
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
    let (as_of, known_at) = (Asked::new(), Asked::new());
    let to_start = person.clone();
    // What a correction answered, until another date is asked for.
    let corrected = RwSignal::new(None::<History>);
    let asked = ask(move || {
        corrected.set(None);
        OpenHistory { person: person.clone(), as_of: as_of.good.get(), known_at: known_at.good.get() }
    });
    // The heading takes the focus when it comes, so another date must not bring another one.
    let name = Memo::new(move |last: Option<&Option<String>>| {
        let now = asked.get().and_then(Result::ok).map(|history| history.person.name);
        now.or_else(|| last.cloned().flatten())
    });
    let righting = RwSignal::new(None::<right::Righting>);
    let shown = move |history: History| corrected.get().unwrap_or(history);
    view! {
        <div class="stack wide">
            <div class="page-head">
                <div class="stack tight">
                    {move || name.get().map(title)}
                    {move || asked.get().and_then(Result::ok).map(|history| under(&shown(history)))}
                </div>
                <a class="button primary" href=Route::Start(Some(to_start)).href()>{words::START}</a>
            </div>
            <div class="columns">
                <Field id="history-as-of" label=own::AS_OF value=as_of.text hint=own::AS_OF_HINT wrong=as_of.wrong />
                <Field id="history-known-at" label=own::KNOWN_AT value=known_at.text hint=own::KNOWN_AT_HINT
                    wrong=known_at.wrong />
            </div>
            {loaded(asked, move |history| {
                view! {
                    {move || page(shown(history.clone()), known_at.good, righting)}
                    {move || righting.get().map(|one| right::form(one, righting, corrected))}
                }
                .into_any()
            })}
        </div>
    }
}

/// A date that is asked for.
#[derive(Debug, Clone, Copy)]
struct Asked {
    text: RwSignal<String>,
    /// While what stands in the field is no date, the last good one: the history shown stays.
    good: Memo<Option<NaiveDate>>,
    wrong: Signal<Option<&'static str>>,
}

impl Asked {
    fn new() -> Asked {
        let text = RwSignal::new(String::new());
        let wanted = Memo::new(move |_| read_date(&text.get()));
        let good = Memo::new(move |last: Option<&Option<NaiveDate>>| match wanted.get() {
            Ok(date) => date,
            Err(()) => last.copied().flatten(),
        });
        let wrong = Signal::derive(move || wanted.get().is_err().then_some(own::BAD_DATE));
        Asked { text, good, wrong }
    }
}

fn read_date(text: &str) -> Result<Option<NaiveDate>, ()> {
    match text.trim() {
        "" => Ok(None),
        date => date.parse().map(Some).map_err(|_not_a_date| ()),
    }
}

/// Who it is, and for which dates it speaks.
fn under(history: &History) -> impl IntoView + use<> {
    let person = &history.person;
    let under = people::line(&person.number, &person.unit_name, &person.role);
    let times = own::as_of(&wording::date(history.as_of), &wording::date(history.known_at));
    view! { <p class="lead">{format!("{under}. {times}.")}</p> }
}

fn page(
    history: History,
    known_at: Memo<Option<NaiveDate>>,
    righting: RwSignal<Option<right::Righting>>,
) -> impl IntoView {
    let History { person, as_of, standings, demonstrations, ahead, .. } = history;
    let records = records(demonstrations, ahead, &person.id, righting).into_any();
    let save = save::save(person.id, as_of, known_at).into_any();
    view! {
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
    ahead: Option<(u32, NaiveDate)>,
    person: &str,
    righting: RwSignal<Option<right::Righting>>,
) -> impl IntoView {
    let ahead = ahead.map(|(count, latest)| {
        view! { <p class="note warning" id="ahead">{sentence::ahead(count, latest)}</p> }
    });
    if lines.is_empty() {
        let none = ahead.is_none().then(|| view! { <p class="note">{words::NO_RECORDS}</p> });
        return view! { {ahead} {none} }.into_any();
    }
    let seconding = RwSignal::new(None::<String>);
    let each = lines.into_iter().map(|line| record::record(line, person.to_owned(), righting, seconding));
    view! { {ahead} <ol class="stack" id="records">{each.collect_view()}</ol> }.into_any()
}
