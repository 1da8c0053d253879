//! Bodies of earlier versions, brought to the version that this program writes: pure, and only while
//! reading. What is stored keeps its bytes, and with them its digest and its signatures.

use chrono::NaiveDate;
use competency::validity::LEAD_DAYS;
use serde_json::Value;

/// The body of a kind in the latest version there is a way to; any other stays as it is.
pub(crate) fn to_latest(kind: &str, kind_version: u32, body: Value) -> (u32, Value) {
    match (kind, kind_version) {
        ("procedure-published", 1) => (2, with_nulls(body, &["approved", "revalidate"])),
        ("requirement-set", 1) => (2, with_usual_leads(with_nulls(body, &["months"]))),
        ("reminder-sent", 1) => (2, with_sequence(body)),
        _ => (kind_version, body),
    }
}

/// A reminder had a date in any case. What a calendar was told as its SEQUENCE was reckoned of it: twice the number of
/// the day since 1970-01-01, and one more where it was taken back.
fn with_sequence(mut body: Value) -> Value {
    let told = |body: &Value| {
        let calendar = body.get("form")?.as_str()? == "calendar";
        let day: NaiveDate = body.get("valid_until")?.as_str()?.parse().ok()?;
        let days = day.signed_duration_since(NaiveDate::default()).num_days().max(0);
        let cancels = i64::from(body.get("cancels")?.as_bool()?);
        calendar.then_some(2 * days + cancels)
    };
    let told = told(&body).map_or(Value::Null, Value::from);
    if let Value::Object(object) = &mut body {
        object.entry("sequence").or_insert(told);
    }
    body
}

/// Adds fields that an earlier version did not have, and so left open.
fn with_nulls(mut body: Value, fields: &[&str]) -> Value {
    if let Value::Object(object) = &mut body {
        for field in fields {
            object.entry(*field).or_insert(Value::Null);
        }
    }
    body
}

/// A requirement knew only from when on a validation is due soon; reminders then went out at the usual times.
fn with_usual_leads(mut body: Value) -> Value {
    if let Some(lead) = body.get_mut("lead_days")
        && let Some(days) = lead.as_u64()
    {
        let usual = LEAD_DAYS.into_iter().map(u64::from).filter(|usual| *usual < days);
        *lead = std::iter::once(days).chain(usual).collect();
    }
    body
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::{Body, Entry, canonical};

    /// A published procedure as the first version of the kind wrote it.
    fn first_version() -> Value {
        json!({
            "from": "2026-11-25",
            "hash": "00".repeat(32),
            "procedure": {
                "id": "doffing", "version": "1.0.0", "title": "Doffing", "phase": "doffing",
                "precautions": [], "ensemble": [], "validates_in": ["assessed"], "valid_months": 12,
                "pass": { "max_other_findings": 2, "min_percent": null }, "sources": [],
                "acts": { "gloves-off": "Gloves off" },
                "steps": [{ "id": "a", "section": "Hands", "acts": ["gloves-off"], "text": "Gloves off.", "by": "wearer" }]
            }
        })
    }

    #[test]
    fn an_entry_of_an_earlier_version_is_read_and_its_bytes_stay() {
        let written =
            Body::Unknown { kind: "procedure-published".to_owned(), kind_version: 1, body: first_version() };
        let bytes = crate::entry::tests::entry(written).to_bytes().unwrap();
        let Body::ProcedurePublished(published) = Entry::read(&bytes).unwrap().body else {
            panic!("the kind is known");
        };
        assert_eq!((published.approved, published.revalidate), (None, None));
        let value: Value = serde_json::from_slice(&bytes).unwrap();
        assert_eq!(canonical(&value).unwrap(), bytes, "reading re-serialises nothing");
    }

    #[test]
    fn a_requirement_that_knew_one_lead_time_reminds_at_the_usual_ones_too() {
        let body = json!({ "procedure": "doffing", "lead_days": 60 });
        let (version, body) = to_latest("requirement-set", 1, body);
        assert_eq!(version, 2);
        assert_eq!(body, json!({ "procedure": "doffing", "lead_days": [60, 30, 7], "months": null }));
    }

    /// 2026-12-31 is the 20,818th day, as GNU date counts them.
    #[test]
    fn a_reminder_keeps_its_date_and_the_number_that_was_told_of_it() {
        let sent = |form: &str, cancels: bool| {
            let body = json!({
                "person": "p", "procedure": "doffing", "valid_until": "2026-12-31", "form": form,
                "on": "2026-10-01", "cancels": cancels
            });
            let written = Body::Unknown { kind: "reminder-sent".to_owned(), kind_version: 1, body };
            let bytes = crate::entry::tests::entry(written).to_bytes().unwrap();
            let Body::ReminderSent(sent) = Entry::read(&bytes).unwrap().body else {
                panic!("the kind is known")
            };
            assert_eq!(sent.valid_until, "2026-12-31".parse().ok());
            sent.sequence
        };
        assert_eq!((sent("calendar", false), sent("calendar", true)), (Some(41_636), Some(41_637)));
        assert_eq!(sent("notice", false), None);
    }

    #[test]
    fn what_needs_no_upcasting_stays_as_it_is() {
        let body = json!({ "unit": "u", "name": "West" });
        assert_eq!(to_latest("unit-added", 1, body.clone()), (1, body.clone()));
        assert_eq!(to_latest("unit-added", 9, body.clone()), (9, body));
    }
}
