//! The steps: a list in printed order, and one of them opened to work on.

use competency::{
    model::Model,
    procedure::{ActId, Applies, Ask, By, Edit, Procedure, Source, Step, StepId, TechniqueFault, fresh_id},
};
use leptos::prelude::*;

use super::{
    bench::Bench,
    inputs::{lines, number, one_of, text, tick},
    new_act::new_act,
    order::order,
};
use crate::{
    page, pictures,
    wording::{self, facility::procedures, workbench as words},
};

pub(super) fn steps(bench: Bench) -> impl IntoView {
    let chosen = RwSignal::new(None::<StepId>);
    let ids = bench.read(|draft| draft.steps.iter().map(|step| step.id.clone()).collect::<Vec<_>>());
    let add = move |_| {
        let step = bench.procedure.with_untracked(new_step);
        let id = step.id.clone();
        if bench.edit(&Edit::AddStep { step, before: None }) {
            chosen.set(Some(id));
        }
    };
    let open = move || match chosen.get().filter(|id| ids.with(|ids| ids.contains(id))) {
        Some(id) => editor(bench, id).into_any(),
        None => view! { <p class="note">{words::CHOOSE_STEP}</p> }.into_any(),
    };
    view! {
        <div class="bench-around"><div class="bench">
            <section class="stack tight" aria-labelledby="steps">
                <h2 id="steps">{words::STEPS}</h2>
                <ol class="stack tight" id="step-list" tabindex="0" aria-label=words::STEPS>
                    <For each=move || ids.get() key=Clone::clone children=move |id| entry(bench, id, chosen) />
                </ol>
                <button type="button" class="button" id="add-step" on:click=add>{words::ADD_STEP}</button>
            </section>
            {open}
        </div></div>
    }
}

fn entry(bench: Bench, id: StepId, chosen: RwSignal<Option<StepId>>) -> impl IntoView {
    let called = {
        let id = id.clone();
        bench.read(move |draft| name(draft, &id))
    };
    let about = bench.read_step(id.clone(), |step| {
        let critical = if step.critical { format!(" · {}", procedures::CRITICAL) } else { String::new() };
        format!("{}{critical}", step.section)
    });
    let here = {
        let id = id.clone();
        move || chosen.with(|chosen| (chosen.as_deref() == Some(&*id)).then_some("true"))
    };
    let open = {
        let id = id.clone();
        move |_| chosen.set(Some(id.clone()))
    };
    view! {
        <li><button type="button" class="button bench-step" id=format!("step-{id}") aria-current=here on:click=open>
            <span>{called}</span><span class="small">{about}</span>
        </button></li>
    }
}

/// What people call a step: its number in print and the labels of its acts, which alone may be those of several.
pub(super) fn name(draft: &Procedure, id: &str) -> String {
    let model = Model::new(draft.clone());
    let step = model.step_number(id).and_then(|number| model.step(number));
    let called = step.map_or_else(|| id.to_owned(), |step| pictures::step_label(&model, step));
    let number = model.step_number(id).map(|number| number + 1);
    number.map_or(called.clone(), |number| format!("{number}. {called}"))
}

/// A new step with the first act there is, to be changed at once.
fn new_step(draft: &Procedure) -> Step {
    Step {
        id: fresh_id(words::NEW_STEP, draft.steps.iter().map(|step| &*step.id)),
        section: draft.steps.last().map_or_else(|| words::SECTION.to_owned(), |step| step.section.clone()),
        acts: draft.acts.keys().take(1).cloned().collect(),
        text: words::NEW_STEP.to_owned(),
        look_for: Vec::new(),
        after: Vec::new(),
        immediately_after: None,
        critical: false,
        optional: false,
        when: None,
        unless: None,
        by: By::Wearer,
        min_seconds: std::collections::BTreeMap::new(),
        technique_faults: Vec::new(),
        why: None,
        source: None,
    }
}

/// Marks the choice of a condition under which a step is not required; no id of a condition begins so.
const NOT: char = '!';

