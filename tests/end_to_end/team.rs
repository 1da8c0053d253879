//! Around a warning and within the team: the answers to what came too early, holding, handing over, an end taken
//! back, and another observer's own log from a replay.

use suite::{Screen, Window, story};

/// The PIN of the observer who takes over.
const SECOND_PIN: &str = "731904";

async fn appoint(window: &Window, number: &str) {
    window.tap("#nav-people").await;
    window.fill("#search", number).await;
    window
        .until("one person is found", "return document.querySelectorAll('#people .person').length === 1")
        .await;
    window.tap("#people button[id^='appoint-']").await;
    window.fill("#appoint-evidence", "Trained observer course of 2026-05-04").await;
    window.fill("#appoint-passphrase", story::PASSPHRASE).await;
    window.fill("#appoint-pin", SECOND_PIN).await;
    window.fill("#appoint-pin-again", SECOND_PIN).await;
    window.tap("#appoint").await;
    window.read("Signs on this device through").await;
}

/// Waits until the log reads so somewhere.
async fn logged(window: &Window, words: &str) {
    let script = format!("return document.querySelector('#log').innerText.includes({words:?})");
    window.until(&format!("the log says {words:?}"), &script).await;
}

/// The four answers to what came too early, each in one tap, and none of them in the way of the next act.
async fn answers_to_a_warning(window: &Window) {
    // The gloves had come off before, unseen by the log: entered late, before the goggles.
    story::log_act(window, "remove-goggles", 1).await;
    window.see("#too-early").await;
    window.tap("#first-done").await;
    logged(window, "Gloves off, entered late").await;
    window.until("the warning is gone", "return document.querySelector('#too-early') === null").await;
    // The mask came before the gown: prompted, and the banner gives way to what may come.
    story::log_act(window, "remove-mask", 3).await;
    window.tap("#banner-prompted").await;
    logged(window, "Mask off, prompted").await;
    window.until("the banner gives way", "return document.querySelector('#too-early') === null").await;
    window.tap("#undo").await;
    window
        .until("the prompt is gone", "return !document.querySelector('#log').innerText.includes('prompted')")
        .await;
    window.tap("#undo").await;
    window.until("so is the act", "return document.querySelector('.taken-back') !== null").await;
    // Not seen whether the gown was off: said so, for the step that should have come first.
    story::log_act(window, "remove-mask", 4).await;
    window.see("#first-not-seen").await;
    window.tap("#first-not-seen").await;
    logged(window, "Not seen: ").await;
    // Stop, from the banner of what must not happen; and back.
    window.tap("#act-touch-face").await;
    // The warning before it has a button to stop as well, which gives way to this one.
    window.read("Must not happen").await;
    window.tap("#banner-stop").await;
    window.see("#end-stopped-exposure").await;
    window.tap("#panel-back").await;
}

#[tokio::test]
async fn a_team_answers_a_warning_holds_hands_over_and_logs_it_again() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::add_person(&window, "Ada Brill", "1003").await;
    story::add_person(&window, "Olaf Brand", "1004").await;
    appoint(&window, "1003").await;
    appoint(&window, "1004").await;
    story::begin(&window).await;
    answers_to_a_warning(&window).await;

    // Held and gone on with; acts are still taken meanwhile.
    window.tap("#hold").await;
    logged(&window, "On hold").await;
    window.see(".on-hold").await;
    window.tap("#hold").await;
    logged(&window, "Resume").await;

    // Another observer takes over midway.
    window.tap("#more").await;
    window.tap("#hand-over").await;
    window.tap_named("Ada Brill").await;
    logged(&window, "Handed over to Ada Brill").await;
    assert_eq!(window.text("#observes").await, "Ada Brill");

    // Ended by a slip: taken back, and the form goes on as it was.
    window.tap("#stop").await;
    window.tap("#end-completed").await;
    window.tap("#not-ended").await;
    window.see("#act-remove-gown").await;
    logged(&window, "Completed").await;
    story::finish(&window).await;
    let late = window.text("#late").await;
    assert!(late.contains("Gloves off"), "what was entered late is marked as such: {late}");

    // Whoever observed cannot be the second observer; somebody else logs it from the replay, on their own.
    window.tap("#second summary").await;
    story::choose(&window, "second", "1001").await;
    window.tap("#begin-second").await;
    window.read("logged the demonstration already").await;
    window.tap("#nav-today").await;
    window.tap(".unfinished a").await;
    window.tap("#second summary").await;
    story::choose(&window, "second", "1004").await;
    window.tap("#begin-second").await;
    window.see("#act-remove-gloves").await;
    story::lines_are(&window, 0).await;
    story::log_act(&window, "remove-gloves", 1).await;
    window.tap("#stop").await;
    window.tap("#end-completed").await;
    window.see("#outcome").await;
    window.tap("#second summary").await;
    let logs = window.text("#second-logs").await;
    assert!(logs.contains("Olaf Brand") && logs.contains("1 observation"), "both logs are kept: {logs}");

    // What is worn is asked at the start, and decides which steps there are.
    window.tap("#nav-today").await;
    story::prepare(&window).await;
    window.tap("#worn-wears-respirator").await;
    window.tap("#begin").await;
    window.see("#act-leave-room").await;
    let state = window.ask("return document.querySelector('#act-leave-room .tile-state').innerText").await;
    assert_eq!(state, "Not yet", "with a respirator the room is left before it comes off");
}
