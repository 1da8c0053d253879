//! The roster in the real window: how long a unit of 60 people takes until it is painted, how long 10,000 people, and
//! how evenly their rows are scrolled past; each beside a page with nothing on it in the same window.
//!
//! Under a software renderer on a screen without a display, as in the tests. Times belong to this machine and
//! this minute; the ratios say more.
#![expect(clippy::float_arithmetic, reason = "ratios of times are no whole numbers")]

use std::{error::Error, fmt::Write as _, io::Write};

use serde::Deserialize;
use suite::{Screen, Window, story};

const PEOPLE: usize = 10_000;
const UNIT: usize = 60;
const TURNS: usize = 15;

/// Pixels that a frame scrolls on, and through how many frames at most: as one reads, and as one flicks to the end.
const READING: (u32, usize) = (60, 1_200);
const FLICKING: (u32, usize) = (300, usize::MAX);
/// Frames that one script measures; a script may take no longer than half a minute (`WebDriver`, 9.5).
const FRAMES: u32 = 400;

/// Waits for a condition after an act, and then for the frame after the one that shows it. Answers with
/// milliseconds.
const UNTIL_PAINTED: &str = r"
const done = arguments[arguments.length - 1];
const until = (act, holds) => new Promise(resolve => {
  const began = performance.now();
  const painted = () => requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - began), 0));
  const seen = new MutationObserver(() => { if (holds()) { seen.disconnect(); painted(); } });
  seen.observe(document.body, { childList: true, subtree: true, characterData: true, attributes: true });
  act();
});
const choose = (selector, value) => {
  const field = document.querySelector(selector);
  field.value = value;
  field.dispatchEvent(new Event('change', { bubbles: true }));
};
const frame = () => document.querySelector('.scrolled');
// The rows of the table without the two of its head, and none in sight that is still on its way.
const people = number => document.querySelector('#roster')?.getAttribute('aria-rowcount') === String(number + 2);
const whole = () => {
  const box = frame().getBoundingClientRect();
  const seen = [...document.querySelectorAll('#roster tbody')].filter(part => {
    const at = part.getBoundingClientRect();
    return at.bottom > box.top && at.top < box.bottom;
  });
  return seen.length > 0 && seen.every(part => part.dataset.block !== undefined && part.ariaBusy === null);
};
";

/// A page of the window with nothing but its heading and one form.
const EMPTY: &str = r"
(async () => {
  const time = await until(() => { location.hash = '#/verify'; }, () => document.querySelector('#record-file'));
  await until(() => { location.hash = '#/people'; }, () => document.querySelector('#new-name'));
  done(time);
})();
";

/// The unit, and then everyone.
const PAINTS: &str = r"
const option = [...document.querySelectorAll('#roster-unit option')].find(one => one.textContent === 'Ward of sixty');
(async () => {
  const unit = await until(() => choose('#roster-unit', option.value), () => people(UNIT) && whole());
  const all = await until(() => choose('#roster-unit', ''), () => people(ALL) && whole());
  done([unit, all]);
})();
";

/// Somewhere else in the list, as by dragging its bar.
const JUMP: &str = r"
until(() => { frame().scrollTop = frame().scrollHeight * PART; }, whole).then(done);
";

/// Scrolls on frame by frame; answers with what each frame took, in how many of them a row in sight was still on its
/// way, and whether the end was reached.
const SCROLL: &str = r"
const list = PLACE;
const times = [];
let last = null, awaited = 0;
const step = now => {
  if (last !== null) times.push(now - last);
  last = now;
  if (frame() && !whole()) awaited += 1;
  const at = list.scrollTop;
  list.scrollBy(0, PACE);
  const end = list.scrollTop === at;
  if (times.length < FRAMES && !end) requestAnimationFrame(step); else done({ times, awaited, end });
};
requestAnimationFrame(step);
";

#[derive(Default, Deserialize)]
struct Scrolled {
    times: Vec<f64>,
    awaited: usize,
    end: bool,
}

fn main() -> Result<(), Box<dyn Error>> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(measure())
}

