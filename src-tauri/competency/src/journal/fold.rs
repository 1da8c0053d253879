//! The fold: what the acknowledged lines amount to.

use std::collections::{BTreeMap, BTreeSet};

use super::afterwards::{Afterwards, Change, Coaching, HandOver, afterwards};
use super::written::{self, Span, Written};
use super::{Event, Line, TapId};
use crate::log::{Ended, Held, Log, Observation, What};
use crate::procedure::{By, ConditionId, Mode, StepId};

/// What the lines of one demonstration amount to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folded {
    /// The log that is scored: late acts in their place, what was taken back left out.
    pub log: Log,
    /// For each observation of the log the line that it comes from.
    pub tap_of: Vec<TapId>,
    /// The lines that are taken back now, in the order they were made: the trace that undo leaves.
    pub taken_back: Vec<TapId>,
    /// The steps that the observer answered were not done, in order.
    pub not_done: Vec<StepId>,
    /// The notes, in order.
    pub notes: Vec<Note>,
    /// It is held now.
    pub on_hold: bool,
    /// It has ended.
    pub ended: bool,
    /// Who took over from the observer who began, in order.
    pub hand_overs: Vec<HandOver>,
    /// Every step without a tap has had its answer.
    pub settled: bool,
    /// The lines that changed the log after that, in order.
    pub changes: Vec<Change>,
    /// Why the observer decided stricter than the rule, where they did.
    pub stricter: Option<String>,
    /// What will be coached, where something will.
    pub coaching: Option<Coaching>,
    /// What a paper form says of when it began and ended.
    pub span: Span,
    /// What a paper form says of single lines.
    written: BTreeMap<TapId, Written>,
}

impl Folded {
    /// Whoever saw it to its end, where `first` began: they decide and sign.
    pub fn observer<'a>(&'a self, first: &'a String) -> &'a String {
        self.hand_overs.last().map_or(first, |over| &over.to)
    }

    /// The same as entered from a paper form: what was tapped tells the order and no time; times are those
    /// that were written on the form.
    #[must_use]
    pub fn transcribed(mut self) -> Folded {
        self.log.transcribed = true;
        self.log.ended.at_ms = None;
        self.log.held.clear();
        for observation in &mut self.log.observations {
            observation.at_ms = None;
            observation.until_ms = None;
            observation.late = true;
        }
        written::put_in(&mut self.log, &self.tap_of, &self.written, self.span);
        self
    }

    /// The observation that comes from a line.
    pub fn observation_of(&self, tap: &str) -> Option<usize> {
        self.tap_of.iter().position(|of| of == tap)
    }
}

/// A note.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The line it is on; `None` where it is on the demonstration.
    pub of: Option<TapId>,
    /// When it was made, in ms since the beginning.
    pub at_ms: i64,
    /// What it says.
    pub text: String,
}

/// Folds the lines, in the order they were acknowledged, into the log that is scored.
///
/// It never fails: a line that refers to one that is not there, or that is taken back, changes
/// nothing. Taking back an undo brings back what it took; taking back the end lets the demonstration
/// go on. A late act stands directly before the line it names, after late acts put there earlier, or
/// last. A fault, a prompt or a call counts once, however often it was tapped.
pub fn fold(lines: &[Line], mode: Mode, conditions: &[ConditionId]) -> Folded {
    let taken_back = taken_back(lines);
    let alive = || lines.iter().enumerate().filter(|(index, _)| !taken_back.contains(index));
    let (held, on_hold) = held(alive().map(|(_, line)| line), lines.last().map_or(0, |line| line.at_ms));
    let mut end = None;
    let mut observed: BTreeMap<&str, Observation> = BTreeMap::new();
    let (mut not_done, mut notes) = (Vec::new(), Vec::new());
    let (mut written, mut span) = (BTreeMap::new(), Span::default());
    let mut earlier_ms = 0;
    for (_, line) in alive() {
        amend(&mut observed, line, earlier_ms);
        earlier_ms = line.at_ms;
        if let Event::Note { of, text } = &line.event {
            notes.push(Note { of: of.clone(), at_ms: line.at_ms, text: text.clone() });
        }
        if let Event::NotDone { step } = &line.event
            && !not_done.contains(step)
        {
            not_done.push(step.clone());
        }
        if let Event::Written { of, at, lasted_s } = &line.event {
            written.insert(of.clone(), Written { at: *at, lasted_s: *lasted_s });
        }
        if let Event::WrittenSpan { begun, ended } = line.event {
            span = Span { begun, ended };
        }
        if let Event::End { how } = line.event {
            end = Some(Ended { how, at_ms: Some(line.at_ms) });
        }
    }
    let mut log = Log {
        mode,
        conditions: conditions.to_vec(),
        ended: end.unwrap_or_default(),
        held,
        transcribed: false,
        observations: Vec::new(),
    };
    let mut tap_of = Vec::new();
    for id in in_place(lines) {
        if let Some(observation) = observed.remove(id) {
            log.observations.push(observation);
            tap_of.push(id.to_owned());
        }
    }
    let Afterwards { hand_overs, settled, changes, stricter, coaching } = afterwards(lines, &taken_back);
    let taken_back =
        taken_back.iter().filter_map(|&index| lines.get(index)).map(|line| line.id.clone()).collect();
    Folded {
        log,
        tap_of,
        taken_back,
        not_done,
        notes,
        on_hold,
        ended: end.is_some(),
        hand_overs,
        settled,
        changes,
        stricter,
        coaching,
        span,
        written,
    }
}

