//! What was asked of the shell: on its way, here, or failed with a way on.

use contract::{Command, Fault, Next};
use leptos::prelude::*;

use crate::{app::Route, call::call, wording};

/// An answer of the shell, asked for again whenever what the request reads changes.
pub(crate) type Asked<T> = LocalResource<Result<T, Fault>>;

/// Asks the shell.
pub(crate) fn ask<C: Command + 'static>(request: impl Fn() -> C + 'static) -> Asked<C::Reply> {
    LocalResource::new(move || call(request()))
}

/// Shows an answer once it is here; until then that it is on its way, or what went wrong.
pub(crate) fn loaded<T: Clone + 'static>(
    asked: Asked<T>,
    show: impl Fn(T) -> AnyView + Send + 'static,
) -> impl IntoView {
    move || match asked.get() {
        None => progress(wording::WAITING).into_any(),
        Some(Ok(value)) => show(value),
        Some(Err(fault)) => fault_note(fault, Callback::new(move |()| asked.refetch())).into_any(),
    }
}

/// Something is on its way.
pub(crate) fn progress(what: &'static str) -> impl IntoView {
    view! { <p class="progress" role="status">{what}</p> }
}

/// What went wrong with a form, whose own button is the way to try again.
pub(crate) fn fault_in_form(fault: Fault) -> impl IntoView {
    let Fault { next, text } = fault;
    let home = (next == Next::ChooseAgain).then(|| {
        view! {
            <div class="row"><a class="button" href=Route::Home.href()>{wording::BACK_HOME}</a></div>
        }
    });
    view! {
        <div class="note danger stack tight" role="alert">
            <strong>{wording::trouble(next)}</strong>
            <p>{text}</p>
            {home}
        </div>
    }
}

/// What went wrong, and a way on: `again` asks once more, but what was entered wrongly is changed where it
/// was entered, and what is gone is chosen anew from the beginning.
pub(crate) fn fault_note(fault: Fault, again: Callback<()>) -> impl IntoView {
    let Fault { next, text } = fault;
    let on = match next {
        Next::MendInput => None,
        Next::ChooseAgain => {
            let home = view! { <a class="button" href=Route::Home.href()>{wording::BACK_HOME}</a> };
            Some(home.into_any())
        }
        Next::TryAgain | Next::MakeRoom | Next::AskForHelp => {
            let press = move |_| again.run(());
            let button = view! {
                <button type="button" class="button" on:click=press>{wording::TRY_AGAIN}</button>
            };
            Some(button.into_any())
        }
    };
    view! {
        <div class="note danger stack tight" role="alert">
            <strong>{wording::trouble(next)}</strong>
            <p>{text}</p>
            {on.map(|on| view! { <div class="row">{on}</div> })}
        </div>
    }
}
