//! Who must hold which procedures, and what the facility chose where the rules leave it open.

mod chosen;
mod equipment;
mod set;

use contract::{OpenRequirements, RequirementLine, Requirements, SetRequirement};
use leptos::prelude::*;

use crate::{
    app::Route,
    widgets::{
        announcer::Announcer,
        doing::doing,
        loaded::{ask, loaded},
        places::places,
        title::title,
    },
    wording::{self, manager::requirements as words},
};

#[component]
pub(crate) fn RequirementsView() -> impl IntoView {
    let asked = ask(|| OpenRequirements {});
    let announcer = Announcer::here();
    let changed = Callback::new(move |()| {
        announcer.say(words::DONE);
        asked.refetch();
    });
    view! {
        <div class="stack wide">
            {title(words::TITLE)}
            {places(&Route::Requirements)}
            <p class="lead">{words::LEAD}</p>
            {loaded(asked, move |all| page(all, changed).into_any())}
        </div>
    }
}

fn page(all: Requirements, changed: Callback<()>) -> impl IntoView {
    let rules = all.rules;
    view! {
        {listing(all.lines.clone(), changed)}
        {set::set(&all, changed)}
        {equipment::equipment(&all, changed)}
        {chosen::chosen(rules, changed)}
    }
}

fn listing(lines: Vec<RequirementLine>, changed: Callback<()>) -> impl IntoView {
    if lines.is_empty() {
        return view! { <p class="note">{words::NONE}</p> }.into_any();
    }
    let take_back = doing::<SetRequirement>(move |_| changed.run(()));
    let each = lines.into_iter().map(|line| {
        let unit = line.unit.as_ref().map(|unit| unit.name.as_str());
        let of = words::of(unit, line.role.as_deref());
        let about = format!(
            "{of}, {}, {}",
            words::how_often(line.months, &line.lead_days),
            words::since(&wording::date(line.from))
        );
        let name = words::take_back(&line.title, &of);
        let request = SetRequirement {
            procedure: line.procedure.clone(),
            unit: line.unit.map(|unit| unit.id),
            role: line.role,
            required: false,
            months: line.months,
            lead_days: line.lead_days,
        };
        view! {
            <li class="line">
                <strong>{line.title}</strong>
                <span class="quiet-text">{about}</span>
                <span class="aside row">
                    <span class="tag">{words::hold(line.hold, line.means)}</span>
                    <button type="button" class="button plain" aria-label=name
                        disabled=move || take_back.busy()
                        on:click=move |_| take_back.go(request.clone())>{words::TAKE_BACK}</button>
                </span>
            </li>
        }
    });
    view! {
        <ul class="lines" id="requirements">{each.collect_view()}</ul>
        {take_back.told()}
    }
    .into_any()
}
