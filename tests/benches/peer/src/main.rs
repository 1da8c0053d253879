//! Scoring beside the crate `process_mining` on the same cases, and how the time of scoring grows. Only the
//! ratios and the shape of the curves say something; the times belong to this machine and this minute.
#![expect(clippy::indexing_slicing, reason = "every index is a step of the case at hand")]

mod growth;
mod net;

use std::error::Error;
use std::hint::black_box;
use std::time::{Duration, Instant};

use competency::score::{alignment_cost, score};

#[expect(dead_code, reason = "written for the outside checks, which ask for more")]
#[path = "../../../oracles/cases.rs"]
mod cases;

use cases::{Case, Chance};

fn main() -> Result<(), Box<dyn Error>> {
    compare(24, 400)?;
    compare(40, 100)?;
    // The one argument is where the picture goes.
    if let Some(path) = std::env::args_os().nth(1) {
        growth::draw(path.as_ref())?;
    }
    Ok(())
}

/// Both on the same cases, turn by turn; what each makes ready once for all logs is left out of both.
fn compare(steps: usize, cases: usize) -> Result<(), Box<dyn Error>> {
    let mut chance = Chance(u64::try_from(steps)?);
    let (mut alone, mut whole, mut theirs) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..cases {
        // One act in five out of place, as in the trials that the design quotes.
        let case = Case::random(&mut chance, steps, 5, false);
        let (model, log, net) = (case.model(), case.log(), net::of(&case));
        let trace: Vec<&str> = case.trace.iter().map(String::as_str).collect();
        let (cost, time) = least(|| alignment_cost(&model, &log));
        alone.push(time);
        whole.push(least(|| score(&model, &log)).1);
        let (other, time) = least(|| net::cost(&net, &trace));
        theirs.push(time);
        assert_eq!(cost, other?, "not the same optimum of {case:?}");
    }
    println!("{steps} steps, the same optimum on all {cases} cases:");
    for (which, at) in [("median", 50), ("p90", 90), ("p99", 99)] {
        let [alone, whole, theirs] = [&mut alone, &mut whole, &mut theirs].map(|times| percentile(times, at));
        let faster = |ours: Duration| theirs.as_nanos() / ours.as_nanos().max(1);
        println!(
            "  {which}: process_mining {theirs:?}; the alignment {alone:?}, {} times faster; the whole score with \
             its sentences {whole:?}, {} times faster",
            faster(alone),
            faster(whole)
        );
    }
    let total = |times: &[Duration]| times.iter().sum::<Duration>();
    println!(
        "  all cases together: process_mining {:?}, the alignment {:?}, {} times faster",
        total(&theirs),
        total(&alone),
        total(&theirs).as_nanos() / total(&alone).as_nanos().max(1)
    );
    Ok(())
}

/// The lesser of two times, so that neither pays for a machine that is busy with something else.
fn least<T>(mut work: impl FnMut() -> T) -> (T, Duration) {
    let first = timed(&mut work);
    let before = Instant::now();
    let done = black_box(work());
    (done, first.min(before.elapsed()))
}

fn timed<T>(work: impl FnOnce() -> T) -> Duration {
    let before = Instant::now();
    black_box(work());
    before.elapsed()
}

fn percentile(times: &mut [Duration], percent: usize) -> Duration {
    times.sort();
    times.get(times.len() * percent / 100).copied().unwrap_or_default()
}
