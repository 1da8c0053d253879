//! What is missing before the person may wear what the procedure asks for, and what to do.

use contract::{CheckPrerequisites, Prerequisites};
use leptos::prelude::*;

use super::Choices;
use crate::{app::Route, call::call, wording::door::start as words};

/// A warning once person and procedure are chosen and something is missing.
pub(super) fn prerequisites(choices: Choices) -> impl IntoView {
    let asked = LocalResource::new(move || {
        let person = choices.person.with(|person| person.as_ref().map(|person| person.id.clone()));
        let procedure = choices.line.with(|line| line.as_ref().map(|line| line.id.clone()));
        async move {
            let (person, procedure) = (person?, procedure?);
            let answer = call(CheckPrerequisites { person: person.clone(), procedure }).await;
            answer.ok().map(|answer| (person, answer))
        }
    });
    move || {
        let (person, Prerequisites { missing }) = asked.get().flatten()?;
        (!missing.is_empty()).then(|| {
            let each = missing.into_iter().map(|one| view! { <li>{one}</li> });
            view! {
                <div class="note warning stack tight" id="prerequisites" role="status">
                    <strong>{words::MISSING_BEFORE}</strong>
                    <ul class="stack tight">{each.collect_view()}</ul>
                    <p><a href=Route::Person(person).href()>{words::STATE_IT}</a></p>
                </div>
            }
        })
    }
}
