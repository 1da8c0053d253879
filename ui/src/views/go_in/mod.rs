//! Who may go in: each person, and what is missing.

use competency::{clearance::Clearance, procedure::Precaution};
use contract::{MayGoIn, OpenHome, Person, Unit, WhoMayGoIn};
use leptos::prelude::*;

use crate::{
    app::Route,
    widgets::{
        date::{date_field, read},
        loaded::{ask, loaded},
        places::places,
        select::select,
        title::title,
    },
    wording::{self, facility::people, manager, manager::go_in as words},
};

const PRECAUTIONS: [Precaution; 5] = [
    Precaution::Airborne,
    Precaution::Contact,
    Precaution::Droplet,
    Precaution::HighConsequence,
    Precaution::Standard,
];

#[component]
pub(crate) fn GoIn() -> impl IntoView {
    let precaution = RwSignal::new("0".to_owned());
    let unit = RwSignal::new(String::new());
    let on = RwSignal::new(String::new());
    let units = ask(|| OpenHome {});
    let day = Memo::new(move |last: Option<&Option<chrono::NaiveDate>>| {
        on.with(|text| read(text)).unwrap_or_else(|()| last.copied().flatten())
    });
    let asked = ask(move || WhoMayGoIn {
        unit: unit.with(|unit| (!unit.is_empty()).then(|| unit.clone())),
        precaution: precaution
            .with(|at| at.parse::<usize>().ok().and_then(|at| PRECAUTIONS.get(at).copied()))
            .unwrap_or(Precaution::Airborne),
        on: day.get(),
    });
    let kinds = PRECAUTIONS.into_iter().enumerate();
    let kinds = kinds.map(|(at, one)| (at.to_string(), wording::precaution(one).to_owned())).collect();
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            {places(&Route::GoIn)}
            <div class="columns roster-choice">
                {select("go-in-precaution", words::PRECAUTIONS, kinds, precaution)}
                {loaded(units, move |home| {
                    let units = home.facility.map(|facility| facility.units).unwrap_or_default();
                    select("go-in-unit", manager::UNIT, unit_options(units), unit).into_any()
                })}
                {date_field("go-in-on", words::ON, on, words::ON_HINT)}
            </div>
            {loaded(asked, |answer| listing(answer).into_any())}
        </div>
    }
}

/// The units to choose from, the whole facility first.
pub(crate) fn unit_options(units: Vec<Unit>) -> Vec<(String, String)> {
    let everyone = (String::new(), manager::EVERYONE.to_owned());
    std::iter::once(everyone).chain(units.into_iter().map(|unit| (unit.id, unit.name))).collect()
}

fn listing(answer: MayGoIn) -> impl IntoView {
    let MayGoIn { on, lines, covers } = answer;
    if lines.is_empty() {
        return view! { <p class="note">{words::NOBODY}</p> }.into_any();
    }
    let of = lines.len();
    let (may, may_not): (Vec<_>, Vec<_>) = lines.into_iter().partition(|(_, one)| one.is_cleared());
    let counts = format!("{}, {}", words::counts(may.len(), of), wording::date(on));
    let part = |id: &'static str, heading: &'static str, lines: Vec<(Person, Clearance)>| {
        (!lines.is_empty()).then(|| {
            view! {
                <section class="stack tight" aria-labelledby=id>
                    <h2 id=id>{heading}</h2>
                    <ul class="lines">{lines.into_iter().map(line).collect_view()}</ul>
                </section>
            }
        })
    };
    view! {
        <div class="stack wide" id="go-in">
            <p class="lead" role="status">{counts}</p>
            {part("may", words::MAY, may)}
            {part("may-not", words::MAY_NOT, may_not)}
            <p class="note small">{words::CAUTION}" "{covers}</p>
        </div>
    }
    .into_any()
}

fn line((person, clearance): (Person, Clearance)) -> impl IntoView {
    let href = Route::Person(person.id.clone()).href();
    let under = people::line(&person.number, &person.unit_name, &person.role);
    view! {
        <li><a class="line" href=href>
            <strong>{person.name}</strong>
            <span class="quiet-text">{under}</span>
            <span class="answer">{answer(clearance)}</span>
        </a></li>
    }
}

/// What a clearance says: until when, or everything that is missing.
pub(crate) fn answer(clearance: Clearance) -> impl IntoView {
    match clearance {
        Clearance::Cleared { models, because, .. } => view! {
            <span class="may-go-in">{because}</span>
            {(!models.is_empty()).then(|| view! { <span class="small under">{words::models(&models)}</span> })}
        }
        .into_any(),
        Clearance::Missing(missing) => {
            let each = missing.into_iter().map(|one| view! { <span class="missing">{one}</span> });
            view! { {each.collect_view()} }.into_any()
        }
    }
}
