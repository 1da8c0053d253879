//! States something about a person.

use chrono::NaiveDate;
use contract::{About, FitResult, PersonFile, SignedBy, StateAbout};
use leptos::prelude::*;

use crate::{
    page,
    widgets::{
        choice::{Choice, choices},
        date::{date_field, read},
        doing::doing,
        field::{Field, Kind as FieldKind},
        select::{chosen, select, select_one},
    },
    wording::{
        self,
        person::{self as words, Kind, lacking},
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
    cleared: RwSignal<Option<bool>>,
    unit: RwSignal<String>,
    role: RwSignal<String>,
    suspension: RwSignal<String>,
    stated: RwSignal<String>,
    signer: RwSignal<String>,
    pin: RwSignal<String>,
}

/// What nothing is preset for, since it may clear somebody: whoever states it chooses it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Lack {
    Model,
    Result,
    Factor,
    Cleared,
    Procedure,
    Suspension,
    Stated,
}

impl Lack {
    /// The field it is chosen in.
    fn field(self) -> &'static str {
        match self {
            Lack::Model => "about-model",
            Lack::Result => "about-result",
            Lack::Factor => "about-factor",
            Lack::Cleared => "about-cleared-yes",
            Lack::Procedure => "about-procedure",
            Lack::Suspension => "about-suspension",
            Lack::Stated => "about-stated",
        }
    }

    fn words(self) -> &'static str {
        match self {
            Lack::Model => lacking::MODEL,
            Lack::Result => lacking::RESULT,
            Lack::Factor => lacking::FACTOR,
            Lack::Cleared => lacking::CLEARED,
            Lack::Procedure => lacking::PROCEDURE,
            Lack::Suspension => lacking::SUSPENSION,
            Lack::Stated => lacking::STATED,
        }
    }
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
            model: empty(),
            style: empty(),
            size: empty(),
            result: empty(),
            factor: empty(),
            who: empty(),
            text: empty(),
            from: today,
            away: empty(),
            through: empty(),
            cleared: RwSignal::new(None),
            unit: RwSignal::new(file.person.unit.clone()),
            role: RwSignal::new(file.person.role.clone()),
            suspension: empty(),
            stated: empty(),
            signer: first(signer),
            pin: empty(),
        }
    }

    /// What is still to be chosen or written, in the order of the fields.
    fn lacking(self, kind: Kind) -> Vec<Lack> {
        let empty = |value: RwSignal<String>| value.with(|text| text.trim().is_empty());
        let measured = || self.result.with(|result| result == "half" || result == "full");
        let no_factor = || self.factor.with(|factor| factor.trim().parse::<u32>().is_err());
        let all = match kind {
            Kind::Fit => vec![
                (Lack::Model, empty(self.model)),
                (Lack::Result, empty(self.result)),
                (Lack::Factor, measured() && no_factor()),
            ],
            Kind::Medical => vec![(Lack::Cleared, self.cleared.with(Option::is_none))],
            Kind::Evidence => vec![(Lack::Procedure, empty(self.procedure))],
            Kind::Lifted => vec![(Lack::Suspension, empty(self.suspension))],
            Kind::TakenBack => vec![(Lack::Stated, empty(self.stated))],
            Kind::Leave | Kind::Moved | Kind::Suspended | Kind::Skill => Vec::new(),
        };
        all.into_iter().filter(|(_, lacks)| *lacks).map(|(lack, _)| lack).collect()
    }

    /// What is told at the field of something that is still to be chosen, once it was tried without it.
    fn wrong(
        self,
        kind: Kind,
        tried: RwSignal<bool>,
    ) -> impl Fn(Lack) -> Signal<Option<&'static str>> + Copy {
        move |lack| {
            Signal::derive(move || (tried.get() && self.lacking(kind).contains(&lack)).then(|| lack.words()))
        }
    }

    /// What is stated; `None` while a day is missing or is none, or something is still to be chosen.
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
                let factor = || text(self.factor).trim().parse::<u32>().ok();
                let result = match text(self.result).as_str() {
                    "half" => FitResult::Quantitative { fit_factor: factor()?, full_facepiece: false },
                    "full" => FitResult::Quantitative { fit_factor: factor()?, full_facepiece: true },
                    "passed" => FitResult::Qualitative { passed: true },
                    "not-passed" => FitResult::Qualitative { passed: false },
                    _ => return None,
                };
                let (model, style, size) = (text(self.model), text(self.style), text(self.size));
                About::FitTest { model, style, size, result, on: from, tester: text(self.who) }
            }
            Kind::Medical => {
                let cleared = self.cleared.get_untracked()?;
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
        let Some(kind) = kind.get_untracked() else { return };
        if let Some(lack) = untrack(|| entered.lacking(kind)).first() {
            page::focus(lack.field());
            return;
        }
        let Some(what) = entered.what(kind) else { return };
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
            Choice { value: one, id, label: label.to_owned(), hint: Signal::stored(hint.to_owned()) }
        })
        .collect();
    // What was refused of one kind is not refused of the next before it is tried.
    Effect::new(move |_| {
        kind.track();
        tried.set(false);
    });
    let missing = move || {
        let (tried, kind) = (tried.get(), kind.get());
        tried
            && kind.is_some_and(|kind| {
                untrack(|| entered.lacking(kind)).is_empty() && entered.what(kind).is_none()
            })
    };
    view! {
        <form class="card stack" novalidate aria-labelledby="about-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="about-title">{words::STATE}</h2>
            {choices("about", words::KIND, offered, kind)}
            {move || kind.get().map(|kind| view! {
                <div class="columns">{fields(kind, &file, &entered, tried)}</div>
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

fn fields(kind: Kind, file: &PersonFile, entered: &Entered, tried: RwSignal<bool>) -> AnyView {
    let wrong = entered.wrong(kind, tried);
    let on = |label| date_field("about-from", label, entered.from, wording::DATE_HINT);
    let through = |hint| date_field("about-through", words::THROUGH, entered.through, hint);
    let source =
        || view! { <Field id="about-who" label=words::SOURCE value=entered.who hint=words::SOURCE_HINT /> };
    let why = |label| view! { <Field id="about-why" label=label value=entered.text /> };
    let procedures = || file.procedures.iter().map(|one| (one.id.clone(), one.title.clone()));
    let all_procedures = || {
        let everything = (String::new(), words::EVERYTHING.to_owned());
        let all = [everything].into_iter().chain(procedures()).collect();
        select("about-procedure", words::PROCEDURE, all, entered.procedure)
    };
    match kind {
        Kind::Fit => fit(file, entered, wrong),
        Kind::Medical => view! {
            {clearance(entered, wrong(Lack::Cleared))}
            {on(words::ON)}
            {through(words::OPEN_END)}
            {source()}
        }
        .into_any(),
        Kind::Evidence => view! {
            {select_one("about-procedure", words::PROCEDURE, procedures().collect(), entered.procedure, wrong(Lack::Procedure))}
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
        Kind::Suspended => view! { {all_procedures()} {why(words::WHY)} {on(words::FROM)} }.into_any(),
        Kind::Lifted => {
            let held =
                file.suspensions.iter().map(|one| (one.suspension.clone(), one.text.clone())).collect();
            let wrong = wrong(Lack::Suspension);
            view! {
                {select_one("about-suspension", words::LIFTS, held, entered.suspension, wrong)}
                {why(words::WHY)}
            }
            .into_any()
        }
        Kind::Skill => view! { {all_procedures()} {why(words::NOTED)} }.into_any(),
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
            let wrong = wrong(Lack::Stated);
            view! {
                {select_one("about-stated", words::TAKES_BACK, stated, entered.stated, wrong)}
                {why(words::WHY)}
            }
            .into_any()
        }
    }
}

/// Cleared or not, as somebody says; neither is offered first.
fn clearance(entered: &Entered, wrong: Signal<Option<&'static str>>) -> impl IntoView + use<> {
    let both = Choice::all([
        (true, "about-cleared-yes", words::CLEARED, words::CLEARED_HINT),
        (false, "about-cleared-no", words::NOT_CLEARED, words::CLEARED_HINT),
    ]);
    view! {
        <div class="stack tight">
            {choices("about-cleared", words::CLEARANCE, both, entered.cleared)}
            {move || wrong.get().map(|wrong| view! { <p class="wrong" role="alert">{wrong}</p> })}
        </div>
    }
}

fn fit(
    file: &PersonFile,
    entered: &Entered,
    wrong: impl Fn(Lack) -> Signal<Option<&'static str>>,
) -> AnyView {
    let no_model = wrong(Lack::Model);
    let model = if file.models.is_empty() {
        view! {
            <Field id="about-model" label=words::MODEL value=entered.model hint=words::MODEL_HINT wrong=no_model />
        }
        .into_any()
    } else {
        let models = file.models.iter().map(|model| (model.clone(), model.clone())).collect();
        select_one("about-model", words::MODEL, models, entered.model, no_model).into_any()
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
        {select_one("about-result", words::RESULT, results, entered.result, wrong(Lack::Result))}
        <Field id="about-factor" label=words::FACTOR value=entered.factor hint=words::FACTOR_HINT
            wrong=wrong(Lack::Factor) />
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
