//! What the observer decides and plans: stricter than the rule with a reason, coaching, and by when it is
//! watched again. Each is a line of the journal like any tap.

use chrono::NaiveDate;
use competency::{
    journal::{Event, TapId, fold},
    report::Outcome,
};
use contract::{Review, Tap};
use leptos::prelude::*;

use crate::{
    call::call,
    page,
    widgets::{
        field::Field,
        loaded::{fault_note, progress},
    },
    wording::{self, beside::decision as words},
};

/// Sends one line, and has the review asked for again once it is durable.
#[derive(Clone, Copy)]
struct Said {
    action: Action<Tap, Result<contract::Acknowledged, contract::Fault>>,
    demonstration: StoredValue<String>,
}

impl Said {
    fn new(demonstration: String, again: Callback<()>) -> Said {
        let action = Action::new_local(|tap: &Tap| call(tap.clone()));
        Effect::new(move |_| {
            if action.value().with(|answer| matches!(answer, Some(Ok(_)))) {
                again.run(());
            }
        });
        Said { action, demonstration: StoredValue::new(demonstration) }
    }

    fn say(self, event: Event) {
        let demonstration = self.demonstration.get_value();
        self.action.dispatch_local(Tap { demonstration, id: page::random_id(), event });
    }
}

/// Nothing once it is sealed: the record tells it then.
pub(super) fn decision(review: &Review, again: Callback<()>) -> impl IntoView + use<> {
    let opened = &review.demonstration;
    if opened.sealed {
        return None;
    }
    let said = Said::new(opened.demonstration.clone(), again);
    let folded = fold(&opened.lines, opened.mode, &opened.conditions);
    let standing = |found: fn(&Event) -> bool| {
        let mut lines = opened.lines.iter().rev();
        lines
            .find(|line| found(&line.event) && !folded.taken_back.contains(&line.id))
            .map(|line| line.id.clone())
    };
    let decided = standing(|event| matches!(event, Event::StricterDecision { .. }));
    let own = match (folded.stricter.as_ref(), decided) {
        (Some(why), Some(line)) => {
            let rule = competency::sentence::outcome(review.report.outcome);
            Some(taken(said, line, words::decided(rule, why)).into_any())
        }
        (Some(_), None) | (None, _) => {
            (review.report.outcome != Outcome::NotYetCompetent).then(|| stricter(said).into_any())
        }
    };
    let own = own.map(|own| {
        view! {
            <section class="card stack" aria-labelledby="decision-title">
                <h2 id="decision-title">{words::TITLE}</h2>
                <p>{words::LEAD}</p>
                {own}
            </section>
        }
    });
    let planned = folded.coaching.map(|plan| {
        let again = plan.again_by.map(wording::date);
        view! { <p class="note" id="planned">{words::planned(&plan.what, again.as_deref())}</p> }
    });
    let plan = (review.outcome != Outcome::Competent || planned.is_some()).then(|| {
        view! {
            <section class="card stack" aria-labelledby="plan-title">
                <h2 id="plan-title">{words::COACHING}</h2>
                {planned}
                {plan(said)}
            </section>
        }
    });
    let state = move || {
        let fault = said.action.value().get().and_then(Result::err);
        let failed = fault.map(|fault| fault_note(fault, again));
        (failed, said.action.pending().get().then(|| progress(wording::door::live::SAVING)))
    };
    Some(view! { {own}{plan}{state} })
}

fn taken(said: Said, line: TapId, told: String) -> impl IntoView {
    view! {
        <p class="note danger" id="decided">{told}</p>
        <div><button type="button" class="button" id="take-decision-back"
            on:click=move |_| said.say(Event::Undo { of: line.clone() })>{words::TAKE_BACK}</button></div>
    }
}

fn stricter(said: Said) -> impl IntoView {
    let (why, tried) = (RwSignal::new(String::new()), RwSignal::new(false));
    let missing = move || why.with(|why| why.trim().is_empty());
    let wrong = Signal::derive(move || (tried.get() && missing()).then_some(words::WHY_MISSING));
    let decide = move |_| {
        tried.set(true);
        if !untrack(missing) {
            said.say(Event::StricterDecision { why: why.with_untracked(|why| why.trim().to_owned()) });
        }
    };
    view! {
        <Field id="decision-why" label=words::WHY value=why wrong=wrong />
        <div><button type="button" class="button" id="decide-stricter" on:click=decide>{words::DECIDE}</button></div>
    }
}

fn plan(said: Said) -> impl IntoView {
    let (what, again) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let tried = RwSignal::new(false);
    let missing = move || what.with(|what| what.trim().is_empty());
    let date = move || {
        let typed = again.get();
        let typed = typed.trim();
        if typed.is_empty() { Ok(None) } else { typed.parse::<NaiveDate>().map(Some) }
    };
    let no_text = Signal::derive(move || (tried.get() && missing()).then_some(words::WHAT_MISSING));
    let no_date = Signal::derive(move || (tried.get() && date().is_err()).then_some(words::AGAIN_WRONG));
    let keep = move |_| {
        tried.set(true);
        if let (false, Ok(again_by)) = (untrack(missing), untrack(date)) {
            said.say(Event::Coaching { what: what.with_untracked(|what| what.trim().to_owned()), again_by });
        }
    };
    view! {
        <Field id="coaching" label=words::WHAT value=what wrong=no_text />
        <Field id="again-by" label=words::AGAIN value=again hint=words::AGAIN_HINT wrong=no_date />
        <div><button type="button" class="button" id="keep-plan" on:click=keep>{words::PLAN}</button></div>
    }
}
