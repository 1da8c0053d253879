//! What an observer does, in the observer's words. Names and numbers are invented.

use crate::window::Window;

/// Opens the key of the facility's authority.
pub const PASSPHRASE: &str = "seven grey herons over the quay";

/// Opens the first observer's key.
pub const PIN: &str = "482913";

/// The procedure of the stories: six steps, two of them exposing when they come too early.
pub const PROCEDURE: &str = "standard-removal-example-1";

/// First start: creates the facility and its first observer.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn create_facility(window: &Window) {
    window.tap("#way-create").await;
    for (field, text) in [
        ("#facility-name", "Harbour Hospital"),
        ("#facility-unit", "Isolation ward"),
        ("#observer-name", "Ines Odum"),
        ("#observer-number", "1001"),
        ("#observer-role", "Infection prevention nurse"),
        ("#observer-evidence", "Trained observer course, certificate of 2026-03-02"),
        ("#passphrase", PASSPHRASE),
        ("#passphrase-again", PASSPHRASE),
        ("#pin", PIN),
        ("#pin-again", PIN),
    ] {
        window.fill(field, text).await;
    }
    window.tap("#create").await;
    // What must be kept safe is shown once; a test that is about it begins there itself.
    window.tap("#to-today").await;
    window.see("#nav-people").await;
}

/// Opens the procedure of the stories and begins its next version; ends on the workbench.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn begin_next_version(window: &Window) {
    window.tap("#nav-procedures").await;
    window.tap(&format!("a[href='#/procedures/{PROCEDURE}']")).await;
    window.tap("#next-version").await;
    window.see("#part-publish").await;
}

/// Adds the person to be observed.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn add_colleague(window: &Window) {
    add_person(window, "Tomas Rehn", "1002").await;
}

/// Adds somebody of the ward.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn add_person(window: &Window, name: &str, number: &str) {
    window.tap("#nav-people").await;
    for (field, text) in [
        ("#new-name", name),
        ("#new-number", number),
        ("#new-unit", "Isolation ward"),
        ("#new-role", "Staff nurse"),
    ] {
        window.fill(field, text).await;
    }
    window.tap("#add").await;
    window.read(number).await;
}

/// Chooses everything that a demonstration needs and begins it; ends in the live form.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn begin(window: &Window) {
    prepare(window).await;
    window.tap("#begin").await;
    window.see("#act-remove-gloves").await;
}

/// Chooses everything that a demonstration needs.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn prepare(window: &Window) {
    window.tap("#nav-start").await;
    choose(window, "person", "1002").await;
    window.tap(&format!("#procedure-{PROCEDURE}")).await;
    window.tap("#purpose-validation").await;
    window.tap("#mode-assessed").await;
    choose(window, "observer", "1001").await;
}

/// Begins a practice of a procedure with an assistant, `guided` or `assessed`; ends in the live form.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn begin_practice(window: &Window, procedure: &str, mode: &str, assistant: &str) {
    window.tap("#nav-start").await;
    choose(window, "person", "1002").await;
    window.tap(&format!("#procedure-{procedure}")).await;
    window.tap("#purpose-practice").await;
    window.tap(&format!("#mode-{mode}")).await;
    choose(window, "observer", "1001").await;
    window.see("#with-assistant, #assistant-search").await;
    if window.ask("return document.querySelector('#with-assistant') !== null").await == true {
        window.tap("#with-assistant").await;
    }
    choose(window, "assistant", assistant).await;
    window.tap("#begin").await;
    window.see("#banner").await;
}

/// Finds a person by number, as one would with a ward full of people.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn choose(window: &Window, part: &str, number: &str) {
    window.fill(&format!("#{part}-search"), number).await;
    let only = format!("button[id^='{part}-']");
    window
        .until(
            &format!("one {part} is found"),
            &format!("return document.querySelectorAll({only:?}).length === 1"),
        )
        .await;
    window.tap(&only).await;
}

/// Logs an act and waits until it is acknowledged as the `count`th line of the log.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn log_act(window: &Window, act: &str, count: usize) {
    window.tap(&format!("#act-{act}")).await;
    lines_are(window, count).await;
}

/// Waits until a touch of the same tile is a tap of its own, and not the last one's finger that bounces.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn finger_is_up(window: &Window) {
    let now = window.ask("return performance.now()").await;
    window.until("the finger is up", &format!("return performance.now() - {now} > 400")).await;
}

/// Waits until so many lines are acknowledged; lines that are only on their way are not in the log.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn lines_are(window: &Window, count: usize) {
    window
        .until(
            &format!("{count} taps are acknowledged"),
            &format!("return document.querySelectorAll('#log li').length === {count}"),
        )
        .await;
}

/// Ends the demonstration; ends in the review.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn finish(window: &Window) {
    window.tap("#stop").await;
    window.tap("#end-completed").await;
    answer(window).await;
}

/// Answers for every step without a tap that it was not done, where there is one, and goes on to the review.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn answer(window: &Window) {
    window.see("#to-review, [id^='not-done-'], #outcome").await;
    if window.ask("return document.querySelector('#outcome') !== null").await == true {
        return;
    }
    while window.ask("return document.querySelector(\"[id^='not-done-']\") !== null").await == true {
        let id = window.ask("return document.querySelector(\"[id^='not-done-']\").id").await;
        let id = id.as_str().expect("it has an id").to_owned();
        window.tap(&format!("#{id}")).await;
        window
            .until("the answer is taken", &format!("return document.getElementById({id:?}) === null"))
            .await;
    }
    window.tap("#to-review").await;
    window.see("#outcome").await;
}

/// Signs the record with the observer's PIN.
///
/// # Panics
///
/// Where the window does not follow.
pub async fn sign(window: &Window) {
    window.tap("#to-sign").await;
    window.fill("#sign-pin", PIN).await;
    window.tap("#seal").await;
    window.see("#sealed").await;
}
