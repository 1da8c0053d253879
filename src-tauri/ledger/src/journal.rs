//! The live journal: demonstrations begun, and what was tapped, line by line.

use chrono::{DateTime, FixedOffset, NaiveDate};
use competency::{
    journal::{Event, Line, TapId, fold},
    procedure::{ConditionId, Mode},
    validity::Purpose,
};
use evidence::{DemonstrationId, Digest, PersonId, ProcedureId};
use rusqlite::{Connection, Row, named_params};

use crate::{
    Ledger, LedgerError, Moment, Reader,
    columns::{column, json, to_json, to_word, word, word_or_none},
    error::Doing,
    moment::{Anchor, elapsed_ms},
};

/// What is said before the first act.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Begin {
    /// The demonstration.
    pub demonstration: DemonstrationId,
    /// The person observed.
    pub person: PersonId,
    /// The observer.
    pub observer: PersonId,
    /// The assistant, where there is one.
    pub assistant: Option<PersonId>,
    /// The procedure.
    pub procedure: ProcedureId,
    /// Its version.
    pub version: String,
    /// Its hash.
    pub procedure_hash: Digest,
    /// What it is for.
    pub purpose: Purpose,
    /// Guided or assessed.
    pub mode: Mode,
    /// The conditions that hold at the start.
    pub conditions: Vec<ConditionId>,
    /// The first attempt that this one repeats, where it is a repeat.
    pub first_attempt: Option<DemonstrationId>,
    /// The civil date of the paper form that it is entered from; `None` where it is logged live.
    pub paper_form: Option<NaiveDate>,
    /// The demonstration of which this is another observer's own log; `None` for one of its own.
    pub second_of: Option<DemonstrationId>,
}

/// A demonstration in the journal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Begun {
    /// What was said before the first act.
    pub begin: Begin,
    /// When it began.
    pub moment: Moment,
    /// Whether its record is filed.
    pub sealed: bool,
}

impl Ledger {
    /// Begins a demonstration. The same id again begins nothing, and is answered with what was begun first.
    ///
    /// # Errors
    /// [`LedgerError::Full`] where there is no room, and whatever else keeps it from being written.
    pub fn begin(&self, begin: &Begin, now: &Moment) -> Result<Begun, LedgerError> {
        let doing = "begin a demonstration";
        self.transact(doing, |transaction| {
            if let Some(begun) = begun(transaction, &begin.demonstration)? {
                return Ok(begun);
            }
            let mut statement =
                transaction.prepare_cached(include_str!("../sql/journal/begin.sql")).doing(doing)?;
            statement
                .execute(named_params! {
                    ":id": begin.demonstration,
                    ":person": begin.person,
                    ":observer": begin.observer,
                    ":assistant": begin.assistant,
                    ":procedure": begin.procedure,
                    ":version": begin.version,
                    ":procedure_hash": begin.procedure_hash.to_string(),
                    ":purpose": to_word("purpose", &begin.purpose)?,
                    ":mode": to_word("mode", &begin.mode)?,
                    ":conditions": to_json("conditions", &begin.conditions)?,
                    ":first_attempt": begin.first_attempt,
                    ":paper_form": begin.paper_form.map(|date| date.to_string()),
                    ":second_of": begin.second_of,
                    ":begun": to_word("begun", &now.wall)?,
                    ":zone": now.zone,
                    ":boot_id": now.boot_id,
                    ":boot_ms": now.boot_ms,
                })
                .doing(doing)?;
            Ok(Begun { begin: begin.clone(), moment: now.clone(), sealed: false })
        })
    }

