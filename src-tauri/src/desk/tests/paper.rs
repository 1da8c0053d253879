//! Times written on a paper form: entered, refused, told on the review and on the record.

use competency::journal::written::TimeOfDay;
use contract::Fault;

use super::*;

impl Ward {
    fn write(&self, id: &str, of: &str, at_time: &str, lasted_s: Option<u32>) -> Result<(), Fault> {
        let (demonstration, _) = of.split_once('-').unwrap();
        let event =
            Event::Written { of: of.to_owned(), at: Some(TimeOfDay::read(at_time).unwrap()), lasted_s };
        let tap = Tap { demonstration: demonstration.to_owned(), id: id.to_owned(), event };
        self.desk.tap(&tap, &at(8)).map(|_acknowledged| ())
    }
}

#[test]
fn written_times_are_kept_as_they_are_written_and_refused_where_they_cannot_be() {
    let ward = Ward::new();
    ward.carry_out("p", FIRST, Some(date("2026-03-05")), &AS_PRINTED, 8);
    ward.write("w0", "p-0", "10:02", None).unwrap();
    let earlier = ward.write("w1", "p-1", "10:01", None).unwrap_err();
    assert!(earlier.text.contains("would be earlier than"), "{}", earlier.text);
    ward.write("w2", "p-4", "10:06:30", Some(12)).unwrap();
    let span =
        Event::WrittenSpan { begun: TimeOfDay::read("10:00").ok(), ended: TimeOfDay::read("10:05").ok() };
    let tap = |span| Tap { demonstration: "p".to_owned(), id: "span".to_owned(), event: span };
    let ends_early = ward.desk.tap(&tap(span), &at(8)).unwrap_err();
    assert!(ends_early.text.contains("the end at 10:05 would be earlier"), "{}", ends_early.text);
    let span =
        Event::WrittenSpan { begun: TimeOfDay::read("10:00").ok(), ended: TimeOfDay::read("10:07").ok() };
    ward.desk.tap(&tap(span), &at(8)).unwrap();

    let review = ReviewDemonstration { demonstration: "p".to_owned(), review: "r".to_owned() };
    let review = ward.desk.review_demonstration(&review, &at(8)).unwrap();
    let texts: Vec<&str> = review.report.findings.iter().map(|finding| &*finding.text).collect();
    assert_eq!(texts, ["“Alcohol hand rub” at 10:06:30 took 12 s; it needs at least 20 s."]);

    ward.seal("p", 8);
    let filed = ward.desk.reader().record("p").unwrap().unwrap();
    let record = ::evidence::Record::read(&filed.json).unwrap();
    let times: Vec<String> = record.log.observations.iter().map(|seen| record.time_of(seen)).collect();
    assert_eq!(times, ["10:02", "on paper", "on paper", "on paper", "10:06:30"]);
    assert_eq!(record.on, date("2026-03-05"), "the form's own date");
    assert_eq!(record.folded().log, record.log, "what is sealed follows from its trace");
}

#[test]
fn a_time_that_lies_ahead_or_is_of_no_form_is_refused() {
    let ward = Ward::new();
    // It is nine o'clock on the form's own day.
    ward.carry_out("p", FIRST, Some(date("2026-03-10")), &AS_PRINTED, 8);
    let ahead = ward.write("w0", "p-0", "09:30", None).unwrap_err();
    assert!(ahead.text.contains("lies ahead: it is 09:00 now"), "{}", ahead.text);
    ward.carry_out("q", FIRST, None, &AS_PRINTED, 8);
    let live = ward.write("w1", "q-0", "08:30", None).unwrap_err();
    assert!(live.text.contains("only where a paper form is entered"), "{}", live.text);
}
