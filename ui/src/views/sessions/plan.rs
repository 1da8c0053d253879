//! Who comes to which session, as the plan has it, and what was chosen by hand.

use std::sync::Arc;

use contract::{Chosen, GivePlaces, PlanLine, SessionLine, Sessions};
use leptos::prelude::*;

use super::named;
use crate::{
    app::Route,
    widgets::{
        announcer::Announcer,
        doing::doing,
        scrolled::{Scrolled, Shape},
        standing::state,
    },
    wording::{self, manager::sessions as words},
};

/// How tall a line may be before one was seen, in CSS pixels.
const LINE: u32 = 150;

/// Columns of the table.
const COLUMNS: usize = 3;

pub(super) fn plan(
    all: &Sessions,
    by_hand: RwSignal<Vec<Chosen>>,
    changed: Callback<()>,
) -> impl IntoView + use<> {
    let announcer = Announcer::here();
    let give = doing::<GivePlaces>(move |_| {
        announcer.say(words::GIVEN);
        changed.run(());
    });
    let go = Callback::new(move |()| {
        give.go(GivePlaces { chosen: by_hand.get_untracked() });
    });
    let inside = if all.plan.is_empty() {
        view! { <p class="note">{words::NOBODY}</p> }.into_any()
    } else {
        let (sessions, lines) = (all.sessions.clone(), Arc::new(all.plan.clone()));
        let of = u32::try_from(lines.len()).unwrap_or(u32::MAX);
        let kept = Arc::clone(&lines);
        let list = Scrolled::new(Shape::Table(COLUMNS), of, &lines, LINE, move |first, most| {
            let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
            let part: Vec<PlanLine> = kept.iter().skip(at(first)).take(at(most)).cloned().collect();
            Box::pin(async move { Ok(part) })
        });
        let rows = list.rows(move |number, one| row(number, one, &sessions, by_hand).into_any());
        let difference = if all.changed == 0 { words::GIVEN.to_owned() } else { words::changed(all.changed) };
        let nothing = all.changed == 0;
        view! {
            <p>{all.because.clone()}</p>
            {list.frame("plan-title", view! {
                <table id="plan" aria-rowcount=of.saturating_add(1)>
                    <thead><tr aria-rowindex="1">
                        <th scope="col">{wording::standing::roster::PERSON}</th>
                        <th scope="col">{wording::manager::requirements::PROCEDURE}</th>
                        <th scope="col">{words::SESSION}</th>
                    </tr></thead>
                    {rows}
                </table>
            })}
            <div class="row">
                <button type="button" class="button primary" id="give-places"
                    disabled=move || nothing || give.busy() on:click=move |_| go.run(())>{words::GIVE}</button>
                <p class="quiet-text" id="plan-difference">{difference}</p>
            </div>
            {give.told()}
        }
        .into_any()
    };
    view! {
        <div class="stack">
            <h2 id="plan-title">{words::PLAN}</h2>
            {inside}
        </div>
    }
}

fn row(
    number: u32,
    one: PlanLine,
    sessions: &[SessionLine],
    by_hand: RwSignal<Vec<Chosen>>,
) -> impl IntoView + use<> {
    let until = one.valid_until.map(wording::short_date);
    let until = words::until(&wording::facility::people::line(&one.number, &one.unit, ""), until.as_deref());
    // Nobody observes themselves, so their own sessions are not offered.
    let options = sessions.iter().filter(|session| session.observer.0 != one.person).map(|session| {
        let selected = one.by_hand && one.session.as_ref() == Some(&session.session);
        view! { <option value=session.session.clone() selected=selected>{named(session)}</option> }
    });
    let options = options.collect_view();
    let placed = one.session.as_ref().and_then(|id| sessions.iter().find(|session| session.session == *id));
    let placed = placed.map_or_else(|| words::NO_SESSION.to_owned(), named);
    let name = words::choose(&one.name, &one.title);
    let (person, procedure) = (one.person.clone(), one.procedure.clone());
    let choose = move |value: String| {
        let session = (!value.is_empty()).then_some(value);
        by_hand.update(|all| {
            all.retain(|chosen| chosen.person != person || chosen.procedure != procedure);
            all.push(Chosen { person: person.clone(), procedure: procedure.clone(), session });
        });
    };
    view! {
        <tr aria-rowindex=number + 2>
            <th scope="row">
                <a href=Route::Person(one.person).href()>{one.name}</a>
                <span class="small quiet-text under">{until}</span>
            </th>
            <td>{one.title}<span class="under">{state(one.state)}</span></td>
            <td class="placed">
                <strong>{placed}</strong>
                {one.lapses.then(|| view! { " "<span class="tag tag-danger">{words::without(one.state.holds())}</span> })}
                {one.by_hand.then(|| view! { " "<span class="tag">{words::BY_HAND}</span> })}
                <span class="small under">{one.because}</span>
                <select class="choose-session" aria-label=name
                    on:change:target=move |event| choose(event.target().value())>
                    <option value="" selected=!one.by_hand>{words::PLAN_DECIDES}</option>
                    {options}
                </select>
            </td>
        </tr>
    }
}
