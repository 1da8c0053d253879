//! The state of one demonstration on the screen: what is durable, what waits to be, and what the live
//! rule says about it. A plain value, so that it is tested without a page.

use std::collections::VecDeque;

use competency::{
    journal::{Event, Folded, TapId, fold},
    live::{Counts, Live, StepState, Verdict, Warning, timing},
    log::What,
    model::Model,
    procedure::{By, Mode, Step},
};
use contract::{Acknowledged, Fault, Next, OpenedDemonstration, Tap};

use crate::wording;

mod paper;

/// One demonstration.
#[derive(Debug, Clone)]
pub(crate) struct Form {
    opened: OpenedDemonstration,
    model: Model,
    /// Taps that are not acknowledged yet, in the order they were made.
    waiting: VecDeque<Tap>,
    /// The first of them is on its way.
    sending: bool,
    /// Why the first of them did not get through the last time.
    trouble: Option<Fault>,
    folded: Folded,
    live: Live,
    verdicts: Vec<Verdict>,
    /// What the page's clock showed when the demonstration began.
    began: i64,
}

/// The act that is being timed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Running {
    /// Its line.
    pub(crate) of: TapId,
    /// The act.
    pub(crate) act: String,
    /// When it began, in ms since the demonstration began.
    pub(crate) since_ms: i64,
    /// Its least duration in seconds.
    pub(crate) least: u32,
}

/// A timed act that was too short.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Short {
    /// The act.
    pub(crate) act: String,
    /// How long it lasted, in ms.
    pub(crate) lasted_ms: i64,
    /// Its least duration in seconds.
    pub(crate) least: u32,
    /// The line that ended it and until when taking that back lets it go on, in ms since the demonstration began.
    pub(crate) ended_by: Option<(TapId, i64)>,
}

impl Form {
    /// A demonstration as acknowledged; `now` is what the page's clock shows.
    pub(crate) fn new(opened: OpenedDemonstration, now: i64) -> Form {
        let model = Model::new(opened.procedure.clone());
        let folded = folded(&opened);
        let (live, verdicts) = Live::replay(&model, &opened.conditions, &folded.log.observations);
        Form {
            began: now - opened.elapsed_ms,
            opened,
            model,
            waiting: VecDeque::new(),
            sending: false,
            trouble: None,
            folded,
            live,
            verdicts,
        }
    }

    fn refold(&mut self) {
        let opened = &self.opened;
        self.folded = folded(opened);
        (self.live, self.verdicts) =
            Live::replay(&self.model, &opened.conditions, &self.folded.log.observations);
    }

    /// Takes a tap in; it counts once it is acknowledged.
    pub(crate) fn tap(&mut self, id: TapId, event: Event) {
        self.waiting.push_back(Tap { demonstration: self.opened.demonstration.clone(), id, event });
    }

    /// The tap to send now; none while one is on its way. The same tap is given again until it is
    /// acknowledged or set aside, so none is lost and none overtakes another.
    pub(crate) fn next_to_send(&mut self) -> Option<Tap> {
        if self.sending {
            return None;
        }
        let tap = self.waiting.front().cloned();
        self.sending = tap.is_some();
        tap
    }

    /// The first waiting tap is durable; `now` is what the page's clock shows.
    pub(crate) fn acknowledged(&mut self, acknowledged: Acknowledged, now: i64) {
        let line = acknowledged.line;
        self.sending = false;
        self.trouble = None;
        if self.waiting.front().is_some_and(|tap| tap.id == line.id) {
            self.waiting.pop_front();
        }
        // The shell's clock is the one that counts; the page's may have slept.
        self.began = self.began.min(now - line.at_ms);
        if !self.opened.lines.iter().any(|known| known.id == line.id) {
            self.opened.lines.push(line);
            self.refold();
        }
    }

    /// The first waiting tap did not get through. Says whether asking again may help.
    pub(crate) fn failed(&mut self, fault: Fault) -> bool {
        self.sending = false;
        let again = match fault.next {
            Next::TryAgain | Next::MakeRoom | Next::AskForHelp => true,
            Next::MendInput | Next::ChooseAgain => false,
        };
        self.trouble = Some(fault);
        again
    }

    /// Gives the first waiting tap up, because the observer said so after it was refused.
    pub(crate) fn set_aside(&mut self) {
        if !self.sending && self.trouble.take().is_some() {
            self.waiting.pop_front();
        }
    }

