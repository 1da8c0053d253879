//! A backup is one file, whole while others write, and restored only where it is whole.

#[cfg(test)]
mod kit;

use std::{
    fs::{self, File},
    io::{Read, Write},
    path::{Path, PathBuf},
};

use competency::report::Outcome;
use evidence::UnitAdded;
use kit::{Hospital, at, begin, verify};
use ledger::{BackupContents, BackupError, Known, Ledger, LedgerError, Reader, Restored};
use tempfile::TempDir;
use uuid::Uuid;
use zip::{CompressionMethod, ZipArchive, ZipWriter, write::SimpleFileOptions};

/// Two sealed demonstrations and one under way.
#[cfg(test)]
fn hospital() -> Hospital {
    let mut hospital = Hospital::furnished();
    hospital.seal("d", Outcome::Competent);
    hospital.seal("e", Outcome::NotYetCompetent);
    hospital.ledger.begin(&begin("f"), &at(10_000)).unwrap();
    hospital.tap("f", "a", &at(11_000)).unwrap();
    hospital.ledger.put_key("authority", b"sealed").unwrap();
    hospital
}

#[cfg(test)]
fn back_up(hospital: &Hospital, into: &Path) -> Result<BackupContents, BackupError> {
    hospital.ledger.reader().back_up(into, &at(20_000), "test 0", Uuid::from_u128(0xBAC))
}

#[cfg(test)]
fn restore(backup: &Path, folder: &Path) -> Result<Restored, BackupError> {
    let mut next = 0xF00;
    let mut ids = || {
        next += 1;
        Uuid::from_u128(next)
    };
    let mut check = |reader: &Reader, known: &[Known]| reader.check(known, &mut verify);
    ledger::restore(backup, folder, &mut ids, &mut check)
}

#[cfg(test)]
fn made() -> (Hospital, TempDir, PathBuf) {
    let (hospital, place) = (hospital(), tempfile::tempdir().unwrap());
    let backup = place.path().join("backup.zip");
    back_up(&hospital, &backup).unwrap();
    (hospital, place, backup)
}

#[cfg(test)]
fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|file| file.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn what_was_backed_up_is_restored_with_a_stream_of_its_own() {
    let (hospital, place, backup) = made();
    assert_eq!(names(place.path()), ["backup.zip"], "one file, and nothing left over");
    let folder = place.path().join("restored");
    let restored = restore(&backup, &folder).unwrap();
    assert_eq!((restored.checked.entries, restored.checked.records), (7, 2));
    assert_eq!(names(place.path()), ["backup.zip", "restored"]);
    let old = hospital.ledger.reader();
    let ledger = Ledger::open(&folder, &mut Uuid::nil).unwrap();
    let new = ledger.reader();
    assert_eq!(new.facts(None).unwrap(), old.facts(None).unwrap());
    assert_eq!(new.records().unwrap(), old.records().unwrap());
    assert_eq!(new.lines("f").unwrap(), old.lines("f").unwrap(), "what was under way too");
    assert_eq!(new.key("authority").unwrap(), old.key("authority").unwrap());
    assert_eq!(new.search_names("müller").unwrap(), old.search_names("müller").unwrap());
    assert_eq!(new.installation().unwrap().facility, old.installation().unwrap().facility);
    let (before, after) = (old.next_place().unwrap(), new.next_place().unwrap());
    assert_ne!(before.stream, after.stream, "the chain is never forked");
    assert_eq!((after.stream, after.seq, after.prev), (restored.stream, 0, None));
}

#[test]
fn the_restored_ledger_goes_on_and_stays_whole() {
    let (_hospital, place, backup) = made();
    let folder = place.path().join("restored");
    restore(&backup, &folder).unwrap();
    let data = tempfile::tempdir().unwrap();
    fs::remove_dir(data.path()).unwrap();
    fs::rename(&folder, data.path()).unwrap();
    let mut again = Hospital::on(data);
    again.write(at(30_000), UnitAdded { unit: "u-east".to_owned(), name: "East".to_owned() }).unwrap();
    let checked = again.ledger.reader().check(&[], &mut verify).unwrap();
    assert_eq!((checked.entries, checked.streams, checked.flaws.len()), (8, 2, 0));
}

