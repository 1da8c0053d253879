//! Requires a procedure.

use competency::validity::LEAD_DAYS;
use contract::{Requirements, SetRequirement};
use leptos::prelude::*;

use crate::{
    views::go_in::unit_options,
    widgets::{
        doing::doing,
        field::Field,
        select::{chosen, select},
    },
    wording::manager::requirements as words,
};

pub(super) fn set(all: &Requirements, changed: Callback<()>) -> impl IntoView + use<> {
    if all.procedures.is_empty() {
        return view! { <p class="note">{words::NO_PROCEDURE}</p> }.into_any();
    }
    let procedures: Vec<(String, String)> =
        all.procedures.iter().map(|one| (one.id.clone(), words::procedure(&one.title, one.months))).collect();
    let first = procedures.first().map(|(id, _)| id.clone()).unwrap_or_default();
    let roles = std::iter::once((String::new(), words::EVERY_ROLE.to_owned()))
        .chain(all.roles.iter().map(|role| (role.clone(), role.clone())))
        .collect();
    let usual: Vec<String> = LEAD_DAYS.iter().map(u32::to_string).collect();
    let procedure = RwSignal::new(first);
    let [unit, role, months] = [(); 3].map(|()| RwSignal::new(String::new()));
    let leads = RwSignal::new(usual.join(", "));
    let set = doing::<SetRequirement>(move |_| changed.run(()));
    let go = Callback::new(move |()| {
        let (Ok(months), Ok(lead_days)) =
            (months.with_untracked(|text| number(text)), leads.with_untracked(|text| numbers(text)))
        else {
            return;
        };
        set.go(SetRequirement {
            procedure: procedure.get_untracked(),
            unit: chosen(unit),
            role: chosen(role),
            required: true,
            months,
            lead_days,
        });
    });
    let wrong_months =
        Signal::derive(move || months.with(|text| number(text)).is_err().then_some(words::BAD_NUMBER));
    let wrong_leads =
        Signal::derive(move || leads.with(|text| numbers(text)).is_err().then_some(words::BAD_NUMBER));
    view! {
        <form class="card stack" novalidate aria-labelledby="set-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="set-title">{words::SET}</h2>
            <div class="columns">
                {select("requirement-procedure", words::PROCEDURE, procedures, procedure)}
                {select("requirement-unit", words::OF_UNIT, unit_options(all.units.clone()), unit)}
                {select("requirement-role", words::OF_ROLE, roles, role)}
                <Field id="requirement-months" label=words::MONTHS value=months hint=words::MONTHS_HINT
                    wrong=wrong_months />
                <Field id="requirement-leads" label=words::LEADS value=leads hint=words::LEADS_HINT
                    wrong=wrong_leads />
            </div>
            {set.told()}
            <div class="row">
                <button type="submit" class="button primary" id="set-requirement"
                    disabled=move || set.busy()>{words::SET_GO}</button>
            </div>
        </form>
    }
    .into_any()
}

/// A whole number; `None` where nothing stands there.
pub(super) fn number(text: &str) -> Result<Option<u32>, ()> {
    match text.trim() {
        "" => Ok(None),
        text => text.parse().map(Some).map_err(|_no_number| ()),
    }
}

/// Whole numbers between commas.
fn numbers(text: &str) -> Result<Vec<u32>, ()> {
    let parts = text.split([',', ' ', ';']).filter(|part| !part.is_empty());
    parts.map(|part| part.parse().map_err(|_no_number| ())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_between_commas_and_anything_else_is_said() {
        assert_eq!(numbers("90, 60,30 ;7"), Ok(vec![90, 60, 30, 7]));
        assert_eq!(numbers(""), Ok(Vec::new()));
        assert_eq!(numbers("90, soon"), Err(()));
        assert_eq!((number(" "), number("6"), number("-1")), (Ok(None), Ok(Some(6)), Err(())));
    }
}
