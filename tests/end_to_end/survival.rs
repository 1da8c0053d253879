use std::{path::Path, time::Instant};

use chrono::TimeDelta;
use ledger::{Begin, Ledger, LedgerError, Moment};
use suite::{Screen, SmallDisk, Window, story};
use uuid::Uuid;

/// What the log shows, one line each, latest first.
async fn log(window: &Window) -> Vec<String> {
    let lines =
        window.ask("return [...document.querySelectorAll('#log li')].map(line => line.innerText)").await;
    serde_json::from_value(lines).expect("the log is a list of lines")
}

#[tokio::test]
async fn a_killed_window_offers_every_acknowledged_tap() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let mut window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;

    let acts = ["remove-gloves", "remove-goggles", "hand-rub", "remove-gown", "remove-mask", "hand-wash"];
    let mut acknowledged = 0;
    for acts in acts.chunks(2) {
        for act in acts {
            acknowledged += 1;
            story::log_act(&window, act, acknowledged).await;
        }
        let before = log(&window).await;
        window.kill();

        window = Window::open(&screen, data.path()).await;
        window.tap(".unfinished a").await;
        story::lines_are(&window, acknowledged).await;
        assert_eq!(log(&window).await, before, "the log stands as it was acknowledged");
    }
    // What was begun before three power cuts can be finished and sealed.
    story::finish(&window).await;
    story::sign(&window).await;
}

/// How many acts stand in the log, and whether a tap waits because it was refused.
async fn acknowledged_and_refused(window: &Window) -> (usize, bool) {
    let said = window
        .ask(
            "return [document.querySelectorAll('#log li').length, document.querySelector('#not-saved') !== null]",
        )
        .await;
    serde_json::from_value(said).expect("a count and a flag")
}

