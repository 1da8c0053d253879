//! Twenty things that an observer sees on a real procedure, and what they cost: the script of DEVELOPERS.md.

use suite::{Screen, Window, story};

/// Counts taps from now on, and of them those that needed reading first: everything but acts, at their fixed
/// places, and the buttons that always stand there.
const COUNT: &str = "
window.taps = 0; window.read = 0;
document.addEventListener('click', event => {
  const it = event.target.closest('button, a');
  if (!it) return;
  window.taps++;
  if (!/^(act-|undo|prompted|faults|note|correct$|contamination|condition-|stop|more|hold|end-timer)/.test(it.id))
    window.read++;
}, true);";

/// Taps the first act that may come now, as the person does it; its page turns by itself.
async fn next(window: &Window, lines: &mut usize) {
    window.tap(".tile.may-come").await;
    *lines += 1;
    story::lines_are(window, *lines).await;
}

#[tokio::test]
async fn twenty_things_seen_cost_few_taps() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::add_person(&window, "Ada Brill", "1003").await;
    story::begin_practice(&window, "high-consequence-n95-doffing", "assessed", "1003").await;
    window.resize(1180, 820).await;
    window.ask(COUNT).await;
    let mut lines = 0;

    // 1 to 6: the team is ready, equipment, gloves, reflexes, outer gloves off, inner ones inspected.
    for _ in 0..6 {
        next(&window, &mut lines).await;
    }
    // 7: the observer had to prompt that.
    window.tap("#prompted").await;
    window.read("prompted").await;
    // 8: inner gloves disinfected; 9: but surfaces were missed.
    next(&window, &mut lines).await;
    window.tap("#faults").await;
    window.tap("[id^='fault-']").await;
    window.read("1 technique fault").await;
    // 10: a tear is found; 11 and 12: what must come next.
    window.tap("#condition-inner-glove-breached").await;
    lines += 1;
    story::lines_are(&window, lines).await;
    for _ in 0..2 {
        story::finger_is_up(&window).await;
        window.tap(".tile.is-due").await;
        lines += 1;
        story::lines_are(&window, lines).await;
    }
    // 13: face shield off; 14: a glance shows that the line before it was another act: corrected.
    window.tap("#act-remove-hood").await;
    lines += 1;
    story::lines_are(&window, lines).await;
    window.tap("#correct").await;
    window.tap("#correct-remove-face-shield").await;
    window.read("corrected").await;
    // 15: contamination on the forearm, from the hood, noticed by the observer; 16: answered.
    window.tap("#contamination").await;
    window.tap(".body-part.at-fore-a").await;
    window.tap_named("surgical hood").await;
    window.tap_named("Observer").await;
    lines += 1;
    window.see("#exposure").await;
    window.tap(".tile.is-due").await;
    lines += 1;
    story::lines_are(&window, lines).await;
    // 17: a note on it; 18: the observer looked away; 19: the face is touched.
    window.tap("#note").await;
    window.tap_named("Hesitated").await;
    window.read("1 note").await;
    window.tap("#more").await;
    window.tap("#team-error").await;
    window.tap_named("Observer").await;
    window.tap_named("Looked away").await;
    lines += 1;
    story::lines_are(&window, lines).await;
    window.tap("#act-touch-face").await;
    lines += 1;
    story::lines_are(&window, lines).await;
    // 20: stopped for it.
    window.tap("#stop").await;
    window.tap("#end-stopped-exposure").await;
    window.see("[id^='not-done-'], #outcome").await;

    let counted = window.ask("return [window.taps, window.read]").await;
    let (taps, read): (u64, u64) = serde_json::from_value(counted).expect("two counts");
    assert!(taps <= 32 && read <= 10, "{taps} taps, {read} of them to be read first");
}
