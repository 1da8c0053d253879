//! Who may do what: people against procedures, as of any date.

use chrono::NaiveDate;
use competency::validity::{Standing, State};
use contract::{OpenHome, OpenRoster, Roster, SaveRoster, Unit};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    widgets::{
        field::Field,
        loaded::{ask, fault_note, loaded, progress},
        standing::state,
        title::title,
    },
    wording::{self, outcome, standing::roster},
};

#[component]
pub(crate) fn RosterView() -> impl IntoView {
    let unit = RwSignal::new(None::<String>);
    let as_of = RwSignal::new(String::new());
    // `Err` while what stands in the field is no date; the roster shown stays the last good one.
    let wanted = Memo::new(move |_| read_date(&as_of.get()));
    let good = Memo::new(move |last: Option<&Option<NaiveDate>>| match wanted.get() {
        Ok(date) => date,
        Err(()) => last.copied().flatten(),
    });
    let wrong = Signal::derive(move || wanted.get().is_err().then_some(roster::BAD_DATE));
    let units = ask(|| OpenHome {});
    let asked = ask(move || OpenRoster { unit: unit.get(), as_of: good.get(), known_at: None });
    let save = Action::new_local(move |(): &()| {
        call(SaveRoster { unit: unit.get_untracked(), as_of: good.get_untracked() })
    });
    view! {
        <div class="stack wide">
            <div class="page-head">
                {title(roster::TITLE)}
                <button type="button" class="button" id="save-roster" disabled=move || save.pending().get()
                    on:click=move |_| { save.dispatch_local(()); }>{roster::SAVE}</button>
            </div>
            {move || save.pending().get().then(|| progress(wording::WAITING))}
            {move || save.value().get().map(|answer| match answer {
                Ok(shown) => view! {
                    <p class="note good" role="status">{outcome::opened(&shown.path, shown.opened)}</p>
                }.into_any(),
                Err(fault) => {
                    let again = Callback::new(move |()| { save.dispatch_local(()); });
                    fault_note(fault, again).into_any()
                }
            })}
            <div class="columns roster-choice">
                {loaded(units, move |home| {
                    unit_choice(home.facility.map(|facility| facility.units).unwrap_or_default(), unit).into_any()
                })}
                <Field id="roster-as-of" label=roster::AS_OF value=as_of hint=roster::AS_OF_HINT
                    wrong=wrong />
            </div>
            {loaded(asked, |roster| matrix(roster).into_any())}
        </div>
    }
}

fn read_date(text: &str) -> Result<Option<NaiveDate>, ()> {
    match text.trim() {
        "" => Ok(None),
        date => date.parse().map(Some).map_err(|_not_a_date| ()),
    }
}

fn unit_choice(units: Vec<Unit>, chosen: RwSignal<Option<String>>) -> impl IntoView {
    let each = units.into_iter().map(|unit| {
        let Unit { id, name } = unit;
        let selected = chosen.get_untracked().as_ref() == Some(&id);
        view! { <option value=id selected=selected>{name}</option> }
    });
    view! {
        <div class="field">
            <label for="roster-unit">{roster::UNIT}</label>
            <select id="roster-unit" on:change:target=move |event| {
                let value = event.target().value();
                chosen.set((!value.is_empty()).then_some(value));
            }>
                <option value="">{roster::EVERYONE}</option>
                {each.collect_view()}
            </select>
        </div>
    }
}

fn matrix(roster: Roster) -> impl IntoView {
    let incomplete = (roster.unknown_entries > 0).then(|| {
        view! { <p class="note warning">{roster::incomplete(roster.unknown_entries)}</p> }
    });
    if roster.rows.is_empty() {
        return view! { {incomplete}<p class="note">{roster::NOBODY}</p> }.into_any();
    }
    if roster.procedures.is_empty() {
        return view! { {incomplete}<p class="note">{roster::NO_PROCEDURES}</p> }.into_any();
    }
    let of = roster.unit.clone().unwrap_or(roster.facility);
    let columns =
        roster.procedures.iter().map(|column| view! { <th scope="col">{column.title.clone()}</th> });
    let rows = roster.rows.into_iter().map(|row| {
        let under = wording::facility::people::line(&row.person.number, "", &row.person.role);
        view! {
            <tr>
                <th scope="row">
                    <a href=Route::History(row.person.id).href()>{row.person.name}</a>
                    <span class="small quiet-text under">{under}</span>
                </th>
                {row.standings.into_iter().map(cell).collect_view()}
            </tr>
        }
    });
    view! {
        {incomplete}
        // A wide roster scrolls sideways, and what scrolls must be reachable by keyboard.
        <div class="table-frame" tabindex="0" role="region" aria-labelledby="roster-caption">
            <table id="roster">
                <caption id="roster-caption">
                    {roster::caption(&of, &wording::date(roster.as_of))}
                </caption>
                <thead><tr><th scope="col">{roster::PERSON}</th>{columns.collect_view()}</tr></thead>
                <tbody>{rows.collect_view()}</tbody>
            </table>
        </div>
    }
    .into_any()
}

fn cell(standing: Standing) -> impl IntoView {
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
        <td class=class title=standing.because>
            {state(standing.state)}
            {when.map(|when| view! { <span class="small under">{when}</span> })}
        </td>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_date_is_today_and_a_wrong_one_is_said() {
        assert_eq!(read_date("  "), Ok(None));
        assert_eq!(read_date("2026-11-25"), Ok(NaiveDate::from_ymd_opt(2026, 11, 25)));
        for wrong in ["25.11.2026", "2026-02-30", "soon"] {
            assert_eq!(read_date(wrong), Err(()), "{wrong}");
        }
    }
}
