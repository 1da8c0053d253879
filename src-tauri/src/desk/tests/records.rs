//! What is checked, put right, taken away and handed over.

use contract::{
    Amended, AnswerJoinRequest, AppointObserver, BackUp, BringBackup, Came, Change, CheckRecord,
    CheckedRecord, CorrectRecord, Countersign, HistoryForm, HistoryLine, ListObservers, MakeJoinRequest,
    OpenRoster, OpenRosterPage, PutRight, ReadJoinRequest, Reliable, RestoreBackup, RevokeSigning,
    RollAuthorityOver, RosterSort, SaveHistory, ShowRecord, Signing, WhyRevoked,
};
use sealing::{Certificate, verify};

use super::*;
use crate::{checking, desk::Opened};

const PASSPHRASE: &str = "seven grey herons over the quay";

impl Ward {
    pub(super) fn competent(&self, id: &str, day: i64) -> contract::Sealed {
        assert_eq!(self.carry_out(id, FIRST, None, &AS_PRINTED, day).report.outcome, Outcome::Competent);
        self.seal(id, day)
    }

    pub(super) fn line(&self, record: &str, day: i64) -> HistoryLine {
        let open = OpenHistory { person: self.colleague.clone(), as_of: None, known_at: None };
        let history = self.desk.open_history(&open, &at(day)).unwrap();
        history.demonstrations.into_iter().find(|line| line.record == record).unwrap()
    }

    pub(super) fn correct(
        &self,
        entry: &str,
        change: Change,
        reason: &str,
        day: i64,
    ) -> Result<(), contract::Fault> {
        let request = CorrectRecord {
            correction: format!("{entry}-{day}"),
            entry: entry.to_owned(),
            change,
            reason: reason.to_owned(),
            author: self.observer.clone(),
            pin: PIN.to_owned(),
        };
        self.desk.correct_record(&request, &at(day)).map(|_history| ())
    }

    fn check(&self, pdf: &[u8]) -> CheckedRecord {
        self.desk.check_record(&CheckRecord { pdf: pdf.to_vec(), trust: None, revoked: None }).unwrap()
    }

    fn revoke(&self, why: WhyRevoked, day: i64) -> Result<contract::RevokedSigning, contract::Fault> {
        let request = RevokeSigning {
            people: vec![self.observer.clone()],
            devices: Vec::new(),
            why,
            reason: "works elsewhere".to_owned(),
            passphrase: PASSPHRASE.to_owned(),
        };
        self.desk.revoke_signing(&request, &at(day))
    }

    pub(super) fn is_whole(&self) {
        let checked = checking::check(self.desk.reader(), &[], &[]).unwrap();
        let flaws: Vec<String> = checked.flaws.iter().map(ToString::to_string).collect();
        assert_eq!(flaws, Vec::<String>::new());
    }
}

fn says(checked: &CheckedRecord, words: &str, came: Came) -> bool {
    checked.reasons.iter().any(|reason| reason.came == came && reason.text.contains(words))
}

/// What the whole roster says was put right, on the page of the window and in the file alike.
fn on_the_roster(ward: &Ward, day: i64) -> Vec<PutRight> {
    let asked = OpenRoster { unit: None, as_of: None, known_at: None };
    let whole = ward.desk.books().roster(&asked, &at(day)).unwrap();
    let page = OpenRosterPage {
        roster: asked,
        search: String::new(),
        state: None,
        sort: RosterSort::Name,
        first: 0,
        most: 50,
    };
    let shown = ward.desk.open_roster(&page, &at(day)).unwrap().roster;
    assert_eq!(shown.rows, whole.rows);
    whole.rows.into_iter().flat_map(|row| row.put_right).flatten().collect()
}

