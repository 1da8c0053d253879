//! A new demonstration: who, which procedure, what for, how, observed and assisted by whom, what is worn.

mod parts;
mod prerequisites;

use std::collections::BTreeSet;

use chrono::NaiveDate;
use competency::{
    procedure::{Ask, By, ConditionId, Mode, Procedure},
    roles::{self, RoleFault},
    sentence,
    validity::{self, Purpose},
};
use contract::{BeginDemonstration, ListPeople, OpenProcedure, Person, ProcedureLine};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    page,
    widgets::{
        announcer::Announcer,
        loaded::{fault_note, progress},
        title::title,
    },
    wording::{self, door::start as words},
};

/// A part in a demonstration.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    Wearer,
    Observer,
    Assistant,
}

/// What has been chosen so far.
#[derive(Debug, Clone, Copy)]
struct Choices {
    person: RwSignal<Option<Person>>,
    line: RwSignal<Option<ProcedureLine>>,
    procedure: RwSignal<Option<Procedure>>,
    purpose: RwSignal<Option<Purpose>>,
    mode: RwSignal<Option<Mode>>,
    observer: RwSignal<Option<Person>>,
    assistant: RwSignal<Option<Person>>,
    worn: RwSignal<BTreeSet<ConditionId>>,
    /// The date of a paper form, as it is typed; `None` where the demonstration is logged as it happens.
    paper_form: RwSignal<Option<String>>,
}

impl Choices {
    fn new() -> Choices {
        Choices {
            person: RwSignal::new(None),
            line: RwSignal::new(None),
            procedure: RwSignal::new(None),
            purpose: RwSignal::new(None),
            mode: RwSignal::new(None),
            observer: RwSignal::new(None),
            assistant: RwSignal::new(None),
            worn: RwSignal::new(BTreeSet::new()),
            paper_form: RwSignal::new(None),
        }
    }

    /// What is still to be chosen, as it is called on the page.
    fn missing(self) -> Vec<String> {
        let open = [
            (self.person.with(Option::is_none), words::PERSON),
            (self.procedure.with(Option::is_none), words::PROCEDURE),
            (self.purpose.with(Option::is_none), words::PURPOSE),
            (self.mode.with(Option::is_none), words::MODE),
            (self.observer.with(Option::is_none), words::OBSERVER),
            (self.form_date().is_err(), words::FORM_DATE),
        ];
        open.into_iter().filter(|(open, _)| *open).map(|(_, name)| name.to_lowercase()).collect()
    }

    /// The date of the paper form, where there is one; an error while what is typed is no date.
    fn form_date(self) -> Result<Option<NaiveDate>, chrono::ParseError> {
        self.paper_form.get().map(|typed| typed.trim().parse()).transpose()
    }

    /// Why these may not stand together: the person, the observer and the assistant, where each is chosen.
    fn refused(self, with: Part, somebody: &str) -> Option<&'static str> {
        let id = |part: RwSignal<Option<Person>>| {
            part.with(|person| person.as_ref().map(|person| person.id.clone()))
        };
        let (mut wearer, mut observer, mut assistant) =
            (id(self.person), id(self.observer), id(self.assistant));
        let place = match with {
            Part::Wearer => &mut wearer,
            Part::Observer => &mut observer,
            Part::Assistant => &mut assistant,
        };
        *place = Some(somebody.to_owned());
        // Two who are not chosen yet are two people; no id looks like these words.
        let wearer = wearer.unwrap_or_else(|| "wearer".to_owned());
        let observer = observer.unwrap_or_else(|| "observer".to_owned());
        roles::check(&wearer, &observer, assistant.as_deref()).err().map(RoleFault::sentence)
    }

    /// The request, once nothing is missing.
    fn request(self, demonstration: String) -> Option<BeginDemonstration> {
        let id = |person: Person| person.id;
        let procedure = self.procedure.get_untracked()?;
        Some(BeginDemonstration {
            demonstration,
            person: self.person.get_untracked().map(id)?,
            observer: self.observer.get_untracked().map(id)?,
            assistant: self.assistant.get_untracked().map(id),
            procedure: procedure.id,
            version: procedure.version,
            purpose: self.purpose.get_untracked()?,
            mode: self.mode.get_untracked()?,
            conditions: self.worn.get_untracked().into_iter().collect(),
            paper_form: untrack(|| self.form_date()).ok()?,
            second_of: None,
        })
    }

    /// Why this mode grants no validation, where a validation is wanted.
    fn does_not_validate(self) -> Option<String> {
        let (purpose, mode) = (self.purpose.get()?, self.mode.get()?);
        self.procedure.with(|procedure| {
            let procedure = procedure.as_ref()?;
            (purpose == Purpose::Validation && !validity::grants(purpose, mode, procedure))
                .then(|| words::does_not_validate(&validates_in(procedure)))
        })
    }

    /// What comes of it as a validation, by the procedure and the mode as far as they are chosen.
    fn as_validation(self) -> String {
        let mode = self.mode.get();
        let only = self.procedure.with(|procedure| {
            let procedure = procedure.as_ref()?;
            let refused = |mode| !validity::grants(Purpose::Validation, mode, procedure);
            let some_mode = match mode {
                Some(mode) => refused(mode),
                None => [Mode::Assessed, Mode::Guided].into_iter().any(refused),
            };
            some_mode.then(|| words::validates_only(&validates_in(procedure)))
        });
        only.unwrap_or_else(|| words::VALIDATION.to_owned())
    }
}

