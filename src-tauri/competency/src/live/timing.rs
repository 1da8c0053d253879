//! Timed acts while the demonstration runs: how long the one under way must go on, and which was too short
//! while it can still be mended.

use crate::log::{Log, Observation, What};
use crate::model::Model;

/// A timed act.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timed {
    /// Index of its observation.
    pub observation: usize,
    /// When it began, in ms since the demonstration began.
    pub since_ms: i64,
    /// How long it lasted at most, held time taken off; `None` while it goes on.
    pub lasted_ms: Option<i64>,
    /// Its least duration in seconds.
    pub least: u32,
    /// When it was said to have ended, in ms since the demonstration began; `None` where it was not.
    pub ended_ms: Option<i64>,
}

/// How long after it was said that an act has ended that can be a slip of the finger, in ms: what is said later would
/// let the pause count as the act (common practice, no source).
const SLIP_MS: i64 = 15_000;

impl Timed {
    /// Until when it can be said that it has not ended after all, in ms since the demonstration began.
    pub fn may_go_on_until_ms(&self) -> Option<i64> {
        self.ended_ms.map(|ended| ended.saturating_add(SLIP_MS))
    }
}

/// The timed act that has neither been ended nor been followed by another act. What happens beside the
/// acts, such as a tear that is found, does not end it.
pub fn under_way(model: &Model, log: &Log) -> Option<Timed> {
    latest(model, log, 1).find(|timed| timed.lasted_ms.is_none())
}

/// The timed act that was ended too soon, until the next act; or that the very last act cut short, until the one
/// after that.
pub fn too_short(model: &Model, log: &Log) -> Option<Timed> {
    let last = log.observations.iter().rposition(as_it_happened);
    latest(model, log, 2).find(|timed| {
        let short =
            timed.lasted_ms.is_some_and(|lasted| lasted < i64::from(timed.least).saturating_mul(1000));
        short && (timed.ended_ms.is_none() || Some(timed.observation) == last)
    })
}

/// Whether it is an act that was logged while it was seen.
fn as_it_happened(seen: &Observation) -> bool {
    matches!(seen.what, What::Act(_)) && !seen.late
}

/// The timed ones among the last acts that were logged as they happened, latest first.
fn latest<'a>(model: &'a Model, log: &'a Log, acts: usize) -> impl Iterator<Item = Timed> + 'a {
    let seen = log.observations.iter().enumerate().rev();
    let mut next: Option<&Observation> = None;
    let happened = seen.filter(|(_, seen)| as_it_happened(seen));
    happened.take(acts).filter_map(move |(observation, seen)| {
        let followed_ms = next.filter(|next| next.by == seen.by).and_then(|next| next.at_ms);
        next = Some(seen);
        let What::Act(act) = &seen.what else { return None };
        let since_ms = seen.at_ms?;
        let procedure = model.procedure();
        let least = procedure.steps.iter().filter_map(|step| procedure.least_seconds(step, act)).max()?;
        let until_ms = seen.until_ms.or(followed_ms);
        let lasted = |until: i64| (until - since_ms - log.held_between(since_ms, until)).max(0);
        Some(Timed { observation, since_ms, lasted_ms: until_ms.map(lasted), least, ended_ms: seen.until_ms })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::{Event, Line, fold};
    use crate::procedure::{By, Mode};

    fn model() -> Model {
        let procedure = serde_json::json!({
            "id": "p", "version": "1.0.0", "title": "P", "phase": "doffing", "precautions": ["contact"],
            "ensemble": ["gloves"], "sources": [],
            "acts": { "gloves": "Gloves off", "rub": "Hand rub" },
            "conditions": [{ "id": "torn", "ask": "anytime", "text": "Torn" }],
            "steps": [
                { "id": "gloves-off", "section": "Hands", "acts": ["gloves"], "text": "Gloves off." },
                { "id": "rubbed", "section": "Hands", "acts": ["rub"], "text": "Rub.", "min_seconds": { "rub": 20 } },
            ],
        });
        Model::new(serde_json::from_value(procedure).unwrap())
    }

    /// `rub@0 end@12 gloves@30 torn@5 hold@3 resume@9`, times in seconds; what goes on and what was short.
    #[track_caller]
    fn check(taps: &str, goes_on: bool, short: Option<i64>) {
        let line = |(n, tap): (usize, &str)| {
            let (what, at) = tap.split_once('@').unwrap();
            let event = match what {
                "end" => Event::ActEnded { of: "0".to_owned() },
                "torn" => Event::Condition { condition: "torn".to_owned() },
                "hold" => Event::Hold,
                "resume" => Event::Resume,
                act => Event::Act { act: act.to_owned(), by: By::Wearer },
            };
            Line { id: n.to_string(), at_ms: at.parse::<i64>().unwrap() * 1000, event }
        };
        let lines: Vec<Line> = taps.split_whitespace().enumerate().map(line).collect();
        let log = fold(&lines, Mode::Assessed, &[]).log;
        assert_eq!(under_way(&model(), &log).is_some(), goes_on, "{taps}");
        let told = too_short(&model(), &log).and_then(|timed| timed.lasted_ms);
        assert_eq!(told, short.map(|seconds| seconds * 1000), "{taps}");
    }

    #[test]
    fn what_has_ended_goes_on_only_as_long_as_that_can_be_a_slip() {
        let rub = |ended_ms| Timed { observation: 0, since_ms: 0, lasted_ms: ended_ms, least: 20, ended_ms };
        assert_eq!(rub(Some(12_000)).may_go_on_until_ms(), Some(27_000));
        assert_eq!(rub(None).may_go_on_until_ms(), None, "it goes on, or another act cut it short");
    }

    #[test]
    fn what_is_timed_is_told_while_it_can_be_mended() {
        check("rub@0", true, None);
        // The bounds of 20 seconds, the moment before and at it.
        check("rub@0 end@19", false, Some(19));
        check("rub@0 end@20", false, None);
        check("rub@0 gloves@9", false, Some(9));
        check("rub@0 gloves@20", false, None);
        check("rub@0 gloves@9 gloves@30", false, None);
        // What was said of one that was ended gives way to the next act.
        check("rub@0 end@12 gloves@30", false, None);
        // What happens beside the acts ends nothing; what is held does not count.
        check("rub@0 torn@5", true, None);
        check("rub@0 hold@3 resume@9 end@21", false, Some(15));
        check("gloves@0", false, None);
    }
}
