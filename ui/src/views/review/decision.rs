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
    page,
    widgets::{
        doing::{Doing, doing},
        field::Field,
    },
    wording::{self, beside::decision as words},
};

/// Sends one line, and has the review asked for again once it is durable. What did not get through is sent again with
/// the id that it had, so that it is one line however often it is sent.
#[derive(Clone, Copy)]
struct Said {
    sent: Doing<Tap>,
    demonstration: StoredValue<String>,
}

impl Said {
    fn new(demonstration: String, again: Callback<()>) -> Said {
        Said {
            sent: doing(move |_acknowledged| again.run(())),
            demonstration: StoredValue::new(demonstration),
        }
    }

    /// From the press until the review that shows it has come: a second press would write a second line.
    fn busy(self) -> bool {
        self.sent.busy() || self.sent.answer().is_some()
    }

    fn say(self, event: Event) {
        if !untrack(|| self.busy()) {
            let demonstration = self.demonstration.get_value();
            self.sent.go(Tap { demonstration, id: page::random_id(), event });
        }
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
    Some(view! { {own}{plan}{said.sent.told_in(wording::door::live::SAVING)} })
}

fn taken(said: Said, line: TapId, told: String) -> impl IntoView {
    view! {
        <p class="note danger" id="decided">{told}</p>
        <div><button type="button" class="button" id="take-decision-back"
            disabled=move || said.busy() on:click=move |_| said.say(Event::Undo { of: line.clone() })>{words::TAKE_BACK}</button></div>
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
        <div><button type="button" class="button" id="decide-stricter" disabled=move || said.busy()
            on:click=decide>{words::DECIDE}</button></div>
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
        <div><button type="button" class="button" id="keep-plan" disabled=move || said.busy()
            on:click=keep>{words::PLAN}</button></div>
    }
}
