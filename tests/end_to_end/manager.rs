use std::{fmt::Write as _, path::Path};

use suite::{Notices, Screen, Window, story};

/// The rows of the roster as they read.
async fn rows(window: &Window) -> Vec<String> {
    let rows = window
        .ask("return [...document.querySelectorAll('#roster tbody tr')].map(row => row.innerText)")
        .await;
    serde_json::from_value(rows).expect("the roster is a list of rows")
}

/// Brings people from a file, of which one row cannot be taken.
async fn bring_people(window: &Window, folder: &Path) {
    // The personnel system's table, in the encoding and with the separator that it happens to have.
    let table = folder.join("people.csv");
    let mut text = "Personnel number;Full name;Ward;Job title;Start\r\n".to_owned();
    text.push_str("1002;Tomas Rehn;Emergency;Staff nurse;2099-01-31\r\n");
    text.push_str("1003;Ana Nú\u{f1}ez;Emergency;Porter;2026-01-02\r\n");
    text.push_str("1004;;Emergency;Porter;2026-01-02\r\n");
    // Windows-1252, in which these letters have the same numbers as in Unicode.
    let bytes: Vec<u8> = text.chars().map(|letter| u8::try_from(u32::from(letter)).expect("Latin")).collect();
    std::fs::write(&table, bytes).expect("a file");
    window.tap("#to-import").await;
    window.choose_file("#people-file", &table).await;
    window.read("read as windows-1252, with the separator ;").await;
    window.tap("#try-import").await;
    window.read("2 changes").await;
    let told = window.text("#import").await;
    assert!(
        told.contains("31 January 2099") && told.contains("Emergency, Staff nurse"),
        "with its day: {told}"
    );
    let bad = window.text("#bad-rows").await;
    assert!(bad.contains("Line 4: The name is missing."), "{bad}");
    window.tap("#despite-bad").await;
    window.tap("#confirm-import").await;
    window.see("#imported").await;
}

#[tokio::test]
async fn a_unit_manager_brings_people_sets_what_they_need_and_plans_it() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;

    bring_people(&window, data.path()).await;

    // What porters of one unit need, more often than the procedure says.
    window.tap("#nav-roster").await;
    window.tap("#to-requirements").await;
    window.see("#requirements").await;
    window.choose("#requirement-procedure", story::PROCEDURE).await;
    window.choose("#requirement-role", "Porter").await;
    window.fill("#requirement-months", "6").await;
    window.tap("#set-requirement").await;
    window.read("Porter, in every unit, every 6 months; reminders 90, 60, 30 and 7 days ahead").await;

    // The roster finds, filters and counts.
    window.tap("#to-roster").await;
    window.see("#roster").await;
    window.fill("#roster-search", "1003").await;
    window.until("one is found", "return document.querySelectorAll('#roster tbody tr').length === 1").await;
    assert!(rows(&window).await[0].contains("Ana Núñez"));
    let totals = window.text("#roster .totals").await;
    assert!(totals.contains("0 of 1"), "{totals}");
    assert!(!totals.contains("interval"), "of one person it tells nothing: {totals}");
    // A day that is no day changes nothing, and the field says what is still shown.
    window.fill("#roster-as-of", "2026-02-30").await;
    window.see("#roster-as-of-shown").await;
    let stays = window.text("#roster-as-of-shown").await;
    assert_eq!(stays, "Until then it stays as of today.");
    window.read("from 1 device").await;

    // What is known of her, and what she lacks.
    window.tap("#roster tbody th a").await;
    let lacks = window.text("#clearances").await;
    assert!(lacks.contains("ever validated"), "{lacks}");
    window.tap("#about-medical").await;
    window.fill("#about-who", "Occupational health").await;
    // What clears somebody is never preset.
    window.tap("#state-about").await;
    window.read("Choose what occupational health says.").await;
    let said = window.text("main").await;
    assert!(!said.contains("respirator, by"), "nothing is stated before it is chosen: {said}");
    window.tap("#about-cleared-yes").await;
    window.tap("#state-about").await;
    window.see("#stated").await;
    let stated = window.text("#stated").await;
    assert!(stated.contains("Medically cleared for a respirator, by Occupational health."), "{stated}");
    window.tap("#about-leave").await;
    window.tap("#state-about").await;
    window.read("Write the date as year-month-day").await;
    assert!(!window.text("#stated").await.contains("Away"), "an empty form states no leave");
    window.tap("#about-suspended").await;
    window.fill("#about-why", "Unsafe at the door").await;
    window.fill("#about-pin", story::PIN).await;
    window.tap("#state-about").await;
    window.read("signed by Ines Odum").await;

    // Who may go in tonight.
    window.tap("#nav-roster").await;
    window.tap("#to-go-in").await;
    window.see("#go-in").await;
    let answer = window.text("#go-in").await;
    assert!(answer.contains("0 of 3 may go in"), "{answer}");
    assert!(answer.contains("Unsafe at the door"), "{answer}");

    // A session fills itself, and a choice by hand stands.
    window.tap("#to-sessions").await;
    window.fill("#session-on", "2099-02-01").await;
    window.fill("#session-place", "Anteroom 2").await;
    window.tap("#set-session").await;
    window.read("Anteroom 2").await;
    window.see("#plan").await;
    let plan = window.text("#plan").await;
    assert!(plan.contains("Tomas Rehn") && plan.contains("1 February 2099, Anteroom 2"), "{plan}");
    assert!(!plan.contains("Ana Núñez"), "whoever is suspended is not planned for: {plan}");
    window.tap("#give-places").await;
    window.read("The places are given as the plan has them.").await;
    window.tap("#save-invitations-calendar").await;
    window.read("Saved as").await;
    // One tap takes no session back in which people have a place.
    window.tap("#sessions .take-back").await;
    window.read("Save the invitations again, so that calendars take this one out.").await;
    window.tap("#keep-session").await;
    window.until("it stays", "return document.querySelector('#take-back-now') === null").await;
    assert!(window.text("#sessions").await.contains("Anteroom 2"));

    // Who is required to hold something and never did is a tap away from home.
    window.tap("#nav-today").await;
    window.tap("#who-lacks a[href='#/roster/never-validated']").await;
    window
        .until("the roster is filtered", "return document.querySelector('#roster-state')?.value === '4'")
        .await;

    window.tap("#nav-today").await;
    window.tap("#save-reminders").await;
    window.read("Saved as").await;

    notified_how_many_and_not_who(&window, &screen).await;
}

