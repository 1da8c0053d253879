//! Beginning a demonstration, the live form, and the review.

use chrono::NaiveDate;
use competency::{
    journal::{self, Folded, decided},
    model::Model,
    report::Report,
    roles,
    score::score_family_unless,
    validity::{ends, granted_until},
};
use contract::{
    Acknowledged, BeginDemonstration, Fault, Next, OpenDemonstration, OpenedDemonstration, Review,
    ReviewDemonstration, StopReview, Stopped, Tap,
};
use evidence::{Facts, ProcedurePublished};
use ledger::{Begin, Begun, Moment};

use super::{Desk, absent, civil_date};
use crate::fault::ledger_fault;

/// A demonstration with everything that it is scored by.
pub(super) struct Underway {
    pub(super) begun: Begun,
    pub(super) published: ProcedurePublished,
    pub(super) lines: Vec<journal::Line>,
    pub(super) folded: Folded,
}

impl Desk {
    /// Begins a demonstration; the same id again begins nothing.
    pub(crate) fn begin_demonstration(
        &self,
        request: &BeginDemonstration,
        now: &Moment,
    ) -> Result<OpenedDemonstration, Fault> {
        if let Some(of) = &request.second_of {
            return self.begin_second(request, of, now);
        }
        roles::check(&request.person, &request.observer, request.assistant.as_deref())
            .map_err(|wrong| Fault::new(Next::MendInput, wrong.sentence()))?;
        self.check_clock(now)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        if request.paper_form.is_some_and(|date| date > today) {
            return Err(Fault::new(
                Next::MendInput,
                "The date of the paper form lies ahead; enter the date on which the demonstration was observed.",
            ));
        }
        // A form is entered by what held on its own day.
        let on = request.paper_form.unwrap_or(today);
        let published = facts
            .in_force(&request.procedure, on)
            .filter(|published| {
                request.paper_form.is_some() || published.procedure.version == request.version
            })
            .ok_or_else(|| absent("procedure in this version"))?;
        check_observer(&facts, &request.observer, &request.procedure, on, now)?;
        self.check_signs_here(&facts, &request.observer)?;
        // Between demonstrations is the time to bring the files in order, and to see that there is room.
        self.ledger.rest().map_err(ledger_fault)?;
        let begin = Begin {
            demonstration: request.demonstration.clone(),
            person: request.person.clone(),
            observer: request.observer.clone(),
            assistant: request.assistant.clone(),
            procedure: request.procedure.clone(),
            version: published.procedure.version.clone(),
            procedure_hash: published.hash,
            purpose: request.purpose,
            mode: request.mode,
            conditions: request.conditions.clone(),
            first_attempt: facts.repeats(&request.person, &request.procedure, on),
            paper_form: request.paper_form,
            second_of: None,
        };
        self.ledger.begin(&begin, now).map_err(ledger_fault)?;
        self.opened(&request.demonstration, now)
    }

    /// A demonstration exactly as acknowledged.
    pub(crate) fn open_demonstration(
        &self,
        request: &OpenDemonstration,
        now: &Moment,
    ) -> Result<OpenedDemonstration, Fault> {
        self.opened(&request.demonstration, now)
    }

    /// One tap: written and synced before this answers.
    pub(crate) fn tap(&self, request: &Tap, now: &Moment) -> Result<Acknowledged, Fault> {
        self.check_tap(request, now)?;
        let line = self
            .ledger
            .append(&request.demonstration, &request.id, &request.event, now)
            .map_err(ledger_fault)?;
        Ok(Acknowledged { line })
    }

    /// Scores a demonstration that has ended.
    pub(crate) fn review_demonstration(
        &self,
        request: &ReviewDemonstration,
        now: &Moment,
    ) -> Result<Review, Fault> {
        let underway = self.ended(&request.demonstration)?;
        let mut demonstration = self.opened(&request.demonstration, now)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let stop = || self.stopped.is_stopped(&request.review);
        let Scored { published, report } = scored(&facts, &underway, &stop).ok_or_else(|| {
            Fault::new(Next::TryAgain, "The review was left before it was scored; open it again.")
        })?;
        let begin = &underway.begun.begin;
        let outcome = decided(report.outcome, underway.folded.stricter.is_some());
        let second_logs = self.second_logs(&begin.demonstration, now)?;
        let kept_as = (published.hash != underway.published.hash).then(|| published.procedure.title.clone());
        demonstration.procedure = published.procedure.clone();
        let would_hold_until = granted_until(
            begin.purpose,
            begin.mode,
            &published.procedure,
            outcome,
            underway.begun.begin.paper_form.unwrap_or_else(|| civil_date(&facts, &underway.begun.moment)),
        );
        let holds = facts.standing(&begin.person, &begin.procedure, civil_date(&facts, now));
        let ends = ends(begin.purpose, begin.mode, &published.procedure, outcome);
        let would_end =
            holds.valid_until.filter(|_until| ends && holds.state.holds() && !underway.begun.sealed);
        Ok(Review {
            demonstration,
            log: underway.folded.log,
            report,
            outcome,
            second_logs,
            kept_as,
            would_hold_until,
            would_end,
        })
    }

