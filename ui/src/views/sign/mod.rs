//! Signing: the observer's PIN, a remark, and where the signed record is.

mod remark;
pub(crate) mod second;

pub(crate) use remark::Remarks;

use competency::report::Outcome;
use contract::{
    OpenDemonstration, OpenedDemonstration, Review, ReviewDemonstration, SealDemonstration, Sealed,
    ShowRecord,
};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    page,
    widgets::{
        doing::doing,
        field::{Field, Kind},
        loaded::{ask, fault_in_form, loaded, progress},
        title::title,
    },
    wording::{self, evidence::second as second_words, outcome::sign as words},
};

/// What was sealed, as it is told to the person it is handed to.
#[derive(Debug, Clone)]
struct Done {
    sealed: Sealed,
    /// The person and the procedure that it was scored as.
    about: String,
    /// What the record says; `None` where the review had not come yet.
    outcome: Option<Outcome>,
}

/// Signs the demonstration of that id.
pub(crate) fn sign(id: String) -> impl IntoView {
    let asked = ask(move || OpenDemonstration { demonstration: id.clone() });
    let sealed = RwSignal::new(None::<Done>);
    view! {
        <div class="stack wide sign">
            {move || match sealed.get() {
                Some(sealed) => view! { {title(words::SEALED_TITLE)} {done(sealed)} }.into_any(),
                None => view! {
                    {title(words::TITLE)}
                    {loaded(asked, move |opened| form(opened, sealed).into_any())}
                }
                .into_any(),
            }}
        </div>
    }
}

fn form(opened: OpenedDemonstration, sealed: RwSignal<Option<Done>>) -> impl IntoView {
    if opened.sealed {
        let history = Route::History(opened.person_id).href();
        return view! {
            <p class="note">{wording::outcome::review::SEALED}</p>
            <div class="row"><a class="button primary" id="to-history" href=history>{words::HISTORY}</a></div>
        }
        .into_any();
    }
    let remarks = Remarks::here();
    let (pin, remark) = (RwSignal::new(String::new()), RwSignal::new(remarks.of(&opened.demonstration)));
    let tried = RwSignal::new(false);
    let seal = Action::new_local(|request: &SealDemonstration| call(request.clone()));
    let (of_remark, typed_of) = (opened.demonstration.clone(), opened.demonstration.clone());
    let of_review = opened.demonstration.clone();
    let review =
        ask(move || ReviewDemonstration { demonstration: of_review.clone(), review: page::random_id() });
    let about = format!("{} · {}", opened.person, opened.procedure.title);
    let (person, procedure) = (opened.person, opened.procedure.title);
    let told = move |sealed: Sealed| {
        let (outcome, kept_as) = review.with(|answer| match answer {
            Some(Ok(review)) => (Some(review.outcome), review.kept_as.clone()),
            Some(Err(_)) | None => (None, None),
        });
        let about = format!("{person} · {}", kept_as.as_ref().unwrap_or(&procedure));
        Done { sealed, about, outcome }
    };
    Effect::new(move |_| match seal.value().get() {
        Some(Ok(done)) => {
            remarks.forget(&of_remark);
            sealed.set(Some(untrack(|| told(done))));
        }
        Some(Err(_)) => page::focus("sign-pin"),
        None => {}
    });
    let demonstration = opened.demonstration;
    let id = demonstration.clone();
    let go = Callback::new(move |()| {
        tried.set(true);
        if !pin.with_untracked(String::is_empty) {
            seal.dispatch_local(SealDemonstration {
                demonstration: id.clone(),
                pin: pin.get_untracked(),
                remark: remark.get_untracked().trim().to_owned(),
            });
        }
    });
    let wrong =
        Signal::derive(move || (tried.get() && pin.with(String::is_empty)).then_some(words::PIN_MISSING));
    view! {
        <form class="card stack" novalidate on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <p class="lead">{about}</p>
            {loaded(review, |review| what_is_signed(&review).into_any())}
            <p>{words::signs(&opened.observer)}" "{words::LEAD}</p>
            <Field id="sign-pin" label=words::PIN value=pin kind=Kind::Pin wrong=wrong />
            <div class="field">
                <label for="remark">{words::REMARK}</label>
                <textarea id="remark" aria-describedby="remark-hint" prop:value=remark
                    on:input:target=move |event| {
                        remark.set(event.target().value());
                        remarks.keep(&typed_of, event.target().value());
                    }></textarea>
                <p class="hint" id="remark-hint">{words::REMARK_HINT}</p>
            </div>
            {move || seal.value().get().and_then(Result::err).map(fault_in_form)}
            <div class="row">
                <button type="submit" class="button primary large" id="seal"
                    disabled=move || seal.pending().get()>{words::GO}</button>
                // What is changed while it is signed would be missing from it.
                {move || (!seal.pending().get()).then(|| view! {
                    <a class="button plain" href=Route::Review(demonstration.clone()).href()>{words::BACK}</a>
                })}
                {move || seal.pending().get().then(|| progress(words::GOING))}
            </div>
        </form>
    }
    .into_any()
}

