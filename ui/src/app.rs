//! The frame around every view, and the only place that knows the routes.
//!
//! Ids that tests hold on to, all stable:
//! - every view: `h1#title`; navigation `#nav-today`, `#nav-start`, `#nav-roster`, `#nav-people`, `#nav-procedures`,
//!   `#nav-verify`.
//! - first start: `#way-create`, `#way-join`, `#way-restore`; `#facility-name`, `#facility-unit`, `#observer-name`, `#observer-number`, `#observer-role`,
//!   `#observer-evidence`, `#passphrase`, `#pin`, `#pin-again`, `#create`.
//! - people: `#search`, `#who`, `#new-name`, `#new-number`, `#new-unit`, `#new-role`, `#add`, `#appoint-<person>`,
//!   then `#appoint-evidence`, `#appoint-passphrase`, `#appoint-pin`, `#appoint`.
//! - start: `#person-search`, `#person-<id>`, `#procedure-search`, `#procedure-<id>`, `#purpose-<purpose>`,
//!   `#mode-<mode>`, `#observer-search`, `#observer-<id>`, `#assistant-search`, `#assistant-<id>`,
//!   `#worn-<condition>`, `#begin`.
//! - live form: `#act-<act>`, `#confirm-<act>` (guided), `#condition-<condition>`, `#contamination`, `#page-<n>`,
//!   `#banner`, `#undo`, `#prompted`, `#faults`, `#fault-<code>`, `#note`, `#correct`, `#correct-<act>`, `#hold`,
//!   `#stop`, `#end-<how>`, `#log`, `#elapsed`, `#all-acts`, `#end-timer`, `#timer-goes-on`, `#panel-back`; of a chosen
//!   line `#line-undo`, `#line-prompted`, `#line-correct`, `#line-note`; `#body-front`, `#body-back`, `#body-list`,
//!   `#exposure`; `#more`, then `#lock`, `#unlock`, `#team-error`, `#hand-over`, `#over-<person>`, `#settings`,
//!   `#hand-<side>`, `#text-<percent>`, `#light-<surroundings>`, `#leave`.
//! - steps without a tap: `#done-<step>`, `#not-done-<step>`, `#not-seen-<step>`, `#to-review`, `#change-why`.
//! - review: `#outcome`, `#headline`, `#findings`, `#notes`, `#decision-why`, `#decide-stricter`, `#decided`, `#coaching`,
//!   `#again-by`, `#keep-plan`, `#second`, `#begin-second`, `#to-sign`; sign: `#sign-pin`, `#remark`, `#seal`, `#sealed`, `#sealed-about`,
//!   `#open-record`, `#to-history`.
//! - roster: `#roster-unit`, `#roster-as-of`, `#roster-known-at`, `#roster-search`, `#roster-state`, `#roster`,
//!   `#save-roster-<format>`; beside it `#to-roster`, `#to-go-in`, `#to-sessions`, `#to-requirements`; who may go in:
//!   `#go-in-precaution`, `#go-in-unit`, `#go-in`; sessions: `#session-on`, `#session-place`, `#session-observer`,
//!   `#session-places`, `#set-session`, `#sessions`, `#take-back-now`, `#keep-session`, `#plan`, `#give-places`, `#save-invitations-<form>`; requirements:
//!   `#requirement-procedure`, `#requirement-unit`, `#requirement-role`, `#requirement-months`,
//!   `#requirement-leads`, `#set-requirement`, `#requirements`, `#rules-leave`, `#rules-strict`, `#rules-medical`,
//!   `#set-rules`, `#equipment-what`, `#equipment-by`, `#ask-again`; a person: `#clearances`, `#stated`,
//!   `#about-<kind>`, `#about-cleared-yes`, `#state-about`, `#erase-open`, `#erase-number`, `#erase-passphrase`, `#erase-go`; import: `#people-file`, `#column-<which>`, `#try-import`, `#import`,
//!   `#despite-bad`, `#left-before`, `#confirm-import`, `#imported`.
//! - history: `#history-as-of`, `#history-known-at`, `#save-pdf`,
//!   `#save-csv`, `#standings`, `#records`, `#record-<record>`, `#right-<entry>`, then `#right-void`, `#right-date`,
//!   `#right-note`, `#right-day`, `#right-text`, `#right-reason`, `#right-author`, `#right-pin`, `#right-go`.
//! - a record that is checked: `#record-file`, `#trust-file`, `#verdict`, `#reliable`, `#reasons`.
//! - who signs: `#observers`, `#take-away`, `#from-<person>`, `#why-left`, `#why-other-hands`, `#away-reason`,
//!   `#away-passphrase`, `#away-go`; the authority: `#recovery-passphrase`, `#recovery`, `#recovery-remove`, `#trust`,
//!   `#roll-old`, `#roll-new`, `#roll-again`, `#roll-reason`, `#roll`, `#join-file`, `#join-passphrase`, `#join`.
//! - notifications: `#notifications`, `#notified`.
//! - backup: `#back-up`; at the first start `#backup-file`, `#join-request`, `#restored`.
//! - procedures: `#procedures`, `#retired`, `#drafts`, `#bring-file`; one: `#next-version`, `#copy`, `#save-file`, `#save-form`,
//!   `#compare-<version>`, `#comparison`, `#retire-why`, `#retire-passphrase`, `#retire-go`.
//! - workbench: `#part-<part>`, `#keeping`, `#refused`, `#step-<step>`, `#add-step`, `#step-editor`, `#before-<step>`,
//!   `#try-<act>`, `#try-outcome`, `#changes`, `#proposal`, `#approver-<id>`,
//!   `#publish-passphrase`, `#publish`, `#drop-draft`; after it `#told`.

