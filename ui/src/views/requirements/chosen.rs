//! What the facility chose where regulation and guidance leave it open.

use contract::{FacilityRules, SetFacilityRules};
use leptos::prelude::*;

use super::set::number;
use crate::{
    widgets::{doing::doing, field::Field, select::tick},
    wording::manager::requirements as words,
};

pub(super) fn chosen(rules: FacilityRules, changed: Callback<()>) -> impl IntoView {
    let leave = RwSignal::new(rules.leave_limit_days.map(|days| days.to_string()).unwrap_or_default());
    let strict = RwSignal::new(rules.strict_year);
    let medical = RwSignal::new(rules.medical_clearance);
    let set = doing::<SetFacilityRules>(move |_| changed.run(()));
    let go = Callback::new(move |()| {
        if let Ok(leave_limit_days) = leave.with_untracked(|text| number(text)) {
            let (strict_year, medical_clearance) = (strict.get_untracked(), medical.get_untracked());
            let rules = FacilityRules { leave_limit_days, strict_year, medical_clearance };
            set.go(SetFacilityRules { rules });
        }
    });
    let wrong = Signal::derive(move || leave.with(|text| number(text)).is_err().then_some(words::BAD_NUMBER));
    view! {
        <form class="card stack" novalidate aria-labelledby="rules-title"
            on:submit=move |event| { event.prevent_default(); go.run(()); }>
            <h2 id="rules-title">{words::RULES}</h2>
            <p class="quiet-text">{words::RULES_WHY}</p>
            <div class="choices">
                {tick("rules-strict", words::STRICT, words::STRICT_HINT, strict)}
                {tick("rules-medical", words::MEDICAL, words::MEDICAL_HINT, medical)}
            </div>
            <Field id="rules-leave" label=words::LEAVE value=leave hint=words::LEAVE_HINT wrong=wrong />
            {set.told()}
            <div class="row">
                <button type="submit" class="button" id="set-rules" disabled=move || set.busy()>
                    {words::RULES_GO}</button>
            </div>
        </form>
    }
}