/// The view, with this person chosen already where one is given.
pub(crate) fn start(person: Option<String>) -> impl IntoView {
    let choices = Choices::new();
    // A repeated request must begin only one demonstration, so its id is made once.
    let demonstration = page::random_id();
    if let Some(id) = person {
        let everyone = LocalResource::new(|| {
            call(ListPeople { search: String::new(), left: false, first: 0, most: u32::MAX })
        });
        Effect::new(move |_| {
            let found = everyone.with(|answer| match answer {
                Some(Ok(people)) => people.found.iter().find(|person| person.id == id).cloned(),
                Some(Err(_)) | None => None,
            });
            if found.is_some() {
                choices.person.set(found);
            }
        });
    }
    let opened = LocalResource::new(move || {
        let line = choices.line.get();
        async move {
            match line {
                Some(line) => Some(call(OpenProcedure { id: line.id, version: None }).await),
                None => None,
            }
        }
    });
    Effect::new(move |_| {
        let procedure = opened.with(|answer| match answer {
            Some(Some(Ok(opened))) => Some(opened.procedure.clone()),
            Some(Some(Err(_)) | None) | None => None,
        });
        choices.worn.set(BTreeSet::new());
        // Where only one mode validates, it is the one most people want; it can be changed.
        if let Some([only]) = procedure.as_ref().map(|procedure| procedure.validates_in.as_slice()) {
            choices.mode.set(Some(*only));
        }
        choices.procedure.set(procedure);
    });
    let trouble = move || match opened.get() {
        Some(Some(Err(fault))) => Some(fault_note(fault, Callback::new(move |()| opened.refetch()))),
        Some(Some(Ok(_)) | None) | None => None,
    };

    let begin = Action::new_local(|request: &BeginDemonstration| call(request.clone()));
    let announcer = Announcer::here();
    Effect::new(move |_| {
        if let Some(Ok(opened)) = begin.value().get() {
            Route::Live(opened.demonstration).go_instead();
        }
    });
    let go = Callback::new(move |()| {
        let missing = untrack(|| choices.missing());
        if missing.is_empty() {
            if let Some(request) = choices.request(demonstration.clone()) {
                begin.dispatch_local(request);
            }
        } else {
            announcer.warn(words::missing(&missing));
        }
    });
    view! {
        <form class="stack wide" on:submit=move |event| { event.prevent_default(); go.run(()); }>
            {title(words::TITLE)}
            <div class="start-columns">
                <div class="stack wide">
                    {parts::person(choices)}
                    {parts::procedure(choices)}
                    {trouble}
                    {prerequisites::prerequisites(choices)}
                </div>
                <div class="stack wide">
                    {parts::purpose(choices)}
                    {parts::mode(choices)}
                    {move || choices.does_not_validate().map(|why| view! {
                        <p class="note warning" id="does-not-validate" role="status">{why}</p>
                    })}
                    {parts::observer(choices)}
                    {parts::assistant(choices)}
                    {parts::worn(choices)}
                    {parts::paper_form(choices)}
                </div>
            </div>
            <div class="start-bar">
                {move || begin.value().get().and_then(Result::err).map(|fault| fault_note(fault, go))}
                <div class="row apart">
                    <p class="quiet-text" id="begin-missing">{move || {
                        let missing = choices.missing();
                        if missing.is_empty() { words::LOCKED.to_owned() } else { words::missing(&missing) }
                    }}</p>
                    {move || begin.pending().get().then(|| progress(words::GOING))}
                    <button type="submit" class="button primary large" id="begin" aria-describedby="begin-missing"
                        aria-disabled=move || (!choices.missing().is_empty()).then_some("true")
                        disabled=move || begin.pending().get()>{words::GO}</button>
                </div>
            </div>
        </form>
    }
}

/// The modes in which a procedure validates, as they are said.
fn validates_in(procedure: &Procedure) -> String {
    let names: Vec<String> =
        procedure.validates_in.iter().map(|mode| sentence::mode(*mode).to_owned()).collect();
    wording::listed(&names, wording::door::OR)
}

/// Whether some step is the assistant's.
fn needs_assistant(procedure: &Procedure) -> bool {
    procedure.steps.iter().any(|step| step.by == By::Assistant)
}

/// The conditions that are asked for before the first act.
fn asked_at_start(procedure: &Procedure) -> Vec<(ConditionId, String)> {
    let asked = procedure.conditions.iter().filter(|condition| condition.ask == Ask::Start);
    asked.map(|condition| (condition.id.clone(), condition.text.clone())).collect()
}
