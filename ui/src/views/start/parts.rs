//! The parts of the start view, one for each thing to choose.

use competency::{procedure::Mode, validity::Purpose};
use contract::{ListProcedures, Person, ProcedureLine};
use leptos::prelude::*;

use super::{Choices, Part, asked_at_start, needs_assistant};
use crate::{
    widgets::{
        choice::{Choice, choices as radio},
        field::{Field, Kind},
        loaded::{ask, loaded},
        person_picker::PersonPicker,
    },
    wording::{self, door::start as words, facility::procedures},
};

fn part(id: &'static str, heading: &'static str, inside: impl IntoView) -> impl IntoView {
    view! {
        <section class="stack tight" aria-labelledby=id>
            <h2 id=id class="part">{heading}</h2>
            {inside}
        </section>
    }
}

pub(super) fn person(choices: Choices) -> impl IntoView {
    let refusal = Callback::new(move |person: Person| choices.refused(Part::Wearer, &person.id));
    let picker = view! {
        <PersonPicker prefix="person" search_id="person-search" label=words::PERSON_SEARCH chosen=choices.person
            refusal=refusal />
    };
    part("part-person", words::PERSON, picker)
}

pub(super) fn observer(choices: Choices) -> impl IntoView {
    let refusal = Callback::new(move |person: Person| {
        let refused = choices.refused(Part::Observer, &person.id);
        refused.or_else(|| (!person.observes).then_some(words::NO_CERTIFICATE))
    });
    let picker = view! {
        <PersonPicker prefix="observer" search_id="observer-search" label=words::OBSERVER_SEARCH
            chosen=choices.observer refusal=refusal nobody=words::NOBODY_OBSERVES />
    };
    part("part-observer", words::OBSERVER, picker)
}

pub(super) fn assistant(choices: Choices) -> impl IntoView {
    let wanted = RwSignal::new(false);
    let needed = move || choices.procedure.with(|procedure| procedure.as_ref().is_some_and(needs_assistant));
    let refusal = Callback::new(move |person: Person| choices.refused(Part::Assistant, &person.id));
    let inside = move || {
        if wanted.get() || needed() {
            view! {
                {needed().then(|| view! { <p class="quiet-text">{words::NEEDS_ASSISTANT}</p> })}
                <PersonPicker prefix="assistant" search_id="assistant-search" label=words::ASSISTANT_SEARCH
                    chosen=choices.assistant refusal=refusal />
            }
            .into_any()
        } else {
            view! {
                <div><button type="button" class="button" id="with-assistant" on:click=move |_| wanted.set(true)>
                    {words::WITH_ASSISTANT}
                </button></div>
            }
            .into_any()
        }
    };
    part("part-assistant", words::ASSISTANT, inside)
}

pub(super) fn procedure(choices: Choices) -> impl IntoView {
    let search = RwSignal::new(String::new());
    let asked = ask(|| ListProcedures { retired: false });
    let inside = move || {
        match choices.line.get() {
        Some(line) => view! {
            <div class="picked">
                <p><strong>{line.title.clone()}</strong><br /><span class="quiet-text">{about(&line)}</span></p>
                <button type="button" class="button plain" on:click=move |_| choices.line.set(None)>
                    {words::ANOTHER}
                </button>
            </div>
            {line.from_memory.then(|| view! { <p class="note warning">{procedures::FROM_MEMORY_LONG}</p> })}
        }
        .into_any(),
        None => view! {
            <Field id="procedure-search" label=words::PROCEDURE_SEARCH value=search kind=Kind::Search />
            {loaded(asked, move |lines| procedures_found(lines, &search.get(), choices).into_any())}
        }
        .into_any(),
    }
    };
    part("part-procedure", words::PROCEDURE, inside)
}

