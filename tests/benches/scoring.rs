//! Scoring a demonstration of 24 steps against merely reading its log, turn by turn. Only the ratios say
//! something; the times belong to this machine and this minute.

use std::error::Error;
use std::hint::black_box;
use std::io::Write;
use std::time::{Duration, Instant};

use competency::live::Live;
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

const TURNS: usize = 2000;
const STEPS: usize = 24;

fn main() -> Result<(), Box<dyn Error>> {
    let mut chance = Chance(24);
    let cases: Vec<(Model, Log, String)> = (0..20)
        .map(|_| {
            // One act in five out of place, as in the trials that the design quotes.
            let case = Case::random(&mut chance, STEPS, 5, false);
            let log = case.log();
            let text = serde_json::to_string(&log)?;
            Ok((case.model(), log, text))
        })
        .collect::<Result<_, serde_json::Error>>()?;
    let (mut walks, mut reads, mut taps, mut scores) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for turn in 0..TURNS {
        let Some((model, log, text)) = cases.get(turn % cases.len()) else { continue };
        walks.push(timed(|| known_acts(model, log)));
        reads.push(timed(|| log::read(text)));
        taps.push(timed(|| Live::replay(model, &log.conditions, &log.observations)));
        scores.push(timed(|| score(model, log)));
    }
    let walk = median(&mut walks);
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{STEPS} steps, one act in five out of place; looking every act of the log up takes {walk:?}"
    )?;
    for (what, times) in [
        ("reading the log from its file", &mut reads),
        ("the live rule over the whole log", &mut taps),
        ("the whole score with its sentences", &mut scores),
    ] {
        let time = median(times);
        // Tenths, in whole numbers.
        let ratio = time.as_nanos() * 10 / walk.as_nanos().max(1);
        writeln!(out, "{what}: {}.{} times as long ({time:?})", ratio / 10, ratio % 10)?;
    }
    Ok(())
}

/// What any scoring does at least: looks every observed act up.
fn known_acts(model: &Model, log: &Log) -> usize {
    let acts = log.observations.iter().map(|seen| match &seen.what {
        What::Act(act) => usize::from(model.procedure().acts.contains_key(act)),
        What::Contamination(_) | What::Condition(_) | What::NotSeen(_) => 0,
    });
    acts.sum()
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
