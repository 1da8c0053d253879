//! One fixed place for what matters now: too early, what must come next, what may come.

use competency::{
    journal::{Event, TapId},
    live::ActState,
    model::Model,
    sentence,
};
use leptos::prelude::*;

use super::{Door, Form, Panel, form::Running, ring};
use crate::{
    pictures,
    widgets::mark::ActShape,
    wording::{self, beside, door::live as words, paper},
};

/// What the banner says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Said {
    /// The acts of a response that is still owed: they stand first until one is seen.
    due: Option<String>,
    what: What,
}

#[derive(Debug, Clone, Default, PartialEq, Eq)]
enum What {
    /// An act came before its turn.
    TooEarly { of: TapId, first: Option<First>, text: String },
    /// What was seen last must not happen.
    Forbidden { act: String, why: Option<String> },
    /// A response is owed, and nothing else is to be said.
    Due,
    /// It is held.
    Held,
    /// A timed act was too short.
    Short { text: String, ended_by: Option<(TapId, i64)> },
    /// An act is being timed.
    Timing(Running, String),
    /// These acts may come now.
    MayCome { acts: String },
    /// Where it stands, section by section: in guided mode the next step itself stands below.
    Way(Vec<Part>),
    /// Nothing may come any more, but these steps were passed over and have no tap.
    PassedOver(String),
    /// Nothing is left.
    #[default]
    AllDone,
}

/// A section of the procedure on the way.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Part {
    name: String,
    done: usize,
    of: usize,
    /// The next step is in it.
    here: bool,
}

/// The step that should have come first.
#[derive(Debug, Clone, PartialEq, Eq)]
struct First {
    step: String,
    act: String,
    label: String,
}

fn said(form: &Form, closed: Option<&TapId>) -> Said {
    let model = form.model();
    let due: Vec<String> = form.due().iter().map(|act| model.act_label(act).to_owned()).collect();
    let due = (!due.is_empty()).then(|| wording::listed(&due, wording::door::OR));
    // While a paper form is entered nobody can be stopped any more; the log tells what came too early.
    let what = match warned(form, closed).filter(|_| form.paper().is_none()) {
        Some(warned) => warned,
        None if due.is_some() => What::Due,
        None => calm(form),
    };
    Said { due, what }
}

/// What is wrong with the act that was seen last.
fn warned(form: &Form, closed: Option<&TapId>) -> Option<What> {
    let model = form.model();
    if let Some((of, warning)) = form.warning().filter(|(of, _)| Some(*of) != closed) {
        let first = warning.first.first().and_then(|first| {
            let step = model.step(model.step_number(&first.step)?)?;
            Some(First {
                step: step.id.clone(),
                act: step.acts.first()?.clone(),
                label: pictures::step_label(model, step),
            })
        });
        return Some(What::TooEarly { of: of.clone(), first, text: sentence::warning(model, warning) });
    }
    let (act, why) = form.forbidden()?;
    Some(What::Forbidden { act: model.act_label(act).to_owned(), why })
}

/// What is to be said while nothing is wrong.
fn calm(form: &Form) -> What {
    let model = form.model();
    if form.folded().on_hold {
        return What::Held;
    }
    if let Some(short) = form.short() {
        let text = beside::short(model.act_label(&short.act), short.lasted_ms, short.least);
        return What::Short { text, ended_by: short.ended_by };
    }
    if let Some(running) = form.running() {
        let label = model.act_label(&running.act).to_owned();
        return What::Timing(running, label);
    }
    let labels = may_come(form, model);
    if labels.is_empty() {
        passed_over(form).map_or(What::AllDone, What::PassedOver)
    } else if form.is_guided() {
        What::Way(way(form))
    } else {
        What::MayCome { acts: labels.join(" · ") }
    }
}

fn way(form: &Form) -> Vec<Part> {
    let next = form.next_step().map(|step| &step.id);
    let sections = form.model().sections().iter();
    let parts = sections.filter_map(|section| {
        let (done, of) = form.done_of(&section.steps);
        let here = next.is_some_and(|next| section.steps.contains(next));
        Some(Part { name: section.title.clone()?, done, of, here })
    });
    parts.filter(|part| part.of > 0).collect()
}

/// The steps that were passed over, by the labels of their acts; none where every step has its tap.
pub(super) fn passed_over(form: &Form) -> Option<String> {
    let over: Vec<String> =
        form.passed_over().into_iter().map(|step| pictures::step_label(form.model(), step)).collect();
    (!over.is_empty()).then(|| over.join(" · "))
}

fn may_come(form: &Form, model: &Model) -> Vec<String> {
    let tiles = model.sections().iter().flat_map(|section| &section.tiles);
    let open = tiles.filter(|tile| form.live().act_mark(model, &tile.act).state == ActState::MayCome);
    open.map(|tile| tile.label.clone()).collect()
}

