//! States something about a person.

use chrono::NaiveDate;
use contract::{About, FitResult, PersonFile, SignedBy, StateAbout};
use leptos::prelude::*;

use crate::{
    widgets::{
        choice::{Choice, choices},
        date::{date_field, read},
        doing::doing,
        field::{Field, Kind as FieldKind},
        select::{chosen, select, tick},
    },
    wording::{
        self,
        person::{self as words, Kind},
    },
};

/// What is typed and chosen, for every kind together: a field that two kinds have keeps what stands in it.
#[derive(Debug, Clone, Copy)]
struct Entered {
    procedure: RwSignal<String>,
    model: RwSignal<String>,
    style: RwSignal<String>,
    size: RwSignal<String>,
    result: RwSignal<String>,
    factor: RwSignal<String>,
    who: RwSignal<String>,
    text: RwSignal<String>,
    from: RwSignal<String>,
    /// The first day away, which nothing is offered for: an empty form would else state a leave from today on.
    away: RwSignal<String>,
    through: RwSignal<String>,
    cleared: RwSignal<bool>,
    unit: RwSignal<String>,
    role: RwSignal<String>,
    suspension: RwSignal<String>,
    stated: RwSignal<String>,
    signer: RwSignal<String>,
    pin: RwSignal<String>,
}

impl Entered {
    fn new(file: &PersonFile) -> Entered {
        let empty = || RwSignal::new(String::new());
        let first = |id: Option<&String>| RwSignal::new(id.cloned().unwrap_or_default());
        let today = RwSignal::new(file.today.to_string());
        // Nobody signs about themselves.
        let signer = file.observers.iter().map(|(id, _)| id).find(|id| **id != file.person.id);
        Entered {
            procedure: empty(),
            model: first(file.models.first()),
            style: empty(),
            size: empty(),
            result: RwSignal::new("passed".to_owned()),
            factor: empty(),
            who: empty(),
            text: empty(),
            from: today,
            away: empty(),
            through: empty(),
            cleared: RwSignal::new(true),
            unit: RwSignal::new(file.person.unit.clone()),
            role: RwSignal::new(file.person.role.clone()),
            suspension: first(file.suspensions.first().map(|one| &one.suspension)),
            stated: first(file.stated.first().map(|one| &one.entry)),
            signer: first(signer),
            pin: empty(),
        }
    }

    /// What is stated; `None` while a day is missing or is none.
    fn what(self, kind: Kind) -> Option<About> {
        let text = |value: RwSignal<String>| value.get_untracked();
        let day = |value: RwSignal<String>| value.with_untracked(|text| read(text)).ok();
        // An end that was mistyped is not an open one.
        let through = match kind {
            Kind::Medical | Kind::Evidence | Kind::Leave => day(self.through)?,
            Kind::Fit | Kind::Moved | Kind::Suspended | Kind::Lifted | Kind::Skill | Kind::TakenBack => None,
        };
        let from = match kind {
            Kind::Leave => day(self.away)??,
            Kind::Lifted | Kind::Skill | Kind::TakenBack => NaiveDate::default(),
            Kind::Fit | Kind::Medical | Kind::Evidence | Kind::Moved | Kind::Suspended => day(self.from)??,
        };
        Some(match kind {
            Kind::Fit => {
                let fit_factor = text(self.factor).trim().parse().unwrap_or(0);
                let result = match text(self.result).as_str() {
                    "half" => FitResult::Quantitative { fit_factor, full_facepiece: false },
                    "full" => FitResult::Quantitative { fit_factor, full_facepiece: true },
                    other => FitResult::Qualitative { passed: other == "passed" },
                };
                let (model, style, size) = (text(self.model), text(self.style), text(self.size));
                About::FitTest { model, style, size, result, on: from, tester: text(self.who) }
            }
            Kind::Medical => {
                let cleared = self.cleared.get_untracked();
                About::Medical { cleared, on: from, until: through, source: text(self.who) }
            }
            Kind::Evidence => {
                let (procedure, source) = (text(self.procedure), text(self.who));
                About::OutsideEvidence { procedure, source, on: from, valid_until: through? }
            }
            Kind::Leave => About::Leave { from, through },
            Kind::Moved => About::Moved { unit: chosen(self.unit), role: text(self.role), from },
            Kind::Suspended => {
                About::Suspended { procedure: chosen(self.procedure), why: text(self.text), from }
            }
            Kind::Lifted => About::Lifted { suspension: text(self.suspension), why: text(self.text) },
            Kind::TakenBack => About::TakenBack { entry: text(self.stated), why: text(self.text) },
            Kind::Skill => About::LossOfSkill { procedure: chosen(self.procedure), noted: text(self.text) },
        })
    }
}

