//! How much falls due in each week, the sessions, and who comes to which.

mod plan;
mod set;

use contract::{Chosen, InvitationForm, OpenSessions, SaveInvitations, SessionLine, Sessions, SetSession};
use leptos::prelude::*;

use crate::{
    app::Route,
    page, pictures,
    widgets::{
        doing::doing,
        loaded::{ask, loaded},
        places::places,
        title::title,
    },
    wording::{self, manager::sessions as words},
};

#[component]
pub(crate) fn SessionsView() -> impl IntoView {
    // What was chosen by hand and is not given yet: the plan is made anew around it.
    let by_hand = RwSignal::new(Vec::<Chosen>::new());
    let asked = ask(move || OpenSessions { chosen: by_hand.get() });
    let changed = Callback::new(move |()| {
        by_hand.set(Vec::new());
        asked.refetch();
    });
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            {places(&Route::Sessions)}
            {loaded(asked, move |all| shown(all, by_hand, changed).into_any())}
        </div>
    }
}

fn shown(all: Sessions, by_hand: RwSignal<Vec<Chosen>>, changed: Callback<()>) -> impl IntoView {
    let picture = pictures::due_weeks(&all.weeks, page::drawing_width());
    view! {
        <section class="card stack" aria-labelledby="load">
            <h2 id="load">{words::LOAD}</h2>
            <p>{words::overdue(all.overdue)}</p>
            <div class="picture-frame whole" tabindex="0" role="group" aria-labelledby="load" inner_html=picture></div>
        </section>
        {held(all.sessions.clone(), changed)}
        {set::set(&all, changed)}
        {(!all.sessions.is_empty()).then(|| view! { {plan::plan(&all, by_hand, changed)} {save()} })}
    }
}

/// A session in words.
fn named(session: &SessionLine) -> String {
    words::session(&wording::date(session.on), session.at.as_ref(), &session.place)
}

fn held(sessions: Vec<SessionLine>, changed: Callback<()>) -> impl IntoView {
    let take_back = doing::<SetSession>(move |_| changed.run(()));
    let none = sessions.is_empty();
    // Whose session is asked about before it is taken back: people may have a place in it.
    let asked = RwSignal::new(None::<String>);
    let each = sessions.into_iter().map(|session| {
        let name = named(&session);
        let only = if session.procedures.is_empty() {
            String::new()
        } else {
            format!(" · {} {}", words::PROCEDURES.to_lowercase(), session.procedures.join(", "))
        };
        let under = format!("{}: {}{only}", words::OBSERVER, session.observer.1);
        let aria = words::take_back(&name);
        let filled = words::filled(session.filled, session.places);
        let sure = words::sure(session.filled);
        let (id, mine) = (session.session.clone(), session.session.clone());
        let is_asked = Memo::new(move |_| asked.with(|asked| asked.as_ref() == Some(&mine)));
        let request = SetSession {
            session: session.session,
            on: session.on,
            at: session.at,
            place: session.place,
            observer: session.observer.0,
            places: session.places,
            procedures: Vec::new(),
            held: false,
        };
        view! {
            <li class="line">
                <strong>{name}</strong>
                <span class="quiet-text">{under}</span>
                <span class="aside row">
                    <span class="tag">{filled}</span>
                    <button type="button" class="button plain take-back" aria-label=aria aria-expanded=move || is_asked.get().to_string()
                        disabled=move || take_back.busy()
                        on:click=move |_| asked.set(Some(id.clone()))>{words::TAKE_BACK}</button>
                </span>
                {move || is_asked.get().then(|| {
                    let request = request.clone();
                    view! {
                        <div class="note warning stack tight sure" role="group" aria-label=words::TAKE_BACK>
                            <p role="status">{sure.clone()}</p>
                            <div class="row">
                                <button type="button" class="button primary" id="take-back-now"
                                    disabled=move || take_back.busy()
                                    on:click=move |_| take_back.go(request.clone())>{words::TAKE_BACK_NOW}</button>
                                <button type="button" class="button" id="keep-session"
                                    on:click=move |_| asked.set(None)>{words::KEEP}</button>
                            </div>
                        </div>
                    }
                })}
            </li>
        }
    });
    let list = if none {
        view! { <p class="note">{words::NONE}</p> }.into_any()
    } else {
        view! { <ul class="lines" id="sessions">{each.collect_view()}</ul> }.into_any()
    };
    view! {
        <section class="stack" aria-labelledby="held">
            <h2 id="held">{words::HELD}</h2>
            {list}
            {take_back.told()}
        </section>
    }
}

fn save() -> impl IntoView {
    let save = doing::<SaveInvitations>(|_| ());
    let forms = [
        (InvitationForm::Calendar, "save-invitations-calendar", words::CALENDAR),
        (InvitationForm::List, "save-invitations-list", words::LIST),
        (InvitationForm::Table, "save-invitations-table", words::TABLE),
    ];
    let buttons = forms.map(|(form, id, name)| {
        view! {
            <button type="button" class="button" id=id disabled=move || save.busy()
                on:click=move |_| save.go(SaveInvitations { form })>{name}</button>
        }
    });
    view! {
        <section class="stack" aria-labelledby="save">
            <h2 id="save">{words::SAVE}</h2>
            <div class="row">{buttons.into_iter().collect_view()}</div>
            {save.saved()}
        </section>
    }
}
