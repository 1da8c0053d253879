//! The matrix: one row a person, one column a procedure, totals on top.

use competency::validity::{Standing, State};
use contract::{ColumnTotal, PutRight, Roster, RosterPage, RosterRow};
use leptos::prelude::*;

use super::PAGE;
use crate::{
    app::Route,
    page,
    widgets::standing::state,
    wording::{self, standing::roster},
};

pub(super) fn matrix(answer: RosterPage, first: RwSignal<u32>, sort: RwSignal<String>) -> impl IntoView {
    let RosterPage { roster, found, totals } = answer;
    let incomplete = (roster.unknown_entries > 0).then(|| {
        view! { <p class="note warning">{roster::incomplete(roster.unknown_entries)}</p> }
    });
    if roster.procedures.is_empty() {
        return view! { {incomplete}<p class="note">{roster::NO_PROCEDURES}</p> }.into_any();
    }
    if roster.rows.is_empty() {
        let said = if roster.standings == 0 { roster::NOBODY } else { roster::NO_MATCH };
        return view! { {incomplete}<p class="note">{said}</p> }.into_any();
    }
    let covers = roster::rests(&roster.covers, roster.rules);
    let caption = caption(&roster);
    let columns = roster.procedures.iter().map(|one| view! { <th scope="col">{one.title.clone()}</th> });
    let columns = columns.collect_view();
    let width = roster.procedures.len() + 1;
    // In the order of units each unit has a heading of its own.
    let by_unit = sort.with_untracked(|sort| sort == "unit");
    let mut last_unit = None;
    let rows = roster.rows.into_iter().map(|one| {
        let unit = one.person.unit_name.clone();
        let begins = by_unit && last_unit.replace(unit.clone()).as_ref() != Some(&unit);
        let heading = begins.then(|| {
            view! { <tr class="unit-row"><th scope="rowgroup" colspan=width>{unit}</th></tr> }
        });
        view! { {heading} {row(one)} }
    });
    let rows = rows.collect_view();
    view! {
        {incomplete}
        <p class="lead" role="status">{roster::found(found)}</p>
        // A wide roster scrolls sideways, and what scrolls must be reachable by keyboard.
        <div class="table-frame" tabindex="0" role="region" aria-labelledby="roster-caption">
            <table id="roster">
                <caption id="roster-caption">{caption}</caption>
                <thead>
                    <tr><th scope="col">{roster::PERSON}</th>{columns}</tr>
                    <tr class="totals">
                        <th scope="row">{roster::TOTALS}</th>
                        {totals.into_iter().map(total).collect_view()}
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
        {pages(found, first)}
        <p class="note small" id="roster-covers">{covers}</p>
    }
    .into_any()
}

fn caption(roster: &Roster) -> String {
    let of = roster.unit.as_ref().unwrap_or(&roster.facility);
    let known = roster.known_at.map(wording::date);
    roster::caption(of, &wording::date(roster.as_of), known.as_deref())
}

/// Counts first; the share only with its interval.
fn total(total: ColumnTotal) -> impl IntoView {
    let counts = total.counts.into_iter().map(|(which, count)| {
        view! { <span class="total">{state(which)}" "{count}</span> }
    });
    let hold =
        total.hold.map(|share| view! { <span class="small under">{roster::hold(&share.words())}</span> });
    view! { <td>{counts.collect_view()}{hold}</td> }
}

fn row(row: RosterRow) -> impl IntoView {
    let under = wording::facility::people::line(&row.person.number, &row.person.unit_name, &row.person.role);
    let history = Route::History(row.person.id.clone()).href();
    let put_right = row.put_right.into_iter().chain(std::iter::repeat(None));
    let cells = row.standings.into_iter().zip(put_right);
    let cells = cells.map(|(standing, put_right)| cell(standing, put_right, history.clone())).collect_view();
    view! {
        <tr>
            <th scope="row">
                <a href=Route::Person(row.person.id).href()>{row.person.name}</a>
                <span class="small quiet-text under">{under}</span>
            </th>
            {cells}
        </tr>
    }
}

/// A state, which one tap follows to its evidence.
fn cell(standing: Standing, put_right: Option<PutRight>, history: String) -> impl IntoView {
    let day = standing.valid_until.map(wording::short_date);
    let when = match standing.state {
        State::Current | State::DueSoon | State::Suspended => day.map(|day| roster::until(&day)),
        State::Overdue => day.map(|day| roster::ran_out(&day)),
        State::NotYetCompetent => standing.decided_on.map(wording::short_date),
        State::NeverValidated | State::NotRequired => None,
    };
    let class = match standing.state {
        State::Current => "cell-good",
        State::DueSoon => "cell-warning",
        State::Overdue | State::NotYetCompetent | State::Suspended => "cell-danger",
        State::NeverValidated | State::NotRequired => "cell-quiet",
    };
    view! {
        <td class=class>
            <a class="evidence" href=history title=standing.because>
                {state(standing.state)}
                {when.map(|when| view! { <span class="small under">{when}</span> })}
                {put_right.map(|what| view! { <span class="small under put-right">{what.words()}</span> })}
            </a>
        </td>
    }
}

fn pages(found: u32, first: RwSignal<u32>) -> impl IntoView {
    let from = first.get_untracked();
    let to = found.min(from.saturating_add(PAGE));
    let turn = move |to: u32| {
        first.set(to);
        page::focus("title");
    };
    (found > PAGE).then(|| {
        view! {
            <div class="row" id="roster-pages">
                <button type="button" class="button" id="page-back" disabled=move || from == 0
                    on:click=move |_| turn(from.saturating_sub(PAGE))>{roster::BACK}</button>
                <p>{roster::page(from + 1, to, found)}</p>
                <button type="button" class="button" id="page-on" disabled=move || to >= found
                    on:click=move |_| turn(to)>{roster::ON}</button>
            </div>
        }
    })
}
