//! A day, typed as year-month-day: it reads the same everywhere, and on every keyboard.

use chrono::NaiveDate;
use leptos::prelude::*;

use super::field::Field;
use crate::wording;

/// How long a whole date is.
const WHOLE: usize = "2026-11-25".len();

/// What stands in a field for a day: `None` where it is empty.
pub(crate) fn read(text: &str) -> Result<Option<NaiveDate>, ()> {
    match text.trim() {
        "" => Ok(None),
        // Whole only: `2026-02-3` is on its way to another day, and is none yet.
        date if date.len() != WHOLE => Err(()),
        date => date.parse().map(Some).map_err(|_not_a_date| ()),
    }
}

/// The day in a field that is looked at while it is typed, or the last good one.
pub(crate) fn last_good(text: RwSignal<String>) -> Memo<Option<NaiveDate>> {
    Memo::new(move |last: Option<&Option<NaiveDate>>| {
        text.with(|text| read(text)).unwrap_or_else(|()| last.copied().flatten())
    })
}

/// A field for a day that is looked at while it is typed: as long as what stands in it is none, it says which one is
/// shown. `none` says what an empty field stands for.
pub(crate) fn looked_at(
    id: &'static str,
    label: impl Into<String>,
    value: RwSignal<String>,
    hint: &'static str,
    good: Memo<Option<NaiveDate>>,
    none: &'static str,
) -> impl IntoView {
    let wrong = move || value.with(|text| read(text)).is_err();
    let stays = move || {
        wrong().then(|| {
            let shown = good.get().map_or_else(|| none.to_owned(), wording::date);
            view! { <p class="quiet-text small" role="status" id=format!("{id}-shown")>{wording::still_shown(&shown)}</p> }
        })
    };
    view! {
        <div class="stack tight">
            {date_field(id, label, value, hint)}
            {stays}
        </div>
    }
}

/// A field for a day, which says what is wrong with what stands in it.
pub(crate) fn date_field(
    id: &'static str,
    label: impl Into<String>,
    value: RwSignal<String>,
    hint: &'static str,
) -> impl IntoView {
    let wrong = Signal::derive(move || value.with(|text| read(text)).is_err().then_some(wording::BAD_DATE));
    view! { <Field id=id label=label.into() value=value hint=hint wrong=wrong /> }
}

/// The day in a field, for a request; `None` where it is empty or no day.
pub(crate) fn untracked(value: RwSignal<String>) -> Option<NaiveDate> {
    value.with_untracked(|text| read(text)).ok().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_date_is_none_and_a_wrong_one_is_said() {
        assert_eq!(read("  "), Ok(None));
        assert_eq!(read("2026-11-25"), Ok(NaiveDate::from_ymd_opt(2026, 11, 25)));
        for wrong in ["25.11.2026", "2026-02-30", "2026-02-3", "2026-2-03", "2026", "soon"] {
            assert_eq!(read(wrong), Err(()), "{wrong}");
        }
    }
}