#[test]
fn a_backup_is_one_moment_while_others_write() {
    let mut hospital = hospital();
    let place = tempfile::tempdir().unwrap();
    std::thread::scope(|scope| {
        let reader = Reader::open(hospital.folder.path()).unwrap();
        let folder = place.path();
        let backups = scope.spawn(move || {
            for n in 0..5 {
                let into = folder.join(format!("{n}.zip"));
                reader.back_up(&into, &at(20_000), "test 0", Uuid::from_u128(n)).unwrap();
            }
        });
        let mut n = 0;
        while !backups.is_finished() || n < 5 {
            hospital.seal(&format!("during {n}"), Outcome::Competent);
            n += 1;
        }
    });
    for n in 0..5 {
        let restored = restore(&place.path().join(format!("{n}.zip")), &place.path().join(n.to_string()));
        assert!(restored.is_ok(), "{restored:?}");
    }
}

#[test]
fn a_backup_takes_the_place_of_nothing() {
    let (hospital, place, backup) = made();
    let before = fs::read(&backup).unwrap();
    assert!(matches!(back_up(&hospital, &backup), Err(BackupError::AlreadyThere(_))));
    assert_eq!(fs::read(&backup).unwrap(), before);
    let folder = place.path().join("used");
    fs::create_dir(&folder).unwrap();
    fs::write(folder.join("notes.txt"), "mine").unwrap();
    assert!(matches!(restore(&backup, &folder), Err(BackupError::NotEmpty(_))));
    assert!(matches!(restore(&backup, hospital.folder.path()), Err(BackupError::NotEmpty(_))));
    assert_eq!(names(&folder), ["notes.txt"]);
    let empty = place.path().join("empty");
    fs::create_dir(&empty).unwrap();
    restore(&backup, &empty).unwrap();
}

#[test]
fn what_could_not_be_restored_is_not_backed_up() {
    let (hospital, place) = (hospital(), tempfile::tempdir().unwrap());
    fs::write(hospital.ledger.reader().records_folder().join("d.pdf"), "changed").unwrap();
    let refused = back_up(&hospital, &place.path().join("backup.zip")).unwrap_err();
    assert!(refused.to_string().starts_with("the filed record d.pdf is missing or was changed"), "{refused}");
    assert_eq!(names(place.path()), Vec::<String>::new(), "nothing half done");
}

/// Restores a damaged copy; says why it is refused, and that nothing is left of it.
#[cfg(test)]
fn refused(place: &Path, bytes: &[u8]) -> String {
    let (damaged, folder) = (place.join("damaged.zip"), place.join("refused"));
    fs::write(&damaged, bytes).unwrap();
    let error = restore(&damaged, &folder).expect_err("must be refused");
    let left: Vec<String> = names(place).into_iter().filter(|name| !name.contains(".zip")).collect();
    assert_eq!(left, Vec::<String>::new(), "{error}");
    error.to_string()
}

#[test]
fn every_damaged_part_is_refused() {
    let (_hospital, place, backup) = made();
    let whole = fs::read(&backup).unwrap();
    // Sampled evenly, and closer in the archive's own list at the end. Times and flags in that list say
    // nothing: such a change may restore, and then everything is whole.
    let step = whole.len() / 60;
    let mut harmless = 0;
    for at in (0..whole.len()).step_by(step).chain((whole.len() - 300..whole.len()).step_by(5)) {
        let mut changed = whole.clone();
        changed[at] ^= 0x10;
        let (damaged, folder) = (place.path().join("damaged.zip"), place.path().join("byte"));
        fs::write(&damaged, changed).unwrap();
        match restore(&damaged, &folder) {
            Ok(restored) => {
                assert!(restored.checked.flaws.is_empty() && at > whole.len() - 600, "byte {at}");
                assert_eq!((restored.checked.entries, restored.checked.records), (7, 2), "byte {at}");
                fs::remove_dir_all(folder).unwrap();
                harmless += 1;
            }
            Err(error) => assert!(!error.to_string().is_empty() && !folder.exists(), "byte {at}"),
        }
    }
    assert!(harmless < 30, "{harmless} of 120 changes");
    for length in [0, 1, 100, whole.len() / 2, whole.len() - 1] {
        let said = refused(place.path(), &whole[..length]);
        assert!(said.contains("is not a backup of this program, or it is damaged"), "{length}: {said}");
    }
}