pub(super) fn about(file: PersonFile, changed: Callback<()>) -> impl IntoView {
    let kind = RwSignal::new(None::<Kind>);
    let entered = Entered::new(&file);
    let person = file.person.id.clone();
    let state = doing::<StateAbout>(move |_| changed.run(()));
    let tried = RwSignal::new(false);
    let go = Callback::new(move |()| {
        tried.set(true);
        let Some(what) = kind.get_untracked().and_then(|kind| entered.what(kind)) else { return };
        let (observer, pin) = (entered.signer.get_untracked(), entered.pin.get_untracked());
        let signed = what.is_signed().then_some(SignedBy { observer, pin });
        state.go(StateAbout { person: person.clone(), what, signed });
    });
    // A suspension that there is not cannot be lifted, and nothing is taken back where nothing is stated.
    let offered = Kind::ALL.into_iter().filter(|one| match one {
        Kind::Lifted => !file.suspensions.is_empty(),
        Kind::TakenBack => !file.stated.is_empty(),
        Kind::Fit
        | Kind::Medical
        | Kind::Evidence
        | Kind::Leave
        | Kind::Moved
        | Kind::Suspended
        | Kind::Skill => true,
    });
    let offered = offered
        .map(|one| {
            let (label, hint) = one.words();
            let id = format!("about-{}", one.id());
            Choice { value: one, id, label: label.to_owned(), hint: hint.to_owned() }
        })
        .collect();
    let missing = move || {
        tried.get()
            && kind.get().is_some()
            && kind.get_untracked().and_then(|kind| entered.what(kind)).is_none()
    };
    view! {
        <form class="card stack" novalidate aria-labelledby="about-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="about-title">{words::STATE}</h2>
            {choices("about", words::KIND, offered, kind)}
            {move || kind.get().map(|kind| view! {
                <div class="columns">{fields(kind, &file, &entered)}</div>
                {signed(kind, &file, &entered)}
                <div class="row">
                    <button type="submit" class="button primary" id="state-about"
                        disabled=move || state.busy()>{words::GO}</button>
                </div>
            })}
            {move || missing().then(|| view! { <p class="wrong" role="alert">{wording::BAD_DATE}</p> })}
            {state.told()}
        </form>
    }
}

