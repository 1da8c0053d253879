//! What the score says: outcome and count, findings with their witnesses, the order picture, every step.

mod decision;
mod findings;
mod notes;
mod second;

use competency::{
    journal::fold,
    log::{HowEnded, What},
    model::Model,
    report::{FindingKind, Outcome, StepState},
    sentence::{self, CAUTIONS},
};
use contract::{Review, ReviewDemonstration, StopReview};
use leptos::{prelude::*, task::spawn_local};

use crate::{
    app::Route,
    call::call,
    page as window, pictures,
    widgets::{
        drawing::drawing,
        loaded::{ask, loaded},
        title::title,
    },
    wording::{self, outcome::review as words},
};

/// The review of the demonstration of that id.
pub(crate) fn review(id: String) -> impl IntoView {
    let review = window::random_id();
    let stopped = review.clone();
    on_cleanup(move || spawn_local(async move { drop(call(StopReview { review: stopped }).await) }));
    let asked = ask(move || ReviewDemonstration { demonstration: id.clone(), review: review.clone() });
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            {loaded(asked, move |review| page(&review, Callback::new(move |()| asked.refetch())).into_any())}
        </div>
    }
}

fn page(review: &Review, again: Callback<()>) -> impl IntoView + use<> {
    let demonstration = &review.demonstration;
    let model = Model::new(demonstration.procedure.clone());
    let about = format!(
        "{} · {} · {} · {}",
        demonstration.person,
        demonstration.procedure.title,
        wording::mode(demonstration.mode),
        wording::purpose(demonstration.purpose)
    );
    let about = match demonstration.paper_form {
        Some(date) => format!("{about} · {}", wording::paper::form_of(date)),
        None => about,
    };
    let picture = {
        let (model, log, report) = (model.clone(), review.log.clone(), review.report.clone());
        drawing(wording::outcome::ORDER, move |width| pictures::order_picture(&model, &log, &report, width))
    };
    let times = {
        let (model, log, report) = (model.clone(), review.log.clone(), review.report.clone());
        move |width: f64| pictures::time_line(&model, &log, &report, width)
    };
    let times = times(window::drawing_width()).is_some().then(|| {
        let times = drawing(wording::outcome::TIMES, move |width| times(width).unwrap_or_default());
        view! {
            <section class="card stack" aria-labelledby="times-title">
                <h2 id="times-title">{wording::outcome::TIMES}</h2>
                {times}
            </section>
        }
    });
    view! {
        <p class="lead">{about}</p>
        {review.kept_as.clone().map(|title| view! { <p class="note" id="kept-as">{words::kept_as(&title)}</p> })}
        {verdict(review, &model)}
        <section class="stack" aria-labelledby="findings-title">
            <h2 id="findings-title">{words::FINDINGS}</h2>
            {findings::findings(&model, &review.log, &review.report)}
        </section>
        {notes::notes(review, &model)}
        <section class="card stack" aria-labelledby="order-title">
            <h2 id="order-title">{wording::outcome::ORDER}</h2>
            {picture}
        </section>
        {times}
        {late(review, &model)}
        <section class="stack" aria-labelledby="steps-title">
            <h2 id="steps-title">{words::STEPS}</h2>
            {steps(review, &model)}
        </section>
        <p class="note small">{CAUTIONS.join(" ")}</p>
        {decision::decision(review, again)}
        {second::second(review)}
        {actions(review)}
    }
}