    /// Writes one tap and answers when it is on the disk. The same tap id again writes nothing, and is
    /// answered with the line that was written first, so that a request may be repeated.
    ///
    /// # Errors
    /// [`LedgerError::NotBegun`], [`LedgerError::AlreadySealed`], [`LedgerError::Full`], and whatever else
    /// keeps it from being written. After an error nothing was written.
    pub fn append(
        &self,
        demonstration: &str,
        tap: &TapId,
        event: &Event,
        now: &Moment,
    ) -> Result<Line, LedgerError> {
        let doing = "write a tap";
        self.transact(doing, |transaction| {
            if let Some(line) = line(transaction, demonstration, tap)? {
                return Ok(line);
            }
            let begun = begun(transaction, demonstration)?.ok_or(LedgerError::NotBegun)?;
            if begun.sealed {
                return Err(LedgerError::AlreadySealed);
            }
            let (n, last_ms) = last(transaction, demonstration)?.map_or((0, 0), |(n, at_ms)| (n + 1, at_ms));
            let at_ms = elapsed_ms(begun.moment.wall, anchor(transaction, &begun, now)?, last_ms, now);
            let mut statement =
                transaction.prepare_cached(include_str!("../sql/journal/append.sql")).doing(doing)?;
            statement
                .execute(named_params! {
                    ":demonstration": demonstration,
                    ":n": n,
                    ":tap": tap,
                    ":at_ms": at_ms,
                    ":event": to_json("event", event)?,
                    ":wall": to_word("wall", &now.wall)?,
                    ":boot_id": now.boot_id,
                    ":boot_ms": now.boot_ms,
                })
                .doing(doing)?;
            Ok(Line { id: tap.clone(), at_ms, event: event.clone() })
        })
    }
}

impl Reader {
    /// A demonstration that was begun.
    pub fn begun(&self, demonstration: &str) -> Result<Option<Begun>, LedgerError> {
        begun(&self.reading(), demonstration)
    }

    /// The lines of a demonstration, in the order in which they were acknowledged.
    pub fn lines(&self, demonstration: &str) -> Result<Vec<Line>, LedgerError> {
        lines(&self.reading(), demonstration)
    }

    /// How long after its beginning, in ms, this moment of a demonstration is, by the rule that the next
    /// line would be stamped with.
    pub fn elapsed_ms(&self, begun: &Begun, now: &Moment) -> Result<i64, LedgerError> {
        let connection = self.reading();
        let demonstration = &begun.begin.demonstration;
        let last_ms = last(&connection, demonstration)?.map_or(0, |(_, at_ms)| at_ms);
        Ok(elapsed_ms(begun.moment.wall, anchor(&connection, begun, now)?, last_ms, now))
    }

    /// Demonstrations begun and not sealed, the latest first; second logs only until they have ended.
    pub fn unfinished(&self) -> Result<Vec<Begun>, LedgerError> {
        let doing = "list unfinished demonstrations";
        let all = {
            let connection = self.reading();
            let mut statement =
                connection.prepare_cached(include_str!("../sql/journal/unfinished.sql")).doing(doing)?;
            all_begun(statement.query([]).doing(doing)?, doing)?
        };
        let mut unfinished = Vec::with_capacity(all.len());
        for begun in all {
            if begun.begin.second_of.is_none() || !self.has_ended(&begun.begin)? {
                unfinished.push(begun);
            }
        }
        Ok(unfinished)
    }

    /// Whether its end stands: it was tapped, and was not taken back.
    fn has_ended(&self, begin: &Begin) -> Result<bool, LedgerError> {
        let lines = self.lines(&begin.demonstration)?;
        Ok(fold(&lines, begin.mode, &begin.conditions).ended)
    }

    /// Demonstrations after which coaching was planned and that no later one of the same person and procedure
    /// has followed, the earliest first; a plan may have been taken back since.
    pub fn coached(&self) -> Result<Vec<Begun>, LedgerError> {
        let doing = "list what was coached";
        let connection = self.reading();
        let mut statement =
            connection.prepare_cached(include_str!("../sql/journal/coached.sql")).doing(doing)?;
        all_begun(statement.query([]).doing(doing)?, doing)
    }

    /// The logs that other observers made of a demonstration afterwards, the earliest first.
    pub fn second_logs(&self, of: &str) -> Result<Vec<Begun>, LedgerError> {
        let doing = "list second logs";
        let connection = self.reading();
        let mut statement =
            connection.prepare_cached(include_str!("../sql/journal/second_logs.sql")).doing(doing)?;
        all_begun(statement.query(named_params! { ":of": of }).doing(doing)?, doing)
    }
}

