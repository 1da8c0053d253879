//! What a paper form says of when things happened: times of the day and durations, written by hand while
//! observing. A form need not say any of it, and what it says must be possible.

use chrono::{NaiveTime, Timelike};
use serde::{Deserialize, Serialize};

use super::{Event, Folded, Line, TapId, fold};
use crate::log::{Log, What};
use crate::model::Model;
use crate::procedure::By;
use crate::sentence;

const DAY_S: u32 = 24 * 3600;
/// Whoever goes back by more than this has gone past midnight; nothing observed lasts longer.
const LONGEST_MS: i64 = 12 * 3_600_000;
/// A time written in minutes may mean any moment of that minute.
const WITHIN_MINUTE_MS: i64 = 60_000;
/// No timed act of any procedure lasts longer than an hour.
const LONGEST_ACT_S: u32 = 3600;

/// A time of the day as written by hand: `10:02`, or `10:02:30` with seconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct TimeOfDay(u32);

impl TimeOfDay {
    /// Reads one.
    ///
    /// # Errors
    /// A sentence for whoever typed it.
    pub fn read(text: &str) -> Result<TimeOfDay, String> {
        let typed = text.trim();
        let parts: Vec<Option<u32>> = typed.split(':').map(|part| digits(part, 2)).collect();
        let (hour, minute, second) = match parts.as_slice() {
            [Some(hour), Some(minute)] => (*hour, *minute, 0),
            [Some(hour), Some(minute), Some(second)] => (*hour, *minute, *second),
            _ => (DAY_S, 0, 0),
        };
        if hour > 23 || minute > 59 || second > 59 {
            return Err(format!(
                "“{typed}” is no time of the day; write hours and minutes as in 09:05, or seconds too as in 09:05:30."
            ));
        }
        Ok(TimeOfDay(hour * 3600 + minute * 60 + second))
    }

    /// Milliseconds since midnight.
    pub fn ms(self) -> i64 {
        i64::from(self.0) * 1000
    }
}

impl From<NaiveTime> for TimeOfDay {
    fn from(time: NaiveTime) -> TimeOfDay {
        TimeOfDay(time.num_seconds_from_midnight())
    }
}

/// A number of at most so many digits and nothing else.
fn digits(text: &str, most: usize) -> Option<u32> {
    let only = !text.is_empty() && text.len() <= most && text.bytes().all(|byte| byte.is_ascii_digit());
    only.then(|| text.parse().ok()).flatten()
}

impl TryFrom<String> for TimeOfDay {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        TimeOfDay::read(&text)
    }
}

impl From<TimeOfDay> for String {
    fn from(time: TimeOfDay) -> String {
        sentence::time_of_day(time.ms())
    }
}

/// Reads how long an act lasted: seconds, or minutes and seconds as in `1:05`.
///
/// # Errors
/// A sentence for whoever typed it.
pub fn read_lasted(text: &str) -> Result<u32, String> {
    let typed = text.trim();
    let seconds = match typed.split_once(':') {
        None => digits(typed, 4),
        Some((minutes, seconds)) => digits(minutes, 2)
            .zip(digits(seconds, 2))
            .filter(|(_, seconds)| *seconds < 60)
            .map(|(minutes, seconds)| minutes * 60 + seconds),
    };
    seconds.filter(|seconds| *seconds <= LONGEST_ACT_S).ok_or_else(|| {
        format!(
            "“{typed}” is no duration of an act; write seconds as in 25, or minutes and seconds as in 1:05."
        )
    })
}

/// What the form says of one line.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Written {
    /// When it was.
    pub at: Option<TimeOfDay>,
    /// How long it lasted, in s.
    pub lasted_s: Option<u32>,
}

/// What the form says of the whole demonstration.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Span {
    /// When it began.
    pub begun: Option<TimeOfDay>,
    /// When it ended.
    pub ended: Option<TimeOfDay>,
}

/// A time with what it is of, in the order of the form.
struct Stamp {
    what: String,
    ms: i64,
    by: Option<By>,
    lasted_ms: i64,
}

