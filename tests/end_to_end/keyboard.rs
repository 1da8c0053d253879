use suite::{Screen, Window, story};

/// `WebDriver`'s own characters for keys without a letter (its 17.4.2).
const CONTROL: char = '\u{E009}';
const ENTER: char = '\u{E007}';
const TAB: char = '\u{E004}';
const RELEASED: char = '\u{E000}';

fn with_control(key: char) -> String {
    [CONTROL, key, RELEASED].into_iter().collect()
}

/// Tabs on until the thing has the focus, as somebody without a pointer does.
async fn tab_to(window: &Window, id: &str) {
    let reached = async || window.ask(&format!("return document.activeElement.id === {id:?}")).await == true;
    for _ in 0..80 {
        if reached().await {
            break;
        }
        window.press(&TAB.to_string()).await;
    }
    assert!(reached().await, "{id} is not reached by the keyboard");
}

#[tokio::test]
async fn the_keyboard_alone_confirms_undoes_and_stops() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;

    // Confirm the next act, twice; take the second back; each is told to whoever cannot see it.
    window.press(&with_control(ENTER)).await;
    story::lines_are(&window, 1).await;
    window.read("Saved: ").await;
    // Goggles or a face shield: nobody guesses which was seen.
    window.press(&with_control(ENTER)).await;
    window.read("choose which was seen").await;
    window.press(&ENTER.to_string()).await;
    story::lines_are(&window, 2).await;
    window.press(&with_control('z')).await;
    window
        .until("the second is taken back", "return document.querySelectorAll('.taken-back').length === 1")
        .await;

    // Any act by tabbing to it.
    tab_to(&window, "act-remove-gown").await;
    window.press(&ENTER.to_string()).await;
    story::lines_are(&window, 3).await;
    // What must be heard at once is what the banner shows.
    let told =
        "[...document.querySelectorAll('.unseen[role=alert]')].map(told => told.innerText.trim()).join()";
    let warned = format!("return {told} === document.querySelector('#too-early').innerText.trim()");
    window.until("the warning is told at once", &warned).await;

    // A timed act tells how long is left while there is time, and that it was too short as soon as it is.
    tab_to(&window, "act-hand-rub").await;
    window.press(&ENTER.to_string()).await;
    story::lines_are(&window, 4).await;
    window.read("s to go").await;
    window.press(&ENTER.to_string()).await;
    window.see("#too-short").await;
    window.until("that is told at once", &format!("return {told}.startsWith('Too short: ')")).await;

    // End: the panel takes the focus, and the way goes on from there.
    window.press(&with_control('e')).await;
    window.see("#end-completed").await;
    tab_to(&window, "end-completed").await;
    window.press(&ENTER.to_string()).await;
    window.see("[id^='not-done-']").await;
    window.until("no warning is left of the view before", &format!("return {told} === ''")).await;
}
