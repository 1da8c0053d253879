//! Scoring demonstrations of 24 steps, and following them tap by tap, against merely looking every act of the
//! log up, turn by turn. Only the ratios say something; the times belong to this machine and this minute.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::{Duration, Instant};

use competency::live::{Live, StepState};
use competency::log::{self, Log, What};
use competency::model::Model;
use competency::score::score;

#[expect(
    dead_code,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "written for the outside checks, where a test may stop at what is wrong"
)]
#[path = "../oracles/cases.rs"]
mod cases;

use cases::{Case, Chance};

const TURNS: usize = 4000;
const STEPS: usize = 24;

fn main() -> Result<(), Box<dyn Error>> {
    // One act in five out of place, as in the trials that the design quotes.
    measure("distinct acts", |chance| Case::distinct(chance, STEPS, 5))?;
    measure("acts that several steps share", |chance| Case::random(chance, STEPS, 5, false))
}

fn measure(what: &str, case: impl Fn(&mut Chance) -> Case) -> Result<(), Box<dyn Error>> {
    let mut chance = Chance(24);
    let cases: Vec<(Model, Log, String)> = (0..20)
        .map(|_| {
            let case = case(&mut chance);
            let log = case.log();
            let text = serde_json::to_string(&log)?;
            Ok((case.model(), log, text))
        })
        .collect::<Result<_, serde_json::Error>>()?;
    let mut times: [Vec<Duration>; 5] = Default::default();
    let [walks, reads, taps, marked, scores] = &mut times;
    let mut acts = 0;
    for turn in 0..TURNS {
        let Some((model, log, text)) = cases.get(turn % cases.len()) else { continue };
        acts += log.observations.len();
        walks.push(timed(|| known_acts(model, log)));
        reads.push(timed(|| log::read(text)));
        taps.push(timed(|| Live::replay(model, &log.conditions, &log.observations)));
        marked.push(timed(|| with_marks(model, log)));
        scores.push(timed(|| score(model, log)));
    }
    let [walk, read, taps, marked, score] = times.map(|mut times| median(&mut times));
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{STEPS} steps, {what}, one act in five out of place; looking every act up takes {walk:?}"
    )?;
    for (what, time) in
        [("reading the log from its file", read), ("the whole score with its sentences", score)]
    {
        // Tenths, in whole numbers.
        let ratio = time.as_nanos() * 10 / walk.as_nanos().max(1);
        writeln!(out, "  {what}: {}.{} times as long ({time:?})", ratio / 10, ratio % 10)?;
    }
    for (what, time) in [("one tap", taps), ("one tap, and every mark of the form anew", marked)] {
        writeln!(out, "  {what}: {} ns", time.as_nanos() * TURNS as u128 / acts as u128)?;
    }
    Ok(())
}

/// What any scoring does at least: looks every observed act up.
fn known_acts(model: &Model, log: &Log) -> usize {
    let acts = log.observations.iter().map(|seen| match &seen.what {
        What::Act(act) => usize::from(model.procedure().acts.contains_key(act)),
        What::Contamination(_) | What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => 0,
    });
    acts.sum()
}

/// The live rule with all that the form shows after each tap.
fn with_marks(model: &Model, log: &Log) -> usize {
    let mut live = Live::new(model, &log.conditions);
    let mut done = 0;
    for seen in &log.observations {
        black_box(live.observe(model, seen));
        done += (0..model.len()).filter(|&step| live.step_mark(model, step).state == StepState::Done).count();
        for tile in model.sections().iter().flat_map(|section| &section.tiles) {
            black_box(live.act_mark(model, &tile.act));
        }
    }
    done
}

fn timed<T>(work: impl FnOnce() -> T) -> Duration {
    let before = Instant::now();
    black_box(work());
    before.elapsed()
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}