#[test]
fn a_voided_record_counts_no_more_and_nothing_vanishes() {
    let ward = Ward::new();
    let path = ward.competent("a", 1).path;
    assert_eq!(ward.standing(FIRST, 2).state, State::Current);
    let entry = ward.line("a", 2).entry;
    ward.correct(&entry, Change::Void, "the wrong person was chosen", 2).unwrap();
    assert_eq!(ward.standing(FIRST, 3).state, State::NeverValidated);
    let line = ward.line("a", 3);
    assert!(!line.counts);
    let [amendment] = line.amendments.as_slice() else { panic!("{:?}", line.amendments) };
    assert_eq!((&amendment.what, amendment.by.as_str()), (&Amended::Voided, "Ines Odum"));
    assert_eq!(amendment.reason, "the wrong person was chosen");
    assert!(fs::read(&path).is_ok(), "the file stays");
    let checked = ward.check(&fs::read(&path).unwrap());
    let voided = "4 March 2026, Ines Odum: voided. Reason: the wrong person was chosen.";
    assert!(says(&checked, voided, Came::Fails), "{checked:?}");
    assert_eq!(checked.reliable, Reliable::No, "{}", checked.sentence);
    assert!(checked.sentence.contains(&format!("it does not count: {voided}")), "{}", checked.sentence);
    assert_eq!(on_the_roster(&ward, 3), [PutRight::Voided], "the roster tells it, too");
    assert!(ward.correct(&entry, Change::Void, "once more", 4).is_err(), "voiding is final");
    ward.is_whole();
}

#[test]
fn a_date_is_put_right_and_two_that_differ_show_until_one_is_voided() {
    let ward = Ward::new();
    let path = ward.competent("a", 10).path;
    let entry = ward.line("a", 11).entry;
    ward.correct(&entry, Change::Date(date("2026-03-09")), "the tablet's clock was wrong", 11).unwrap();
    let line = ward.line("a", 12);
    assert_eq!((line.on, line.valid_until), (date("2026-03-09"), Some(date("2027-03-09"))));
    assert!(!line.disputed);
    assert_eq!(on_the_roster(&ward, 12), [PutRight::Corrected]);
    let checked = ward.check(&fs::read(&path).unwrap());
    assert_eq!(checked.reliable, Reliable::Yes);
    let put_right = "13 March 2026, Ines Odum: date put right from 12 March 2026, as it was sealed, to 9 March 2026; \
        holds through 9 March 2027. Reason: the tablet's clock was wrong.";
    assert!(checked.sentence.contains(put_right), "{}", checked.sentence);
    assert!(checked.about.unwrap().starts_with("Tomas Rehn, "));
    ward.correct(&entry, Change::Date(date("2026-03-05")), "by the duty roster", 12).unwrap();
    let line = ward.line("a", 13);
    assert!(line.disputed);
    assert_eq!(line.valid_until, Some(date("2027-03-05")), "the one that grants the least counts");
    let wrong = line.amendments.iter().find(|one| one.reason == "by the duty roster").unwrap();
    ward.correct(&wrong.entry, Change::Void, "that was another person", 13).unwrap();
    let line = ward.line("a", 14);
    assert!(!line.disputed);
    assert_eq!(line.valid_until, Some(date("2027-03-09")));
    assert_eq!(line.amendments.len(), 3, "nothing vanishes: {:?}", line.amendments);
    ward.correct(&entry, Change::Note("The gown was a new model.".to_owned()), "left out", 14).unwrap();
    assert_eq!(ward.line("a", 15).valid_until, Some(date("2027-03-09")), "a note changes nobody's standing");
    ward.is_whole();
}