/// Evidence from elsewhere that ran out long ago is overdue, and the system's notification says so.
async fn notified_how_many_and_not_who(window: &Window, screen: &Screen) {
    window.tap("#nav-people").await;
    window.fill("#search", "1002").await;
    window.until("one is found", "return document.querySelectorAll('#people .person').length === 1").await;
    window.tap("#people .person a").await;
    window.tap("#about-evidence").await;
    window.choose("#about-procedure", story::PROCEDURE).await;
    window.fill("#about-who", "Agency file 17").await;
    window.fill("#about-from", "2024-05-03").await;
    window.fill("#about-through", "2025-05-03").await;
    window.fill("#about-pin", story::PIN).await;
    window.tap("#state-about").await;
    window.read("Agency file 17").await;

    let notices = Notices::on(screen);
    window.tap("#nav-today").await;
    window.tap("#notifications").await;
    let shown = notices.next();
    assert_eq!(shown.title, "Re-validation");
    assert_eq!(shown.text, "1 overdue. Open Today in Doorside to see what to do.");
    window.see("#notified").await;
    // Once a day: ticking it again asks again, and nothing more arrives before the answer is here.
    window.tap("#notifications").await;
    window.until("it is not wanted", "return document.querySelector('#notified') === null").await;
    window.tap("#notifications").await;
    window.see("#notified").await;
    assert_eq!(notices.another(), None);
}

/// Hundreds of people: of their rows only those in sight are in the page, and all are reached by keyboard.
#[tokio::test]
async fn a_long_roster_is_scrolled_as_a_whole_and_by_keyboard() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    let table = data.path().join("many.csv");
    let mut text = "number,name,unit,role\n".to_owned();
    for number in 0..400 {
        writeln!(text, "5{number:03},Many Person {number:03},Unit {},Nurse", number / 100).expect("text");
    }
    std::fs::write(&table, text).expect("a file");
    window.tap("#nav-people").await;
    window.tap("#to-import").await;
    window.choose_file("#people-file", &table).await;
    window.tap("#try-import").await;
    window.read("400 changes").await;
    window.tap("#confirm-import").await;
    window.see("#imported").await;

    window.tap("#nav-roster").await;
    window.until("all are told of", "return document.querySelector('#roster')?.ariaRowCount === '403'").await;
    assert!(rows(&window).await.len() < 100, "what is not in sight is not in the page");
    // The first person is chosen by keyboard, and stays chosen while the list is scrolled to its end.
    window.ask("document.querySelector('#roster tbody a').focus()").await;
    window.ask("document.querySelector('.scrolled').scrollTop = 1e6").await;
    window
        .until(
            "the last one is there",
            "return document.querySelector('#roster tr[aria-rowindex=\"403\"]') !== null",
        )
        .await;
    let kept = window.ask("return document.activeElement.closest('tr')?.ariaRowIndex").await;
    assert_eq!(kept, "3", "the focus is where it was");
    // By keyboard alone: to the beginning, and from there to the end.
    window.ask("document.querySelector('.scrolled').focus()").await;
    window.press(HOME).await;
    window
        .until("it is at its beginning", "return document.querySelector('.scrolled').scrollTop === 0")
        .await;
    window.press(END).await;
    window
        .until(
            "it is at its end, and the last person is in sight",
            "const frame = document.querySelector('.scrolled').getBoundingClientRect();
             const last = document.querySelector('#roster tr[aria-rowindex=\"403\"]')?.getBoundingClientRect();
             return last !== undefined && last.bottom <= frame.bottom + 1 && last.top > frame.top",
        )
        .await;
    // Grouped, each group has its heading and its number of people, and takes part in the count of rows.
    window.choose("#roster-sort", "unit").await;
    window.until("five groups", "return document.querySelector('#roster')?.ariaRowCount === '408'").await;
    window.read("Unit 0 \u{b7} 100 people").await;
    window.ask("document.querySelector('.scrolled').scrollTop = 1e6").await;
    window
        .until(
            "the last one is there, counted with the headings",
            "return document.querySelector('#roster tr[aria-rowindex=\"408\"]') !== null",
        )
        .await;
}

/// Keys as `WebDriver` names them (`WebDriver`, 17.4.2).
const HOME: &str = "\u{e011}";
const END: &str = "\u{e010}";
