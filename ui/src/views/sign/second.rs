//! The second signature, by the person observed: seen and discussed, or declined, with a comment.

use contract::{Countersign, Countersigned};
use leptos::prelude::*;

use crate::{
    widgets::{
        choice::{Choice, choices},
        doing::doing,
    },
    wording::evidence::second as words,
};

/// Whether they sign or decline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Answer {
    Seen,
    Declined,
}

/// The form; `done` runs once the second signature is there.
pub(crate) fn second(record: String, done: Callback<Countersigned>) -> impl IntoView {
    let answer = RwSignal::new(None::<Answer>);
    let comment = RwSignal::new(String::new());
    let tried = RwSignal::new(false);
    let sign = doing::<Countersign>(move |signed| done.run(signed));
    let go = Callback::new(move |()| {
        tried.set(true);
        if let Some(answer) = answer.get_untracked() {
            sign.go(Countersign {
                record: record.clone(),
                declined: answer == Answer::Declined,
                comment: comment.get_untracked().trim().to_owned(),
            });
        }
    });
    view! {
        <form class="stack" novalidate on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <p class="quiet-text">{words::WHY}</p>
            {choices("second-answer", words::TITLE, answers(), answer)}
            {move || (tried.get() && answer.with(Option::is_none)).then(|| view! {
                <p class="wrong" role="alert">{words::CHOOSE}</p>
            })}
            <div class="field">
                <label for="second-comment">{words::COMMENT}</label>
                <textarea id="second-comment" aria-describedby="second-comment-hint" prop:value=comment
                    on:input:target=move |event| comment.set(event.target().value())></textarea>
                <p class="hint" id="second-comment-hint">{words::COMMENT_HINT}</p>
            </div>
            {sign.in_form(words::GOING)}
            <div class="row">
                <button type="submit" class="button" id="second-go"
                    disabled=move || sign.busy()>{words::GO}</button>
            </div>
        </form>
    }
}

fn answers() -> Vec<Choice<Answer>> {
    Choice::all([
        (Answer::Seen, "second-seen", words::SEEN, words::SEEN_HINT),
        (Answer::Declined, "second-declined", words::DECLINED, words::DECLINED_HINT),
    ])
}
