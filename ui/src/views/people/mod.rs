//! Everyone: find, add, appoint as an observer.

mod add;
mod appoint;
pub(crate) mod authority;
pub(crate) mod import;
mod observers;

use contract::{ListPeople, People, Person};
use leptos::prelude::*;

use crate::{
    app::Route,
    call::call,
    widgets::{
        field::{Field, Kind},
        loaded::loaded,
        scrolled::{PORTION, Scrolled, Shape},
        select::select,
        title::title,
    },
    wording::{facility::people, manager},
};

/// The value of the choice of those who left.
const LEFT: &str = "left";

/// How tall a person's line may be before one was seen, in CSS pixels.
const LINE: u32 = 76;

#[component]
pub(crate) fn PeopleView() -> impl IntoView {
    let search = RwSignal::new(String::new());
    let who = RwSignal::new(String::new());
    let appointing = RwSignal::new(None::<Person>);
    // What was looked for comes with its answer: the rest of the people is asked for in the same way.
    let asked = LocalResource::new(move || {
        let left = who.with(|who| who == LEFT);
        let request = ListPeople { search: search.get(), left, first: 0, most: PORTION };
        async move { Ok((call(request.clone()).await?, request)) }
    });
    let changed = Callback::new(move |()| asked.refetch());
    view! {
        <div class="stack wide">
            <div class="page-head">
                {title(people::TITLE)}
                <a class="button" id="to-import" href=Route::Import.href()>{manager::import::OPEN}</a>
            </div>
            {move || appointing.get().map(|person| appoint::appoint(person, appointing, changed))}
            <section class="stack" aria-label=people::TITLE>
                <div class="columns">
                    <Field id="search" label=people::SEARCH value=search kind=Kind::Search />
                    {select("who", people::WHO, whom(), who)}
                </div>
                {loaded(asked, move |(found, request)| listing(found, request, appointing).into_any())}
            </section>
            {add::add(changed)}
            {observers::observers(appointing, changed)}
            {authority::authority()}
        </div>
    }
}

fn whom() -> Vec<(String, String)> {
    [("", people::EVERYONE), (LEFT, people::LEFT)]
        .map(|(value, name)| (value.to_owned(), name.to_owned()))
        .into()
}

fn listing(people: People, request: ListPeople, appointing: RwSignal<Option<Person>>) -> impl IntoView {
    if people.found.is_empty() {
        let said = match (people.of == 0 && request.search.is_empty(), request.left) {
            (true, false) => people::NOBODY,
            (true, true) => people::NOBODY_LEFT,
            (false, _) => people::NO_MATCH,
        };
        return view! { <p class="note">{said}</p> }.into_any();
    }
    let of = people.of;
    let list = Scrolled::new(Shape::List, of, &people.found, LINE, move |first, most| {
        let part = ListPeople { first, most, ..request.clone() };
        Box::pin(async move { Ok(call(part).await?.found) })
    });
    let lines = view! {
        <div id="people" role="list" aria-labelledby="people-found">
            {list.rows(move |number, person| line(number, of, person, appointing).into_any())}
        </div>
    };
    view! {
        <p class="quiet-text" role="status" id="people-found">{people::found(of)}</p>
        {list.frame("people-found", lines)}
    }
    .into_any()
}

fn line(number: u32, of: u32, person: Person, appointing: RwSignal<Option<Person>>) -> impl IntoView {
    let id = format!("appoint-{}", person.id);
    let action = if person.unit.is_empty() {
        // Nobody who belongs to no unit is made an observer.
        view! { <span class="tag">{people::NO_UNIT}</span> }.into_any()
    } else if person.observes {
        view! { <span class="tag">{people::OBSERVER}</span> }.into_any()
    } else {
        let appoint = person.clone();
        let name = people::appoint_name(&person.name);
        view! {
            <button type="button" class="button plain" id=id aria-label=name
                on:click=move |_| appointing.set(Some(appoint.clone()))>{people::APPOINT}</button>
        }
        .into_any()
    };
    let history = Route::History(person.id.clone()).href();
    let file = Route::Person(person.id.clone()).href();
    view! {
        <div class="line person" role="listitem" aria-posinset=number + 1 aria-setsize=of>
            <strong><a href=file>{person.name.clone()}</a></strong>
            <span class="quiet-text">{people::line(&person.number, &person.unit_name, &person.role)}</span>
            <span class="aside row">
                {action}
                <a class="button" href=history aria-label=people::history_name(&person.name)>{people::HISTORY}</a>
            </span>
        </div>
    }
}
