//! The matrix: one row a person, one column a procedure, totals on top.

use competency::validity::{Standing, State};
use contract::{
    ColumnTotal, OpenRosterPage, PutRight, Roster, RosterGroup, RosterPage, RosterRow, RosterSort,
};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    widgets::{
        scrolled::{Scrolled, Shape},
        standing::state,
    },
    wording::{self, standing::roster},
};

/// How tall a row may be before one was seen, in CSS pixels.
const ROW: u32 = 76;

/// The rows of a table before the first person: the procedures, and how many stand how.
const HEAD: u32 = 2;

/// Shows what was asked for; the rows that did not come with it are asked for in the same way, and where others are
/// found meanwhile `again` asks for everything.
pub(super) fn matrix(answer: RosterPage, asked: &OpenRosterPage, again: Callback<()>) -> impl IntoView {
    let RosterPage { roster, found, totals, groups } = answer;
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
    let titles = roster.procedures.iter().map(|one| view! { <th scope="col">{one.title.clone()}</th> });
    let columns = roster.procedures.len();
    let lines = HEAD.saturating_add(found).saturating_add(u32::try_from(groups.len()).unwrap_or_default());
    let (question, sort) = (asked.clone(), asked.sort);
    let list = Scrolled::new(Shape::Table(columns + 1), found, &roster.rows, ROW, move |first, most| {
        let part = OpenRosterPage { first, most, ..question.clone() };
        Box::pin(async move {
            let page = call(part).await?;
            if page.found != found {
                // Whoever asked may have gone meanwhile.
                let _asked_again = again.try_run(());
            }
            Ok(page.roster.rows)
        })
    });
    let table = view! {
        <table id="roster" aria-rowcount=lines style:min-width=roster::width(columns)>
            <caption id="roster-caption">{caption}</caption>
            <thead>
                <tr aria-rowindex="1"><th scope="col">{roster::PERSON}</th>{titles.collect_view()}</tr>
                <tr class="totals" aria-rowindex="2">
                    <th scope="row">{roster::TOTALS}</th>
                    {totals.into_iter().map(total).collect_view()}
                </tr>
            </thead>
            {list.rows(move |number, one| numbered(number, one, &groups, columns, sort).into_any())}
        </table>
    };
    view! {
        {incomplete}
        <p class="lead" role="status">{roster::found(found)}</p>
        // A wide roster scrolls sideways, and what scrolls must be reachable by keyboard.
        {list.frame("roster-caption", table)}
        <p class="note small" id="roster-covers">{covers}</p>
    }
    .into_any()
}

/// A row by its number among the people found; the first of a group has the group's heading above it.
fn numbered(
    number: u32,
    one: RosterRow,
    groups: &[RosterGroup],
    columns: usize,
    sort: RosterSort,
) -> impl IntoView + use<> {
    let headings = groups.partition_point(|group| group.first <= number);
    let line = HEAD + 1 + number + u32::try_from(headings).unwrap_or_default();
    let begins = groups.iter().find(|group| group.first == number).map(|group| {
        let heading = roster::group(&group.name, group.people);
        view! {
            <tr class="group-row" aria-rowindex=line - 1>
                <th scope="rowgroup" colspan=columns + 1><span class="group-name">{heading}</span></th>
            </tr>
        }
    });
    view! { {begins}{row(one, line, sort)} }
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

fn row(row: RosterRow, line: u32, sort: RosterSort) -> impl IntoView {
    // What the heading of the group says is not said again.
    let (unit, role) = match sort {
        RosterSort::Name | RosterSort::RunsOut => (row.person.unit_name.as_str(), row.person.role.as_str()),
        RosterSort::Unit => ("", row.person.role.as_str()),
        RosterSort::Role => (row.person.unit_name.as_str(), ""),
    };
    let under = wording::facility::people::line(&row.person.number, unit, role);
    let history = Route::History(row.person.id.clone()).href();
    let put_right = row.put_right.into_iter().chain(std::iter::repeat(None));
    let cells = row.standings.into_iter().zip(put_right);
    let cells = cells.map(|(standing, put_right)| cell(standing, put_right, history.clone())).collect_view();
    view! {
        <tr aria-rowindex=line>
            <th scope="row">
                <a href=Route::Person(row.person.id).href()>{row.person.name}</a>
                <span class="small quiet-text under" title=under.clone()>{under.clone()}</span>
            </th>
            {cells}
        </tr>
    }
}

/// A state, which one tap follows to its evidence.
fn cell(standing: Standing, put_right: Option<PutRight>, history: String) -> impl IntoView {
    let day = standing.valid_until.map(wording::short_date);
    let when = match standing.state {
        State::Current | State::DueSoon => day.map(|day| roster::until(&day)),
        State::Suspended => standing.suspended_since.map(|since| roster::since(&wording::short_date(since))),
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
