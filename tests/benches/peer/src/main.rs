//! Scoring beside the crate `process_mining` on the same cases, and how the time of scoring grows. Only the
//! ratios and the shape of the curves say something; the times belong to this machine and this minute.
#![expect(clippy::indexing_slicing, reason = "every index is a step of the case at hand")]

mod growth;
mod net;

use std::error::Error;
use std::hint::black_box;
use std::time::{Duration, Instant};

use competency::score::score;

#[path = "../../../oracles/cases.rs"]
mod cases;

use cases::{Case, Chance};

fn main() -> Result<(), Box<dyn Error>> {
    for steps in [24, 40] {
        compare(steps)?;
    }
    // The one argument is where the picture goes.
    if let Some(path) = std::env::args_os().nth(1) {
        growth::draw(path.as_ref())?;
    }
    Ok(())
}

/// Both on the same cases, turn by turn; what each makes ready once for all logs is left out of both.
fn compare(steps: usize) -> Result<(), Box<dyn Error>> {
    let mut chance = Chance(u64::try_from(steps)?);
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..50 {
        // One act in five out of place, as in the trials that the design quotes.
        let case = Case::random(&mut chance, steps, 5, false);
        let (model, log, net) = (case.model(), case.log(), net::of(&case));
        let trace: Vec<&str> = case.trace.iter().map(String::as_str).collect();
        for _ in 0..10 {
            let (report, time) = timed(|| score(&model, &log));
            ours.push(time);
            let (cost, time) = timed(|| net::cost(&net, &trace));
            theirs.push(time);
            assert_eq!(report.alignment_cost, cost?, "not the same optimum of {case:?}");
        }
    }
    let (ours, theirs) = (median(&mut ours), median(&mut theirs));
    println!(
        "{steps} steps, the same optimum on all cases: the crate process_mining {theirs:?}, the whole score with \
         its sentences {ours:?}: {} times faster",
        theirs.as_nanos() / ours.as_nanos().max(1)
    );
    Ok(())
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let before = Instant::now();
    let done = black_box(work());
    (done, before.elapsed())
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort();
    times.get(times.len() / 2).copied().unwrap_or_default()
}
