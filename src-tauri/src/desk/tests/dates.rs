//! Dates that cannot be, and what was handed out before: corrections to days that do not count, records dated ahead of
//! the clock, certificates before a roll-over.

use contract::{Change, OpenHistory, RollAuthorityOver, SaveTrustPage};
use sealing::Certificate;

use super::*;

#[test]
fn a_date_is_put_right_only_to_another_day_on_which_the_observer_was_entitled() {
    let ward = Ward::new();
    ward.competent("a", 10);
    let entry = ward.line("a", 11).entry;
    let put = |on: &str, reason: &str| ward.correct(&entry, Change::Date(date(on)), reason, 11);
    let before = put("2026-02-27", "by the duty roster").unwrap_err().text;
    assert!(before.contains("was not entitled to on 27 February 2026"), "{before}");
    let same = put("2026-03-12", "by the duty roster").unwrap_err().text;
    assert!(same.contains("counts by that date already"), "{same}");
    assert!(ward.line("a", 12).amendments.is_empty(), "nothing was written");
    put("2026-03-05", "by the duty roster").unwrap();
    let line = ward.line("a", 12);
    assert_eq!(line.on, date("2026-03-05"));
    assert!(line.observer_then.0, "{}", line.observer_then.1);
}

#[test]
fn a_record_that_is_dated_ahead_of_the_clock_is_told_of() {
    let ward = Ward::new();
    ward.competent("a", 300);
    let open = |as_of: Option<NaiveDate>, day: i64| {
        let open = OpenHistory { person: ward.colleague.clone(), as_of, known_at: None };
        ward.desk.open_history(&open, &at(day)).unwrap()
    };
    // The clock was a year ahead, and was put right since.
    let now = open(None, 2);
    assert!(now.demonstrations.is_empty());
    let ahead = date("2026-12-27");
    assert_eq!(now.ahead, Some((1, ahead)));
    let then = open(Some(ahead), 2);
    assert_eq!((then.demonstrations.len(), then.ahead), (1, None));
    ward.correct(&then.demonstrations[0].entry, Change::Date(date("2026-03-03")), "the clock was ahead", 2)
        .unwrap();
    let right = open(None, 2);
    assert_eq!((right.demonstrations.len(), right.ahead), (1, None));
}

#[test]
fn certificates_from_before_a_roll_over_are_handed_out_too() {
    let ward = Ward::new();
    let before = ward.desk.authority_certificate().unwrap();
    let roll = RollAuthorityOver {
        passphrase: PASSPHRASE.to_owned(),
        new_passphrase: "eight white herons over the quay".to_owned(),
        reason: "the passphrase is known".to_owned(),
    };
    let saved = ward.desk.roll_authority_over(&roll, &at(2)).unwrap();
    let read = |path: &std::path::Path| Certificate::read(&fs::read(path).unwrap()).unwrap();
    let present = std::path::Path::new(&saved.path);
    assert_eq!(read(present), ward.desk.authority_certificate().unwrap());
    let named: String = before.fingerprint().chars().take(8).collect();
    let earlier = present.with_file_name(format!("authority-before-{named}.pem"));
    assert_eq!(read(&earlier), before);
    // The page names both files.
    fs::remove_file(&earlier).unwrap();
    ward.desk.save_trust_page(&SaveTrustPage {}, &at(2)).unwrap();
    assert!(earlier.exists(), "both lie beside the page that names them");
}