#[test]
fn what_must_not_be_corrected_is_refused_and_nothing_is_written() {
    let ward = Ward::new();
    ward.competent("a", 1);
    let entry = ward.line("a", 2).entry;
    let refused = |change: Change, reason: &str| ward.correct(&entry, change, reason, 2).unwrap_err().text;
    assert!(refused(Change::Void, " ").starts_with("The reason is empty"));
    assert!(refused(Change::Date(date("2026-04-01")), "r").contains("lies ahead"));
    assert!(refused(Change::Note(String::new()), "r").starts_with("The note is empty"));
    let request = |author: &str, pin: &str| CorrectRecord {
        correction: "c".to_owned(),
        entry: entry.clone(),
        change: Change::Void,
        reason: "r".to_owned(),
        author: author.to_owned(),
        pin: pin.to_owned(),
    };
    assert!(ward.desk.correct_record(&request(&ward.observer, "000000"), &at(2)).is_err(), "wrong PIN");
    let own = ward.desk.correct_record(&request(&ward.colleague, PIN), &at(2)).unwrap_err();
    assert!(own.text.starts_with("Nobody puts their own record right"), "{}", own.text);
    let line = ward.line("a", 3);
    assert!(line.counts && line.amendments.is_empty(), "{line:?}");
}

#[test]
fn a_record_is_checked_with_one_sentence_and_its_reasons() {
    let ward = Ward::new();
    let pdf = fs::read(ward.competent("a", 1).path).unwrap();
    let sound = ward.check(&pdf);
    assert_eq!(sound.reliable, Reliable::Yes, "{}", sound.sentence);
    for words in ["names this very file", "recomputed", "is one that is known here", "not on the latest list"]
    {
        assert!(says(&sound, words, Came::Holds), "{words}: {sound:?}");
    }
    let mut changed = pdf.clone();
    let middle = changed.len() / 2;
    changed[middle] ^= 1;
    assert_eq!(ward.check(&changed).reliable, Reliable::No);

    let elsewhere = Ward::new();
    let strange = elsewhere.check(&pdf);
    assert_eq!(strange.reliable, Reliable::UnknownAuthority, "{}", strange.sentence);
    assert!(says(&strange, "not one that you trust", Came::Fails));
    let trust = ward.desk.authority_certificate().unwrap().der().to_vec();
    let trusted = elsewhere
        .desk
        .check_record(&CheckRecord { pdf: pdf.clone(), trust: Some(trust), revoked: None })
        .unwrap();
    assert_eq!(trusted.reliable, Reliable::Yes, "{}", trusted.sentence);
    let no_pdf =
        elsewhere.desk.check_record(&CheckRecord { pdf: b"hello".to_vec(), trust: None, revoked: None });
    assert!(no_pdf.unwrap_err().text.starts_with("That file is no PDF"));
}

#[test]
fn whoever_leaves_signs_no_more_and_what_they_signed_stays_good() {
    let ward = Ward::new();
    let pdf = fs::read(ward.competent("a", 1).path).unwrap();
    let carried = verify(&pdf, &[]).lists;
    assert_eq!(carried.len(), 1, "an empty list from the beginning");
    assert_eq!(ward.revoke(WhyRevoked::Left, 5).unwrap().certificates, 1);
    assert!(ward.revoke(WhyRevoked::Left, 5).is_err(), "once is enough");
    assert_eq!(ward.standing(FIRST, 6).state, State::Current);
    assert_eq!(ward.check(&pdf).reliable, Reliable::Yes, "it was signed before");
    let lines = ward.desk.list_observers(&ListObservers {}, &at(6)).unwrap().lines;
    assert!(
        matches!(&lines[0].signing, Signing::TakenAway(on, why) if *on == date("2026-03-07") && why == "works elsewhere")
    );
    let entry = ward.line("a", 6).entry;
    assert!(ward.correct(&entry, Change::Void, "r", 6).is_err(), "they sign nothing any more");
    let open = OpenProcedure { id: FIRST.to_owned(), version: None };
    let begin = BeginDemonstration {
        demonstration: "b".to_owned(),
        person: ward.colleague.clone(),
        observer: ward.observer.clone(),
        assistant: None,
        procedure: FIRST.to_owned(),
        version: ward.desk.open_procedure(&open, &at(6)).unwrap().procedure.version,
        purpose: Purpose::Practice,
        mode: Mode::Assessed,
        conditions: Vec::new(),
        paper_form: None,
        second_of: None,
    };
    assert!(ward.desk.begin_demonstration(&begin, &at(6)).is_err());
    // Somebody else is appointed; their records carry the list that names the one who left.
    let appoint = AppointObserver {
        person: ward.observer.clone(),
        evidence: "Refresher course".to_owned(),
        passphrase: PASSPHRASE.to_owned(),
        pin: PIN.to_owned(),
    };
    ward.desk.appoint_observer(&appoint, &at(7)).unwrap();
    let later = fs::read(ward.competent("c", 8).path).unwrap();
    let verdict = verify(&later, &[]);
    let first = verify(&pdf, &[]).signature.unwrap().signer;
    assert!(verdict.lists[0].revoked_at(&first).is_some());
    assert_eq!(ward.check(&later).reliable, Reliable::Yes);
    ward.is_whole();
}