use competency::validity::State;
use leptos::prelude::*;

use crate::{
    page, views,
    widgets::{announcer::Announcer, mark::DoorMark},
    wording,
};

/// Where the window may be. Ids of people and demonstrations are letters, digits and hyphens, so they
/// stand in the address as they are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Route {
    /// What to do today.
    Home,
    /// First start.
    Create,
    /// Everyone.
    People,
    /// A new demonstration, of this person where one is given.
    Start(Option<String>),
    /// The live form of a demonstration.
    Live(String),
    /// The steps without a tap, before the score.
    Settle(String),
    /// What the score says.
    Review(String),
    /// Signing.
    Sign(String),
    /// Who may do what; only those with something in a state where one is given.
    Roster(Option<State>),
    /// Who may go in.
    GoIn,
    /// Sessions and the plan.
    Sessions,
    /// Who must hold what.
    Requirements,
    /// One person: what is stated about them.
    Person(String),
    /// People from a file.
    Import,
    /// One person's history.
    History(String),
    /// The procedures in force.
    Procedures,
    /// One procedure.
    Procedure(String),
    /// A draft of a procedure.
    Workbench(String),
    /// Whether a record that somebody brought can be relied on.
    Verify,
}

impl Route {
    /// Reads the part of the address after `#`; an address that leads nowhere leads home.
    fn read(hash: &str) -> Route {
        let mut parts = hash.trim_start_matches(['#', '/']).splitn(2, '/');
        let name = parts.next().unwrap_or_default();
        let id = parts.next().filter(|id| !id.is_empty()).map(str::to_owned);
        match (name, id) {
            ("create", None) => Route::Create,
            ("people", None) => Route::People,
            ("start", person) => Route::Start(person),
            ("live", Some(id)) => Route::Live(id),
            ("settle", Some(id)) => Route::Settle(id),
            ("review", Some(id)) => Route::Review(id),
            ("sign", Some(id)) => Route::Sign(id),
            ("roster", None) => Route::Roster(None),
            ("roster", Some(state)) => State::ALL
                .into_iter()
                .find(|one| slug(*one) == state)
                .map_or(Route::Home, |state| Route::Roster(Some(state))),
            ("go-in", None) => Route::GoIn,
            ("sessions", None) => Route::Sessions,
            ("requirements", None) => Route::Requirements,
            ("person", Some(id)) => Route::Person(id),
            ("import", None) => Route::Import,
            ("history", Some(id)) => Route::History(id),
            ("procedures", None) => Route::Procedures,
            ("procedures", Some(id)) => Route::Procedure(id),
            ("workbench", Some(id)) => Route::Workbench(id),
            ("verify", None) => Route::Verify,
            (_, _) => Route::Home,
        }
    }

