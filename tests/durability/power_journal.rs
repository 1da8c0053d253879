//! A power cut, and a disk that is full, as far as a process can be shown them.
//!
//! The journalling process runs under `strace(1)`. For a power cut every write is taken down together with every
//! sync; then the disk is put together as it may stand after a cut at each acknowledgement: everything that was
//! synced by then, and of what was not synced nothing, all, or every other write. What was acknowledged must be
//! there in each. What this does not show: a disk that lies about a sync, and writes torn within a page.
//! For a full disk the system refuses every write from some moment on.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use ledger::Reader;

#[cfg(test)]
const TAPS: usize = 25;

/// Runs the process for some taps under strace; gives what it printed, and the trace.
#[cfg(test)]
fn traced(folder: &Path, trace: &Path, inject: Option<&str>) -> (Vec<String>, String) {
    let mut strace = Command::new("strace");
    strace.args(["-f", "-y", "-xx", "-s", "1000000", "-o"]).arg(trace);
    strace.arg("-e").arg("trace=pwrite64,write,fsync,fdatasync,ftruncate");
    if let Some(inject) = inject {
        strace.arg("-e").arg(inject);
    }
    let told = strace
        .arg(env!("CARGO_BIN_EXE_windowless"))
        .arg(folder)
        .arg(TAPS.to_string())
        .output()
        .unwrap_or_else(|error| panic!("strace does not start ({error}): cargo xtask setup"));
    let printed = String::from_utf8_lossy(&told.stdout).lines().map(str::to_owned).collect();
    (printed, fs::read_to_string(trace).expect("the trace is text"))
}

/// What one line of the trace did.
#[cfg(test)]
#[derive(Debug)]
enum Did {
    Wrote { file: PathBuf, at: u64, bytes: Vec<u8> },
    Cut { file: PathBuf, to: u64 },
    Synced { file: PathBuf },
    Acknowledged,
}

/// Reads `pid pwrite64(5</path>, "\x..", 4096, 0) = 4096` and its kin; what failed or went elsewhere did nothing.
#[cfg(test)]
fn did(line: &str, below: &Path) -> Option<Did> {
    let (_pid, call) = line.split_once(' ')?;
    let (name, rest) = call.trim_start().split_once('(')?;
    let (arguments, result) = rest.rsplit_once(") = ")?;
    if result.starts_with('-') {
        return None;
    }
    let (fd, arguments) = arguments.split_once('<')?;
    let (file, arguments) = arguments.split_once('>')?;
    if name == "write" && fd == "1" {
        return Some(Did::Acknowledged);
    }
    let file = PathBuf::from(unescaped_text(file));
    if !file.starts_with(below) {
        return None;
    }
    match name {
        "fsync" | "fdatasync" => Some(Did::Synced { file }),
        "ftruncate" => Some(Did::Cut { file, to: arguments.trim_start_matches(", ").parse().ok()? }),
        "pwrite64" => {
            let (data, place) = arguments.strip_prefix(", \"")?.rsplit_once("\", ")?;
            let (_length, at) = place.split_once(", ")?;
            Some(Did::Wrote { file, at: at.parse().ok()?, bytes: unescaped(data) })
        }
        "write" => panic!("a file of the ledger is written without a place: {line}"),
        _ => None,
    }
}

#[cfg(test)]
fn unescaped(data: &str) -> Vec<u8> {
    let bytes = data.split("\\x").skip(1);
    bytes.map(|byte| u8::from_str_radix(byte, 16).expect("strace -xx writes bytes as \\x..")).collect()
}

/// With `-xx` paths are escaped too.
#[cfg(test)]
fn unescaped_text(path: &str) -> String {
    if path.starts_with("\\x") {
        String::from_utf8(unescaped(path)).expect("a path of text")
    } else {
        path.to_owned()
    }
}

/// The disk: what is certain, and the writes since the last sync of each file.
#[cfg(test)]
#[derive(Default)]
struct Disk {
    certain: BTreeMap<PathBuf, Vec<u8>>,
    unsynced: BTreeMap<PathBuf, Vec<Did>>,
}

