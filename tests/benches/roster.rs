//! Rosters of 10,000 people and 12 procedures from 600,000 sealed demonstrations, beside the same questions asked of
//! pandas on the same data in the same run. The counts of both must agree. Only the ratios say something.
//!
//! Neither side is timed while it reads its data: pandas has its table sorted and typed, the rules have their facts
//! folded and the index made, whose time is told as well. What both do is what a roster needs: of each person and
//! procedure the attempt that decides, through when it holds, and the state.
#![expect(clippy::float_arithmetic, reason = "ratios of times are no whole numbers")]

use std::{
    collections::BTreeMap,
    error::Error,
    hint::black_box,
    io::Write,
    time::{Duration, Instant},
};

use chrono::{Days, NaiveDate, NaiveTime};
use competency::{
    log::HowEnded,
    procedure::{Mode, Procedure},
    report::Outcome,
    validity::{Purpose, State, valid_until},
};
use evidence::{
    ActingAs, Attempt, Author, Body, CertificateRevoked, DemonstrationSealed, Digest, ENTRY_FORMAT, Entry,
    Facts, Hlc, Index, Membership, PersonFacts, Place, ProcedurePublished, PublishedVersion, RequirementSet,
    digest,
};
use serde::Deserialize;
use serde_json::json;
use uuid::Uuid;

const PEOPLE: usize = 10_000;
const PROCEDURES: usize = 12;
const DEMONSTRATIONS: usize = 600_000;
/// People of one unit.
const UNIT: usize = 60;
const UNIT_ASKED: &str = "unit-7";
/// So many observers signed the demonstrations.
const OBSERVERS: u64 = 100;
const TURNS: usize = 15;
const LEAD_DAYS: u32 = 90;

/// What pandas says.
#[derive(Deserialize)]
struct Peer {
    version: String,
    hospital_ms: f64,
    unit_ms: f64,
    earlier_ms: f64,
    hospital: BTreeMap<String, u32>,
    unit: BTreeMap<String, u32>,
}

/// One demonstration, small enough to make 600,000 of.
struct Row {
    person: usize,
    procedure: usize,
    on: NaiveDate,
    competent: bool,
}

fn main() -> Result<(), Box<dyn Error>> {
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).ok_or("a date")?;
    let rows = rows(today);
    let mut facts = facts(&rows, today)?;
    let (mut index, indexed) = timed(|| Index::of(&facts));
    let hospital = counts(&index, &facts, None, today);
    let unit = counts(&index, &facts, Some(UNIT_ASKED), today);
    let all = median(|| counts(&index, &facts, None, today));
    let one = median(|| counts(&index, &facts, Some(UNIT_ASKED), today));
    let earlier = today - Days::new(400);
    let as_of = median(|| counts(&index, &facts, None, earlier));
    let peer = pandas(&rows, today);
    // The order of the states differs; what they say must not.
    assert_same(&hospital, &peer.hospital);
    assert_same(&unit, &peer.unit);
    let number = u64::try_from(rows.len())?;
    let one_more = sealed(&Row { person: 0, procedure: 0, on: today, competent: true }, number + 1)?;
    let ((), grown) = timed(|| grow(&mut facts, &mut index, entry(number + 1, one_more, today)));
    let revocation = entry(number + 2, revoked(today), today);
    let ((), revoked) = timed(|| grow(&mut facts, &mut index, revocation));
    let without = median(|| counts(&index, &facts, None, today));
    assert_ne!(counts(&index, &facts, None, today), hospital, "what was revoked counts no more");
    let ms = |time: Duration| time.as_secs_f64() * 1000.0;
    let (whole, small) = (ms(all), ms(one));
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "{PEOPLE} people, {PROCEDURES} procedures, {DEMONSTRATIONS} sealed demonstrations, beside pandas {}",
        peer.version
    )?;
    writeln!(
        out,
        "  the roster of everyone: {whole:.1} ms, {:.1} times faster ({:.1} ms); of a unit of {UNIT}: {small:.3} ms, {:.0} times faster ({:.1} ms)",
        peer.hospital_ms / whole,
        peer.hospital_ms,
        peer.unit_ms / small,
        peer.unit_ms
    )?;
    writeln!(
        out,
        "  the roster of everyone as of 400 days ago: {:.1} ms, {:.1} times faster ({:.1} ms)",
        ms(as_of),
        peer.earlier_ms / ms(as_of),
        peer.earlier_ms
    )?;
    writeln!(
        out,
        "  making the index, once when the program starts: {:.1} ms; bringing it up to one more demonstration: {:.3} ms",
        ms(indexed),
        ms(grown)
    )?;
    writeln!(
        out,
        "  revoking the certificate that one demonstration in a hundred was signed with: {:.1} ms; the roster of everyone after it: {:.1} ms",
        ms(revoked),
        ms(without)
    )?;
    Ok(())
}

