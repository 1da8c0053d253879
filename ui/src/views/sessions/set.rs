//! Sets a session.

use contract::{Sessions, SetSession};
use leptos::prelude::*;

use crate::{
    page,
    widgets::{
        date::{date_field, untracked},
        doing::doing,
        field::Field,
        select::{select, ticks},
    },
    wording::{self, manager::sessions as words},
};

pub(super) fn set(all: &Sessions, changed: Callback<()>) -> impl IntoView + use<> {
    let Some((first, _)) = all.observers.first().cloned() else {
        return view! { <p class="note">{words::NO_OBSERVER}</p> }.into_any();
    };
    // A repeated request must set only one session, so its id is made once.
    let session = page::random_id();
    let [on, from, to, place] = [(); 4].map(|()| RwSignal::new(String::new()));
    let observer = RwSignal::new(first);
    let room = RwSignal::new("6".to_owned());
    let of = all.procedures.iter().map(|one| (one.id.clone(), one.title.clone())).collect();
    let (boxes, ticked) = ticks("session-only", of);
    let set = doing::<SetSession>(move |_| changed.run(()));
    let tried = RwSignal::new(false);
    let go = Callback::new(move |()| {
        tried.set(true);
        let (Some(on), Ok(places)) = (untracked(on), room.with_untracked(|text| text.trim().parse())) else {
            return;
        };
        let (from, to) = (from.get_untracked(), to.get_untracked());
        set.go(SetSession {
            session: session.clone(),
            on,
            at: (!from.trim().is_empty() || !to.trim().is_empty()).then_some((from, to)),
            place: place.get_untracked(),
            observer: observer.get_untracked(),
            places,
            procedures: ticked(),
            held: true,
        });
    });
    let wrong_room = Signal::derive(move || {
        room.with(|text| text.trim().parse::<u32>()).is_err().then_some(words::BAD_PLACES)
    });
    view! {
        <form class="card stack" novalidate aria-labelledby="set-session-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="set-session-title">{words::SET}</h2>
            <div class="columns">
                {date_field("session-on", words::ON, on, wording::DATE_HINT)}
                <Field id="session-from" label=words::FROM value=from hint=words::TIME_HINT />
                <Field id="session-to" label=words::TO value=to hint=words::TIME_HINT />
                <Field id="session-place" label=words::PLACE value=place />
                {select("session-observer", words::OBSERVER, all.observers.clone(), observer)}
                <Field id="session-places" label=words::PLACES value=room wrong=wrong_room />
            </div>
            <details>
                <summary>{words::PROCEDURES}</summary>
                <p class="quiet-text">{words::PROCEDURES_HINT}</p>
                <div class="choices">{boxes}</div>
            </details>
            {move || (tried.get() && on.with(|text| text.trim().is_empty())).then(|| view! {
                <p class="wrong" role="alert">{wording::BAD_DATE}</p>
            })}
            {set.told()}
            <div class="row">
                <button type="submit" class="button primary" id="set-session"
                    disabled=move || set.busy()>{words::SET_GO}</button>
            </div>
        </form>
    }
    .into_any()
}
