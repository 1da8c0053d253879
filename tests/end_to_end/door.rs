//! An observer's whole work at the door, on real procedures.

use suite::{Screen, Window, story};

/// What the log shows, one line each, latest first.
async fn log(window: &Window) -> Vec<String> {
    let lines = window
        .ask("return [...document.querySelectorAll('#log .log-text')].map(line => line.innerText)")
        .await;
    serde_json::from_value(lines).expect("the log is a list of lines")
}

async fn facility(window: &Window) {
    story::create_facility(window).await;
    story::add_colleague(window).await;
}

#[tokio::test]
async fn an_assessed_demonstration_with_everything_around_it() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let mut window = Window::open(&screen, data.path()).await;
    facility(&window).await;
    story::begin(&window).await;

    // A slip of the finger: taken back in one tap, and the next one corrected by choosing its line.
    story::log_act(&window, "remove-gown", 1).await;
    window.tap("#undo").await;
    window.until("it is taken back", "return document.querySelectorAll('.taken-back').length === 1").await;
    story::log_act(&window, "remove-mask", 2).await;
    window.tap(".log-line").await;
    window.tap("#line-correct").await;
    window.tap("#correct-remove-gloves").await;
    window.read("corrected").await;
    window
        .until("the warning is gone with the slip", "return document.querySelector('#too-early') === null")
        .await;

    // A prompt in one tap; undo takes the prompt back, not the act.
    window.tap("#prompted").await;
    window.read("prompted").await;
    window.tap("#undo").await;
    window
        .until(
            "the act stands without the prompt",
            "return !document.querySelector('#log').innerText.includes('prompted') \
               && document.querySelectorAll('.taken-back').length === 1",
        )
        .await;
    // A note from the log in two taps.
    window.tap(".log-line").await;
    window.tap_named("Talk about it afterwards").await;
    window.read("1 note").await;

    // Contamination on the figure, then the response that must come next stands first until it is seen.
    window.tap("#contamination").await;
    window
        .until("a part can be chosen", "return document.querySelector('.body-part')?.disabled === false")
        .await;
    // A finger that bounces answers one question: the next one cannot be answered the moment it appears.
    window
        .ask(
            "const panel = document.querySelector('.panel-choices'); \
             new MutationObserver((_, watching) => { \
               const next = panel.querySelector('.panel-ask ~ .door-button'); \
               if (next === null) return; \
               watching.disconnect(); \
               window.bounced = next.disabled; \
               next.click(); \
             }).observe(panel, { childList: true, subtree: true }); \
             document.querySelector('.body-part.at-eyes').click()",
        )
        .await;
    window.until("the next question was tapped at once", "return window.bounced === true").await;
    window.tap_named("gown").await;
    window.tap_named("Observer").await;
    let card = window.text("#exposure").await;
    assert!(card.contains("exposure plan") && card.contains("occupational health"), "{card}");
    window.see("#banner.due").await;
    window.kill();

    // Power fails in the middle of it.
    window = Window::open(&screen, data.path()).await;
    window.tap(".unfinished a").await;
    window.see("#banner.due").await;
    let before = log(&window).await;
    assert!(before[0].contains("Eyes, nose or mouth, from gown"), "{before:?}");
    window.tap("#act-hand-rub").await;
    window.see("#end-timer").await;
    window.tap("#more").await;
    window.tap("#team-error").await;
    window.tap_named("Looked away").await;
    window.read("own error: Looked away").await;
    // It goes on being timed, since nobody's act has ended it.
    window.see("#end-timer").await;

    window.tap("#stop").await;
    window.tap("#end-stopped-exposure").await;
    story::answer(&window).await;
    assert_eq!(window.text("#outcome").await, "Not yet competent");
    window.read("own error").await;
    let noted = window.text("#notes").await;
    assert!(noted.contains("Talk about it afterwards"), "the review tells the notes: {noted}");
    // Coaching is planned from the review, and the record tells it.
    window.fill("#coaching", "Mask last, gown before it.").await;
    window.fill("#again-by", "2099-01-31").await;
    window.tap("#keep-plan").await;
    window.see("#planned").await;
    story::sign(&window).await;
    let files = crate::records::below(data.path());
    let words = crate::records::words(files.first().expect("a record is filed"));
    for word in ["Looked away", "Mask last, gown before it.", "31 January 2099", "Talk about it afterwards"] {
        assert!(words.contains(word), "the record tells {word:?}: {words}");
    }
}