async fn measure() -> Result<(), Box<dyn Error>> {
    let data = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let screen = Screen::start();
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    bring_people(&window, data.path()).await?;
    window.resize(1180, 820).await;
    let mut empty = Vec::new();
    for _ in 0..TURNS {
        empty.push(serde_json::from_value(window.ask_later(&script(EMPTY)).await)?);
    }
    let beside = percentile(&empty, 50);
    let mut out = std::io::stdout().lock();
    writeln!(out, "a page with one form, until painted: {beside:.1} ms")?;
    window.tap("#nav-roster").await;
    window.see("#roster").await;
    let (mut unit, mut all, mut jumps) = (Vec::new(), Vec::new(), Vec::new());
    for turn in 0..TURNS {
        let [of_unit, of_all]: [f64; 2] = serde_json::from_value(window.ask_later(&script(PAINTS)).await)?;
        unit.push(of_unit);
        all.push(of_all);
        let jump = JUMP.replace("PART", &format!("0.{:02}", 7 + (turn * 37) % 90));
        jumps.push(serde_json::from_value(window.ask_later(&script(&jump)).await)?);
    }
    for (what, times) in
        [("a unit of 60 people", &unit), ("10,000 people", &all), ("another place among them", &jumps)]
    {
        let (half, most) = (percentile(times, 50), percentile(times, 95));
        let ratio = half / beside;
        writeln!(out, "{what}, until painted: {half:.1} ms, p95 {most:.1} ms, {ratio:.1} times that")?;
    }
    for pace in [READING, FLICKING] {
        window.ask("document.querySelector('.scrolled').scrollTop = 0").await;
        let told = told(&scrolled(&window, "frame()", pace).await?);
        writeln!(out, "a frame while 10,000 rows are scrolled, {} pixels each: {told}", pace.0)?;
    }
    window.ask("location.hash = '#/verify'").await;
    window.see("#record-file").await;
    window.ask(TALL).await;
    let told = told(&scrolled(&window, "document.scrollingElement", READING).await?);
    writeln!(out, "a frame while an empty page is scrolled: {told}")?;
    Ok(())
}

/// Makes the page taller without putting anything on it.
const TALL: &str = "document.querySelector('main').style.paddingBottom = '20000px'";

/// Scrolls a place to its end, or through so many frames.
async fn scrolled(
    window: &Window,
    place: &str,
    (pace, most): (u32, usize),
) -> Result<Scrolled, Box<dyn Error>> {
    let script = script(SCROLL)
        .replace("PLACE", place)
        .replace("PACE", &pace.to_string())
        .replace("FRAMES", &FRAMES.to_string());
    let mut all = Scrolled::default();
    while !all.end && all.times.len() < most {
        let part: Scrolled = serde_json::from_value(window.ask_later(&script).await)?;
        all.times.extend(part.times);
        all.awaited += part.awaited;
        all.end = part.end;
    }
    Ok(all)
}

fn told(scrolled: &Scrolled) -> String {
    let Scrolled { times, awaited, .. } = scrolled;
    format!(
        "p50 {:.1} ms, p95 {:.1} ms, p99 {:.1} ms of {} frames, {awaited} of them with a row still on its way",
        percentile(times, 50),
        percentile(times, 95),
        percentile(times, 99),
        times.len()
    )
}

/// Through the window, as a unit manager brings them.
async fn bring_people(window: &Window, folder: &std::path::Path) -> Result<(), Box<dyn Error>> {
    let table = folder.join("people.csv");
    let mut text = "Personnel number,Full name,Ward,Job title,Start\r\n".to_owned();
    for number in 0..PEOPLE + UNIT {
        let ward = number
            .checked_sub(UNIT)
            .map_or_else(|| "Ward of sixty".to_owned(), |other| format!("Ward {}", other / UNIT));
        write!(text, "9{number:05},Person Number {number},{ward},Nurse,2026-01-02\r\n")?;
    }
    std::fs::write(&table, text)?;
    window.tap("#nav-people").await;
    window.tap("#to-import").await;
    window.choose_file("#people-file", &table).await;
    window.tap("#try-import").await;
    window.read("10060 changes").await;
    window.tap("#confirm-import").await;
    window.see("#imported").await;
    Ok(())
}

fn script(of: &str) -> String {
    // Everyone is those of the file and the observer who set the facility up.
    format!("{UNTIL_PAINTED}{of}")
        .replace("UNIT", &UNIT.to_string())
        .replace("ALL", &(PEOPLE + UNIT + 1).to_string())
}

fn percentile(times: &[f64], percent: usize) -> f64 {
    let mut sorted = times.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() * percent / 100).or(sorted.last()).copied().unwrap_or(f64::NAN)
}
