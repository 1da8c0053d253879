//! The live form as a gloved finger and an eye at arm's length meet it, in every state and every window size.

use std::fmt::Write;

use serde_json::Value;
use suite::{Screen, Window, story};

/// Everything that was wrong, each with the state and the size it was found in, so that one run names it all.
#[derive(Default)]
struct Looked {
    wrong: String,
    size: &'static str,
    /// Where the acts lay at first in this window.
    places: Option<Value>,
    thorough: bool,
}

impl Looked {
    async fn look(&mut self, window: &Window, state: &str) {
        let mut tell = |what: &str| {
            writeln!(self.wrong, "{} {state}: {what}", self.size).expect("a string takes all text");
        };
        for wrong in window.out_of_reach().await.into_iter().chain(window.cut_off().await) {
            tell(&wrong);
        }
        // The surroundings as the observer sets them: WCAG 2.2, 1.4.6, asks for 7:1 at AAA.
        for light in ["bright", "dim"] {
            window.ask(&format!("document.documentElement.dataset.light = {light:?}")).await;
            for wrong in window.too_faint(7.0).await {
                tell(&format!("{light}: {wrong}"));
            }
        }
        // Nothing moves by itself, whether or not the device asks for less motion.
        let moving = window.ask("return document.getAnimations().length").await;
        if moving != 0 {
            tell(&format!("{moving} things move"));
        }
        if self.thorough {
            for violation in window.violations().await {
                tell(&violation.to_string());
            }
        }
        // Acts keep their places whatever is said around them.
        let now = acts(&window.places().await);
        let places = self.places.get_or_insert_with(|| now.clone());
        if *places != now {
            tell(&format!("acts moved from {places} to {now}"));
        }
    }
}

/// The places of the acts alone.
fn acts(places: &Value) -> Value {
    let all = places.as_object().into_iter().flatten();
    all.filter(|(id, _)| id.starts_with("act-")).map(|(id, place)| (id.clone(), place.clone())).collect()
}

/// Goes through every state of the live form; `shown` says of each what makes it one.
async fn every_state(window: &Window, looked: &mut Looked) {
    story::begin(window).await;
    looked.look(window, "nothing logged").await;
    story::log_act(window, "remove-mask", 1).await;
    window.see("#too-early").await;
    looked.look(window, "too early").await;
    story::log_act(window, "hand-rub", 2).await;
    window.see("#end-timer").await;
    looked.look(window, "timing").await;
    window.tap("#end-timer").await;
    window.see("#timer-goes-on").await;
    looked.look(window, "too short").await;
    for (button, panel, state) in [
        ("#faults", "#panel-back", "technique faults"),
        ("#note", "#note-text", "a note"),
        ("#correct", "[id^='correct-']", "a correction"),
        (".log-line", "#line-undo", "a chosen line"),
        ("#stop", "#end-completed", "ending"),
        ("#more", "#lock", "more"),
    ] {
        window.tap(button).await;
        window.see(panel).await;
        looked.look(window, state).await;
        window.tap("#panel-back").await;
        window.see("#undo").await;
    }
    for (button, panel, state) in [
        ("#team-error", ".panel-ask", "an error of the team"),
        ("#hand-over", ".panel-ask", "handing over"),
        ("#settings", "#hand-left", "settings"),
    ] {
        window.tap("#more").await;
        window.tap(button).await;
        window.see(panel).await;
        looked.look(window, state).await;
        window.tap("#panel-back").await;
    }
    contaminated(window, looked).await;
    window.tap("#more").await;
    window.tap("#lock").await;
    window.see("#unlock").await;
    // No act is in reach under the lock, so there is nothing that could have moved.
    let places = looked.places.take();
    looked.look(window, "locked for wiping").await;
    looked.places = places;
    window.hold_until("#unlock", "return document.querySelector('#unlock') === null").await;
    window.tap("#stop").await;
    window.tap("#end-abandoned").await;
    window.see("[id^='not-done-'], #to-review, #outcome").await;
    window.tap("#nav-today").await;
}

async fn contaminated(window: &Window, looked: &mut Looked) {
    // In an upright window the figure takes room from the acts while it is open, and gives it back.
    let places = looked.places.clone();
    window.tap("#contamination").await;
    looked.places = None;
    looked.look(window, "the figure, front").await;
    for (to, shown) in
        [("#body-back", "#figure-back"), ("#body-list", "#figure-list"), ("#body-front", "#figure-front")]
    {
        window.tap(to).await;
        window.see(shown).await;
        // A question that has just come takes no tap for a moment.
        let rests = format!("return document.querySelector('{shown} :disabled') === null");
        window.until("it takes a tap", &rests).await;
        looked.look(window, shown).await;
    }
    window.tap(".body-part.at-eyes").await;
    window.read("From what?").await;
    looked.look(window, "from what").await;
    window.tap(".panel-choices .door-button").await;
    window.read("Who noticed it?").await;
    looked.look(window, "by whom").await;
    window.tap(".panel-choices .door-button").await;
    window.see("#exposure").await;
    looked.places = places;
    looked.look(window, "what to do now").await;
    window.tap("#panel-back").await;
}