    /// The address, to put into a link.
    pub(crate) fn href(&self) -> String {
        match self {
            Route::Home => "#/today".to_owned(),
            Route::Create => "#/create".to_owned(),
            Route::People => "#/people".to_owned(),
            Route::Start(None) => "#/start".to_owned(),
            Route::Start(Some(person)) => format!("#/start/{person}"),
            Route::Live(id) => format!("#/live/{id}"),
            Route::Settle(id) => format!("#/settle/{id}"),
            Route::Review(id) => format!("#/review/{id}"),
            Route::Sign(id) => format!("#/sign/{id}"),
            Route::Roster(None) => "#/roster".to_owned(),
            Route::Roster(Some(state)) => format!("#/roster/{}", slug(*state)),
            Route::GoIn => "#/go-in".to_owned(),
            Route::Sessions => "#/sessions".to_owned(),
            Route::Requirements => "#/requirements".to_owned(),
            Route::Person(person) => format!("#/person/{person}"),
            Route::Import => "#/import".to_owned(),
            Route::History(person) => format!("#/history/{person}"),
            Route::Procedures => "#/procedures".to_owned(),
            Route::Procedure(id) => format!("#/procedures/{id}"),
            Route::Workbench(draft) => format!("#/workbench/{draft}"),
            Route::Verify => "#/verify".to_owned(),
        }
    }

    /// Goes there without a way back to where one was: that place is over.
    pub(crate) fn go_instead(&self) {
        page::replace_hash(&self.href());
    }

    /// Whether the view takes the whole window: at the door nothing else is in reach of a stray touch.
    fn whole_window(&self) -> bool {
        match self {
            Route::Live(_) => true,
            Route::Home
            | Route::Create
            | Route::People
            | Route::Start(_)
            | Route::Settle(_)
            | Route::Review(_)
            | Route::Sign(_)
            | Route::Roster(_)
            | Route::GoIn
            | Route::Sessions
            | Route::Requirements
            | Route::Person(_)
            | Route::Import
            | Route::History(_)
            | Route::Procedures
            | Route::Procedure(_)
            | Route::Workbench(_)
            | Route::Verify => false,
        }
    }

    fn show(self) -> AnyView {
        match self {
            Route::Home => views::home::Home().into_any(),
            Route::Create => views::create::Create().into_any(),
            Route::People => views::people::PeopleView().into_any(),
            Route::Start(person) => views::start::start(person).into_any(),
            Route::Live(id) => views::live::live(id).into_any(),
            Route::Settle(id) => views::settle::settle(id).into_any(),
            Route::Review(id) => {
                views::live::once_saved(move || views::review::review(id.clone()).into_any()).into_any()
            }
            Route::Sign(id) => {
                views::live::once_saved(move || views::sign::sign(id.clone()).into_any()).into_any()
            }
            Route::Roster(state) => views::roster::roster(state).into_any(),
            Route::GoIn => views::go_in::GoIn().into_any(),
            Route::Sessions => views::sessions::SessionsView().into_any(),
            Route::Requirements => views::requirements::RequirementsView().into_any(),
            Route::Person(id) => views::person::person(id).into_any(),
            Route::Import => views::people::import::Import().into_any(),
            Route::History(person) => views::history::history(person).into_any(),
            Route::Procedures => views::procedures::Procedures().into_any(),
            Route::Procedure(id) => views::procedures::one::procedure(id).into_any(),
            Route::Workbench(draft) => views::workbench::workbench(draft).into_any(),
            Route::Verify => views::verify::VerifyView().into_any(),
        }
    }
}