    /// Stops a review that the observer has left.
    pub(crate) fn stop_review(&self, request: &StopReview) -> Stopped {
        self.stopped.stop(&request.review);
        Stopped {}
    }

    /// A demonstration with everything that it is scored by; it must have ended.
    pub(super) fn ended(&self, demonstration: &str) -> Result<Underway, Fault> {
        let underway = self.underway(demonstration)?;
        if underway.folded.ended {
            return Ok(underway);
        }
        Err(Fault::new(
            Next::ChooseAgain,
            "The demonstration has not ended; go back to the form and end it first.",
        ))
    }

    pub(super) fn underway(&self, demonstration: &str) -> Result<Underway, Fault> {
        let begun = self
            .reader()
            .begun(demonstration)
            .map_err(ledger_fault)?
            .ok_or_else(|| absent("demonstration"))?;
        let lines = self.reader().lines(demonstration).map_err(ledger_fault)?;
        let folded = journal::fold(&lines, begun.begin.mode, &begun.begin.conditions);
        let folded = if begun.begin.paper_form.is_some() { folded.transcribed() } else { folded };
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let published = facts
            .procedures
            .get(&begun.begin.procedure)
            .and_then(|versions| {
                versions.iter().find(|version| version.published.hash == begun.begin.procedure_hash)
            })
            .ok_or_else(|| absent("procedure in this version"))?
            .published
            .clone();
        Ok(Underway { begun, published, lines, folded })
    }

    pub(super) fn opened(&self, demonstration: &str, now: &Moment) -> Result<OpenedDemonstration, Fault> {
        let Underway { begun, published, lines, folded } = self.underway(demonstration)?;
        let elapsed_ms = self.reader().elapsed_ms(&begun, now).map_err(ledger_fault)?;
        let begin = begun.begin;
        let named = |person: &str| self.person(person, now).map(|person| person.name);
        Ok(OpenedDemonstration {
            person: named(&begin.person)?,
            observer: named(&begin.observer)?,
            took_over: self.who_took_over(&folded.hand_overs, now)?,
            assistant: begin.assistant.as_deref().map(named).transpose()?,
            demonstration: begin.demonstration,
            person_id: begin.person,
            procedure: published.procedure,
            purpose: begin.purpose,
            mode: begin.mode,
            conditions: begin.conditions,
            begun: begun.moment.wall.to_rfc3339_opts(chrono::SecondsFormat::Secs, false),
            elapsed_ms,
            lines,
            paper_form: begin.paper_form,
            sealed: begun.sealed,
            second_of: begin.second_of,
        })
    }
}

/// The report of a demonstration, and the procedure that it is of.
pub(super) struct Scored {
    pub(super) published: ProcedurePublished,
    pub(super) report: Report,
}

/// Scores a demonstration by the procedure it was begun with and by those accepted in its place on that
/// day, and keeps the best; `None` where `stop` says yes.
pub(super) fn scored(facts: &Facts, underway: &Underway, stop: &dyn Fn() -> bool) -> Option<Scored> {
    let begin = &underway.begun.begin;
    let on = begin.paper_form.unwrap_or_else(|| civil_date(facts, &underway.begun.moment));
    let own = &underway.published;
    let others =
        facts.accepted_sequences(&begin.procedure, on).into_iter().filter(|id| *id != begin.procedure);
    // What was begun with decides what is accepted beside it, even where a later version is in force now.
    let others = others.filter(|_| own.procedure.accepts_family).filter_map(|id| facts.in_force(&id, on));
    let mut accepted: Vec<ProcedurePublished> = std::iter::once(own).chain(others).cloned().collect();
    let models: Vec<Model> = accepted.iter().map(|one| Model::new(one.procedure.clone())).collect();
    let (best, report) = score_family_unless(&models, &underway.folded.log, stop)?;
    Some(Scored { published: accepted.swap_remove(best), report })
}

/// An observer is appointed for the procedure, or current in it, and holds a certificate.
pub(super) fn check_observer(
    facts: &Facts,
    observer: &str,
    procedure: &str,
    on: NaiveDate,
    now: &Moment,
) -> Result<(), Fault> {
    if !facts.may_observe(observer, procedure, on) {
        return Err(Fault::new(
            Next::MendInput,
            "The observer is neither appointed for this procedure nor current in it; choose another observer, or appoint them first.",
        ));
    }
    check_certificate(facts, observer, now)
}

/// The certificate that somebody signs with is valid now.
pub(super) fn check_certificate(facts: &Facts, observer: &str, now: &Moment) -> Result<(), Fault> {
    let signs_with = facts.certificate(observer);
    if signs_with.is_some_and(|one| one.not_before <= now.wall && now.wall <= one.not_after) {
        return Ok(());
    }
    Err(Fault::new(
        Next::MendInput,
        "The observer holds no signing certificate that is valid now; appoint them again to renew it, or choose another observer.",
    ))
}