    /// What the demonstration is.
    pub(crate) fn opened(&self) -> &OpenedDemonstration {
        &self.opened
    }

    /// Its procedure, made ready.
    pub(crate) fn model(&self) -> &Model {
        &self.model
    }

    /// What the acknowledged lines amount to.
    pub(crate) fn folded(&self) -> &Folded {
        &self.folded
    }

    /// What the live rule says.
    pub(crate) fn live(&self) -> &Live {
        &self.live
    }

    /// Why the first waiting tap did not get through.
    pub(crate) fn trouble(&self) -> Option<&Fault> {
        self.trouble.as_ref()
    }

    /// The taps that wait.
    pub(crate) fn waiting(&self) -> impl DoubleEndedIterator<Item = &Tap> + ExactSizeIterator {
        self.waiting.iter()
    }

    /// Whether an act's tap waits.
    pub(crate) fn act_waits(&self, act: &str) -> bool {
        self.waiting.iter().any(|tap| matches!(&tap.event, Event::Act { act: tapped, .. } if tapped == act))
    }

    /// Milliseconds since the demonstration began.
    pub(crate) fn elapsed(&self, now: i64) -> i64 {
        (now - self.began).max(0)
    }

    /// When an observation was made, as a tile tells it; empty where a paper form has no time.
    pub(crate) fn observed_at(&self, observation: usize) -> Option<String> {
        let seen = self.folded.log.observations.get(observation)?;
        Some(match seen.at_ms {
            Some(_) => wording::when(&self.folded.log, seen),
            None if self.paper().is_some() => String::new(),
            None => wording::door::LATE.to_owned(),
        })
    }

    /// Who carries an act out.
    pub(crate) fn by(&self, act: &str) -> By {
        self.live.whose(&self.model, act)
    }

    /// The steps that apply, with how each stands, in printed order.
    pub(crate) fn steps(&self) -> impl Iterator<Item = (&Step, StepState)> {
        (0..self.model.len())
            .filter_map(|number| {
                Some((self.model.step(number)?, self.live.step_mark(&self.model, number).state))
            })
            .filter(|(_, state)| *state != StepState::NotApplicable)
    }

    /// How many steps that apply are done, and how many apply.
    pub(crate) fn progress(&self) -> (usize, usize) {
        self.steps().fold((0, 0), |(done, of), (_, state)| (done + usize::from(is_done(state)), of + 1))
    }

    /// The same of some of the steps, by their ids.
    pub(crate) fn done_of(&self, steps: &[String]) -> (usize, usize) {
        let these = self.steps().filter(|(step, _)| steps.contains(&step.id));
        these.fold((0, 0), |(done, of), (_, state)| (done + usize::from(is_done(state)), of + 1))
    }

    /// The next step to read aloud or to expect.
    pub(crate) fn next_step(&self) -> Option<&Step> {
        let id = self.live.next(&self.model)?;
        self.model.step(self.model.step_number(id)?)
    }

    /// The line of the latest act and the warning on it, where it came too early.
    pub(crate) fn warning(&self) -> Option<(&TapId, &Warning)> {
        let mut acts = self.folded.log.observations.iter().enumerate();
        let last = acts.rfind(|(_, seen)| matches!(seen.what, What::Act(_)) && !seen.late)?.0;
        Some((self.folded.tap_of.get(last)?, self.verdicts.get(last)?.warning()?))
    }

    /// The act seen last, where it must not happen, and why not.
    pub(crate) fn forbidden(&self) -> Option<(&str, Option<String>)> {
        let index = self.folded.log.observations.len().checked_sub(1)?;
        self.verdicts.get(index)?.acts.iter().find_map(|counted| match &counted.counts {
            Counts::Forbidden { why } => Some((counted.act.as_str(), why.clone())),
            Counts::InOrder(_)
            | Counts::Late(_)
            | Counts::TooEarly(_)
            | Counts::Free
            | Counts::Answer
            | Counts::NoLongerForbidden
            | Counts::Extra => None,
        })
    }

    /// Whether the act of an observation came too early.
    pub(crate) fn was_too_early(&self, observation: usize) -> bool {
        self.verdicts.get(observation).is_some_and(|verdict| verdict.warning().is_some())
    }

    /// The timed act that has neither been ended nor been followed by another act.
    pub(crate) fn running(&self) -> Option<Running> {
        let timed = timing::under_way(&self.model, &self.folded.log)?;
        let (of, act) = self.timed_act(timed.observation)?;
        Some(Running { of, act, since_ms: timed.since_ms, least: timed.least })
    }

