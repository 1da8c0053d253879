//! Who may do what: people against procedures, as of any date and as known on any date.

mod findings;
mod matrix;

use chrono::NaiveDate;
use competency::validity::State;
use contract::{OpenHome, OpenRoster, OpenRosterPage, RosterFormat, RosterPage, RosterSort, SaveRoster};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    views::go_in::unit_options,
    widgets::{
        date::{date_field, read},
        doing::doing,
        field::{Field, Kind},
        loaded::{ask, loaded},
        places::places,
        scrolled::PORTION,
        select::select,
        title::title,
    },
    wording::{self, manager, standing::roster},
};

/// What is asked for, field by field.
#[derive(Debug, Clone, Copy)]
struct Asked {
    unit: RwSignal<String>,
    as_of: RwSignal<String>,
    known_at: RwSignal<String>,
    search: RwSignal<String>,
    state: RwSignal<String>,
    sort: RwSignal<String>,
}

impl Asked {
    fn new() -> Asked {
        let empty = || RwSignal::new(String::new());
        Asked {
            unit: empty(),
            as_of: empty(),
            known_at: empty(),
            search: empty(),
            state: empty(),
            sort: empty(),
        }
    }

    /// The unit, and both dates; while what stands in a field is no date, the last good one.
    fn roster(self, dates: [Memo<Option<NaiveDate>>; 2]) -> OpenRoster {
        let [as_of, known_at] = dates.map(|date| date.get());
        OpenRoster { unit: self.unit.with(|unit| (!unit.is_empty()).then(|| unit.clone())), as_of, known_at }
    }

    fn page(self, dates: [Memo<Option<NaiveDate>>; 2]) -> OpenRosterPage {
        let state = self.state.with(|at| at.parse::<usize>().ok().and_then(|at| State::ALL.get(at).copied()));
        OpenRosterPage {
            roster: self.roster(dates),
            search: self.search.get(),
            state,
            sort: match self.sort.get().as_str() {
                "unit" => RosterSort::Unit,
                "role" => RosterSort::Role,
                "runs-out" => RosterSort::RunsOut,
                _ => RosterSort::Name,
            },
            first: 0,
            most: PORTION,
        }
    }
}

/// The date in a field, or the last good one.
fn good(text: RwSignal<String>) -> Memo<Option<NaiveDate>> {
    Memo::new(move |last: Option<&Option<NaiveDate>>| {
        text.with(|text| read(text)).unwrap_or_else(|()| last.copied().flatten())
    })
}

#[component]
pub(crate) fn RosterView() -> impl IntoView {
    let wanted = Asked::new();
    let dates = [good(wanted.as_of), good(wanted.known_at)];
    let units = ask(|| OpenHome {});
    // What was asked comes with its answer: the rest of the rows is asked for in the same way.
    let asked = LocalResource::new(move || {
        let request = wanted.page(dates);
        async move { Ok((call(request.clone()).await?, request)) }
    });
    view! {
        <div class="stack wide">
            {title(roster::TITLE)}
            {places(&Route::Roster)}
            <div class="columns roster-choice">
                {loaded(units, move |home| {
                    let units = home.facility.map(|facility| facility.units).unwrap_or_default();
                    select("roster-unit", roster::UNIT, unit_options(units), wanted.unit).into_any()
                })}
                {date_field("roster-as-of", roster::AS_OF, wanted.as_of, roster::AS_OF_HINT)}
                {date_field("roster-known-at", roster::KNOWN_AT, wanted.known_at, roster::KNOWN_AT_HINT)}
                <Field id="roster-search" label=roster::SEARCH value=wanted.search kind=Kind::Search />
                {select("roster-state", roster::ONLY, states(), wanted.state)}
                {select("roster-sort", roster::SORT, sorts(), wanted.sort)}
            </div>
            {loaded(asked, move |(page, request): (RosterPage, OpenRosterPage)| {
                let again = Callback::new(move |()| asked.refetch());
                matrix::matrix(page, &request, again).into_any()
            })}
            {save(wanted, dates)}
            {findings::findings(wanted.unit, dates[0])}
        </div>
    }
}

fn states() -> Vec<(String, String)> {
    let every = (String::new(), roster::EVERY_STATE.to_owned());
    let states = State::ALL.into_iter().enumerate();
    std::iter::once(every).chain(states.map(|(at, state)| (at.to_string(), wording::state(state)))).collect()
}

fn sorts() -> Vec<(String, String)> {
    let all = [
        ("", roster::BY_NAME),
        ("unit", roster::BY_UNIT),
        ("role", roster::BY_ROLE),
        ("runs-out", roster::BY_RUNS_OUT),
    ];
    all.map(|(value, name)| (value.to_owned(), name.to_owned())).into()
}

fn save(wanted: Asked, dates: [Memo<Option<NaiveDate>>; 2]) -> impl IntoView {
    let save = doing::<SaveRoster>(|_| ());
    let formats = [
        (RosterFormat::Csv, "save-roster-csv", roster::CSV),
        (RosterFormat::Xlsx, "save-roster-xlsx", roster::XLSX),
        (RosterFormat::Pdf, "save-roster-pdf", roster::PDF),
        (RosterFormat::Json, "save-roster-json", roster::JSON),
    ];
    let buttons = formats.map(|(format, id, name)| {
        let go = move |_| save.go(SaveRoster { roster: untrack(|| wanted.roster(dates)), format });
        view! { <button type="button" class="button" id=id disabled=move || save.busy() on:click=go>{name}</button> }
    });
    view! {
        <section class="stack tight" aria-labelledby="save-title">
            <h2 id="save-title">{roster::SAVE}</h2>
            <p class="quiet-text">{manager::ROSTER_SAVED_WHOLE}</p>
            <div class="row">{buttons.into_iter().collect_view()}</div>
            {save.saved()}
        </section>
    }
}