fn editor(bench: Bench, id: StepId) -> impl IntoView {
    let field = |name: &str| format!("step-{name}-{id}");
    let set = |write: fn(&mut Step, String)| {
        let id = id.clone();
        move |entered: String| bench.edit_step(&id, |step| write(step, entered))
    };
    let flag = |write: fn(&mut Step, bool)| {
        let id = id.clone();
        move |on: bool| bench.edit_step(&id, |step| write(step, on))
    };
    let look_for = {
        let id = id.clone();
        move |points: Vec<String>| bench.edit_step(&id, |step| step.look_for = points)
    };
    let whom = || [By::Wearer, By::Assistant, By::Observer].map(both_by).to_vec();
    let conditions = move || {
        let mut all = vec![(String::new(), words::ALWAYS.to_owned())];
        bench.procedure.with(|draft| {
            all.extend(draft.conditions.iter().map(|one| (one.id.clone(), procedures::when(&one.text))));
            // One that may come about later cannot take back what was required before it.
            let at_start = draft.conditions.iter().filter(|one| one.ask == Ask::Start);
            all.extend(at_start.map(|one| (format!("{NOT}{}", one.id), procedures::unless(&one.text))));
        });
        all
    };
    let sources = move || {
        let mut all = vec![(String::new(), words::NO_SOURCE.to_owned())];
        bench.procedure.with(|draft| {
            // Two may have one title and be read differently, so the place in them is said as well.
            let called = |one: &Source| format!("{}: {}", one.title, one.locator);
            all.extend(draft.sources.iter().map(|one| (one.id.clone(), called(one))));
        });
        all
    };
    let called = {
        let id = id.clone();
        bench.read(move |draft| name(draft, &id))
    };
    // The list may be longer than the window: whoever chose a step is taken to its beginning.
    Effect::new(move |_| page::focus("step-title"));
    view! {
        <section class="card stack" id="step-editor" aria-labelledby="step-title">
            <h2 id="step-title" tabindex="-1">{called}</h2>
            {moves(bench, id.clone())}
            {text(field("text"), words::STEP_TEXT, bench.read_step(id.clone(), |step| step.text.clone()),
                set(|step, text| step.text = text))}
            <div class="columns">
                {text(field("section"), words::SECTION, bench.read_step(id.clone(), |step| step.section.clone()),
                    set(|step, section| step.section = section))}
                {one_of(field("by"), words::DONE_BY, whom, bench.read_step(id.clone(), |step| both_by(step.by).0),
                    set(|step, by| {
                        let all = [By::Wearer, By::Assistant, By::Observer];
                        step.by = all.into_iter().find(|one| both_by(*one).0 == by).unwrap_or(step.by);
                    }))}
                {one_of(field("when"), words::WHEN, conditions,
                    bench.read_step(id.clone(), |step| match step.applies() {
                        Applies::Always => String::new(),
                        Applies::Where(id) => id.to_owned(),
                        Applies::NotWhere(id) => format!("{NOT}{id}"),
                    }),
                    set(|step, applies| (step.when, step.unless) = match applies.strip_prefix(NOT) {
                        Some(id) => (None, Some(id.to_owned())),
                        None => ((!applies.is_empty()).then_some(applies), None),
                    }))}
                {one_of(field("source"), words::SOURCE, sources,
                    bench.read_step(id.clone(), |step| step.source.clone().unwrap_or_default()),
                    set(|step, source| step.source = (!source.is_empty()).then_some(source)))}
            </div>
            <div class="row">
                {tick(field("critical"), words::CRITICAL, bench.read_step(id.clone(), |step| step.critical),
                    flag(|step, on| step.critical = on))}
                {tick(field("optional"), words::OPTIONAL, bench.read_step(id.clone(), |step| step.optional),
                    flag(|step, on| step.optional = on))}
            </div>
            {text(field("why"), words::WHY, bench.read_step(id.clone(), |step| step.why.clone().unwrap_or_default()),
                set(|step, why| step.why = (!why.is_empty()).then_some(why)))}
            {acts(bench, id.clone())}
            {lines(field("look-for"), words::LOOK_FOR, "",
                bench.read_step(id.clone(), |step| step.look_for.clone()), look_for)}
            {order(bench, id.clone())}
            {faults(bench, id)}
        </section>
    }
}

fn both_by(by: By) -> (String, String) {
    (wording::by(by).to_owned(), wording::by(by).to_owned())
}

fn moves(bench: Bench, id: StepId) -> impl IntoView {
    let place = {
        let id = id.clone();
        move |ids: &[StepId]| ids.iter().position(|one| *one == id)
    };
    let shift = move |later: bool| {
        let ids: Vec<StepId> =
            bench.procedure.with_untracked(|draft| draft.steps.iter().map(|step| step.id.clone()).collect());
        let Some(at) = place(&ids) else { return };
        let before = if later { at + 2 } else { at.saturating_sub(1) };
        if let Some(step) = ids.get(at) {
            let before = ids.get(before).cloned();
            bench.edit(&Edit::MoveStep { step: step.clone(), before });
        }
    };
    let earlier = shift.clone();
    let remove = move |_| {
        bench.edit(&Edit::RemoveStep(id.clone()));
    };
    view! {
        <div class="row">
            <button type="button" class="button plain" id="step-earlier" on:click=move |_| earlier(false)>
                {words::EARLIER}</button>
            <button type="button" class="button plain" id="step-later" on:click=move |_| shift(true)>
                {words::LATER}</button>
            <button type="button" class="button plain" id="step-remove" on:click=remove>{words::REMOVE_STEP}</button>
        </div>
    }
}