#[test]
fn a_history_is_saved_as_a_table_and_as_one_signed_file_with_its_records() {
    let ward = Ward::new();
    ward.competent("a", 1);
    ward.competent("b", 3);
    let save = |form| {
        let request = SaveHistory { person: ward.colleague.clone(), as_of: None, known_at: None, form };
        fs::read(ward.desk.save_history(&request, &at(4)).unwrap().path).unwrap()
    };
    let table = String::from_utf8(save(HistoryForm::Csv)).unwrap();
    assert_eq!(table.lines().count(), 1 + 2 * AS_PRINTED.len(), "one line an observation: {table}");
    assert!(table.contains("appointed since 2026-03-02 on outside evidence: Course certificate"), "{table}");
    let entries = checking::check(ward.desk.reader(), &[], &[]).unwrap().entries;
    let bundle = save(HistoryForm::Pdf);
    assert_eq!(checking::check(ward.desk.reader(), &[], &[]).unwrap().entries, entries, "read only");
    let checked = ward.check(&bundle);
    assert_eq!(checked.reliable, Reliable::Yes, "{}", checked.sentence);
    assert_eq!(checked.reasons.iter().filter(|one| one.text.starts_with("the attached ")).count(), 2);
    assert_eq!(verify(&bundle, &[]).files.len(), 2);
    let line = ward.line("a", 4);
    assert!(line.observer_then.0, "{line:?}");
    assert_eq!(line.observations.len(), AS_PRINTED.len());
    assert!(line.observations[0].1.contains("loves"), "{:?}", line.observations);
}

#[test]
fn the_person_observed_signs_or_declines_without_breaking_the_first_signature() {
    let ward = Ward::new();
    for (id, declined, comment) in [("a", false, "I will practise the gown."), ("b", true, "")] {
        let first = fs::read(ward.competent(id, 1).path).unwrap();
        let request = Countersign { record: id.to_owned(), declined, comment: comment.to_owned() };
        let second = ward.desk.countersign(&request, &at(2)).unwrap();
        let both = fs::read(&second.path).unwrap();
        assert!(both.starts_with(&first));
        let checked = ward.check(&both);
        assert_eq!(checked.reliable, Reliable::Yes, "{}", checked.sentence);
        assert!(says(&checked, "the second signature holds: Tomas Rehn", Came::Holds), "{checked:?}");
        assert!(says(&checked, comment, Came::Holds));
        assert_eq!(ward.line(id, 3).second, Some((declined, date("2026-03-04"))));
        let shown = ward.desk.show_record(&ShowRecord { record: id.to_owned() }).unwrap();
        assert_eq!(shown.path, second.path, "the file with both is the one to show");
        assert!(ward.desk.countersign(&request, &at(4)).is_err(), "once");
    }
    ward.is_whole();
    let backup = ward.desk.back_up(&BackUp {}, &at(5)).unwrap();
    assert_eq!(backup.records, 4, "both files of both records");
}

