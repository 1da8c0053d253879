//! The roster in the real window: how long a unit of 60 people takes until it is painted, how long the next of
//! 10,000 rows, and how evenly they scroll; each beside a page with nothing on it in the same window.
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

/// Waits for a condition after an act, and then for the frame after the one that shows it. Answers with
/// milliseconds.
const UNTIL_PAINTED: &str = r"
const until = (act, holds) => new Promise(done => {
  const began = performance.now();
  const painted = () => requestAnimationFrame(() => setTimeout(() => done(performance.now() - began), 0));
  const seen = new MutationObserver(() => { if (holds()) { seen.disconnect(); painted(); } });
  seen.observe(document.body, { childList: true, subtree: true, characterData: true });
  act();
});
const rows = () => document.querySelectorAll('#roster tbody tr').length;
const choose = (selector, value) => {
  const field = document.querySelector(selector);
  field.value = value;
  field.dispatchEvent(new Event('change', { bubbles: true }));
  field.dispatchEvent(new Event('input', { bubbles: true }));
};
";

/// The unit and the whole facility in turns; between them the empty page.
const PAINTS: &str = r"
const done = arguments[arguments.length - 1];
const option = [...document.querySelectorAll('#roster-unit option')].find(one => one.textContent === 'Ward of sixty');
(async () => {
  const unit = [], whole = [], turned = [];
  for (let n = 0; n < TURNS; n++) {
    unit.push(await until(() => choose('#roster-unit', option.value), () => rows() === UNIT));
    whole.push(await until(() => choose('#roster-unit', ''), () => rows() > UNIT));
  }
  for (let n = 0; n < TURNS; n++) {
    const first = document.querySelector('#roster tbody tr').innerText;
    const other = () => rows() > 0 && document.querySelector('#roster tbody tr').innerText !== first;
    turned.push(await until(() => document.querySelector('#page-on').click(), other));
  }
  done({ unit, whole, turned });
})();
";

/// A page of the window with nothing but its heading and one form.
const EMPTY: &str = r"
const done = arguments[arguments.length - 1];
(async () => {
  const empty = [];
  for (let n = 0; n < TURNS; n++) {
    empty.push(await until(() => { location.hash = '#/verify'; }, () => document.querySelector('#record-file')));
    await until(() => { location.hash = '#/people'; }, () => document.querySelector('#new-name'));
  }
  done(empty);
})();
";

/// Scrolls down frame by frame; answers with what each frame took.
const SCROLL: &str = r"
const done = arguments[arguments.length - 1];
const tall = EMPTY_PAGE;
if (tall) {
  const page = document.createElement('div');
  page.style.height = '12000px';
  document.querySelector('main').append(page);
}
scrollTo(0, 0);
const times = [];
let last = performance.now();
const step = now => {
  times.push(now - last);
  last = now;
  scrollBy(0, 60);
  if (times.length < 90) requestAnimationFrame(step); else done(times.slice(5));
};
requestAnimationFrame(step);
";

#[derive(Deserialize)]
struct Paints {
    unit: Vec<f64>,
    whole: Vec<f64>,
    turned: Vec<f64>,
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
    let empty: Vec<f64> = serde_json::from_value(window.ask_later(&script(EMPTY)).await)?;
    window.tap("#nav-roster").await;
    window.see("#roster").await;
    let paints: Paints = serde_json::from_value(window.ask_later(&script(PAINTS)).await)?;
    let scrolled: Vec<f64> = serde_json::from_value(window.ask_later(&scroll("false")).await)?;
    window.ask("location.hash = '#/verify'").await;
    window.see("#record-file").await;
    let nothing: Vec<f64> = serde_json::from_value(window.ask_later(&scroll("true")).await)?;
    let mut out = std::io::stdout().lock();
    let beside = percentile(&empty, 50);
    writeln!(out, "a page with one form, until painted: {beside:.1} ms")?;
    for (what, times) in [
        ("a unit of 60 people", &paints.unit),
        ("the first page of 10,000 people", &paints.whole),
        ("each next page of them", &paints.turned),
    ] {
        let (half, most) = (percentile(times, 50), percentile(times, 95));
        writeln!(
            out,
            "{what}, until painted: {half:.1} ms, p95 {most:.1} ms, {:.1} times that",
            half / beside
        )?;
    }
    let (half, most) = (percentile(&scrolled, 50), percentile(&scrolled, 95));
    let (still, still_most) = (percentile(&nothing, 50), percentile(&nothing, 95));
    writeln!(
        out,
        "a frame while the roster scrolls: {half:.1} ms, p95 {most:.1} ms; while an empty page does: {still:.1} ms, p95 {still_most:.1} ms"
    )?;
    Ok(())
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
    format!("{UNTIL_PAINTED}{of}").replace("TURNS", &TURNS.to_string()).replace("UNIT", &UNIT.to_string())
}

fn scroll(empty: &str) -> String {
    SCROLL.replace("EMPTY_PAGE", empty)
}

fn percentile(times: &[f64], percent: usize) -> f64 {
    let mut sorted = times.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() * percent / 100).or(sorted.last()).copied().unwrap_or(f64::NAN)
}