fn fields(kind: Kind, file: &PersonFile, entered: &Entered) -> AnyView {
    let on = |label| date_field("about-from", label, entered.from, wording::DATE_HINT);
    let through = |hint| date_field("about-through", words::THROUGH, entered.through, hint);
    let source =
        || view! { <Field id="about-who" label=words::SOURCE value=entered.who hint=words::SOURCE_HINT /> };
    let why = |label| view! { <Field id="about-why" label=label value=entered.text /> };
    let procedures = |everything: bool| {
        let all = everything.then(|| (String::new(), words::EVERYTHING.to_owned()));
        let all =
            all.into_iter().chain(file.procedures.iter().map(|one| (one.id.clone(), one.title.clone())));
        let all: Vec<(String, String)> = all.collect();
        let known = entered.procedure.with_untracked(|chosen| all.iter().any(|(id, _)| id == chosen));
        if !known {
            entered.procedure.set(all.first().map(|(id, _)| id.clone()).unwrap_or_default());
        }
        select("about-procedure", words::PROCEDURE, all, entered.procedure)
    };
    match kind {
        Kind::Fit => fit(file, entered),
        Kind::Medical => view! {
            {tick("about-cleared", words::CLEARED, words::CLEARED_HINT, entered.cleared)}
            {on(words::ON)}
            {through(words::OPEN_END)}
            {source()}
        }
        .into_any(),
        Kind::Evidence => view! {
            {procedures(false)}
            {source()}
            {on(words::ON)}
            {through(words::AS_IT_SAYS)}
        }
        .into_any(),
        Kind::Leave => view! {
            {date_field("about-away", words::AWAY_FROM, entered.away, wording::DATE_HINT)}
            {through(words::OPEN_END)}
            <p class="quiet-text">{words::LEAVE_HINT}</p>
        }
        .into_any(),
        Kind::Moved => {
            let units = file.units.iter().map(|unit| (unit.id.clone(), unit.name.clone()));
            let units = units.chain([(String::new(), words::LEAVES.to_owned())]).collect();
            view! {
                {select("about-unit", words::NEW_UNIT, units, entered.unit)}
                <Field id="about-role" label=words::NEW_ROLE value=entered.role />
                {on(words::FROM)}
            }
            .into_any()
        }
        Kind::Suspended => view! { {procedures(true)} {why(words::WHY)} {on(words::FROM)} }.into_any(),
        Kind::Lifted => {
            let held =
                file.suspensions.iter().map(|one| (one.suspension.clone(), one.text.clone())).collect();
            view! { {select("about-suspension", words::LIFTS, held, entered.suspension)} {why(words::WHY)} }
                .into_any()
        }
        Kind::Skill => view! { {procedures(true)} {why(words::NOTED)} }.into_any(),
        Kind::TakenBack => {
            let title = |id: &str| {
                let found = file.procedures.iter().find(|one| one.id == id);
                found.map_or_else(|| id.to_owned(), |one| one.title.clone())
            };
            let stated = file.stated.iter().map(|line| {
                let said = format!("{}: {}", wording::date(line.on), words::stated(&line.what, title));
                (line.entry.clone(), said)
            });
            let stated = stated.collect();
            view! { {select("about-stated", words::TAKES_BACK, stated, entered.stated)} {why(words::WHY)} }
                .into_any()
        }
    }
}

fn fit(file: &PersonFile, entered: &Entered) -> AnyView {
    let model = if file.models.is_empty() {
        view! { <Field id="about-model" label=words::MODEL value=entered.model hint=words::MODEL_HINT /> }
            .into_any()
    } else {
        let models = file.models.iter().map(|model| (model.clone(), model.clone())).collect();
        select("about-model", words::MODEL, models, entered.model).into_any()
    };
    let results = [
        ("passed", words::PASSED),
        ("not-passed", words::NOT_PASSED),
        ("half", words::MEASURED_HALF),
        ("full", words::MEASURED_FULL),
    ];
    let results = results.map(|(value, name)| (value.to_owned(), name.to_owned())).into();
    view! {
        {model}
        <Field id="about-style" label=words::STYLE value=entered.style hint=words::STYLE_HINT />
        <Field id="about-size" label=words::SIZE value=entered.size />
        {select("about-result", words::RESULT, results, entered.result)}
        <Field id="about-factor" label=words::FACTOR value=entered.factor hint=words::FACTOR_HINT />
        <Field id="about-who" label=words::TESTER value=entered.who />
        {date_field("about-from", words::ON, entered.from, wording::DATE_HINT)}
    }
    .into_any()
}

fn signed(kind: Kind, file: &PersonFile, entered: &Entered) -> Option<AnyView> {
    match kind {
        Kind::Fit | Kind::Medical | Kind::Leave | Kind::Moved => None,
        Kind::Evidence | Kind::Suspended | Kind::Lifted | Kind::Skill | Kind::TakenBack => {
            let observers = file.observers.iter().filter(|(id, _)| *id != file.person.id).cloned().collect();
            Some(
                view! {
                    <p class="quiet-text">{words::SIGN_WHY}</p>
                    <div class="columns">
                        {select("about-signer", words::SIGNED, observers, entered.signer)}
                        <Field id="about-pin" label=words::PIN value=entered.pin kind=FieldKind::Pin />
                    </div>
                }
                .into_any(),
            )
        }
    }
}