/// A multiplicative generator (Lehmer, modulus 2^61 - 1): the same data on every machine.
struct Chance(u64);

impl Chance {
    fn below(&mut self, bound: usize) -> usize {
        let next = u128::from(self.0) * 0x5DEE_CE66_D15A_u128 % ((1_u128 << 61) - 1);
        self.0 = u64::try_from(next).unwrap_or(1).max(1);
        usize::try_from(self.0 >> 20).unwrap_or(0) % bound.max(1)
    }
}

fn rows(today: NaiveDate) -> Vec<Row> {
    let mut chance = Chance(20_261_125);
    let mut rows: Vec<Row> = (0..DEMONSTRATIONS)
        .map(|_| Row {
            person: chance.below(PEOPLE),
            procedure: chance.below(PROCEDURES),
            on: today - Days::new(u64::try_from(chance.below(5 * 365)).unwrap_or(0)),
            competent: chance.below(10) > 0,
        })
        .collect();
    // One demonstration a day at most of each person and procedure, so that the day alone orders them.
    rows.sort_by_key(|row| (row.person, row.procedure, row.on));
    rows.dedup_by_key(|row| (row.person, row.procedure, row.on));
    rows
}

fn procedure(number: usize) -> Result<Procedure, Box<dyn Error>> {
    Ok(serde_json::from_value(json!({
        "id": format!("procedure-{number:02}"), "version": "1.0.0", "title": "Doffing", "phase": "doffing",
        "precautions": ["contact"], "ensemble": ["gloves"], "sources": [],
        "acts": { "gloves-off": "Gloves off" },
        "steps": [{ "id": "gloves-off", "section": "Hands", "acts": ["gloves-off"], "text": "Gloves off." }]
    }))?)
}

fn author() -> Author {
    Author { person: None, role: ActingAs::Manager, certificate: None }
}

/// The facts that entries of these demonstrations fold into.
fn facts(rows: &[Row], today: NaiveDate) -> Result<Facts, Box<dyn Error>> {
    let begun = today - Days::new(6 * 365);
    let mut facts = Facts::default();
    for number in 0..PROCEDURES {
        let procedure = procedure(number)?;
        let (id, hash) = (procedure.id.clone(), digest(format!("{number:02}").as_bytes()));
        let published = ProcedurePublished { procedure, hash, from: begun, approved: None, revalidate: None };
        facts.procedures.insert(id.clone(), vec![PublishedVersion { published, known_on: begun }]);
        facts.requirements.push(RequirementSet {
            procedure: id,
            unit: None,
            role: None,
            required: true,
            months: None,
            lead_days: vec![LEAD_DAYS],
            from: begun,
        });
    }
    for number in 0..PEOPLE {
        let unit = format!("unit-{}", number / UNIT);
        let membership = Membership { unit: Some(unit), role: "Nurse".to_owned(), from: begun };
        let known = PersonFacts { memberships: vec![membership], ..PersonFacts::default() };
        facts.people.insert(person(number), known);
    }
    for (number, row) in (1_u64..).zip(rows) {
        let place = Place { stream: Uuid::nil(), seq: number, prev: None };
        let certificate = Some(certificate(number % OBSERVERS));
        let author = Author { certificate, ..author() };
        let (entry, sealed) = (Uuid::from_u128(number.into()), sealed(row, number)?);
        let attempt = Attempt { entry, place, sealed, author, known_on: row.on };
        facts.people.entry(person(row.person)).or_default().attempts.push(attempt);
    }
    Ok(facts)
}

/// A demonstration of the very version that is in force.
fn sealed(row: &Row, number: u64) -> Result<DemonstrationSealed, Box<dyn Error>> {
    let wall = row.on.and_hms_opt(10, 0, 0).ok_or("a time")?.and_utc().fixed_offset();
    let outcome = if row.competent { Outcome::Competent } else { Outcome::NotYetCompetent };
    Ok(DemonstrationSealed {
        demonstration: format!("d-{number}"),
        first_attempt: None,
        person: person(row.person),
        unit: format!("unit-{}", row.person / UNIT),
        observer: "observer".to_owned(),
        assistant: None,
        procedure: format!("procedure-{:02}", row.procedure),
        version: "1.0.0".to_owned(),
        procedure_hash: digest(format!("{:02}", row.procedure).as_bytes()),
        purpose: Purpose::Validation,
        mode: Mode::Assessed,
        on: row.on,
        begun: wall,
        ended: wall,
        how: HowEnded::Completed,
        outcome,
        valid_until: if row.competent { valid_until(row.on, 12) } else { None },
        score_permille: 1000,
        steps_well: 1,
        steps_counted: 1,
        critical_findings: 0,
        other_findings: 0,
        pdf: digest(b"pdf"),
        record: digest(b"record"),
    })
}

