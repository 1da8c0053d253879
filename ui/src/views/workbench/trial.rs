//! Trying a draft: a log played against it by the very rules, and what scoring says of it.

use competency::{
    live::Live,
    log::{Contamination, Ended, Log, Observation, What},
    model::Model,
    procedure::{ActId, Ask, By, ConditionId, Mode, TechniqueFault, check},
    score::score,
    sentence,
};
use leptos::prelude::*;

use super::{bench::Bench, inputs::tick};
use crate::wording::{self, door::live::PROMPTED, workbench as words};

/// How far apart the acts of a trial are at least.
const APART_MS: i64 = 10_000;

pub(super) fn trial(bench: Bench) -> impl IntoView {
    let flawed = bench.read(|draft| !check(draft).is_empty());
    move || {
        if flawed.get() {
            view! { <p class="note warning">{words::TRY_FLAWED}</p> }.into_any()
        } else {
            play(bench).into_any()
        }
    }
}

/// One tap of a trial, with what was said of it afterwards.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Tap {
    what: What,
    prompted: bool,
    faults: Vec<String>,
}

impl Tap {
    fn of(what: What) -> Self {
        Tap { what, prompted: false, faults: Vec::new() }
    }
}

fn play(bench: Bench) -> impl IntoView {
    let tapped = RwSignal::new(Vec::<Tap>::new());
    let holding = RwSignal::new(Vec::<ConditionId>::new());
    let first = bench.procedure.with_untracked(|draft| draft.validates_in.first().copied());
    let mode = RwSignal::new(first.unwrap_or(Mode::Assessed));
    let model = Memo::new(move |_| bench.procedure.with(|draft| Tried(Model::new(draft.clone()))));
    let log =
        Memo::new(move |_| model.with(|tried| log_of(&tried.0, &tapped.get(), holding.get(), mode.get())));
    let scored = move || {
        if tapped.with(Vec::is_empty) {
            view! { <p class="quiet-text">{words::NO_TAP}</p> }.into_any()
        } else {
            model.with(|tried| scored(&tried.0, &log.get())).into_any()
        }
    };
    view! {
        <section class="card stack" aria-label=words::TRY>
            <p class="quiet-text">{words::TRY_WHY}</p>
            <div class="columns">
                {super::inputs::one_of("try-mode".to_owned(), words::TRY_MODE, modes,
                    Memo::new(move |_| wording::mode(mode.get())), move |called: String| {
                        let all = [Mode::Assessed, Mode::Guided].into_iter();
                        mode.set(all.rev().find(|one| wording::mode(*one) == called).unwrap_or(Mode::Assessed));
                        true
                    })}
                <div class="row">{worn(bench, holding)}</div>
            </div>
            <div class="row" id="try-acts">{acts(bench, tapped)}</div>
            {happenings(bench, tapped)}
            <div class="row">
                <button type="button" class="button plain" id="try-undo"
                    on:click=move |_| tapped.update(|all| drop(all.pop()))>{words::TAKE_BACK}</button>
                <button type="button" class="button plain" id="try-again"
                    on:click=move |_| tapped.set(Vec::new())>{words::START_OVER}</button>
            </div>
            {about_last(bench, tapped)}
            <div class="columns">
                <section class="stack tight" aria-labelledby="try-log-title">
                    <h2 id="try-log-title">{words::TAPPED}</h2>
                    <ol class="stack tight" id="try-log">
                        {move || model.with(|tried| told(&tried.0, &log.get()))}
                    </ol>
                </section>
                <div class="stack tight" aria-live="polite" id="try-score">
                    <h2>{words::SCORE}</h2>
                    {scored}
                </div>
            </div>
        </section>
    }
}

fn modes() -> Vec<(String, String)> {
    [Mode::Assessed, Mode::Guided].map(|one| (wording::mode(one), wording::mode(one))).to_vec()
}

