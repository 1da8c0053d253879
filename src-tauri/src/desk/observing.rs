//! Who observes: handing over midway, and another observer's own log of the same demonstration.

use std::collections::BTreeMap;

use competency::{
    journal::{
        Event, HandOver, fold,
        written::{self, TimeOfDay},
    },
    model::Model,
    roles,
};
use contract::{BeginDemonstration, Fault, Next, OpenedDemonstration, SecondLog, Tap, WatchAgain};
use evidence::{Facts, PersonId};
use ledger::{Begin, Begun, Moment};

use super::{
    Desk, absent, civil_date, civil_time,
    demonstration::{Underway, check_observer},
    names::shown_name,
    procedures::title,
    typed::printable_event,
};
use crate::fault::ledger_fault;

impl Underway {
    /// Who observes now, and therefore signs.
    pub(super) fn observer(&self) -> &PersonId {
        self.folded.observer(&self.begun.begin.observer)
    }

    /// Who observed before, in order.
    pub(super) fn observers_before(&self) -> impl Iterator<Item = &PersonId> {
        let to: &[HandOver] = &self.folded.hand_overs;
        let earlier = to.split_last().map_or(&[][..], |(_last, earlier)| earlier);
        let first = (!to.is_empty()).then_some(&self.begun.begin.observer);
        first.into_iter().chain(earlier.iter().map(|over| &over.to))
    }
}

impl Desk {
    /// Whether a tap may be taken: one that hands over names somebody who may observe this demonstration,
    /// and what comes from a paper form keeps its written times possible.
    pub(super) fn check_tap(&self, tap: &Tap, now: &Moment) -> Result<(), Fault> {
        printable_event(&tap.event)?;
        self.check_written(tap, now)?;
        let Tap { demonstration, event, .. } = tap;
        let Event::HandedOver { to } = event else { return Ok(()) };
        let begun = self.begun(demonstration)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        roles::check(&begun.begin.person, to, begun.begin.assistant.as_deref())
            .map_err(|wrong| Fault::new(Next::MendInput, wrong.sentence()))?;
        let on = begun.begin.paper_form.unwrap_or_else(|| civil_date(&facts, now));
        check_observer(&facts, to, &begun.begin.procedure, on, now)?;
        // Whoever observes at the end signs, but nobody signs a second log.
        if begun.begin.second_of.is_some() { Ok(()) } else { self.check_signs_here(&facts, to) }
    }

    /// Whatever moves a time or an act of a paper form, undo included, is checked with the whole log.
    fn check_written(&self, tap: &Tap, now: &Moment) -> Result<(), Fault> {
        let writes = matches!(tap.event, Event::Written { .. } | Event::WrittenSpan { .. });
        if !writes && !matches!(tap.event, Event::Undo { .. }) {
            return Ok(());
        }
        let Some(form) = self.begun(&tap.demonstration)?.begin.paper_form else {
            let said = "Times are written in only where a paper form is entered; this demonstration was logged as it happened.";
            return if writes { Err(Fault::new(Next::ChooseAgain, said)) } else { Ok(()) };
        };
        let Underway { published, lines, .. } = self.underway(&tap.demonstration)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let here = civil_time(&facts, now);
        let now = (form == here.date()).then(|| TimeOfDay::from(here.time()));
        written::check(&Model::new(published.procedure), &lines, &tap.id, &tap.event, now)
            .map_err(|said| Fault::new(Next::MendInput, said))
    }

    fn begun(&self, demonstration: &str) -> Result<Begun, Fault> {
        self.reader().begun(demonstration).map_err(ledger_fault)?.ok_or_else(|| absent("demonstration"))
    }

    /// Begins another observer's own log of a demonstration that has ended. Person, procedure, mode and
    /// what was worn are those of the first; only who observes is chosen.
    pub(super) fn begin_second(
        &self,
        request: &BeginDemonstration,
        of: &str,
        now: &Moment,
    ) -> Result<OpenedDemonstration, Fault> {
        let first = self.ended(of)?;
        let begin = &first.begun.begin;
        if begin.second_of.is_some() {
            return Err(absent("demonstration of its own"));
        }
        if *first.observer() == request.observer
            || first.observers_before().any(|before| *before == request.observer)
        {
            return Err(Fault::new(
                Next::MendInput,
                "This observer logged the demonstration already; a second log is made by somebody else.",
            ));
        }
        roles::check(&begin.person, &request.observer, begin.assistant.as_deref())
            .map_err(|wrong| Fault::new(Next::MendInput, wrong.sentence()))?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        check_observer(&facts, &request.observer, &begin.procedure, civil_date(&facts, now), now)?;
        let begin = Begin {
            demonstration: request.demonstration.clone(),
            observer: request.observer.clone(),
            first_attempt: None,
            paper_form: None,
            second_of: Some(of.to_owned()),
            ..begin.clone()
        };
        self.ledger.begin(&begin, now).map_err(ledger_fault)?;
        self.opened(&request.demonstration, now)
    }

    /// The logs that other observers made of a demonstration.
    pub(super) fn second_logs(&self, of: &str, now: &Moment) -> Result<Vec<SecondLog>, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let mut logs = Vec::new();
        for begun in self.reader().second_logs(of).map_err(ledger_fault)? {
            let demonstration = begun.begin.demonstration;
            let underway = self.underway(&demonstration)?;
            logs.push(SecondLog {
                observer: self.person(&begun.begin.observer, now)?.name,
                on: civil_date(&facts, &begun.moment),
                observations: underway.folded.log.observations.len(),
                ended: underway.folded.ended,
                demonstration,
            });
        }
        Ok(logs)
    }

    /// Who is to be watched again after coaching.
    pub(super) fn watch_again(&self, facts: &Facts) -> Result<Vec<WatchAgain>, Fault> {
        let mut all = Vec::new();
        for begun in self.reader().coached().map_err(ledger_fault)? {
            let begin = begun.begin;
            let lines = self.reader().lines(&begin.demonstration).map_err(ledger_fault)?;
            let folded = fold(&lines, begin.mode, &begin.conditions);
            let Some(plan) = folded.coaching else { continue };
            let name = self.reader().name(&begin.person).map_err(ledger_fault)?;
            all.push(WatchAgain {
                name: shown_name(name.as_ref()),
                procedure: title(facts, &begin.procedure),
                person: begin.person,
                coached: plan.what,
                by: plan.again_by,
            });
        }
        all.sort_by_key(|one| (one.by.is_none(), one.by));
        Ok(all)
    }

    /// The names of everybody who took over, by their ids.
    pub(super) fn who_took_over(
        &self,
        hand_overs: &[HandOver],
        now: &Moment,
    ) -> Result<BTreeMap<String, String>, Fault> {
        let each = hand_overs.iter().map(|over| Ok((over.to.clone(), self.person(&over.to, now)?.name)));
        each.collect()
    }
}
