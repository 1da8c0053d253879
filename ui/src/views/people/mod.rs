//! Everyone: find, add, appoint as an observer.

mod add;
mod appoint;
mod authority;
pub(crate) mod import;

use contract::{ListPeople, People, Person};
use leptos::prelude::*;

use crate::{
    app::Route,
    widgets::{
        field::{Field, Kind},
        loaded::{ask, loaded},
        title::title,
    },
    wording::{facility::people, manager},
};

/// Most people shown at once; the search narrows it down.
const MOST: u32 = 200;

#[component]
pub(crate) fn PeopleView() -> impl IntoView {
    let search = RwSignal::new(String::new());
    let appointing = RwSignal::new(None::<Person>);
    let asked = ask(move || ListPeople { search: search.get(), most: MOST });
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
                {loaded(asked, move |found| listing(found, appointing).into_any())}
            </section>
            {add::add(changed)}
            {authority::authority()}
        </div>
    }
}

fn listing(people: People, appointing: RwSignal<Option<Person>>) -> impl IntoView {
    if people.found.is_empty() {
        let said = if people.of == 0 { people::NOBODY } else { people::NO_MATCH };
        return view! { <p class="note">{said}</p> }.into_any();
    }
    let count = people::found(people.found.len(), people.of);
    let each = people.found.into_iter().map(|person| {
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
            <li class="line person">
                <strong><a href=file>{person.name.clone()}</a></strong>
                <span class="quiet-text">{people::line(&person.number, &person.unit_name, &person.role)}</span>
                <span class="aside row">
                    {action}
                    <a class="button" href=history aria-label=people::history_name(&person.name)>{people::HISTORY}</a>
                </span>
            </li>
        }
    });
    view! {
        <p class="quiet-text" role="status">{count}</p>
        <ul class="lines" id="people">{each.collect_view()}</ul>
    }
    .into_any()
}
