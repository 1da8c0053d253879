//! Records that are genuine and still not to be relied on, since the ledger knows better; and ledgers that a record
//! from elsewhere knows better.

use std::path::Path;

use contract::{CheckRecord, CheckedRecord, Reliable, RevokeSigning, RollAuthorityOver, WhyRevoked};
use evidence::{ActingAs, ObserverAppointed};
use ledger::Deed;

use super::*;
use crate::{
    checking::{self, Outside},
    desk::author,
};

impl Ward {
    fn told(&self, pdf: &[u8]) -> CheckedRecord {
        let request = CheckRecord { pdf: pdf.to_vec(), trust: None, revoked: None };
        self.desk.check_record(&request).unwrap()
    }

    /// The same device in other hands, or a backup of yesterday: a copy of the whole folder.
    fn copied(&self) -> Ward {
        let folder = tempfile::tempdir().unwrap();
        copy(self.folder.path(), folder.path());
        let desk = Desk::open(Folder::at(folder.path())).unwrap();
        Ward { desk, observer: self.observer.clone(), colleague: self.colleague.clone(), folder }
    }

    fn sealed(&self, id: &str, day: i64) -> Vec<u8> {
        self.carry_out(id, FIRST, None, &AS_PRINTED, day);
        fs::read(self.seal(id, day).path).unwrap()
    }

    fn flaws(&self, outside: &[Outside]) -> Vec<String> {
        let checked = checking::check(self.desk.reader(), &[], outside).unwrap();
        checked.flaws.iter().map(ToString::to_string).collect()
    }
}

fn copy(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let (source, target) = (entry.path(), to.join(entry.file_name()));
        if source.is_dir() {
            fs::create_dir(&target).unwrap();
            copy(&source, &target);
        } else if entry.file_name() != "lock" {
            fs::copy(&source, &target).unwrap();
        }
    }
}

#[test]
fn a_record_made_on_a_copy_of_the_device_is_not_believed() {
    let ward = Ward::new();
    ward.sealed("a", 1);
    let pdf = ward.copied().sealed("b", 2);
    let beyond = ward.told(&pdf);
    assert_eq!(beyond.reliable, Reliable::No, "{}", beyond.sentence);
    assert!(beyond.sentence.contains("the ledger here ends before that"), "{}", beyond.sentence);
    ward.sealed("c", 3);
    let taken = ward.told(&pdf);
    assert_eq!(taken.reliable, Reliable::No, "{}", taken.sentence);
    assert!(taken.sentence.contains("another entry at its place"), "{}", taken.sentence);
}

#[test]
fn what_a_stolen_tablet_signs_does_not_count_whatever_moment_it_claims() {
    let ward = Ward::new();
    ward.sealed("a", 1);
    let stolen = ward.copied();
    let revoke = RevokeSigning {
        people: vec![ward.observer.clone()],
        devices: Vec::new(),
        why: WhyRevoked::KeyInOtherHands,
        reason: "lost on the way home".to_owned(),
        passphrase: PASSPHRASE.to_owned(),
    };
    ward.desk.revoke_signing(&revoke, &at(9)).unwrap();
    // It claims to be of the day before the tablet was lost.
    let told = ward.told(&stolen.sealed("b", 2));
    assert_eq!(told.reliable, Reliable::No, "{}", told.sentence);
    assert!(told.sentence.contains("right to sign was taken away on 11 March 2026"), "{}", told.sentence);
}

#[test]
fn an_authority_that_was_replaced_vouches_only_for_what_the_ledger_has() {
    let ward = Ward::new();
    let before = ward.sealed("a", 1);
    let copy = ward.copied();
    let roll = RollAuthorityOver {
        passphrase: PASSPHRASE.to_owned(),
        new_passphrase: "eight white herons over the quay".to_owned(),
        reason: "the passphrase is known".to_owned(),
    };
    ward.desk.roll_authority_over(&roll, &at(2)).unwrap();
    assert_eq!(ward.told(&before).reliable, Reliable::Yes);
    let told = ward.told(&copy.sealed("b", 3));
    assert_ne!(told.reliable, Reliable::Yes, "{}", told.sentence);
    let replaced = "its authority was replaced by another since";
    assert!(told.reasons.iter().any(|reason| reason.text.contains(replaced)), "{told:?}");
}

#[test]
fn a_ledger_that_lost_its_last_entries_is_found_by_a_record_that_was_kept() {
    let ward = Ward::new();
    ward.sealed("a", 1);
    let cut_off = ward.copied();
    let kept = ward.sealed("b", 2);
    assert_eq!(cut_off.flaws(&[]), Vec::<String>::new(), "the file alone cannot tell");
    let outside = Outside::read(&kept, "the file kept.pdf");
    let [flaw] = cut_off.flaws(&outside).try_into().unwrap();
    assert!(flaw.contains("which is known from the file kept.pdf"), "{flaw}");
    assert_eq!(ward.flaws(&outside), Vec::<String>::new());
    // It lies in the folder of the records still.
    fs::write(cut_off.folder.path().join("records/kept.pdf"), &kept).unwrap();
    let aside = cut_off.folder.path().join("set-aside");
    let stray = checking::stray(cut_off.desk.reader(), &aside).unwrap();
    assert_eq!(cut_off.flaws(&stray).len(), 1);
    let again = cut_off.copied();
    let told = again.desk.open_home(&contract::OpenHome {}, &at(3)).unwrap().set_aside;
    assert!(
        matches!(told.as_slice(), [one] if one.what == contract::WhatWasSetAside::NotInLedger),
        "{told:?}"
    );
}

#[test]
fn what_only_the_authority_may_say_is_not_whole_without_its_signature() {
    let ward = Ward::new();
    let appointed = ObserverAppointed {
        person: ward.colleague.clone(),
        procedures: None,
        evidence: "my own word".to_owned(),
        from: date("2026-03-02"),
        until: None,
    };
    assert_eq!(ward.flaws(&[]), Vec::<String>::new());
    ward.desk.write(&[Deed::new(author(ActingAs::Authority), appointed)], &at(1)).unwrap();
    let [flaw] = ward.flaws(&[]).try_into().unwrap();
    assert!(flaw.ends_with("the facility’s authority did not sign it"), "{flaw}");
}