/// The acts in the order of the steps, as on the live form; then those that no step calls for.
fn acts(bench: Bench, tapped: RwSignal<Vec<Tap>>) -> impl IntoView {
    let acts: Vec<(ActId, String)> = bench.procedure.with_untracked(|draft| {
        let combined = draft.combined_acts.iter().map(|(id, act)| (id.clone(), act.label.clone()));
        let mut acts: Vec<_> = draft.acts.clone().into_iter().chain(combined).collect();
        let own = |act: &str| draft.steps.iter().position(|step| step.acts.iter().any(|one| one == act));
        let place = |act: &str| match draft.combined_acts.get(act) {
            Some(combined) => combined.counts_as.iter().filter_map(|part| own(part)).min(),
            None => own(act),
        };
        acts.sort_by_key(|(act, _)| place(act).unwrap_or(usize::MAX));
        acts
    });
    let buttons = acts.into_iter().map(|(act, label)| {
        let id = format!("try-{act}");
        let tap = move |_| tapped.update(|all| all.push(Tap::of(What::Act(act.clone()))));
        view! { <button type="button" class="button" id=id on:click=tap>{label}</button> }
    });
    buttons.collect_view()
}

/// What may happen at any time, and a contamination.
fn happenings(bench: Bench, tapped: RwSignal<Vec<Tap>>) -> impl IntoView {
    let anytime: Vec<(String, What)> = bench.procedure.with_untracked(|draft| {
        let conditions = draft.conditions.iter().filter(|one| one.ask == Ask::Anytime);
        conditions.map(|one| (one.text.clone(), What::Condition(one.id.clone()))).collect()
    });
    let contamination = Contamination {
        site: words::TRY_SITE.to_owned(),
        from: words::TRY_FROM.to_owned(),
        recognised_by: Some(By::Observer),
    };
    let event = (words::TRY_CONTAMINATION.to_owned(), What::Contamination(contamination));
    let buttons = anytime.into_iter().chain([event]).map(|(label, what)| {
        let tap = move |_| tapped.update(|all| all.push(Tap::of(what.clone())));
        view! { <button type="button" class="button" on:click=tap>{label}</button> }
    });
    view! { <div class="row" role="group" aria-label=words::TRY_EVENTS>{buttons.collect_view()}</div> }
}

/// What holds from the start.
fn worn(bench: Bench, holding: RwSignal<Vec<ConditionId>>) -> impl IntoView {
    let conditions = bench.procedure.with_untracked(|draft| draft.conditions.clone());
    let each = conditions.into_iter().filter(|one| one.ask == Ask::Start).map(|one| {
        let id = one.id.clone();
        let held = Memo::new(move |_| holding.with(|all| all.contains(&id)));
        tick(format!("try-worn-{}", one.id), one.text, held, move |on: bool| {
            holding.update(|all| {
                all.retain(|other| *other != one.id);
                if on {
                    all.push(one.id.clone());
                }
            });
            true
        })
    });
    each.collect_view()
}

/// About the last act: a prompt, and how it was done badly.
fn about_last(bench: Bench, tapped: RwSignal<Vec<Tap>>) -> impl IntoView {
    let last = Memo::new(move |_| tapped.with(|all| Some((all.len(), act_of(all.last()?)?))));
    let change = move |write: &dyn Fn(&mut Tap)| {
        tapped.update(|all| all.last_mut().into_iter().for_each(write));
        true
    };
    move || {
        let (_, act) = last.get()?;
        let faults: Vec<TechniqueFault> = bench.procedure.with_untracked(|draft| {
            let own = draft.steps.iter().filter(|step| step.acts.contains(&act));
            let mut faults: Vec<_> = own.flat_map(|step| step.technique_faults.clone()).collect();
            faults.sort_by(|one, other| one.code.cmp(&other.code));
            faults.dedup_by(|one, other| one.code == other.code);
            faults
        });
        let prompted = Memo::new(move |_| tapped.with(|all| all.last().is_some_and(|last| last.prompted)));
        let each = faults.into_iter().map(|fault| {
            let (code, set) = (fault.code.clone(), fault.code);
            let seen = Memo::new(move |_| {
                tapped.with(|all| all.last().is_some_and(|last| last.faults.contains(&code)))
            });
            tick(format!("try-fault-{set}"), fault.text, seen, move |on| {
                change(&|last| {
                    last.faults.retain(|other| *other != set);
                    if on {
                        last.faults.push(set.clone());
                    }
                })
            })
        });
        let each: Vec<_> = each.collect();
        Some(view! {
            <fieldset class="row" id="try-last">
                <legend>{words::TRY_LAST}</legend>
                {tick("try-prompted".to_owned(), PROMPTED, prompted, move |on| change(&|last| last.prompted = on))}
                {each}
            </fieldset>
        })
    }
}