fn verdict(review: &Review, model: &Model) -> impl IntoView + use<> {
    let report = &review.report;
    let class = match review.outcome {
        Outcome::Competent => "verdict good",
        Outcome::NotYetCompetent => "verdict danger",
        Outcome::NotAssessed => "verdict",
    };
    let grants = review
        .would_hold_until
        .map_or_else(|| words::GRANTS_NOTHING.to_owned(), |date| words::would_hold(&wording::date(date)));
    let ends = review.would_end.map(
        |date| view! { <p id="would-end"><strong>{words::would_end(&wording::date(date))}</strong></p> },
    );
    let how = review.log.ended.how;
    let ended = (how != HowEnded::Completed)
        .then(|| view! { <p>{format!("{}: {}", words::ENDED, wording::how_ended(how))}</p> });
    let exposure = (how == HowEnded::StoppedExposure)
        .then(|| view! { <p class="note danger"><strong>{words::EXPOSURE}</strong></p> });
    view! {
        {exposure}
        <section class=class aria-label=wording::outcome(review.outcome)>
            <p class="verdict-word" id="outcome">{wording::outcome(review.outcome)}</p>
            <p class="verdict-count" id="headline">{sentence::headline(report)}</p>
            <p>{sentence::outcome_reason(model, &review.log, report)}</p>
            {ended}
            <p>{grants}</p>
            {ends}
        </section>
    }
}

fn late(review: &Review, model: &Model) -> impl IntoView + use<> {
    // What comes from a form was all entered afterwards.
    let entered = review.log.observations.iter().filter(|seen| seen.late && !review.log.transcribed);
    let acts: Vec<_> = entered
        .filter_map(|observation| match &observation.what {
            What::Act(act) => Some(view! { <li>{model.act_label(act).to_owned()}</li> }),
            What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => None,
        })
        .collect();
    let demonstration = &review.demonstration;
    let back = fold(&demonstration.lines, demonstration.mode, &demonstration.conditions).taken_back.len();
    let back = (back > 0).then(|| view! { <p class="quiet-text">{words::taken_back(back)}</p> });
    let entered = (!acts.is_empty()).then(|| {
        view! {
            <h2>{words::LATE}</h2>
            <ul class="points">{acts}</ul>
        }
    });
    (entered.is_some() || back.is_some()).then(
        || view! { <section class="stack tight" id="late" aria-label=words::LATE>{entered}{back}</section> },
    )
}

fn steps(review: &Review, model: &Model) -> impl IntoView + use<> {
    let rows = review.report.steps.iter().map(|result| {
        let step = model.step_number(&result.id).and_then(|number| model.step(number));
        let text = step.map_or_else(|| result.id.clone(), |step| step.text.clone());
        // A step out of order is told with the act that came for it.
        let displaced = review.report.findings.iter().find(|finding| {
            finding.kind == FindingKind::OutOfOrder && finding.step.as_ref() == Some(&result.id)
        });
        let told = result.observation.or_else(|| displaced.and_then(|finding| finding.observation));
        let seen = told.and_then(|index| review.log.observations.get(index));
        let counted = result.state != StepState::NotApplicable && result.state != StepState::LeftOut;
        let when = seen.map(|seen| wording::when(&review.log, seen));
        view! {
            <tr>
                <th scope="row">{text}</th>
                <td class="number">{when}</td>
                <td>{wording::step_state(result.state)}</td>
                <td class="number">{counted.then(|| words::credit(result.credit))}</td>
            </tr>
        }
    });
    view! {
        <div class="table-frame" tabindex="0" role="group" aria-labelledby="steps-title">
            <table id="steps">
                <thead><tr>
                    <th scope="col">{words::STEP}</th><th scope="col">{words::WHEN}</th>
                    <th scope="col">{words::HOW}</th><th scope="col">{words::CREDIT}</th>
                </tr></thead>
                <tbody>{rows.collect_view()}</tbody>
            </table>
        </div>
    }
}

fn actions(review: &Review) -> impl IntoView + use<> {
    let id = review.demonstration.demonstration.clone();
    if review.demonstration.sealed {
        let history = Route::History(review.demonstration.person_id.clone()).href();
        return view! {
            <div class="row">
                <p>{words::SEALED}</p>
                <a class="button primary large" href=history>{words::TO_HISTORY}</a>
            </div>
        }
        .into_any();
    }
    view! {
        <div class="row">
            <a class="button primary large" id="to-sign" href=Route::Sign(id.clone()).href()>{words::TO_SIGN}</a>
            <a class="button plain" href=Route::Settle(id).href()>{words::BACK}</a>
        </div>
    }
    .into_any()
}
