//! Before the score: each step without a tap is answered done, not done or not seen. Once everything had its
//! answer, a change needs a reason.

mod answering;

use competency::{
    journal::{Event, TapId},
    log::What,
    procedure::Step,
};
use leptos::prelude::*;

use answering::Answering;

use crate::{
    app::Route,
    page, pictures,
    views::live::{Form, Shown, Watch, all_lines, with_demonstration},
    widgets::{loaded::fault_note, title::title},
    wording::{self, door::settle as words},
};

/// The questions about the demonstration of that id.
pub(crate) fn settle(id: String) -> impl IntoView {
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            {with_demonstration(id, |watch| questions(watch).into_any())}
        </div>
    }
}

fn questions(watch: Watch) -> impl IntoView {
    let (id, about) = watch.peek(|form| {
        let opened = form.opened();
        (opened.demonstration.clone(), format!("{} · {}", opened.person, opened.procedure.title))
    });
    let about = view! { <p class="lead" id="settle-about">{about}</p> };
    if !watch.peek(|form| form.folded().ended) {
        return view! {
            {about}
            <p class="note">{words::STILL_RUNNING}</p>
            <div class="row"><a class="button primary" href=Route::Live(id).href()>{words::GO_BACK}</a></div>
        }
        .into_any();
    }
    let back = goes_on(watch, id.clone());
    let answering = Answering::new(watch);
    let to_review = move |_| {
        if !watch.peek(|form| form.folded().settled || form.opened().sealed) {
            watch.tap(Event::Settled);
        }
    };
    let open = Memo::new(move |_| watch.read(open_questions));
    let answered = Memo::new(move |_| watch.read(answers));
    let said = move || match open.get().len() {
        0 => words::NOTHING.to_owned(),
        left => words::left(left),
    };
    view! {
        <div class="stack tight">
            {about}
            <p>{words::LEAD}</p>
        </div>
        <div class="row">
            <p role="status" class="settle-left">{said}</p>
            {back}
        </div>
        {move || watch.read(|form| form.trouble().cloned()).map(|fault| {
            fault_note(fault, Callback::new(move |()| watch.send()))
        })}
        {answering.reason()}
        <ol class="stack">
            <For each=move || open.get() key=|question| question.step.id.clone() let:question>
                {one(answering, question)}
            </For>
        </ol>
        {move || (!answered.get().is_empty()).then(|| view! {
            <section class="stack tight" aria-labelledby="answered">
                <h2 id="answered">{words::ANSWERED}</h2>
                <ul class="lines">
                    {answered.get().into_iter().map(|line| taken(answering, line)).collect_view()}
                </ul>
            </section>
        })}
        <div class="row">
            {move || if open.with(Vec::is_empty) {
                let review = Route::Review(id.clone()).href();
                view! { <a class="button primary large" id="to-review" href=review on:click=to_review>{words::TO_REVIEW}</a> }.into_any()
            } else {
                view! { <p class="quiet-text">{words::ANSWER_FIRST}</p> }.into_any()
            }}
        </div>
    }
    .into_any()
}

/// The way back for whoever ended it by a slip: the end is taken back, and the form goes on. Once everything had
/// its answer there is none, since the review was seen.
fn goes_on(watch: Watch, id: String) -> impl IntoView {
    let end = Memo::new(move |_| watch.read(standing_end));
    let ended = Memo::new(move |_| watch.read(|form| form.folded().ended));
    Effect::new(move |_| {
        if !ended.get() {
            Route::Live(id.clone()).go_instead();
        }
    });
    move || {
        end.get().map(|of| {
            view! {
                <button type="button" class="button" id="not-ended"
                    on:click=move |_| { watch.tap(Event::Undo { of: of.clone() }); }>{words::NOT_ENDED}</button>
            }
        })
    }
}

/// The line of the end, as long as it may be taken back.
fn standing_end(form: &Form) -> Option<TapId> {
    let folded = form.folded();
    if folded.settled || form.opened().sealed {
        return None;
    }
    let lines = form.opened().lines.iter().rev();
    let mut ends = lines.filter(|line| matches!(line.event, Event::End { .. }));
    ends.find(|line| !folded.taken_back.contains(&line.id)).map(|line| line.id.clone())
}

/// The place after everything else, as the list of places names it; no tap is called so.
const AT_END: &str = "at-end";

/// One step without a tap.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Question {
    step: Step,
    /// Where it belongs by the procedure's order; after everything where it is `None`.
    proper: Option<TapId>,
    /// The lines it may be put before, and how each is read.
    places: Vec<(TapId, String)>,
}