#[tokio::test]
async fn a_full_disk_refuses_a_tap_in_the_window_and_loses_none() {
    let (screen, disk) = (Screen::start(), SmallDisk::mount(24));
    let mut window = Window::open(&screen, disk.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;
    // Counts what the hand feels: this web view has no motor of its own.
    window.ask("window.buzzes = 0; navigator.vibrate = () => { window.buzzes++; return true; }").await;
    story::log_act(&window, "remove-gloves", 1).await;
    assert_eq!(window.ask("return window.buzzes").await, 1, "a tap is felt once it is durable");

    // The first tap that finds no room is given that of the reserve; once that is taken too, one is refused.
    disk.fill();
    story::log_act(&window, "remove-goggles", 2).await;
    assert!(!disk.path().join("reserve").exists(), "the reserve was given back for it");
    disk.fill();
    let mut acts = ["remove-gown", "remove-mask"].iter().cycle();
    let (kept, refused) = loop {
        let before = acknowledged_and_refused(&window).await.0;
        let act = acts.next().expect("they come round");
        window.tap(&format!("#act-{act}")).await;
        window
            .until(
                "the tap is acknowledged or refused",
                &format!(
                    "return document.querySelectorAll('#log li').length > {before} \
                       || document.querySelector('#not-saved') !== null"
                ),
            )
            .await;
        if acknowledged_and_refused(&window).await.1 {
            break (before, act);
        }
        assert!(before < 200, "the room runs out");
    };
    let said = window.text("#not-saved").await;
    for word in ["Not saved yet", "no room left on the device", "make room", "what was acknowledged is safe"]
    {
        assert!(said.contains(word), "{said}");
    }
    window.read("There is no room left on the device").await;
    let state = format!("return document.querySelector('#act-{refused} .tile-state').innerText");
    assert_eq!(window.ask(&state).await, "Saving", "it is not shown as acknowledged");
    assert_eq!(window.ask("return window.buzzes").await, kept, "and not felt");
    assert_eq!(acknowledged_and_refused(&window).await, (kept, true), "it is not in the log");

    // Once there is room, the same tap is sent again by itself, and is one line.
    disk.make_room();
    story::lines_are(&window, kept + 1).await;
    window.until("all is saved", "return document.querySelector('#not-saved') === null").await;
    story::log_act(&window, "hand-rub", kept + 2).await;
    let before = log(&window).await;
    window.kill();
    window = Window::open(&screen, disk.path()).await;
    window.tap(".unfinished a").await;
    story::lines_are(&window, kept + 2).await;
    assert_eq!(log(&window).await, before, "the log stands as it was acknowledged");

    // Nor is what is planned in the review lost: it stays in its field, and is sent again as it was.
    story::log_act(&window, "touch-face", kept + 3).await;
    story::finish(&window).await;
    let refused = plan_until_refused(&window, &disk).await;
    window.read("There is no room left on the device").await;
    let typed = window.ask("return document.querySelector('#coaching').value").await;
    assert_eq!(typed, refused, "the text is still there");
    disk.make_room();
    window.tap_named("Try again").await;
    window.until("it is planned", &is_planned(&refused)).await;
}

fn is_planned(what: &str) -> String {
    format!("return (document.querySelector('#planned')?.innerText ?? '').includes({what:?})")
}

/// Plans coaching, always something else, until there is no room for it; what it was then.
async fn plan_until_refused(window: &Window, disk: &SmallDisk) -> String {
    let refused = "document.querySelector('.note.danger[role=alert]') !== null";
    let mut number = 100;
    loop {
        assert!(number < 300, "the room runs out");
        // Each may find the room of the reserve, which is then taken as well.
        disk.fill();
        let what = format!("The mask comes last ({number})");
        window.fill("#coaching", &what).await;
        window.tap("#keep-plan").await;
        let planned = is_planned(&what);
        window.until("it is planned or refused", &format!("if ({refused}) return true; {planned}")).await;
        if window.ask(&format!("return {refused}")).await == true {
            return what;
        }
        number += 1;
    }
}

/// The elapsed time on the screen in seconds.
async fn elapsed(window: &Window) -> u64 {
    let shown = window.text("#elapsed").await;
    let (minutes, seconds) = shown.rsplit_once(':').expect("minutes and seconds");
    let number = |text: &str| text.parse::<u64>().expect("a time below an hour");
    number(minutes) * 60 + number(seconds)
}

/// The ledger, once the window that had it is gone.
async fn once_closed(data: &Path) -> Ledger {
    loop {
        match Ledger::open(data, &mut Uuid::nil) {
            Err(LedgerError::InUse(_)) => tokio::task::yield_now().await,
            opened => return opened.expect("the data folder opens"),
        }
    }
}

#[tokio::test]
async fn a_clock_set_back_and_a_frozen_window_leave_the_elapsed_time_right() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    let began = Instant::now();
    story::begin(&window).await;
    let most = began.elapsed().as_secs() + 1;
    drop(window);

    // The same again with a wall clock that showed an hour more when it began: it has been set back since. What
    // counts since the device started is the same.
    {
        let ledger = once_closed(data.path()).await;
        let first = ledger.reader().unfinished().expect("it was begun").remove(0);
        let ahead = Moment { wall: first.moment.wall + TimeDelta::hours(1), ..first.moment };
        ledger.begin(&Begin { demonstration: "ahead".to_owned(), ..first.begin }, &ahead).expect("room");
    }
    let window = Window::open(&screen, data.path()).await;
    window.tap("a[href='#/live/ahead']").await;
    window.see("#elapsed").await;
    let seen = elapsed(&window).await;
    let real = began.elapsed().as_secs();
    assert!(seen <= real && seen + most + 1 >= real, "{seen} s on the screen after {real} s");
    story::log_act(&window, "remove-gloves", 1).await;
    let line = log(&window).await.remove(0);
    let time = line.split_whitespace().next().unwrap_or_default();
    assert_eq!(time.matches(':').count(), 1, "the line has its time in minutes, not an hour off: {line}");

    // In the background the system lets no program go on; afterwards the time is right again.
    let (before, at) = (elapsed(&window).await, Instant::now());
    window.freeze();
    // That time passes meanwhile is what is looked at.
    tokio::time::sleep(std::time::Duration::from_secs(3)).await;
    window.thaw().await;
    window.until("the form is there", "return document.querySelector('#elapsed') !== null").await;
    story::lines_are(&window, 1).await;
    let (after, real) = (elapsed(&window).await, at.elapsed().as_secs());
    assert!(after - before >= 3 && after - before <= real + 1, "{before} s, then {after} s after {real} s");
    story::log_act(&window, "remove-goggles", 2).await;
}
