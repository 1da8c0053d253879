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
        date::{last_good, looked_at},
        doing::doing,
        field::{Field, Kind},
        loaded::{ask, loaded},
        places::places,
        scrolled::PORTION,
        select::select,
        title::title,
    },
    wording::{self, manager, standing::roster as words},
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
    fn new(state: Option<State>) -> Asked {
        let at = state.and_then(|state| State::ALL.into_iter().position(|one| one == state));
        let empty = || RwSignal::new(String::new());
        Asked {
            unit: empty(),
            as_of: empty(),
            known_at: empty(),
            search: empty(),
            state: RwSignal::new(at.map(|at| at.to_string()).unwrap_or_default()),
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

/// The roster, at first only of those with something in this state where one is given.
pub(crate) fn roster(state: Option<State>) -> impl IntoView {
    let wanted = Asked::new(state);
    let dates = [last_good(wanted.as_of), last_good(wanted.known_at)];
    let [as_of, known_at] = dates;
    let units = ask(|| OpenHome {});
    // What was asked comes with its answer: the rest of the rows is asked for in the same way.
    let asked = LocalResource::new(move || {
        let request = wanted.page(dates);
        async move { Ok((call(request.clone()).await?, request)) }
    });
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            {places(&Route::Roster(None))}
            <div class="columns roster-choice">
                {loaded(units, move |home| {
                    let units = home.facility.map(|facility| facility.units).unwrap_or_default();
                    select("roster-unit", words::UNIT, unit_options(units), wanted.unit).into_any()
                })}
                {looked_at("roster-as-of", words::AS_OF, wanted.as_of, words::AS_OF_HINT, as_of, wording::TODAY)}
                {looked_at("roster-known-at", words::KNOWN_AT, wanted.known_at, words::KNOWN_AT_HINT, known_at, wording::TODAY)}
                <Field id="roster-search" label=words::SEARCH value=wanted.search kind=Kind::Search />
                {select("roster-state", words::ONLY, states(), wanted.state)}
                {select("roster-sort", words::SORT, sorts(), wanted.sort)}
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
    let every = (String::new(), words::EVERY_STATE.to_owned());
    let states = State::ALL.into_iter().enumerate();
    std::iter::once(every).chain(states.map(|(at, state)| (at.to_string(), wording::state(state)))).collect()
}

fn sorts() -> Vec<(String, String)> {
    let all = [
        ("", words::BY_NAME),
        ("unit", words::BY_UNIT),
        ("role", words::BY_ROLE),
        ("runs-out", words::BY_RUNS_OUT),
    ];
    all.map(|(value, name)| (value.to_owned(), name.to_owned())).into()
}

fn save(wanted: Asked, dates: [Memo<Option<NaiveDate>>; 2]) -> impl IntoView {
    let save = doing::<SaveRoster>(|_| ());
    let formats = [
        (RosterFormat::Csv, "save-roster-csv", words::CSV),
        (RosterFormat::Xlsx, "save-roster-xlsx", words::XLSX),
        (RosterFormat::Pdf, "save-roster-pdf", words::PDF),
        (RosterFormat::Json, "save-roster-json", words::JSON),
    ];
    let buttons = formats.map(|(format, id, name)| {
        let go = move |_| save.go(SaveRoster { roster: untrack(|| wanted.roster(dates)), format });
        view! { <button type="button" class="button" id=id disabled=move || save.busy() on:click=go>{name}</button> }
    });
    view! {
        <section class="stack tight" aria-labelledby="save-title">
            <h2 id="save-title">{words::SAVE}</h2>
            <p class="quiet-text">{manager::ROSTER_SAVED_WHOLE}</p>
            <div class="row">{buttons.into_iter().collect_view()}</div>
            {save.saved()}
        </section>
    }
}
