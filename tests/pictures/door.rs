//! Every state of the live form, one after the other.

use suite::{Screen, SmallDisk, Window, place, story};

use super::{pause, shown, small};

const WIDE: (u32, u32) = (1180, 820);
const UPRIGHT: (u32, u32) = (820, 1180);

/// Keeps what is on the screen of a tablet that lies.
async fn wide(window: &Window, state: &str) {
    let path = place::root().join("ui/pictures/door").join(format!("{state}.webp"));
    small::keep(&window.picture().await, &path, small::Size::Small);
    println!("{}", shown(&path));
}

/// Keeps it of a tablet that lies, and of one that stands upright.
async fn both(window: &Window, state: &str) {
    wide(window, state).await;
    window.resize(UPRIGHT.0, UPRIGHT.1).await;
    wide(window, &format!("{state}-upright")).await;
    window.resize(WIDE.0, WIDE.1).await;
}

/// The start, and guided mode.
pub(crate) async fn before(window: &Window) {
    window.resize(WIDE.0, WIDE.1).await;
    start(window).await;
    guided(window).await;
}

/// Everything that is met while a long procedure is assessed.
pub(crate) async fn during(window: &Window) {
    window.resize(WIDE.0, WIDE.1).await;
    assessed(window).await;
    beside(window).await;
    held(window).await;
    window.tap("#stop").await;
    wide(window, "end").await;
    window.tap("#end-abandoned").await;
    window.see("[id^='not-done-'], #to-review, #outcome").await;
}

/// A short one, from what came too early to the second observer.
pub(crate) async fn after(window: &Window) {
    window.resize(WIDE.0, WIDE.1).await;
    timed(window).await;
    story::answer(window).await;
    both(window, "review").await;
    show(window, "#coaching").await;
    window.fill("#coaching", "Mask last, gown before it.").await;
    window.fill("#again-by", "2099-01-31").await;
    wide(window, "coaching").await;
    decided(window).await;
    show(window, "#second").await;
    window.tap("#second summary").await;
    show(window, "#second").await;
    wide(window, "second-observer").await;
}

/// Brings something to the middle of the window.
async fn show(window: &Window, selector: &str) {
    window.see(selector).await;
    window.ask(&format!("document.querySelector({selector:?}).scrollIntoView({{ block: 'center' }})")).await;
}

/// The observer decides stricter than the rule.
async fn decided(window: &Window) {
    story::begin(window).await;
    for (count, act) in (1..).zip(["remove-gloves", "remove-goggles", "remove-gown", "remove-mask"]) {
        story::log_act(window, act, count).await;
    }
    window.tap("#stop").await;
    window.tap("#end-completed").await;
    window.tap("[id^='not-seen-']").await;
    window.tap("#to-review").await;
    window.see("#decision-why").await;
    window.fill("#decision-why", "The gown was pulled over the head").await;
    window.tap("#decide-stricter").await;
    show(window, "#decided").await;
    wide(window, "decision").await;
}

async fn start(window: &Window) {
    window.tap("#nav-today").await;
    window.tap("#nav-start").await;
    story::choose(window, "person", "1008").await;
    window.tap("#procedure-high-consequence-n95-doffing").await;
    window.tap("#mode-guided").await;
    both(window, "start").await;
    window.tap("#nav-today").await;
}

/// Confirms so many steps at something like a real pace.
async fn confirm(window: &Window, selector: &str, steps: usize, lines: &mut usize) {
    for _ in 0..steps {
        pause(2).await;
        window.tap(selector).await;
        *lines += 1;
        story::lines_are(window, *lines).await;
    }
}

async fn guided(window: &Window) {
    story::begin_practice(window, "high-consequence-n95-doffing", "guided", "1003").await;
    let mut lines = 0;
    confirm(window, ".guided-confirm", 7, &mut lines).await;
    both(window, "guided").await;
    window.tap("#condition-inner-glove-breached").await;
    window.see(".guided.owed").await;
    wide(window, "guided-response").await;
    window.tap("#more").await;
    window.tap("#leave").await;
}

