//! Finds one person by name or staff number.

use contract::{ListPeople, People, Person};
use leptos::prelude::*;

use super::{
    field::{Field, Kind},
    loaded::{ask, loaded},
};
use crate::{
    app::Route,
    wording::{door::start, facility::people},
};

/// Most people shown at once: beyond that, searching is faster than reading.
const MOST: usize = 6;

/// Why a person cannot be chosen.
pub(crate) type Refusal = Callback<Person, Option<&'static str>>;

/// A search with what it finds; once a person is chosen, that person and a way to choose another.
#[component]
pub(crate) fn PersonPicker(
    /// The beginning of its ids.
    prefix: &'static str,
    /// Id of the search field.
    search_id: &'static str,
    /// What is searched for.
    label: &'static str,
    /// Who is chosen.
    chosen: RwSignal<Option<Person>>,
    /// Why somebody found cannot be chosen.
    refusal: Refusal,
    /// What is said where nobody at all can be chosen, beside the way to the people.
    #[prop(default = start::NOBODY_ELSE)]
    nobody: &'static str,
) -> impl IntoView {
    let search = RwSignal::new(String::new());
    let asked = ask(move || ListPeople { search: search.get(), left: false, first: 0, most: 60 });
    move || match chosen.get() {
        Some(person) => view! {
            <div class="picked">
                <p>
                    <strong>{person.name.clone()}</strong>" "
                    <span class="quiet-text">{line(&person)}</span>
                </p>
                <button type="button" class="button plain" on:click=move |_| chosen.set(None)>
                    {start::ANOTHER}
                </button>
            </div>
        }
        .into_any(),
        None => view! {
            <div class="stack tight">
                <Field id=search_id label=label value=search kind=Kind::Search />
                {loaded(asked, move |found| {
                    let searched = search.with_untracked(|search| !search.trim().is_empty());
                    let listed = listing(prefix, found, refusal, chosen, searched);
                    let way_on = (!listed.any && !searched).then(|| to_people(nobody));
                    view! { {listed.shown}{way_on} }.into_any()
                })}
            </div>
        }
        .into_any(),
    }
}

/// Who is found.
struct Listed {
    shown: AnyView,
    /// Somebody can be chosen, or may be among those who are not shown.
    any: bool,
}

fn to_people(nobody: &'static str) -> impl IntoView {
    view! {
        <div class="note stack tight">
            <p>{nobody}</p>
            <div class="row"><a class="button" href=Route::People.href()>{start::TO_PEOPLE}</a></div>
        </div>
    }
}

fn listing(
    prefix: &'static str,
    people: People,
    refusal: Refusal,
    chosen: RwSignal<Option<Person>>,
    searched: bool,
) -> Listed {
    let no_match =
        (people.found.is_empty() && searched).then(|| view! { <p class="quiet-text">{people::NO_MATCH}</p> });
    let all = usize::try_from(people.of).is_ok_and(|of| of == people.found.len());
    // Those who can be chosen come first; the order by name stays within each part.
    let judged = people.found.into_iter().map(|person| (refusal.run(person.clone()), person));
    let (mut shown, refused): (Vec<_>, Vec<_>) = judged.partition(|(why, _)| why.is_none());
    let any = !shown.is_empty() || !all;
    shown.extend(refused);
    let hidden = shown.len().saturating_sub(MOST);
    shown.truncate(MOST);
    let each = shown.into_iter().map(|(why, person)| {
        let id = format!("{prefix}-{}", person.id);
        let name = person.name.clone();
        let under = why.map_or_else(|| line(&person), str::to_owned);
        view! {
            <li>
                <button type="button" class="button" id=id disabled=why.is_some()
                    on:click=move |_| chosen.set(Some(person.clone()))>
                    <span>{name}</span>
                    <span class="quiet-text">{under}</span>
                </button>
            </li>
        }
    });
    let shown = view! {
        {no_match}
        <ul class="found">{each.collect_view()}</ul>
        {(hidden > 0).then(|| view! { <p class="small quiet-text">{start::more(hidden)}</p> })}
    };
    Listed { shown: shown.into_any(), any }
}

fn line(person: &Person) -> String {
    people::line(&person.number, &person.unit_name, &person.role)
}
