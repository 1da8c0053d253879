//! A day, typed as year-month-day: it reads the same everywhere, and on every keyboard.

use chrono::NaiveDate;
use leptos::prelude::*;

use super::field::Field;
use crate::wording;

/// What stands in a field for a day: `None` where it is empty.
pub(crate) fn read(text: &str) -> Result<Option<NaiveDate>, ()> {
    match text.trim() {
        "" => Ok(None),
        date => date.parse().map(Some).map_err(|_not_a_date| ()),
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
        for wrong in ["25.11.2026", "2026-02-30", "soon"] {
            assert_eq!(read(wrong), Err(()), "{wrong}");
        }
    }
}