/// Whether a line may be added to the log of a paper form: no written time may be earlier than one that
/// stands before it, later than `now` (given where the form is of today), or within an act that its
/// duration says was still going on. Nothing is judged by a time that nobody wrote.
///
/// # Errors
/// One sentence that names both times and what to do.
pub fn check(
    model: &Model,
    lines: &[Line],
    id: &TapId,
    event: &Event,
    now: Option<TimeOfDay>,
) -> Result<(), String> {
    let mut lines = lines.to_vec();
    if !lines.iter().any(|line| line.id == *id) {
        let at_ms = lines.last().map_or(0, |line| line.at_ms);
        lines.push(Line { id: id.clone(), at_ms, event: event.clone() });
    }
    // Neither the mode nor what was worn moves a time.
    let folded = fold(&lines, crate::procedure::Mode::Assessed, &[]).transcribed();
    let stamps = stamps(model, &folded);
    for (before, after) in stamps.iter().zip(stamps.iter().skip(1)) {
        ordered(before, after)?;
    }
    let latest = stamps.last();
    if let (Some(now), Some(latest)) = (now, latest)
        && latest.ms > now.ms() + WITHIN_MINUTE_MS
    {
        return Err(format!(
            "{} at {} lies ahead: it is {} now; correct the time, or the date of the form.",
            latest.what,
            sentence::time_of_day(latest.ms),
            sentence::time_of_day(now.ms()),
        ));
    }
    if let (Some(first), Some(latest)) = (stamps.first(), latest)
        && latest.ms - first.ms > LONGEST_MS
    {
        return Err(format!(
            "{} at {} is more than 12 hours after {} at {}; correct one of them.",
            latest.what,
            sentence::time_of_day(latest.ms),
            first.what,
            sentence::time_of_day(first.ms),
        ));
    }
    Ok(())
}

fn ordered(before: &Stamp, after: &Stamp) -> Result<(), String> {
    let told = |stamp: &Stamp| format!("{} at {}", stamp.what, sentence::time_of_day(stamp.ms));
    if after.ms < before.ms {
        return Err(format!(
            "{} would be earlier than {}, which stands before it; correct the time, or enter them in the order in which they happened.",
            told(after),
            told(before),
        ));
    }
    let goes_on = before.ms + before.lasted_ms;
    if before.by.is_some() && before.by == after.by && after.ms + WITHIN_MINUTE_MS <= goes_on {
        return Err(format!(
            "{} lasted {} s and would have gone on past {}; correct the duration or one of the times.",
            told(before),
            before.lasted_ms / 1000,
            told(after),
        ));
    }
    Ok(())
}

/// The times that were written, in the order of the log.
fn stamps(model: &Model, folded: &Folded) -> Vec<Stamp> {
    let span = folded.span;
    let plain = |what: &str, ms: i64| Stamp { what: what.to_owned(), ms, by: None, lasted_ms: 0 };
    let mut stamps: Vec<Stamp> = span.begun.map(|at| plain("the beginning", at.ms())).into_iter().collect();
    for seen in &folded.log.observations {
        let Some(ms) = seen.at_ms else { continue };
        let (what, by) = match &seen.what {
            What::Act(act) => (format!("“{}”", model.act_label(act)), Some(seen.by)),
            What::Contamination(event) => (format!("the contamination ({})", event.site), None),
            What::Condition(_) | What::NotSeen(_) | What::TeamError(_) => ("what happened".to_owned(), None),
        };
        stamps.push(Stamp { what, ms, by, lasted_ms: seen.lasted_ms.unwrap_or(0) });
    }
    if let Some(ended) = span.ended {
        let ms = past_midnight(ended.ms(), stamps.last().map(|stamp| stamp.ms));
        stamps.push(plain("the end", ms));
    }
    stamps
}

/// Puts what was written into a log that comes from a form: its times then count from midnight of the
/// form's date, on into the next day where it went past midnight.
pub(super) fn put_in(
    log: &mut Log,
    tap_of: &[TapId],
    written: &std::collections::BTreeMap<TapId, Written>,
    span: Span,
) {
    let mut latest = span.begun.map(TimeOfDay::ms);
    for (seen, tap) in log.observations.iter_mut().zip(tap_of) {
        let said = written.get(tap).copied().unwrap_or_default();
        seen.at_ms = said.at.map(|at| past_midnight(at.ms(), latest));
        seen.lasted_ms = said.lasted_s.map(|seconds| i64::from(seconds) * 1000);
        latest = latest.max(seen.at_ms);
    }
}

fn past_midnight(ms: i64, latest: Option<i64>) -> i64 {
    match latest {
        Some(latest) if latest - ms > LONGEST_MS => ms + i64::from(DAY_S) * 1000,
        Some(_) | None => ms,
    }
}

#[cfg(test)]
mod tests;