#[tokio::test]
async fn a_long_guided_demonstration_goes_on_after_a_kill() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let mut window = Window::open(&screen, data.path()).await;
    facility(&window).await;
    story::add_person(&window, "Ada Brill", "1003").await;
    story::begin_practice(&window, "high-consequence-n95-doffing", "guided", "1003").await;
    window.see("#guided-text").await;

    // A finger that bounces confirms one step: the next one cannot be confirmed the moment it appears.
    let may_confirm = "return !document.querySelector('.guided-confirm').disabled";
    window.until("the first step can be confirmed", may_confirm).await;
    window
        .ask(
            "const step = () => document.querySelector('#guided-text').innerText; \
             const first = step(); \
             new MutationObserver((_, watching) => { \
               if (step() === first) return; \
               watching.disconnect(); \
               window.bounced = document.querySelector('.guided-confirm').disabled; \
               document.querySelector('.guided-confirm').click(); \
             }).observe(document.querySelector('.door-acts'), { childList: true, subtree: true }); \
             document.querySelector('.guided-confirm').click()",
        )
        .await;
    window.until("the next step was tapped at once", "return window.bounced === true").await;
    window
        .until("it can be confirmed now", "return !document.querySelector('.guided-confirm').disabled")
        .await;
    story::lines_are(&window, 1).await;

    let mut confirmed = 1;
    while window.ask("return document.querySelector('.guided-confirm') !== null").await == true {
        if confirmed == 6 {
            // A tear is found: the response stands before the next step until it is confirmed.
            window.tap("#condition-inner-glove-breached").await;
            window.see(".guided.owed").await;
            window.kill();
            window = Window::open(&screen, data.path()).await;
            window.tap(".unfinished a").await;
            window.see(".guided.owed").await;
            confirmed += 1;
            story::lines_are(&window, confirmed).await;
        }
        window.tap(".guided-confirm").await;
        confirmed += 1;
        story::lines_are(&window, confirmed).await;
        assert!(confirmed < 80, "it comes to an end");
    }
    assert!(confirmed > 20, "it was a long one: {confirmed}");
    window.read("0 left").await;
    window.tap("#stop").await;
    window.tap("#end-completed").await;
    story::answer(&window).await;
    window.see("#headline").await;
}

#[tokio::test]
async fn the_page_of_a_long_board_turns_only_when_no_finger_is_on_it() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    facility(&window).await;
    story::add_person(&window, "Ada Brill", "1003").await;
    story::begin_practice(&window, "high-consequence-n95-doffing", "assessed", "1003").await;
    // All acts of the first page but its last.
    for lines in 1..7 {
        window.tap(".tile.may-come").await;
        story::lines_are(&window, lines).await;
    }
    let on_page =
        |page: usize| format!("return document.querySelector('#page-{page}[aria-current]') !== null");
    window.ask("dispatchEvent(new PointerEvent('pointerdown'))").await;
    window.ask("document.querySelector('.tile.may-come').click()").await;
    story::lines_are(&window, 7).await;
    window
        .until(
            "the next section is marked",
            "return !document.querySelector('#page-0').innerText.includes('6 of')",
        )
        .await;
    assert_eq!(window.ask(&on_page(0)).await, true, "what the finger is on stays");
    window.ask("dispatchEvent(new PointerEvent('pointerup'))").await;
    window.until("the page turns once it is off", &on_page(1)).await;
}

#[tokio::test]
async fn a_turned_and_resized_window_stands_as_acknowledged() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    facility(&window).await;
    story::begin(&window).await;
    story::log_act(&window, "remove-gloves", 1).await;
    let before = log(&window).await;
    // Another act each time: the same one again would end its timing.
    let turns = [
        (820, 1180, "hand-rub"),
        (1180, 820, "remove-goggles"),
        (600, 500, "remove-gown"),
        (1440, 900, "hand-wash"),
    ];
    for (lines, (width, height, act)) in (2..).zip(turns) {
        window.resize(width, height).await;
        assert_eq!(log(&window).await[lines - 2..], before[..], "{width} x {height}");
        story::log_act(&window, act, lines).await;
    }
    // In the background and back: the form asks again how long it has run.
    let was = window.ask("return document.querySelector('#elapsed').innerText").await;
    window.ask("window.dispatchEvent(new Event('visibilitychange'))").await;
    window
        .until("time goes on", &format!("return document.querySelector('#elapsed').innerText !== {was}"))
        .await;
    story::lines_are(&window, 5).await;
}

#[tokio::test]
async fn what_changes_after_the_answers_has_its_reason_on_the_record() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    facility(&window).await;
    story::begin(&window).await;
    for (count, act) in (1..).zip(["remove-gloves", "remove-goggles", "remove-gown", "remove-mask"]) {
        story::log_act(&window, act, count).await;
    }
    // No tap for the last hand hygiene: answered as not done.
    story::finish(&window).await;
    assert_eq!(window.text("#outcome").await, "Not yet competent");

    // The answer is changed after the review was seen: not without a reason.
    window.tap_named("Change an answer").await;
    window.tap("button[aria-label^='Undo:']").await;
    window.read("Say why first.").await;
    window.fill("#change-why", "I stood behind the door then").await;
    window.tap("button[aria-label^='Undo:']").await;
    window.tap("[id^='not-seen-']").await;
    window.tap("#to-review").await;
    window.read("Not assessed").await;

    // The observer decides stricter than the rule, with a reason.
    window.tap("#decide-stricter").await;
    window.read("Say why; the person observed will read it.").await;
    window.fill("#decision-why", "The gown was pulled").await;
    // A finger that bounces decides once: what is taken back then was all there was.
    window.ask("for (const _ of [1, 2]) document.querySelector('#decide-stricter').click()").await;
    window.see("#decided").await;
    window.tap("#take-decision-back").await;
    window.until("nothing is decided", "return document.querySelector('#decided') === null").await;
    window.fill("#decision-why", "The gown was pulled over the head").await;
    window.tap("#decide-stricter").await;
    window.see("#decided").await;
    assert_eq!(window.text("#outcome").await, "Not yet competent");
    story::sign(&window).await;
    let files = crate::records::below(data.path());
    let words = crate::records::words(files.first().expect("a record is filed"));
    for word in
        ["I stood behind the door then", "The gown was pulled over the head", "By the rule: not assessed"]
    {
        assert!(words.contains(word), "the record tells {word:?}: {words}");
    }
}