/// The lines taken back, by index. An undo refers only to what came before it, so that going
/// backwards settles every undo before it is asked about.
fn taken_back(lines: &[Line]) -> BTreeSet<usize> {
    let mut index_of: BTreeMap<&str, usize> = BTreeMap::new();
    for (index, line) in lines.iter().enumerate() {
        index_of.entry(&line.id).or_insert(index);
    }
    let mut taken_back = BTreeSet::new();
    for (index, line) in lines.iter().enumerate().rev() {
        if let Event::Undo { of } = &line.event
            && !taken_back.contains(&index)
            && let Some(&earlier) = index_of.get(of.as_str())
            && earlier < index
        {
            taken_back.insert(earlier);
        }
    }
    taken_back
}

/// The spans held, and whether the last one is still open; an open one lasts until the last line.
fn held<'a>(alive: impl Iterator<Item = &'a Line>, last_ms: i64) -> (Vec<Held>, bool) {
    let mut spans = Vec::new();
    let mut since: Option<i64> = None;
    for line in alive {
        if matches!(line.event, Event::Hold) {
            since.get_or_insert(line.at_ms);
        } else if matches!(line.event, Event::Resume | Event::End { .. })
            && let Some(from_ms) = since.take()
        {
            spans.push(Held { from_ms, until_ms: line.at_ms });
        }
    }
    if let Some(from_ms) = since {
        spans.push(Held { from_ms, until_ms: last_ms });
    }
    (spans, since.is_some())
}

/// The ids of all lines in the order in which what they say happened.
fn in_place(lines: &[Line]) -> Vec<&str> {
    let mut order: Vec<&str> = Vec::with_capacity(lines.len());
    for line in lines {
        let mut place = order.len();
        if let Event::LateAct { before: Some(before), .. } = &line.event {
            place = order.iter().position(|id| id == before).unwrap_or(place);
        }
        order.insert(place, &line.id);
    }
    order
}

/// Adds what a line says to the observations made so far; `earlier_ms` is when the line before it was made.
fn amend<'a>(observed: &mut BTreeMap<&'a str, Observation>, line: &'a Line, earlier_ms: i64) {
    let seen = |what: What, by: By, late: bool| {
        let timed = !late && !matches!(what, What::NotSeen(_));
        Observation {
            at_ms: timed.then_some(line.at_ms),
            until_ms: None,
            lasted_ms: None,
            what,
            prompted: false,
            faults: Vec::new(),
            by,
            late,
            call: None,
        }
    };
    let mut add = |observation: Observation| {
        observed.entry(&line.id).or_insert(observation);
    };
    // What is not named here adds no observation; `Event::changes_the_log` is the one list of them all.
    let event = &line.event;
    if let Event::Act { act, by } = event {
        add(seen(What::Act(act.clone()), *by, false));
    } else if let Event::LateAct { act, by, .. } = event {
        add(seen(What::Act(act.clone()), *by, true));
    } else if let Event::Condition { condition } = event {
        add(seen(What::Condition(condition.clone()), By::Wearer, false));
    } else if let Event::Contamination { event, ago_ms } = event {
        let mut happened = seen(What::Contamination(event.clone()), By::Wearer, false);
        // Never before what was logged earlier: the log is in the order in which things happened.
        let began = line.at_ms.saturating_sub(i64::from(*ago_ms)).max(earlier_ms);
        happened.at_ms = Some(began);
        add(happened);
    } else if let Event::NotSeen { step } = event {
        add(seen(What::NotSeen(step.clone()), By::Wearer, false));
    } else if let Event::TeamError { by, what } = event {
        add(seen(What::TeamError(what.clone()), *by, false));
    } else if let Some(was) = event.about().and_then(|of| observed.get_mut(of.as_str())) {
        say_more(was, line);
    }
}

/// Adds what a line says about an observation that was made before.
fn say_more(was: &mut Observation, line: &Line) {
    let event = &line.event;
    if matches!(event, Event::ActEnded { .. }) && !was.late {
        was.until_ms = Some(line.at_ms);
    } else if matches!(event, Event::Prompted { .. }) {
        was.prompted = true;
    } else if let Event::Fault { code, .. } = event
        && !was.faults.contains(code)
    {
        was.faults.push(code.clone());
    } else if let Event::Called { call, .. } = event {
        was.call = Some(*call);
    } else if let Event::Corrected { act, by, .. } = event
        && matches!(was.what, What::Act(_))
    {
        was.what = What::Act(act.clone());
        was.by = *by;
        // What was said of the other act does not speak of this one.
        was.faults.clear();
    }
}
