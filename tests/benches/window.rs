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
/// line in the log, which is shown only once it is durable. Answers with microseconds.
const TAP: &str = r"
const done = arguments[arguments.length - 1];
const acts = ['remove-gloves', 'remove-goggles', 'remove-gown', 'leave-room', 'remove-mask'];
const lines = () => document.querySelectorAll('#log li').length;
const times = [];
const tap = n => {
  const before = lines();
  const began = performance.now();
  const seen = new MutationObserver(() => {
    if (lines() <= before) return;
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => {
      times.push(Math.round((performance.now() - began) * 1000));
      if (n + 1 < TAPS) setTimeout(() => tap(n + 1), 30); else done(times);
    }, 0));
  });
  seen.observe(document.querySelector('#log'), { childList: true });
  document.querySelector('#act-' + acts[n % acts.length]).click();
};
tap(0);";

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

    let mut taps: Vec<u64> = Vec::new();
    let script = TAP.replace("TAPS", &TAPS.to_string());
    for _ in 0..ROUNDS {
        story::begin(&window).await;
        let times: Vec<u64> = serde_json::from_value(window.ask_later(&script).await)?;
        taps.extend(times);
        window.ask("location.hash = '#/today'").await;
        window.see(".unfinished a").await;
    }
    let resident = window.resident_kib();
    let commits = commits(data.path())?;
    taps.sort_unstable();
    for percent in [50, 95, 99] {
        let at = |times: &[u64]| times.get(times.len() * percent / 100).copied().unwrap_or(0);
        writeln!(
            out,
            "p{percent} of {} taps: {}.{} ms until durable and painted, {} us of it the commit by itself",
            taps.len(),
            at(&taps) / 1000,
            at(&taps) % 1000 / 100,
            at(&commits)
        )?;
    }
    writeln!(out, "resident memory of the window and its processes: {} MiB", resident / 1024)?;
    Ok(())
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