fn procedures_found(lines: Vec<ProcedureLine>, search: &str, choices: Choices) -> impl IntoView + use<> {
    let search = search.trim().to_lowercase();
    let matching = lines.into_iter().filter(|line| {
        search
            .split_whitespace()
            .all(|word| format!("{} {}", line.title, about(line)).to_lowercase().contains(word))
    });
    let each = matching.map(|line| {
        let id = format!("procedure-{}", line.id);
        let (name, under) = (line.title.clone(), about(&line));
        view! {
            <li><button type="button" class="button" id=id on:click=move |_| choices.line.set(Some(line.clone()))>
                <span>{name}</span><span class="quiet-text">{under}</span>
            </button></li>
        }
    });
    let each: Vec<_> = each.collect();
    if each.is_empty() {
        return view! { <p class="quiet-text">{words::NO_PROCEDURE}</p> }.into_any();
    }
    view! { <ul class="found one-column">{each}</ul> }.into_any()
}

fn about(line: &ProcedureLine) -> String {
    format!(
        "{} · {} · {} · {}",
        wording::phase(line.phase),
        wording::precautions(&line.precautions),
        procedures::line(line.steps, line.critical),
        procedures::version(&line.version)
    )
}

pub(super) fn purpose(choices: Choices) -> impl IntoView {
    let always = |hint: &str| Signal::stored(hint.to_owned());
    let all = [
        (Purpose::Practice, "purpose-practice", always(words::PRACTICE)),
        (Purpose::Validation, "purpose-validation", Signal::derive(move || choices.as_validation())),
        (Purpose::LiveCare, "purpose-live-care", always(words::LIVE_CARE)),
    ];
    let all = all.map(|(value, id, hint)| Choice {
        value,
        id: id.to_owned(),
        label: wording::purpose(value),
        hint,
    });
    part("part-purpose", words::PURPOSE, radio("purpose", words::PURPOSE, all.into(), choices.purpose))
}

pub(super) fn mode(choices: Choices) -> impl IntoView {
    let all =
        [(Mode::Assessed, "mode-assessed", words::ASSESSED), (Mode::Guided, "mode-guided", words::GUIDED)];
    let all = all.map(|(value, id, hint)| Choice {
        value,
        id: id.to_owned(),
        label: wording::mode(value),
        hint: Signal::stored(hint.to_owned()),
    });
    part("part-mode", words::MODE, radio("mode", words::MODE, all.into(), choices.mode))
}

pub(super) fn worn(choices: Choices) -> impl IntoView {
    move || {
        let asked =
            choices.procedure.with(|procedure| procedure.as_ref().map(asked_at_start).unwrap_or_default());
        (!asked.is_empty()).then(|| {
            let each = asked.into_iter().map(|(condition, text)| {
                let id = format!("worn-{condition}");
                view! {
                    <label class="choice">
                        <input type="checkbox" id=id on:change:target=move |event| {
                            let holds = event.target().checked();
                            choices.worn.update(|worn| {
                                if holds { worn.insert(condition.clone()); } else { worn.remove(&condition); }
                            });
                        } />
                        <strong>{text}</strong>
                    </label>
                }
            });
            let inside = view! {
                <p class="quiet-text">{words::WORN_HINT}</p>
                <div class="choices">{each.collect_view()}</div>
            };
            part("part-worn", words::WORN, inside)
        })
    }
}

/// For when the tablet was down: the date of the form that the demonstration was observed with.
pub(super) fn paper_form(choices: Choices) -> impl IntoView {
    // Asked through a memo, or the field would be made anew, and lose the focus, with every letter.
    let from_paper = Memo::new(move |_| choices.paper_form.with(Option::is_some));
    let inside = move || {
        if from_paper.get() {
            view! {
                <p class="quiet-text">{words::FROM_PAPER_WHY}</p>
                <div class="field">
                    <label for="form-date">{words::FORM_DATE}</label>
                    <input id="form-date" type="text" autocomplete="off" aria-describedby="form-date-hint"
                        on:input:target=move |event| choices.paper_form.set(Some(event.target().value())) />
                    <p class="hint" id="form-date-hint">{words::FORM_DATE_HINT}</p>
                </div>
                <div><button type="button" class="button plain"
                    on:click=move |_| choices.paper_form.set(None)>{words::NOT_FROM_PAPER}</button></div>
            }
            .into_any()
        } else {
            view! {
                <div><button type="button" class="button" id="from-paper"
                    on:click=move |_| choices.paper_form.set(Some(String::new()))>{words::FROM_PAPER}</button></div>
            }
            .into_any()
        }
    };
    part("part-paper", words::PAPER, inside)
}
