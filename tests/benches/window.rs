//! The real window: how long a tap takes until it is durable and painted, of which how much is the commit, how
//! long a cold start takes, and how much memory the window holds.
//!
//! Under a software renderer on a screen without a display, as in the tests. Times belong to this machine and
//! this minute; let it rest meanwhile.

use std::{error::Error, io::Write, time::Instant};

use competency::{journal::Event, procedure::By};
use ledger::{Ledger, Moment};
use suite::{Screen, Window, journal::begin, story};
use uuid::Uuid;

/// Ten demonstrations of fifty taps: about as long as one is.
const ROUNDS: usize = 10;
const TAPS: usize = 50;

/// Taps so often, one after the other; each lasts from the click until the frame after the one that shows its
/// line in the log, which is shown only once it is durable. Answers with microseconds from the click on: when the
/// request left, when its answer was back, when the line stood in the log, when it was painted.
const TAP: &str = r"
const done = arguments[arguments.length - 1];
const acts = ['remove-gloves', 'remove-goggles', 'remove-gown', 'leave-room', 'remove-mask'];
const lines = () => document.querySelectorAll('#log li').length;
const times = [];
let began = 0, sent = 0, answered = 0;
const since = () => Math.round((performance.now() - began) * 1000);
window.unwatched ??= window.fetch;
window.fetch = async (...request) => {
  sent ||= since();
  const answer = await window.unwatched(...request);
  answered ||= since();
  return answer;
};
const tap = n => {
  const before = lines();
  [began, sent, answered] = [performance.now(), 0, 0];
  const seen = new MutationObserver(() => {
    if (lines() <= before) return;
    seen.disconnect();
    const shown = since();
    requestAnimationFrame(() => setTimeout(() => {
      times.push([sent, answered, shown, since()]);
      if (n + 1 < TAPS) setTimeout(() => tap(n + 1), 30); else done(times);
    }, 0));
  });
  seen.observe(document.querySelector('#log'), { childList: true });
  document.querySelector('#act-' + acts[n % acts.length]).click();
};
tap(0);";

/// The moments of a tap, in the order of [`TAP`]'s answer.
const PARTS: [&str; 4] =
    ["until the request leaves", "until its answer is back", "until the log shows it", "until it is painted"];

fn main() -> Result<(), Box<dyn Error>> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(measure())
}

async fn measure() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::stdout().lock();
    // Beside the build, not in the system's folder for temporary files, which may be no disk at all.
    let data = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR"))?;
    let screen = Screen::start();
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    drop(window);

    let began = Instant::now();
    let window = Window::open(&screen, data.path()).await;
    window.see("#nav-start").await;
    writeln!(
        out,
        "cold start until it can be used, the driver's own start included: {} ms",
        began.elapsed().as_millis()
    )?;
    window.resize(1180, 820).await;

    let mut taps: Vec<[u64; 4]> = Vec::new();
    let script = TAP.replace("TAPS", &TAPS.to_string());
    for _ in 0..ROUNDS {
        story::begin(&window).await;
        let times: Vec<[u64; 4]> = serde_json::from_value(window.ask_later(&script).await)?;
        taps.extend(times);
        window.ask("location.hash = '#/today'").await;
        window.see(".unfinished a").await;
    }
    let resident = window.resident_kib();
    let commits = commits(data.path())?;
    let whole = sorted(taps.iter().map(|[_, _, _, painted]| *painted));
    for percent in [50, 95, 99] {
        writeln!(
            out,
            "p{percent} of {} taps: {} ms until durable and painted, {} us of it the commit by itself",
            taps.len(),
            tenths(at(&whole, percent)),
            at(&commits, percent)
        )?;
    }
    for (part, name) in PARTS.iter().enumerate() {
        let ends = sorted(taps.iter().filter_map(|tap| tap.get(part).copied()));
        writeln!(out, "  p50 {name}: {} ms", tenths(at(&ends, 50)))?;
    }
    writeln!(out, "resident memory of the window and its processes: {} MiB", resident / 1024)?;
    Ok(())
}

fn sorted(times: impl Iterator<Item = u64>) -> Vec<u64> {
    let mut times: Vec<u64> = times.collect();
    times.sort_unstable();
    times
}

fn at(times: &[u64], percent: usize) -> u64 {
    times.get(times.len() * percent / 100).copied().unwrap_or(0)
}

/// Microseconds as milliseconds with one digit.
fn tenths(us: u64) -> String {
    format!("{}.{}", us / 1000, us % 1000 / 100)
}

/// What the same number of commits takes by itself on the same disk, in microseconds.
fn commits(beside: &std::path::Path) -> Result<Vec<u64>, Box<dyn Error>> {
    let folder = tempfile::tempdir_in(beside)?;
    let ledger = Ledger::open(folder.path(), &mut Uuid::nil)?;
    let mut now = Moment {
        wall: chrono::DateTime::UNIX_EPOCH.fixed_offset(),
        zone: "Europe/Berlin".to_owned(),
        boot_ms: 0,
        boot_id: "start".to_owned(),
    };
    ledger.begin(&begin("bench"), &now)?;
    let mut times = Vec::new();
    for n in 0..ROUNDS * TAPS {
        now.boot_ms += 1000;
        let event = Event::Act { act: "gloves-off".to_owned(), by: By::Wearer };
        let began = Instant::now();
        ledger.append("bench", &n.to_string(), &event, &now)?;
        times.push(u64::try_from(began.elapsed().as_micros())?);
    }
    times.sort_unstable();
    Ok(times)
}