/// What the time of the next line is measured from; `None` where the device started anew since the last.
fn anchor(connection: &Connection, begun: &Begun, now: &Moment) -> Result<Option<Anchor>, LedgerError> {
    if now.boot_id == begun.moment.boot_id {
        return Ok(Some(Anchor { at_ms: 0, boot_ms: begun.moment.boot_ms }));
    }
    let doing = "read a journal's clock";
    let mut statement =
        connection.prepare_cached(include_str!("../sql/journal/first_since_boot.sql")).doing(doing)?;
    let mut rows = statement
        .query(named_params! { ":demonstration": begun.begin.demonstration, ":boot_id": now.boot_id })
        .doing(doing)?;
    rows.next()
        .doing(doing)?
        .map(|row| Ok(Anchor { at_ms: column(row, "at_ms")?, boot_ms: column(row, "boot_ms")? }))
        .transpose()
}

pub(crate) fn begun(connection: &Connection, demonstration: &str) -> Result<Option<Begun>, LedgerError> {
    let doing = "read a demonstration";
    let mut statement = connection.prepare_cached(include_str!("../sql/journal/begun.sql")).doing(doing)?;
    let mut rows = statement.query(named_params! { ":id": demonstration }).doing(doing)?;
    rows.next().doing(doing)?.map(begun_from).transpose()
}

fn line(connection: &Connection, demonstration: &str, tap: &str) -> Result<Option<Line>, LedgerError> {
    let doing = "look for a tap";
    let mut statement = connection.prepare_cached(include_str!("../sql/journal/line.sql")).doing(doing)?;
    let mut rows =
        statement.query(named_params! { ":demonstration": demonstration, ":tap": tap }).doing(doing)?;
    rows.next().doing(doing)?.map(line_from).transpose()
}

pub(crate) fn lines(connection: &Connection, demonstration: &str) -> Result<Vec<Line>, LedgerError> {
    let doing = "read a journal";
    let mut statement = connection.prepare_cached(include_str!("../sql/journal/lines.sql")).doing(doing)?;
    let mut rows = statement.query(named_params! { ":demonstration": demonstration }).doing(doing)?;
    let mut lines = Vec::new();
    while let Some(row) = rows.next().doing(doing)? {
        lines.push(line_from(row)?);
    }
    Ok(lines)
}

/// Number and time of the last line.
fn last(connection: &Connection, demonstration: &str) -> Result<Option<(i64, i64)>, LedgerError> {
    let doing = "read the last tap";
    let mut statement = connection.prepare_cached(include_str!("../sql/journal/last.sql")).doing(doing)?;
    let mut rows = statement.query(named_params! { ":demonstration": demonstration }).doing(doing)?;
    rows.next().doing(doing)?.map(|row| Ok((column(row, "n")?, column(row, "at_ms")?))).transpose()
}

fn line_from(row: &Row<'_>) -> Result<Line, LedgerError> {
    Ok(Line { id: column(row, "tap")?, at_ms: column(row, "at_ms")?, event: json(row, "event")? })
}

fn all_begun(mut rows: rusqlite::Rows<'_>, doing: &'static str) -> Result<Vec<Begun>, LedgerError> {
    let mut all = Vec::new();
    while let Some(row) = rows.next().doing(doing)? {
        all.push(begun_from(row)?);
    }
    Ok(all)
}

fn begun_from(row: &Row<'_>) -> Result<Begun, LedgerError> {
    let wall: DateTime<FixedOffset> = word(row, "begun")?;
    Ok(Begun {
        begin: Begin {
            demonstration: column(row, "id")?,
            person: column(row, "person")?,
            observer: column(row, "observer")?,
            assistant: column(row, "assistant")?,
            procedure: column(row, "procedure")?,
            version: column(row, "version")?,
            procedure_hash: word(row, "procedure_hash")?,
            purpose: word(row, "purpose")?,
            mode: word(row, "mode")?,
            conditions: json(row, "conditions")?,
            first_attempt: column(row, "first_attempt")?,
            paper_form: word_or_none(row, "paper_form")?,
            second_of: column(row, "second_of")?,
        },
        moment: Moment {
            wall,
            zone: column(row, "zone")?,
            boot_ms: column(row, "boot_ms")?,
            boot_id: column(row, "boot_id")?,
        },
        sealed: column(row, "sealed")?,
    })
}