    /// The timed act that was too short, while it can still be mended.
    pub(crate) fn short(&self) -> Option<Short> {
        let timed = timing::too_short(&self.model, &self.folded.log)?;
        let (of, act) = self.timed_act(timed.observation)?;
        let taken_back = &self.folded.taken_back;
        let ended_by = self.opened.lines.iter().rev().find(|line| {
            matches!(&line.event, Event::ActEnded { of: ended } if *ended == of)
                && !taken_back.contains(&line.id)
        });
        let ended_by = ended_by.map(|line| line.id.clone()).zip(timed.may_go_on_until_ms());
        Some(Short { act, lasted_ms: timed.lasted_ms.unwrap_or(0), least: timed.least, ended_by })
    }

    fn timed_act(&self, observation: usize) -> Option<(TapId, String)> {
        let seen = self.folded.log.observations.get(observation)?;
        let What::Act(act) = &seen.what else { return None };
        Some((self.folded.tap_of.get(observation)?.clone(), act.clone()))
    }

    /// Who observes now.
    pub(crate) fn observer(&self) -> &str {
        let last = self.folded.hand_overs.last();
        last.and_then(|over| self.opened.took_over.get(&over.to)).unwrap_or(&self.opened.observer)
    }

    /// The name of somebody who takes over, by their id.
    pub(crate) fn name(&mut self, id: String, name: String) {
        self.opened.took_over.insert(id, name);
    }

    /// The acts that must come next, where a response is owed.
    pub(crate) fn due(&self) -> Vec<String> {
        let mut due = self.live.due(&self.model);
        due.next().map(|(_, acts)| acts.into_iter().map(str::to_owned).collect()).unwrap_or_default()
    }

    /// The acts of which any one is what the next step asks for: what a key confirms where it is one alone.
    pub(crate) fn next_acts(&self) -> Vec<String> {
        let due = self.due();
        if due.is_empty() { self.next_step().map(|step| step.acts.clone()).unwrap_or_default() } else { due }
    }

    /// The tap that undo takes back when nothing is chosen, with its event: the latest that waits, else the
    /// latest that still stands, amendments such as a prompt included.
    pub(crate) fn undo_target(&self) -> Option<(TapId, Event)> {
        let can =
            |event: &Event| !matches!(event, Event::Undo { .. } | Event::Settled | Event::Because { .. });
        let waits = self.waiting.iter().rev().find(|tap| can(&tap.event));
        let back = &self.folded.taken_back;
        let stands = || {
            let mut lines = self.opened.lines.iter().rev();
            lines.find(|line| can(&line.event) && !back.contains(&line.id))
        };
        waits
            .map(|tap| (tap.id.clone(), tap.event.clone()))
            .or_else(|| stands().map(|line| (line.id.clone(), line.event.clone())))
    }

    /// The steps that no tap and no answer speaks of, before the score.
    pub(crate) fn unanswered(&self) -> Vec<&Step> {
        self.live.unanswered(&self.model, &self.folded)
    }

    /// The required steps that were passed over and have neither a tap nor an answer.
    pub(crate) fn passed_over(&self) -> Vec<&Step> {
        self.live.passed_over(&self.model, &self.folded)
    }

    /// Before which line a step belongs that is entered late; last where there is none.
    pub(crate) fn place_of(&self, step: &str) -> Option<TapId> {
        self.folded.tap_of.get(self.live.place_of(&self.model, step)?).cloned()
    }

    /// Whether the observer reads every step aloud.
    pub(crate) fn is_guided(&self) -> bool {
        self.opened.mode == Mode::Guided
    }
}

/// What the acknowledged lines amount to; from a paper form, with no time but those written there.
fn folded(opened: &OpenedDemonstration) -> Folded {
    let folded = fold(&opened.lines, opened.mode, &opened.conditions);
    if opened.paper_form.is_some() { folded.transcribed() } else { folded }
}

/// Whether a step has been done, in whatever order.
fn is_done(state: StepState) -> bool {
    match state {
        StepState::Done | StepState::DoneTooEarly | StepState::DoneLate => true,
        StepState::MayCome
        | StepState::NotYet
        | StepState::Skipped
        | StepState::NotSeen
        | StepState::NotApplicable => false,
    }
}

#[cfg(test)]
mod tests;