/// The outcome as it stands on the record, what it grants, and what the signature says.
fn what_is_signed(review: &Review) -> impl IntoView {
    let grants = review.would_hold_until.map_or_else(
        || words::NOTHING.to_owned(),
        |until| format!("{} {}", words::UNTIL, wording::date(until)),
    );
    let well = wording::outcome::review::headline(review.report.steps_well, review.report.steps_counted);
    view! {
        <p class="row" id="signs-outcome">
            {outcome_word(review.outcome)}
            <span>{well}</span>
            <strong>{grants}</strong>
        </p>
        <p>{words::means()}</p>
    }
}

fn outcome_word(outcome: Outcome) -> impl IntoView {
    let class = match outcome {
        Outcome::Competent => "outcome good",
        Outcome::NotYetCompetent => "outcome danger",
        Outcome::NotAssessed => "outcome",
    };
    view! { <strong class=class>{wording::outcome(outcome)}</strong> }
}

fn done(done: Done) -> impl IntoView {
    let Done { sealed: Sealed { record, path, digest, person, valid_until }, about, outcome } = done;
    let show = doing::<ShowRecord>(|_| ());
    let of_second = record.clone();
    let second = RwSignal::new(None::<contract::Countersigned>);
    let signed = Callback::new(move |answer| {
        second.set(Some(answer));
        page::focus("second-title");
    });
    let open = move |_| show.go(ShowRecord { record: record.clone() });
    // The form is gone and the focus with it.
    Effect::new(move |_| page::focus("sealed"));
    view! {
        <section class="card stack" id="sealed" tabindex="-1" aria-labelledby="sealed-title">
            <h2 id="sealed-title" class="sealed-word">{words::DONE}</h2>
            <p class="lead" id="sealed-about">{about}</p>
            {outcome.map(|outcome| view! { <p>{outcome_word(outcome)}</p> })}
            <p class="verdict-count">{valid_until.map_or_else(
                || words::NOTHING.to_owned(),
                |date| format!("{} {}", words::UNTIL, wording::date(date)),
            )}</p>
            <dl class="stack tight path">
                <div><dt>{words::WHERE}</dt><dd id="record-path">{path}</dd></div>
                <div><dt>{words::DIGEST}</dt><dd>{digest}</dd></div>
            </dl>
            <div class="row">
                <button type="button" class="button" id="open-record" disabled=move || show.busy()
                    on:click=open>{words::OPEN}</button>
                <a class="button primary" id="to-history" href=Route::History(person).href()>{words::HISTORY}</a>
            </div>
            {show.came(wording::WAITING, |shown| view! {
                <p class="note good path" role="status">{wording::outcome::opened(&shown.path, shown.opened)}</p>
            }.into_any())}
        </section>
        <section class="card stack" aria-labelledby="second-title">
            <h2 id="second-title" tabindex="-1">{second_words::TITLE}</h2>
            {move || match second.get() {
                None => second::second(of_second.clone(), signed).into_any(),
                Some(done) => view! {
                    <p class="note good path" role="status" id="second-done">
                        {second_words::done(done.declined, &done.path)}
                    </p>
                }.into_any(),
            }}
        </section>
    }
}