#[tokio::test]
async fn every_state_of_the_live_form_is_in_reach_and_in_sight() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    let mut looked = Looked::default();
    for (size, width, height) in [("1180x820", 1180, 820), ("820x1180", 820, 1180), ("1440x900", 1440, 900)] {
        window.resize(width, height).await;
        (looked.size, looked.places, looked.thorough) = (size, None, width == 1180);
        every_state(&window, &mut looked).await;
    }
    assert_eq!(looked.wrong, "", "out of reach or out of sight");
    // What turns elsewhere while something is loaded stands still for whoever asked the device for that.
    let calm = window
        .ask(
            "return [...document.styleSheets].flatMap(sheet => [...sheet.cssRules]) \
               .filter(rule => rule.media?.mediaText.includes('prefers-reduced-motion: reduce')) \
               .flatMap(rule => [...rule.cssRules]) \
               .some(rule => rule.selectorText.startsWith('*') && rule.style.getPropertyValue('animation-name') === 'none' \
                 && rule.style.getPropertyPriority('transition') === 'important')",
        )
        .await;
    assert_eq!(calm, true, "the style sheet asks for no motion where the device does");
}

const SIZES: [(&str, u32, u32); 3] =
    [("1440x900", 1440, 900), ("1180x820", 1180, 820), ("820x1180", 820, 1180)];

/// Looks at one state in every window size, each reached from a wider one, as when a tablet is turned.
async fn look_turned(window: &Window, looked: &mut Looked, state: &str) {
    for (size, width, height) in SIZES {
        window.resize(width, height).await;
        (looked.size, looked.places, looked.thorough) = (size, None, width == 1180);
        looked.look(window, state).await;
    }
}

#[tokio::test]
async fn a_long_procedure_stays_in_reach_and_in_sight_in_both_ways_of_observing() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::add_person(&window, "Ada Brill", "1003").await;
    let mut looked = Looked::default();
    window.resize(1440, 900).await;
    for mode in ["guided", "assessed"] {
        story::begin_practice(&window, "high-consequence-n95-doffing", mode, "1003").await;
        look_turned(&window, &mut looked, &format!("{mode}, begun")).await;
        window.tap(if mode == "guided" { ".guided-confirm" } else { ".tile.may-come" }).await;
        story::lines_are(&window, 1).await;
        window.tap("#condition-inner-glove-breached").await;
        window.see("#banner.due").await;
        look_turned(&window, &mut looked, &format!("{mode}, a response is owed")).await;
        window.tap("#contamination").await;
        look_turned(&window, &mut looked, &format!("{mode}, the figure")).await;
        window.tap("#panel-back").await;
        window.tap(".log-line").await;
        look_turned(&window, &mut looked, &format!("{mode}, a chosen line")).await;
        window.tap("#panel-back").await;
        if mode == "guided" {
            window.tap("#all-acts").await;
            look_turned(&window, &mut looked, "guided, all acts").await;
        }
        window.tap("#more").await;
        window.tap("#leave").await;
    }
    assert_eq!(looked.wrong, "", "out of reach, out of sight or cut off");
}

#[tokio::test]
async fn text_twice_as_large_loses_nothing() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    window.resize(1180, 820).await;
    story::begin(&window).await;
    let mut wrong = Vec::new();
    for percent in [125, 150, 200] {
        window.tap("#more").await;
        window.tap("#settings").await;
        window.tap(&format!("#text-{percent}")).await;
        let size = 16.0 * f64::from(percent) / 100.0;
        window
            .until(
                &format!("text is {percent} %"),
                &format!("return parseFloat(getComputedStyle(document.documentElement).fontSize) === {size}"),
            )
            .await;
        wrong.extend(window.out_of_reach().await);
        window.tap("#panel-back").await;
        window.tap("#stop").await;
        window.see("#end-completed").await;
        wrong.extend(window.out_of_reach().await);
        wrong.extend(window.cut_off().await.into_iter().map(|cut| format!("{percent} %: {cut}")));
        window.tap("#panel-back").await;
    }
    // At the other hand, the log and what opens beside the acts stand on the other side.
    window.tap("#more").await;
    window.tap("#settings").await;
    window.tap("#text-100").await;
    window.tap("#hand-left").await;
    window
        .until(
            "the log is at the left",
            "const left = it => document.querySelector(it).getBoundingClientRect().left; \
             return left('.door-side') < left('.door-acts')",
        )
        .await;
    wrong.extend(window.out_of_reach().await);
    window.tap("#hand-right").await;
    window.tap("#panel-back").await;
    // The form still takes acts.
    story::log_act(&window, "remove-gloves", 1).await;
    assert_eq!(wrong, Vec::<String>::new(), "lost with larger text");
}