/// Gives the bytes that stand in the place of a file's; `None` leaves it out.
type Change<'a> = &'a dyn Fn(&str, Vec<u8>) -> Option<Vec<u8>>;

/// The backup with its files changed by name.
#[cfg(test)]
fn repacked(backup: &Path, change: Change<'_>) -> Vec<u8> {
    let mut zip = ZipArchive::new(File::open(backup).unwrap()).unwrap();
    let mut packed = ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for index in 0..zip.len() {
        let mut file = zip.by_index(index).unwrap();
        let (name, mut bytes) = (file.name().unwrap().into_owned(), Vec::new());
        file.read_to_end(&mut bytes).unwrap();
        if let Some(bytes) = change(&name, bytes) {
            let options = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
            packed.start_file(name, options).unwrap();
            packed.write_all(&bytes).unwrap();
        }
    }
    packed.finish().unwrap().into_inner()
}

#[test]
fn what_was_packed_anew_is_refused_with_the_reason() {
    let (_hospital, place, backup) = made();
    let said = |change: Change<'_>| refused(place.path(), &repacked(&backup, change));
    let changed = said(&|name, bytes| Some(if name == "records/d.pdf" { b"other".to_vec() } else { bytes }));
    assert_eq!(changed, "the backup is damaged: records/d.pdf in it was changed");
    let gone = said(&|name, bytes| (name != "records/e.pdf").then_some(bytes));
    assert_eq!(gone, "the backup is damaged: records/e.pdf in it is missing");
    let bare = said(&|name, bytes| (name != "backup.json").then_some(bytes));
    assert!(bare.contains("is not a backup of this program"), "{bare}");
    let text = |from: &'static str, to: &'static str| {
        move |name: &str, bytes: Vec<u8>| {
            let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap().replace(from, to).into_bytes();
            Some(if name == "backup.json" { text(bytes) } else { bytes })
        }
    };
    let newer = said(&text("\"format\": 1", "\"format\": 2"));
    assert_eq!(newer, "the backup was made by a newer version of this program (format 2)");
    let stray = said(&text("records/d.pdf", "records/x.pdf"));
    assert_eq!(stray, "the backup is damaged: records/d.pdf in it does not belong there");
    let (from, to) = ("\"seq\": 6", "\"seq\": 7");
    assert!(
        said(&text(from, to)).contains("lacks entry 7, which is known from what the backup says of itself")
    );
}

#[test]
fn a_name_that_leads_elsewhere_is_refused() {
    let (_hospital, place, backup) = made();
    for name in ["records/../../evil", "/evil", "records/", "evil", "records\\evil", "records/a:b"] {
        let text = |bytes: Vec<u8>| {
            let text = String::from_utf8(bytes).unwrap();
            text.replace("records/d.pdf", &name.replace('\\', "\\\\")).into_bytes()
        };
        let bytes = repacked(&backup, &|file, bytes| match file {
            "backup.json" => Some(text(bytes)),
            "records/d.pdf" => None,
            _ => Some(bytes),
        });
        assert!(refused(place.path(), &bytes).ends_with("has a name that no file of ours has"), "{name}");
    }
}

#[test]
fn a_ledger_that_was_meddled_with_does_not_pass() {
    let (hospital, place) = (hospital(), tempfile::tempdir().unwrap());
    hospital.meddle("UPDATE name SET name = 'Eve' WHERE person = 'p-wearer'");
    let backup = place.path().join("backup.zip");
    back_up(&hospital, &backup).unwrap();
    let said = refused(place.path(), &fs::read(&backup).unwrap());
    assert!(
        said.starts_with("the ledger in the backup does not pass the check: the name kept for"),
        "{said}"
    );
}

#[test]
fn an_empty_facility_is_backed_up_too() {
    let (hospital, place) = (Hospital::empty(), tempfile::tempdir().unwrap());
    let backup = place.path().join("backup.zip");
    let contents = back_up(&hospital, &backup).unwrap();
    assert_eq!((contents.facility, contents.files.len()), (None, 1));
    restore(&backup, &place.path().join("restored")).unwrap();
}

#[test]
fn a_backup_that_is_not_there_is_said() {
    let place = tempfile::tempdir().unwrap();
    let missing = restore(&place.path().join("none.zip"), &place.path().join("restored"));
    assert!(matches!(missing, Err(BackupError::Ledger(LedgerError::Files { .. }))));
}
