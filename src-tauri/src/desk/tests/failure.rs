//! What goes wrong while a record is sealed: a clear sentence, nothing half done, and the next try works.

use std::{os::unix::fs::symlink, path::Path};

use contract::{OpenHome, WhatWasSetAside};

use super::*;
use crate::checking;

fn copied(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let place = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copied(&entry.path(), &place);
        } else {
            fs::copy(entry.path(), place).unwrap();
        }
    }
}

fn request() -> SealDemonstration {
    SealDemonstration { demonstration: "a".to_owned(), pin: PIN.to_owned(), remark: String::new() }
}

impl Ward {
    /// What sealing would file: the same facts on a copy of the folder give the same file.
    fn foreseen(&self, day: i64) -> (String, Vec<u8>) {
        let copy = tempfile::tempdir().unwrap();
        copied(self.folder.path(), copy.path());
        let desk = Desk::open(Folder::at(copy.path())).unwrap();
        let path = desk.seal_demonstration(&request(), &noon(day)).unwrap().path;
        let name = Path::new(&path).file_name().unwrap().to_str().unwrap().to_owned();
        let bytes = fs::read(&path).unwrap();
        (name, bytes)
    }

    fn filed(&self) -> Vec<String> {
        let files = fs::read_dir(self.folder.path().join("records")).unwrap();
        files.map(|file| file.unwrap().file_name().into_string().unwrap()).collect()
    }

    fn nothing_is_sealed(&self) {
        assert_eq!(self.desk.reader().records().unwrap(), Vec::new());
        assert_eq!(self.desk.reader().unfinished().unwrap().len(), 1, "it waits to be signed");
        assert!(checking::check(self.desk.reader(), &[], &[]).unwrap().flaws.is_empty());
    }
}

/// Whatever is written into `/dev/full` finds no room (full(4)).
#[test]
fn a_full_device_while_sealing_seals_nothing_and_the_next_try_works() {
    let ward = Ward::new();
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    let (name, bytes) = ward.foreseen(1);
    let part = ward.folder.path().join("records").join(format!(".{name}.part"));
    symlink("/dev/full", &part).unwrap();
    let full = ward.desk.seal_demonstration(&request(), &noon(1)).unwrap_err();
    assert_eq!(full.next, contract::Next::MakeRoom);
    assert!(full.text.starts_with("There was no room to file the record"), "{}", full.text);
    ward.nothing_is_sealed();
    fs::remove_file(&part).unwrap();
    let sealed = ward.desk.seal_demonstration(&request(), &noon(1)).unwrap();
    assert_eq!(fs::read(sealed.path).unwrap(), bytes, "the very record that it would have been");
}

#[test]
fn a_crash_between_signing_and_entry_leaves_a_file_that_is_set_aside() {
    let ward = Ward::new();
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    let (name, bytes) = ward.foreseen(1);
    let records = ward.folder.path().join("records");
    fs::write(records.join(&name), &bytes).unwrap();
    fs::write(records.join(format!(".{name}.part")), &bytes[..bytes.len() / 2]).unwrap();
    let Ward { desk, observer, colleague, folder } = ward;
    drop(desk);
    let desk = Desk::open(Folder::at(folder.path())).unwrap();
    let ward = Ward { desk, observer, colleague, folder };
    assert_eq!(ward.filed(), Vec::<String>::new());
    let aside = ward.folder.path().join("set-aside").join(&name);
    assert_eq!(fs::read(&aside).unwrap(), bytes, "nothing is deleted");
    ward.nothing_is_sealed();
    // Today says what was put aside, and what it was of.
    let told = || ward.desk.open_home(&OpenHome {}, &at(1)).unwrap().set_aside;
    let [part, whole] = told().try_into().unwrap();
    assert_eq!(part.what, WhatWasSetAside::NoRecord, "the beginning of a file");
    assert_eq!(whole.path, aside.display().to_string());
    assert!(
        matches!(&whole.what, WhatWasSetAside::Record { demonstration, .. } if demonstration == "a"),
        "{whole:?}"
    );
    ward.desk.seal_demonstration(&request(), &noon(1)).unwrap();
    assert_eq!(ward.filed(), [name]);
    let still: Vec<_> = told().into_iter().map(|one| one.what).collect();
    assert_eq!(still, [WhatWasSetAside::NoRecord], "what was signed again asks for nothing");
    assert!(checking::check(ward.desk.reader(), &[], &[]).unwrap().flaws.is_empty());
}

/// Somebody kept a folder there, a link to nowhere, and a file that nothing may read: reading it ends with an error
/// (`/proc/self/mem` at its beginning, proc(5)).
#[test]
fn what_lies_aside_and_cannot_be_read_keeps_nobody_from_their_work() {
    let ward = Ward::new();
    let aside = ward.folder.path().join("set-aside");
    fs::create_dir_all(aside.join("a-folder")).unwrap();
    symlink("nowhere", aside.join("a-link.pdf")).unwrap();
    symlink("/proc/self/mem", aside.join("unreadable.pdf")).unwrap();
    assert!(fs::read(aside.join("unreadable.pdf")).is_err());
    let Ward { desk, observer, colleague, folder } = ward;
    drop(desk);
    let desk = Desk::open(Folder::at(folder.path())).unwrap();
    let ward = Ward { desk, observer, colleague, folder };
    let told = ward.desk.open_home(&OpenHome {}, &at(1)).unwrap().set_aside;
    assert_eq!(told, [], "it was put there earlier, and is no record");
}

#[test]
fn a_clock_that_was_set_back_seals_nothing_and_says_what_to_check() {
    let ward = Ward::new();
    ward.carry_out("a", FIRST, None, &AS_PRINTED, 1);
    for (day, said) in [
        (0, "The clock shows a time before the demonstration ended; set it right"),
        (
            -40,
            "The clock of this device shows 21 January 2026, but its last entry is of 2 March 2026; set the clock right",
        ),
    ] {
        let early = ward.desk.seal_demonstration(&request(), &at(day)).unwrap_err();
        assert!(early.text.starts_with(said), "{}", early.text);
    }
    let begin = ward.desk.begin_demonstration(&ward.beginning("b", FIRST, None, 1), &at(-40));
    let told = begin.unwrap_err().text;
    assert!(told.starts_with("The clock of this device shows 21 January 2026"), "{told}");
    assert!(told.ends_with("which begins a chain of its own."), "there is a way on: {told}");
    assert_eq!(ward.filed(), Vec::<String>::new());
    ward.nothing_is_sealed();
    ward.desk.seal_demonstration(&request(), &noon(1)).unwrap();
}