#[test]
fn the_authority_gets_another_key_and_observers_keep_theirs() {
    let ward = Ward::new();
    let before = fs::read(ward.competent("a", 1).path).unwrap();
    let old = ward.desk.authority_certificate().unwrap();
    let authority = ward.desk.authority(PASSPHRASE).unwrap();
    ward.desk.keep_recovery(&authority, "ABCDEFGHJKLMNPQRSTUV").unwrap();
    let roll = |secret: &str, new: &str| {
        let request = RollAuthorityOver {
            passphrase: secret.to_owned(),
            new_passphrase: new.to_owned(),
            reason: "the passphrase was lost".to_owned(),
        };
        ward.desk.roll_authority_over(&request, &at(2))
    };
    assert!(roll("not the passphrase", "another long passphrase").is_err());
    assert!(roll(PASSPHRASE, "short").is_err());
    assert_eq!(ward.desk.authority_certificate().unwrap(), old, "after a refusal nothing is other");
    let saved = roll("abcde-fghjk-lmnpq-rstuv", "another long passphrase").unwrap();
    let new = ward.desk.authority_certificate().unwrap();
    assert_eq!(saved.fingerprint, new.fingerprint());
    assert!(new != old && Certificate::read(&fs::read(saved.path).unwrap()).unwrap() == new);
    assert!(ward.desk.authority(PASSPHRASE).is_err(), "the old passphrase opens nothing");
    assert!(ward.desk.authority("ABCDEFGHJKLMNPQRSTUV").is_err(), "nor does the old sheet");
    assert!(ward.desk.authority("another long passphrase").is_ok());
    let after = fs::read(ward.competent("b", 3).path).unwrap();
    assert_eq!(verify(&after, &[new]).standing(), sealing::Standing::Sound, "signed with the PIN they had");
    for pdf in [before, after] {
        assert_eq!(ward.check(&pdf).reliable, Reliable::Yes);
    }
    ward.is_whole();
}

#[test]
fn a_backup_is_restored_through_the_window_and_a_damaged_one_is_refused() {
    let ward = Ward::new();
    ward.competent("a", 1);
    let made = ward.desk.back_up(&BackUp {}, &at(2)).unwrap();
    let backup = fs::read(&made.path).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let opened = Opened::at(Folder::at(folder.path()));
    let bring = |bytes: &[u8]| {
        let half = bytes.len() / 2;
        for (at, part) in [(0, &bytes[..half]), (half, &bytes[half..])] {
            let part = BringBackup { backup: "ab12".to_owned(), at: at as u64, part: part.to_vec() };
            opened.desk().unwrap().bring_backup(&part).unwrap();
        }
        opened.restore(&RestoreBackup {
            backup: "ab12".to_owned(),
            name: "monday.zip".to_owned(),
            answer: false,
        })
    };
    let mut damaged = backup.clone();
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    let refused = bring(&damaged).unwrap_err();
    assert!(refused.text.contains("nothing was restored"), "{}", refused.text);
    assert!(opened.desk().unwrap().reader().facts(None).unwrap().facility.is_none(), "as it was before");
    let refused = bring(b"no backup at all").unwrap_err().text;
    assert!(refused.contains("monday.zip is not a backup"), "by the name it was chosen by: {refused}");
    let restored = bring(&backup).unwrap();
    assert_eq!(restored.records, 1);
    let desk = opened.desk().unwrap();
    assert_eq!(
        desk.reader().last_written().unwrap(),
        None,
        "a chain of its own, whatever clock was wrong before"
    );
    let open = OpenHistory { person: "1002".to_owned(), as_of: None, known_at: None };
    assert_eq!(desk.open_history(&open, &at(3)).unwrap().demonstrations.len(), 1);
    let lines = desk.list_observers(&ListObservers {}, &at(3)).unwrap().lines;
    assert!(matches!(lines[0].signing, Signing::Elsewhere(_)), "keys open only where they were made");
    let appoint = AppointObserver {
        person: lines[0].person.id.clone(),
        evidence: "as before".to_owned(),
        passphrase: PASSPHRASE.to_owned(),
        pin: PIN.to_owned(),
    };
    desk.appoint_observer(&appoint, &at(3)).unwrap();
    assert!(checking::check(desk.reader(), &[], &[]).unwrap().flaws.is_empty(), "two streams, one ledger");
    let again = BringBackup { backup: "cd34".to_owned(), at: 0, part: backup };
    assert!(desk.bring_backup(&again).is_err(), "a backup takes the place of nothing");
}