fn open_questions(form: &Form) -> Vec<Question> {
    let log = form.folded();
    let places: Vec<(TapId, String)> = log
        .log
        .observations
        .iter()
        .zip(&log.tap_of)
        .filter_map(|(seen, tap)| match &seen.what {
            What::Act(act) => Some((
                tap.clone(),
                words::before(form.model().act_label(act), &wording::when(&log.log, seen)),
            )),
            What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => None,
        })
        .collect();
    let question = |step: &Step| Question {
        step: step.clone(),
        proper: form.place_of(&step.id),
        places: places.clone(),
    };
    form.unanswered().into_iter().map(question).collect()
}

fn one(answering: Answering, question: Question) -> impl IntoView {
    let watch = answering.watch;
    let Question { step, proper, places } = question;
    // Nothing is chosen beforehand: an answer that undoes a finding must be given, not left standing.
    let place = RwSignal::new(places.is_empty().then_some(None::<TapId>));
    let asked = RwSignal::new(false);
    let skipped = proper.as_ref().and_then(|proper| {
        let (_, text) = places.iter().find(|(tap, _)| tap == proper)?;
        Some(words::should_have_come(text))
    });
    let (name, acts) = watch.peek(|form| {
        let model = form.model();
        let acts = step.acts.iter().map(|act| (act.clone(), model.act_label(act).to_owned()));
        (pictures::step_label(model, &step), acts.collect::<Vec<_>>())
    });
    let several = acts.len() > 1;
    let by = step.by;
    let place_id = format!("place-{}", step.id);
    let done = acts.into_iter().enumerate().map(|(index, (act, label))| {
        let place_field = place_id.clone();
        let id = if index == 0 { format!("done-{}", step.id) } else { format!("done-{}-{act}", step.id) };
        let word = if several { format!("{}: {label}", words::DONE) } else { words::DONE.to_owned() };
        let tap = move |_| {
            if let Some(before) = place.get_untracked() {
                answering.tap(Event::LateAct { act: act.clone(), by, before });
            } else {
                asked.set(true);
                page::focus(&place_field);
            }
        };
        view! { <button type="button" class="button" id=id on:click=tap>{word}</button> }
    });
    let done = done.collect_view();
    let alone = places.is_empty();
    let options = places.into_iter().map(|(tap, text)| view! { <option value=tap>{text}</option> });
    let options = options.collect_view();
    let (not_done, not_seen) = (step.id.clone(), step.id.clone());
    let (place_label, wrong_id) = (place_id.clone(), format!("{place_id}-wrong"));
    let described = wrong_id.clone();
    view! {
        <li class="card question">
            <fieldset class="stack">
                <legend>
                    <strong>{name}</strong>
                    {step.critical.then(|| view! { " "<span class="tag">{words::CRITICAL}</span> })}
                </legend>
                <p>{step.text}</p>
                {skipped.map(|said| view! { <p class="note warning">{said}</p> })}
                <div class="field">
                    <label for=place_label>{words::PLACE}</label>
                    <select id=place_id aria-describedby=move || asked.get().then(|| described.clone())
                        on:change:target=move |event| {
                            place.set(match event.target().value().as_str() {
                                "" => None,
                                AT_END => Some(None),
                                tap => Some(Some(tap.to_owned())),
                            });
                        }>
                        {(!alone).then(|| view! { <option value="">{words::CHOOSE_PLACE}</option> })}
                        {options}
                        <option value=AT_END>{words::AT_END}</option>
                    </select>
                    {move || (asked.get() && place.get().is_none()).then(|| view! {
                        <p class="wrong" id=wrong_id.clone() role="alert">{words::SAY_WHEN}</p>
                    })}
                </div>
                <div class="row">
                    {done}
                    <button type="button" class="button" id=format!("not-done-{}", step.id) on:click=move |_| {
                        answering.tap(Event::NotDone { step: not_done.clone() });
                    }>{words::NOT_DONE}</button>
                    <button type="button" class="button" id=format!("not-seen-{}", step.id) on:click=move |_| {
                        answering.tap(Event::NotSeen { step: not_seen.clone() });
                    }>{words::NOT_SEEN}</button>
                </div>
            </fieldset>
        </li>
    }
}

/// The answers that can still be changed.
fn answers(form: &Form) -> Vec<Shown> {
    let answer = |id: &TapId| {
        let line = form.opened().lines.iter().find(|line| line.id == *id);
        line.is_some_and(|line| {
            matches!(line.event, Event::LateAct { .. } | Event::NotDone { .. } | Event::NotSeen { .. })
        })
    };
    all_lines(form).into_iter().filter(|line| line.taken_back.is_none() && answer(&line.id)).collect()
}

fn taken(answering: Answering, line: Shown) -> impl IntoView {
    let Shown { id, text, .. } = line;
    let name = format!("{}: {text}", wording::door::live::UNDO);
    view! {
        <li class="line">
            <span>{text}</span>
            <span class="aside">
                <button type="button" class="button plain" aria-label=name
                    on:click=move |_| answering.tap(Event::Undo { of: id.clone() })>{wording::door::live::UNDO}</button>
            </span>
        </li>
    }
}
