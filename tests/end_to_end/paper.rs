use suite::{Screen, Window, story};

use crate::records;

#[tokio::test]
async fn a_paper_form_is_entered_with_the_times_that_are_written_on_it() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    window.tap("#nav-start").await;
    story::choose(&window, "person", "1002").await;
    window.tap(&format!("#procedure-{}", story::PROCEDURE)).await;
    window.tap("#purpose-validation").await;
    window.tap("#mode-assessed").await;
    story::choose(&window, "observer", "1001").await;
    window.tap("#from-paper").await;
    let today = window.ask("return new Date().toLocaleDateString('sv')").await;
    window.fill("#form-date", today.as_str().expect("a date")).await;
    window.tap("#begin").await;

    window.read("Form of").await;
    let clocks = window.ask("return document.querySelectorAll('#elapsed, #hold').length").await;
    assert_eq!(clocks, 0, "nobody is watched now, and no clock runs");
    story::log_act(&window, "remove-gloves", 1).await;
    window.fill("#written-at", "0:00:10").await;
    window.tap("#written-keep").await;
    window.read("00:00:10").await;
    // What cannot be is told at the field; nothing is written.
    story::log_act(&window, "remove-mask", 2).await;
    window.fill("#written-at", "0:61").await;
    window.tap("#written-keep").await;
    window.read("is no time of the day").await;
    window.fill("#written-at", "0:00:05").await;
    window.tap("#written-keep").await;
    window.read("would be earlier than").await;
    assert_eq!(window.violations().await.len(), 0, "what is refused is told accessibly");
    window.fill("#written-at", "0:00:20").await;
    window.tap("#written-keep").await;
    window.read("00:00:20").await;
    story::log_act(&window, "remove-goggles", 3).await;
    story::log_act(&window, "remove-gown", 4).await;
    story::log_act(&window, "hand-rub", 5).await;
    let rings = window.ask("return document.querySelectorAll('.timer-ring').length").await;
    assert_eq!(rings, 0, "nothing is timed now");
    window.fill("#written-lasted", "12").await;
    window.tap("#written-keep").await;
    window.read("12 s").await;
    for (width, height) in [(1180, 820), (820, 1180)] {
        window.resize(width, height).await;
        let out = window.out_of_reach().await;
        assert!(out.is_empty(), "{width} x {height}: {out:?}");
    }

    story::finish(&window).await;
    window.read("at 00:00:20 came too early").await;
    window.read("took 12 s").await;
    story::sign(&window).await;
    let pdf = records::below(data.path()).pop().expect("a record");
    let words = records::words(&pdf);
    assert!(words.contains("From a paper form of") && words.contains("00:00:20"), "{words}");
}