fn act_of(tap: &Tap) -> Option<ActId> {
    match &tap.what {
        What::Act(act) => Some(act.clone()),
        What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => None,
    }
}

/// A model as a memo holds it: two are the same where their procedures are.
struct Tried(Model);

impl PartialEq for Tried {
    fn eq(&self, other: &Self) -> bool {
        self.0.procedure() == other.0.procedure()
    }
}

/// The taps as a log. An act that has to last a while lasts as long as it should: nobody watches a clock here.
fn log_of(model: &Model, tapped: &[Tap], conditions: Vec<ConditionId>, mode: Mode) -> Log {
    let procedure = model.procedure();
    let least_ms = |what: &What| {
        let What::Act(act) = what else { return None };
        let own = procedure.steps.iter().filter(|step| step.acts.contains(act));
        own.filter_map(|step| procedure.least_seconds(step, act)).max().map(|least| 1000 * i64::from(least))
    };
    let mut at_ms = 0;
    let mut observations = Vec::new();
    for tap in tapped {
        let lasts = least_ms(&tap.what);
        observations.push(Observation {
            at_ms: Some(at_ms),
            until_ms: lasts.map(|lasts| at_ms + lasts),
            lasted_ms: None,
            what: tap.what.clone(),
            prompted: tap.prompted,
            faults: tap.faults.clone(),
            by: By::Wearer,
            late: false,
            call: None,
        });
        at_ms += lasts.unwrap_or_default().max(APART_MS);
    }
    Log { mode, conditions, ended: Ended::default(), held: Vec::new(), transcribed: false, observations }
}

/// Every tap with what the live rule says of it.
fn told(model: &Model, log: &Log) -> AnyView {
    if log.observations.is_empty() {
        return view! { <li class="quiet-text">{words::NO_TAP}</li> }.into_any();
    }
    let mut live = Live::new(model, &log.conditions);
    let mut lines = Vec::new();
    for observation in &log.observations {
        let verdict = live.observe(model, observation);
        let called = match &observation.what {
            What::Act(act) => model.act_label(act).to_owned(),
            What::Condition(id) => model.procedure().condition_text(id).to_owned(),
            What::Contamination(event) => wording::door::contamination_line(&event.site, &event.from),
            // Nothing else is tapped here.
            What::NotSeen(_) | What::TeamError(_) => String::new(),
        };
        let warning = verdict.warning().map(|warning| sentence::warning(model, warning));
        let at = observation.at_ms.map(wording::clock).unwrap_or_default();
        lines.push(view! {
            <li>{at}" "<strong>{called}</strong>
                {warning.map(|said| view! { <p class="note warning small">{said}</p> })}
            </li>
        });
    }
    lines.collect_view().into_any()
}

fn scored(model: &Model, log: &Log) -> impl IntoView + use<> {
    let report = score(model, log);
    let findings = report.findings.iter().map(|finding| {
        view! {
            <li><span class="tag">{wording::severity(finding.severity)}</span>" "{finding.text.clone()}</li>
        }
    });
    view! {
        <p id="try-outcome"><strong>{wording::outcome(report.outcome)}</strong>": "{sentence::headline(&report)}</p>
        <ul class="stack tight">{findings.collect_view()}</ul>
    }
}