#[cfg(test)]
impl Disk {
    fn of(folder: &Path) -> Disk {
        let mut disk = Disk::default();
        for entry in fs::read_dir(folder).expect("the folder").filter_map(Result::ok) {
            if entry.path().is_file() {
                disk.certain.insert(entry.path(), fs::read(entry.path()).expect("a file of the ledger"));
            }
        }
        disk
    }

    fn takes(&mut self, did: Did) {
        match &did {
            Did::Wrote { file, .. } | Did::Cut { file, .. } => {
                self.unsynced.entry(file.clone()).or_default().push(did);
            }
            Did::Synced { file } => {
                for done in self.unsynced.remove(file).unwrap_or_default() {
                    carry_out(self.certain.entry(file.clone()).or_default(), &done);
                }
            }
            Did::Acknowledged => {}
        }
    }

    /// Puts the disk as it stands after a cut into a folder; `keeps` says which unsynced writes made it.
    fn after_the_cut(&self, from: &Path, into: &Path, keeps: fn(usize) -> bool) {
        let mut files = self.certain.clone();
        for (file, unsynced) in &self.unsynced {
            for (_, done) in unsynced.iter().enumerate().filter(|(n, _)| keeps(*n)) {
                carry_out(files.entry(file.clone()).or_default(), done);
            }
        }
        for (file, bytes) in files {
            let name = file.strip_prefix(from).expect("a file of the folder");
            fs::write(into.join(name), bytes).expect("a file after the cut");
        }
    }
}

#[cfg(test)]
fn carry_out(bytes: &mut Vec<u8>, did: &Did) {
    match did {
        Did::Wrote { at, bytes: new, .. } => {
            let at = usize::try_from(*at).expect("a place in memory");
            bytes.resize(bytes.len().max(at + new.len()), 0);
            bytes[at..at + new.len()].copy_from_slice(new);
        }
        Did::Cut { to, .. } => bytes.resize(usize::try_from(*to).expect("a length in memory"), 0),
        Did::Synced { .. } | Did::Acknowledged => {}
    }
}

#[cfg(test)]
fn lines_in(folder: &Path) -> Vec<String> {
    let reader = Reader::open(folder).expect("what a cut leaves opens");
    let lines = reader.lines("killed-again-and-again").expect("its lines");
    lines.into_iter().map(|line| line.id).collect()
}

#[test]
fn what_was_acknowledged_was_synced_before() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("data");
    // Once before, so that the folder is there and the demonstration is begun.
    let (_printed, _trace) = traced(&folder, &place.path().join("first"), None);
    let mut disk = Disk::of(&folder);
    let before = lines_in(&folder).len();
    let (printed, trace) = traced(&folder, &place.path().join("second"), None);
    assert_eq!(printed.len(), TAPS, "every tap was acknowledged");

    let mut acknowledged = 0;
    for did in trace.lines().filter_map(|line| did(line, &folder)) {
        let now = matches!(did, Did::Acknowledged);
        disk.takes(did);
        if !now {
            continue;
        }
        acknowledged += 1;
        let survivors: [fn(usize) -> bool; 3] = [|_| false, |_| true, |n| n % 2 == 1];
        for keeps in survivors {
            let after = tempfile::tempdir().expect("a folder");
            disk.after_the_cut(&folder, after.path(), keeps);
            let found = lines_in(after.path());
            assert!(
                found.len() >= before + acknowledged && found[before..].starts_with(&printed[..acknowledged]),
                "after {acknowledged} acknowledgements {found:?} is there"
            );
        }
    }
    assert_eq!(acknowledged, TAPS, "the trace tells every acknowledgement");
}

#[test]
fn a_full_disk_refuses_a_tap_and_loses_none() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path().join("data");
    let (_printed, _trace) = traced(&folder, &place.path().join("first"), None);
    let before = lines_in(&folder).len();
    // From the twentieth write of a page on there is no room, not even where the reserve was.
    let full = "inject=pwrite64:error=ENOSPC:when=20+";
    let (printed, _trace) = traced(&folder, &place.path().join("second"), Some(full));
    assert!(printed.len() < TAPS, "the disk was full before the end");
    let found = lines_in(&folder);
    assert_eq!(found[before..], printed[..], "what was acknowledged is there, and what was refused is not");
    // Once there is room again it goes on.
    let (printed, _trace) = traced(&folder, &place.path().join("third"), None);
    assert_eq!(printed.len(), TAPS);
}