#[test]
fn a_device_joins_by_a_request_that_the_authority_answers() {
    let ward = Ward::new();
    let folder = tempfile::tempdir().unwrap();
    let opened = Opened::at(Folder::at(folder.path()));
    let asked = opened.desk().unwrap().make_join_request(&MakeJoinRequest {}).unwrap();
    let answer = |request: &str, passphrase: &str| {
        let request = AnswerJoinRequest { request: request.to_owned(), passphrase: passphrase.to_owned() };
        ward.desk.answer_join_request(&request, &at(1))
    };
    let text = fs::read_to_string(&asked.path).unwrap();
    let read = |request: &str| ward.desk.read_join_request(&ReadJoinRequest { request: request.to_owned() });
    assert_eq!(read(&text).unwrap().fingerprint, asked.fingerprint, "both screens show the same");
    assert_eq!(asked.fingerprint.len(), 20);
    assert!(read("{}").is_err());
    assert!(answer(&text, "not the passphrase").is_err());
    assert!(answer("{}", PASSPHRASE).unwrap_err().text.starts_with("That file is no request"));
    let restore = |path: &str| {
        let part = BringBackup { backup: "ef".to_owned(), at: 0, part: fs::read(path).unwrap() };
        opened.desk().unwrap().bring_backup(&part).unwrap();
        opened.restore(&RestoreBackup {
            backup: "ef".to_owned(),
            name: "answer.zip".to_owned(),
            answer: true,
        })
    };
    let backup = ward.desk.back_up(&BackUp {}, &at(1)).unwrap();
    let refused = restore(&backup.path).unwrap_err().text;
    assert!(refused.starts_with("answer.zip answers no request of this device"), "{refused}");
    assert!(opened.desk().unwrap().reader().facts(None).unwrap().facility.is_none(), "as it was before");
    let restored = restore(&answer(&text, PASSPHRASE).unwrap().path).unwrap();
    assert!(restored.answered, "it was this device's request");
    assert_eq!(restored.facility, "Harbour Hospital");
    assert_eq!(restored.authority, ward.desk.authority_certificate().unwrap().fingerprint());
    let desk = opened.desk().unwrap();
    assert!(desk.device_signer().is_ok(), "the new device may seal what it draws");
    assert!(ward.desk.make_join_request(&MakeJoinRequest {}).is_err(), "who belongs to one joins no other");
}

#[test]
fn a_name_that_would_not_print_is_refused_where_it_is_typed() {
    let ward = Ward::new();
    let add = |name: &str| {
        let person = AddPerson {
            name: name.to_owned(),
            number: name.to_owned(),
            unit: "Isolation ward".to_owned(),
            role: "Nurse".to_owned(),
        };
        ward.desk.add_person(&person, &at(1))
    };
    for (name, character) in
        [("김민준", "“김” (U+AE40)"), ("Ada 😀", "(U+1F600)"), ("Ada\u{202e}", "(U+202E)")]
    {
        let refused = add(name).unwrap_err().text;
        assert!(refused.contains(character) && refused.contains("cannot be printed"), "{refused}");
    }
    for name in ["Nguyễn Thị Ánh", "李小龙", "عليّ", "Όλγα", "Дмитрий"] {
        assert!(add(name).is_ok(), "{name}");
    }
}