pub(super) fn banner(door: Door) -> impl IntoView {
    let paper = door.watch.peek(|form| form.paper().is_some());
    let end = if paper { paper::ALL_DONE_HINT } else { words::ALL_DONE_HINT };
    let shown = Memo::new(move |_| {
        let closed = door.closed.get();
        door.watch.read(|form| said(form, closed.as_ref()))
    });
    let class = move || {
        shown.with(|said| match said.what {
            What::TooEarly { .. } | What::Forbidden { .. } => "door-banner too-early",
            What::Due => "door-banner due",
            What::Held | What::Short { .. } => "door-banner held",
            What::Timing(..) => "door-banner timing",
            What::MayCome { .. } | What::Way(_) | What::PassedOver(_) | What::AllDone => "door-banner",
        })
    };
    view! {
        <section id="banner" class=class aria-label=words::WORD_NOW>
            {move || {
                let Said { due, what } = shown.get();
                match what {
                    What::TooEarly { of, first, text } => too_early(door, of, first, text, due).into_any(),
                    What::Forbidden { act, why } => view! {
                        <div class="banner-text" tabindex="0">
                            {due.map(due_first)}
                            <h2>{words::MUST_NOT_HAPPEN}</h2><p>{words::forbidden(&act, why)}</p>
                        </div>
                        {stop(door)}
                    }.into_any(),
                    What::Due => two(words::NEXT_MUST_COME, due.unwrap_or_default()).into_any(),
                    What::Held => two(words::ON_HOLD, words::ON_HOLD_HINT.to_owned()).into_any(),
                    What::Short { text, ended_by } => short(door, text, ended_by).into_any(),
                    What::Timing(running, label) => timing(door, running, label).into_any(),
                    What::MayCome { acts } => two(wording::door::mark(ActState::MayCome), acts).into_any(),
                    What::Way(parts) => on_the_way(parts).into_any(),
                    What::PassedOver(steps) => two(words::NO_TAP_YET, steps).into_any(),
                    What::AllDone => two(words::ALL_DONE, end.to_owned()).into_any(),
                }
            }}
        </section>
    }
}

/// What must come next, before whatever else is to be said.
fn due_first(acts: String) -> impl IntoView {
    view! { <p class="due-first"><strong>{words::NEXT_MUST_COME}": "{acts}</strong></p> }
}

fn stop(door: Door) -> impl IntoView {
    view! {
        <button type="button" class="door-button stop" id="banner-stop"
            on:click=move |_| door.panel.set(Panel::Stop)>{words::STOP}</button>
    }
}

fn short(door: Door, text: String, ended_by: Option<(TapId, i64)>) -> impl IntoView {
    let go_on = ended_by.map(|(of, until_ms)| {
        let may = Memo::new(move |_| door.elapsed.get() < until_ms);
        move || {
            let of = of.clone();
            may.get().then(|| {
                view! {
                    <button type="button" class="door-button" id="timer-goes-on"
                        on:click=move |_| door.tap(Event::Undo { of: of.clone() })>{beside::GOES_ON}</button>
                }
            })
        }
    });
    view! {
        <div class="banner-text" tabindex="0"><h2>{beside::TOO_SHORT}</h2><p class="banner-acts" id="too-short">{text}</p></div>
        {go_on}
    }
}

fn two(what: &'static str, acts: String) -> impl IntoView {
    view! { <div class="banner-text"><h2>{what}</h2><p class="banner-acts">{acts}</p></div> }
}

fn on_the_way(parts: Vec<Part>) -> impl IntoView {
    let each = parts.into_iter().map(|Part { name, done, of, here }| {
        let state = match (here, done == of) {
            (true, _) => ActState::MayCome,
            (false, true) => ActState::Done,
            (false, false) => ActState::NotYet,
        };
        view! {
            <li class:here=here aria-current=here.then_some("step")>
                <ActShape state=state due=false early=false /><span>{name}" "{wording::door::section_done(done, of)}</span>
            </li>
        }
    });
    view! { <div class="banner-text"><h2>{beside::WAY}</h2><ol class="way">{each.collect_view()}</ol></div> }
}

fn too_early(
    door: Door,
    of: TapId,
    first: Option<First>,
    text: String,
    due: Option<String>,
) -> impl IntoView {
    let prompted = of.clone();
    let closing = of.clone();
    let prompt = move |_| {
        door.watch.tap(Event::Prompted { of: prompted.clone() });
        // It has been dealt with, so the banner goes back to what comes next.
        door.closed.set(Some(closing.clone()));
    };
    let about_first = first.map(|First { step, act, label }| {
        let late = move |_| {
            let by = door.watch.peek(|form| form.by(&act));
            door.watch.tap(Event::LateAct { act: act.clone(), by, before: Some(of.clone()) });
        };
        let not_seen = move |_| {
            door.watch.tap(Event::NotSeen { step: step.clone() });
        };
        view! {
            <button type="button" class="door-button" id="first-done" on:click=late
                aria-label=format!("{}: {label}", words::DONE_NOT_LOGGED)>{words::DONE_NOT_LOGGED}</button>
            <button type="button" class="door-button" id="first-not-seen" on:click=not_seen
                aria-label=format!("{}: {label}", words::NOT_SEEN)>{words::NOT_SEEN}</button>
        }
    });
    view! {
        <div class="banner-text" tabindex="0">
            {due.map(due_first)}
            <h2>{words::TOO_EARLY}</h2><p id="too-early">{text}</p>
        </div>
        <div class="banner-acts-row">
            <button type="button" class="door-button" id="banner-prompted" on:click=prompt>{words::PROMPTED}</button>
            {about_first}
            {stop(door)}
        </div>
    }
}

fn timing(door: Door, running: Running, label: String) -> impl IntoView {
    let shown = ring::ring(door, &running);
    let Running { of, since_ms, least, .. } = running;
    let left = move || beside::left(door.elapsed.get() - since_ms, least);
    view! {
        {shown}
        <div class="banner-text">
            <h2>{words::TIMING}": "{label}</h2>
            <p class="banner-acts" id="timer-left">{left}</p>
        </div>
        <button type="button" class="door-button" id="end-timer"
            on:click=move |_| door.tap(Event::ActEnded { of: of.clone() })>{words::TIMER_END}</button>
    }
}