/// The certificate of an observer.
fn certificate(observer: u64) -> Digest {
    digest(format!("observer {observer}").as_bytes())
}

/// One observer of a hundred signs no more, and nothing that they signed counts.
fn revoked(today: NaiveDate) -> CertificateRevoked {
    CertificateRevoked {
        person: "observer".to_owned(),
        fingerprint: certificate(1),
        at: today.and_time(NaiveTime::MIN).and_utc().fixed_offset(),
        reason: "a lost tablet".to_owned(),
        last_accepted: BTreeMap::new(),
        list: String::new(),
    }
}

/// An entry as the ledger hands it over.
fn entry(number: u64, body: impl Into<Body>, today: NaiveDate) -> Entry {
    let wall = today.and_time(NaiveTime::MIN).and_utc().fixed_offset();
    Entry {
        format: ENTRY_FORMAT,
        facility: Uuid::nil(),
        place: Place { stream: Uuid::nil(), seq: number, prev: None },
        id: Uuid::from_u128(number.into()),
        body: body.into(),
        author: author(),
        device: "device".to_owned(),
        hlc: Hlc { ms: wall.timestamp_millis(), n: 0 },
        wall,
        zone: "UTC".to_owned(),
        seen: BTreeMap::new(),
        program: "bench".to_owned(),
        rules: competency::RULES_VERSION,
    }
}

fn grow(facts: &mut Facts, index: &mut Index, entry: Entry) {
    let touched = facts.grow(vec![entry]);
    index.renew(facts, &touched);
}

fn person(number: usize) -> String {
    format!("person-{number:05}")
}

/// The whole roster, and how many are in each state.
fn counts(index: &Index, facts: &Facts, unit: Option<&str>, on: NaiveDate) -> BTreeMap<State, u32> {
    let mut counts = [0_u32; State::ALL.len()];
    for (_, held) in black_box(index.roster(facts, unit, on)) {
        for one in held {
            let at = State::ALL.iter().position(|state| *state == one.state);
            if let Some(count) = at.and_then(|at| counts.get_mut(at)) {
                *count += 1;
            }
        }
    }
    State::ALL.into_iter().zip(counts).filter(|(_, count)| *count > 0).collect()
}

fn timed<T>(act: impl FnOnce() -> T) -> (T, Duration) {
    let before = Instant::now();
    let done = act();
    (done, before.elapsed())
}

fn median<T>(ask: impl Fn() -> T) -> Duration {
    let mut times: Vec<Duration> = (0..TURNS).map(|_| timed(|| black_box(ask())).1).collect();
    times.sort();
    times.get(TURNS / 2).copied().unwrap_or_default()
}

/// Asks pandas the same of the same rows.
fn pandas(rows: &[Row], today: NaiveDate) -> Peer {
    let column = |of: fn(&Row) -> i64| rows.iter().map(of).collect::<Vec<i64>>();
    let number = |at: usize| i64::try_from(at).unwrap_or(0);
    let question = json!({
        "today": today.to_string(),
        "people": PEOPLE, "procedures": PROCEDURES, "unit_size": UNIT, "unit": 7, "lead_days": LEAD_DAYS,
        "turns": TURNS,
        "person": rows.iter().map(|row| number(row.person)).collect::<Vec<_>>(),
        "procedure": rows.iter().map(|row| number(row.procedure)).collect::<Vec<_>>(),
        "on": column(|row| (row.on - NaiveDate::default()).num_days()),
        "competent": rows.iter().map(|row| row.competent).collect::<Vec<_>>(),
    });
    suite::python::ask(include_str!("roster.py"), &question)
}

fn assert_same(ours: &BTreeMap<State, u32>, theirs: &BTreeMap<String, u32>) {
    let ours: BTreeMap<String, u32> =
        ours.iter().map(|(state, count)| (state.words().to_owned(), *count)).collect();
    assert_eq!(&ours, theirs, "both answer the same");
}