async fn assessed(window: &Window) {
    story::begin_practice(window, "high-consequence-n95-doffing", "assessed", "1003").await;
    let mut lines = 0;
    confirm(window, ".tile.may-come", 6, &mut lines).await;
    both(window, "assessed").await;
    window.tap("#act-touch-face").await;
    story::lines_are(window, lines + 1).await;
    wide(window, "forbidden").await;
    window.tap("#contamination").await;
    both(window, "figure").await;
    window.tap("#body-list").await;
    wide(window, "figure-list").await;
    window.tap("#body-front").await;
    window.tap(".body-part.at-fore-a").await;
    window.read("From what?").await;
    wide(window, "from-what").await;
    window.tap(".panel-choices .door-button").await;
    window.read("Who noticed it?").await;
    wide(window, "by-whom").await;
    window.tap(".panel-choices .door-button").await;
    window.see("#exposure").await;
    wide(window, "what-to-do").await;
    window.tap("#panel-back").await;
    window.tap("#condition-inner-glove-breached").await;
    story::lines_are(window, lines + 3).await;
    wide(window, "response").await;
}

/// What opens beside the acts.
async fn beside(window: &Window) {
    window.tap("#log li:nth-child(4) .log-line").await;
    wide(window, "line").await;
    window.tap("#line-correct").await;
    wide(window, "correction").await;
    window.tap("#panel-back").await;
    window.tap(".tile.is-due").await;
    window.until("it can be amended", "return !document.querySelector('#faults').disabled").await;
    window.tap("#faults").await;
    wide(window, "faults").await;
    window.tap("#panel-back").await;
    window.tap("#note").await;
    wide(window, "note").await;
    window.tap("#panel-back").await;
    window.tap("#more").await;
    wide(window, "more").await;
    window.tap("#team-error").await;
    window.tap_named("Observer").await;
    wide(window, "team-error").await;
    window.tap("#panel-back").await;
    window.tap("#more").await;
    window.tap("#hand-over").await;
    window.see("[id^='over-'], .panel-ask").await;
    wide(window, "hand-over").await;
    window.tap("#panel-back").await;
    window.tap("#hold").await;
    window.read("Resume").await;
    wide(window, "hold").await;
    window.tap("#hold").await;
    window.tap("#more").await;
    window.tap("#lock").await;
    window.see("#unlock").await;
    wide(window, "wipe-lock").await;
    window.hold_until("#unlock", "return document.querySelector('#unlock') === null").await;
}

/// How the form is held and read.
async fn held(window: &Window) {
    let settings = [
        ("#light-dim", "dim", "#light-bright"),
        ("#hand-left", "left-hand", "#hand-right"),
        ("#text-200", "text-200", "#text-100"),
    ];
    window.tap("#more").await;
    window.tap("#settings").await;
    wide(window, "settings").await;
    window.tap("#panel-back").await;
    for (chosen, state, back) in settings {
        window.tap("#more").await;
        window.tap("#settings").await;
        window.tap(chosen).await;
        window.tap("#panel-back").await;
        window.ask("scrollTo(0, 0)").await;
        wide(window, state).await;
        window.tap("#more").await;
        window.tap("#settings").await;
        window.tap(back).await;
        window.tap("#panel-back").await;
    }
}

/// What came too early, and a hand rub that is timed.
async fn timed(window: &Window) {
    story::begin(window).await;
    pause(3).await;
    story::log_act(window, "remove-mask", 1).await;
    window.see("#too-early").await;
    both(window, "too-early").await;
    story::log_act(window, "hand-rub", 2).await;
    window.see("#end-timer").await;
    pause(7).await;
    both(window, "timing").await;
    window.tap("#end-timer").await;
    window.see("#too-short").await;
    wide(window, "too-short").await;
    window.tap("#stop").await;
    window.tap("#end-completed").await;
    window.see("[id^='not-done-']").await;
    wide(window, "no-tap").await;
}

/// A tap that finds no room on the device.
pub(crate) async fn no_room(screen: &Screen) {
    let disk = SmallDisk::mount(24);
    let window = Window::open(screen, disk.path()).await;
    window.resize(WIDE.0, WIDE.1).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;
    story::log_act(&window, "remove-gloves", 1).await;
    // The first tap is given the room of the reserve.
    disk.fill();
    story::log_act(&window, "remove-goggles", 2).await;
    disk.fill();
    let mut acts = ["remove-gown", "remove-mask"].iter().cycle();
    while window.ask("return document.querySelector('#not-saved') === null").await == true {
        window.tap(&format!("#act-{}", acts.next().expect("they come round"))).await;
    }
    wide(&window, "not-saved").await;
}
