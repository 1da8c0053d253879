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
        title::title,
    },
    wording::{facility::people, manager},
};

/// How tall a person's line may be before one was seen, in CSS pixels.
const LINE: u32 = 76;

#[component]
pub(crate) fn PeopleView() -> impl IntoView {
    let search = RwSignal::new(String::new());
    let appointing = RwSignal::new(None::<Person>);
    // What was looked for comes with its answer: the rest of the people is asked for in the same way.
    let asked = LocalResource::new(move || {
        let request = ListPeople { search: search.get(), first: 0, most: PORTION };
        async move { Ok((call(request.clone()).await?, request.search)) }
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
                <Field id="search" label=people::SEARCH value=search kind=Kind::Search />
                {loaded(asked, move |(found, search)| listing(found, search, appointing).into_any())}
            </section>
            {add::add(changed)}
            {observers::observers(appointing, changed)}
            {authority::authority()}
        </div>
    }
}

fn listing(people: People, search: String, appointing: RwSignal<Option<Person>>) -> impl IntoView {
    if people.found.is_empty() {
        let said = if people.of == 0 && search.is_empty() { people::NOBODY } else { people::NO_MATCH };
        return view! { <p class="note">{said}</p> }.into_any();
    }
    let of = people.of;
    let list = Scrolled::new(Shape::List, of, &people.found, LINE, move |first, most| {
        let part = ListPeople { search: search.clone(), first, most };
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
    let action = if person.observes {
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
