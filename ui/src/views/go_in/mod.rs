//! Who may go in: each person, and what is missing.

use std::ops::Range;

use competency::{clearance::Clearance, procedure::Precaution};
use contract::{MayGoIn, OpenHome, Person, Unit, WhoMayGoIn};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    widgets::{
        date::{last_good, looked_at},
        field::{Field, Kind},
        loaded::{ask, loaded},
        places::places,
        scrolled::{PORTION, Scrolled, Shape},
        select::select,
        title::title,
    },
    wording::{self, facility::people, manager, manager::go_in as words, standing::roster},
};

const PRECAUTIONS: [Precaution; 5] = [
    Precaution::Airborne,
    Precaution::Contact,
    Precaution::Droplet,
    Precaution::HighConsequence,
    Precaution::Standard,
];

/// How tall a person's line may be before one was seen, in CSS pixels.
const LINE: u32 = 110;

#[component]
pub(crate) fn GoIn() -> impl IntoView {
    let precaution = RwSignal::new("0".to_owned());
    let unit = RwSignal::new(String::new());
    let on = RwSignal::new(String::new());
    let units = ask(|| OpenHome {});
    let day = last_good(on);
    let search = RwSignal::new(String::new());
    // What was asked comes with its answer: the rest of the people is asked for in the same way.
    let asked = LocalResource::new(move || {
        let request = WhoMayGoIn {
            unit: unit.with(|unit| (!unit.is_empty()).then(|| unit.clone())),
            precaution: precaution
                .with(|at| at.parse::<usize>().ok().and_then(|at| PRECAUTIONS.get(at).copied()))
                .unwrap_or(Precaution::Airborne),
            on: day.get(),
            search: search.get(),
            first: 0,
            most: PORTION,
        };
        async move { Ok((call(request.clone()).await?, request)) }
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
                {looked_at("go-in-on", words::ON, on, words::ON_HINT, day, wording::TODAY)}
                <Field id="go-in-search" label=roster::SEARCH value=search kind=Kind::Search />
            </div>
            {loaded(asked, |(answer, request)| listing(answer, &request).into_any())}
        </div>
    }
}

/// The units to choose from, the whole facility first.
pub(crate) fn unit_options(units: Vec<Unit>) -> Vec<(String, String)> {
    let everyone = (String::new(), manager::EVERYONE.to_owned());
    std::iter::once(everyone).chain(units.into_iter().map(|unit| (unit.id, unit.name))).collect()
}

fn listing(answer: MayGoIn, asked: &WhoMayGoIn) -> impl IntoView {
    let MayGoIn { on, lines, found, may, covers } = answer;
    if lines.is_empty() {
        let said = if asked.search.trim().is_empty() { words::NOBODY } else { words::NO_MATCH };
        return view! { <p class="note">{said}</p> }.into_any();
    }
    let counts = format!("{}, {}", words::counts(may, found), wording::date(on));
    // Those who may come first in the answer; what of the others came with it stands after them.
    let here = usize::try_from(may).unwrap_or(usize::MAX).min(lines.len());
    let (cleared, others) = lines.split_at(here);
    view! {
        <div class="stack wide" id="go-in">
            <p class="lead" role="status">{counts}</p>
            {part("may", words::MAY, 0..may, cleared, asked.clone())}
            {part("may-not", words::MAY_NOT, may..found, others, asked.clone())}
            <p class="note small">{words::CAUTION}" "{covers}</p>
        </div>
    }
    .into_any()
}

/// One part of the answer: `rows` of it, of which those that are `here` come first.
fn part(
    id: &'static str,
    heading: &'static str,
    rows: Range<u32>,
    here: &[(Person, Clearance)],
    asked: WhoMayGoIn,
) -> impl IntoView + use<> {
    let of = rows.end.saturating_sub(rows.start);
    // A portion is whole, or it is asked for.
    let whole = here.len() >= usize::try_from(of.min(PORTION)).unwrap_or(usize::MAX);
    let here = if whole { here } else { &[] };
    (of > 0).then(|| {
        let list = Scrolled::new(Shape::List, of, here, LINE, move |first, most| {
            let most = most.min(of - first);
            let part = WhoMayGoIn { first: rows.start + first, most, ..asked.clone() };
            Box::pin(async move { Ok(call(part).await?.lines) })
        });
        let lines = view! {
            <div role="list" aria-labelledby=id>
                {list.rows(move |number, one| line(number, of, one).into_any())}
            </div>
        };
        view! {
            <div class="stack tight">
                <h2 id=id>{heading}</h2>
                {list.frame(id, lines)}
            </div>
        }
    })
}

fn line(number: u32, of: u32, (person, clearance): (Person, Clearance)) -> impl IntoView {
    let href = Route::Person(person.id.clone()).href();
    let under = people::line(&person.number, &person.unit_name, &person.role);
    view! {
        <div role="listitem" aria-posinset=number + 1 aria-setsize=of><a class="line" href=href>
            <strong>{person.name}</strong>
            <span class="quiet-text">{under}</span>
            <span class="answer">{answer(clearance)}</span>
        </a></div>
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