/// A state in an address.
fn slug(state: State) -> String {
    state.words().replace(' ', "-")
}

/// The whole window.
#[component]
pub(crate) fn App() -> impl IntoView {
    let route = RwSignal::new(Route::read(&page::hash()));
    Announcer::provide();
    let announcer = Announcer::here();
    let listening = window_event_listener(leptos::ev::hashchange, move |_| {
        announcer.moved_on();
        route.set(Route::read(&page::hash()));
        page::to_top();
    });
    on_cleanup(move || listening.remove());
    views::home::provide();
    views::live::Watch::provide();
    views::live::Held::provide();
    views::sign::Remarks::provide();
    let resized = window_event_listener(leptos::ev::resize, |_| page::lay_out_anew());
    on_cleanup(move || resized.remove());

    let here = Memo::new(move |_| route.get());
    let bare = move || here.with(Route::whole_window);
    let fresh = move || here.with(|route| *route == Route::Create);
    view! {
        <a class="skip" href="#title" on:click=|event| {
            event.prevent_default();
            page::focus("title");
        }>{wording::SKIP}</a>
        <div class="window" class:bare=bare>
            <Show when=move || !bare() && !fresh()>
                <Navigation route=here />
            </Show>
            <main class="main" id="main">{announcer.line()}{move || here.get().show()}</main>
        </div>
        {Announcer::regions()}
    }
}

#[component]
fn Navigation(route: Memo<Route>) -> impl IntoView {
    let places = [
        (Route::Home, "nav-today", wording::facility::home::TITLE),
        (Route::Start(None), "nav-start", wording::door::start::NAVIGATION),
        (Route::Roster(None), "nav-roster", wording::standing::roster::TITLE),
        (Route::People, "nav-people", wording::facility::people::TITLE),
        (Route::Procedures, "nav-procedures", wording::facility::procedures::TITLE),
        (Route::Verify, "nav-verify", wording::evidence::verify::TITLE),
    ];
    let links = places.map(|(place, id, name)| {
        let href = place.href();
        let current = move || {
            let here = route.get();
            let inside = matches!(
                (&here, &place),
                (Route::Procedure(_) | Route::Workbench(_), Route::Procedures)
                    | (Route::Start(_), Route::Start(_))
                    | (
                        Route::Roster(_)
                            | Route::History(_)
                            | Route::GoIn
                            | Route::Sessions
                            | Route::Requirements,
                        Route::Roster(_)
                    )
                    | (Route::Person(_) | Route::Import, Route::People)
            );
            (inside || here == place).then_some("page")
        };
        view! { <li><a id=id href=href aria-current=current>{name}</a></li> }
    });
    view! {
        <header class="rail">
            <p class="brand"><DoorMark />{wording::NAME}</p>
            <nav aria-label=wording::NAVIGATION><ul>{links.into_iter().collect_view()}</ul></nav>
        </header>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_address_leads_back_to_its_view() {
        let id = || "4f1c-9".to_owned();
        for route in [
            Route::Home,
            Route::Create,
            Route::People,
            Route::Start(None),
            Route::Start(Some(id())),
            Route::Live(id()),
            Route::Settle(id()),
            Route::Review(id()),
            Route::Sign(id()),
            Route::Roster(None),
            Route::Roster(Some(State::NeverValidated)),
            Route::GoIn,
            Route::Sessions,
            Route::Requirements,
            Route::Person(id()),
            Route::Import,
            Route::History(id()),
            Route::Procedures,
            Route::Procedure(id()),
            Route::Workbench(id()),
            Route::Verify,
        ] {
            assert_eq!(Route::read(&route.href()), route, "{}", route.href());
        }
    }

    #[test]
    fn an_address_that_leads_nowhere_leads_home() {
        for hash in ["", "#", "#/", "#/nowhere", "#/live", "#/live/", "#/people/9", "#/roster/tired"] {
            assert_eq!(Route::read(hash), Route::Home, "{hash}");
        }
    }
}