/// Which acts satisfy the step, how long each takes at least, and a way to name a new one.
fn acts(bench: Bench, id: StepId) -> impl IntoView {
    let all = bench.read(by_label);
    let own = bench.read_step(id.clone(), |step| step.acts.clone());
    let added = {
        let id = id.clone();
        move |act| {
            bench.edit_step(&id, |step| step.acts.push(act));
        }
    };
    let ticks = {
        let id = id.clone();
        move |(act, label): (String, String)| {
            let held = {
                let act = act.clone();
                bench.read_step(id.clone(), move |step| step.acts.contains(&act))
            };
            let step_id = id.clone();
            let field = format!("step-act-{act}");
            tick(field, label, held, move |on| {
                bench.edit_step(&step_id, |step| {
                    step.acts.retain(|other| *other != act);
                    if on {
                        step.acts.push(act.clone());
                    } else {
                        step.min_seconds.remove(&act);
                    }
                })
            })
        }
    };
    let seconds = move |act: String| {
        let label = {
            let act = act.clone();
            let label = bench.procedure.with_untracked(|draft| draft.acts.get(&act).cloned());
            words::least_seconds(&label.unwrap_or(act))
        };
        let held = {
            let act = act.clone();
            bench.read_step(id.clone(), move |step| step.min_seconds.get(&act).copied())
        };
        let step_id = id.clone();
        number(format!("step-seconds-{act}"), label, held, move |least| {
            bench.edit_step(&step_id, |step| {
                match least {
                    Some(least) => step.min_seconds.insert(act.clone(), least),
                    None => step.min_seconds.remove(&act),
                };
            })
        })
    };
    view! {
        <fieldset class="stack tight">
            <legend>{words::STEP_ACTS}</legend>
            <div class="ticks"><For each=move || all.get() key=Clone::clone children=ticks /></div>
            {new_act(bench, "new-act", added)}
            <div class="columns"><For each=move || own.get() key=Clone::clone children=seconds /></div>
        </fieldset>
    }
}

/// The acts of a draft by what they are called, which is how people look for one.
pub(super) fn by_label(draft: &Procedure) -> Vec<(ActId, String)> {
    let mut acts: Vec<_> = draft.acts.clone().into_iter().collect();
    acts.sort_by_key(|(_, label)| label.to_lowercase());
    acts
}

fn faults(bench: Bench, id: StepId) -> impl IntoView {
    let codes = bench.read_step(id.clone(), |step| {
        step.technique_faults.iter().map(|fault| fault.code.clone()).collect::<Vec<_>>()
    });
    let add = {
        let id = id.clone();
        move |_| {
            bench.edit_step(&id, |step| {
                let code = fresh_id(words::NEW_FAULT, step.technique_faults.iter().map(|fault| &*fault.code));
                let text = words::NEW_FAULT.to_owned();
                step.technique_faults.push(TechniqueFault { code, text, contaminates: false });
            });
        }
    };
    let one = move |code: String| fault(bench, id.clone(), code);
    view! {
        <fieldset class="stack tight">
            <legend>{words::FAULTS}</legend>
            <For each=move || codes.get() key=Clone::clone children=one />
            <div class="row">
                <button type="button" class="button" id="add-fault" on:click=add>{words::ADD_FAULT}</button>
            </div>
        </fieldset>
    }
}

fn fault(bench: Bench, step: StepId, code: String) -> impl IntoView {
    let part = {
        let code = code.clone();
        bench.read_step(step.clone(), move |step| {
            let found = step.technique_faults.iter().find(|fault| fault.code == code);
            found.map(|fault| (fault.text.clone(), fault.contaminates)).unwrap_or_default()
        })
    };
    let change = {
        let (step, code) = (step.clone(), code.clone());
        move |write: &dyn Fn(&mut TechniqueFault)| {
            bench.edit_step(&step, |step| {
                step.technique_faults.iter_mut().filter(|fault| fault.code == code).for_each(write);
            })
        }
    };
    let (set_text, set_flag) = (change.clone(), change);
    let remove = {
        let code = code.clone();
        move |_| {
            bench.edit_step(&step, |step| step.technique_faults.retain(|fault| fault.code != code));
        }
    };
    view! {
        <div class="row fault">
            {text(format!("fault-text-{code}"), words::FAULT, Memo::new(move |_| part.get().0),
                move |text: String| set_text(&|fault| fault.text.clone_from(&text)))}
            {tick(format!("fault-contaminates-{code}"), words::CONTAMINATES, Memo::new(move |_| part.get().1),
                move |on| set_flag(&|fault| fault.contaminates = on))}
            <button type="button" class="button plain" on:click=remove>{words::REMOVE}</button>
        </div>
    }
}
