use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// One call of the system that changes what is on the disk; paths are inside the data folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Call {
    /// A file is opened to be written, and made where it is not there.
    Open {
        path: PathBuf,
        truncate: bool,
    },
    /// Bytes go to a place in a file; at its end where it is `None`.
    Write {
        path: PathBuf,
        at: Option<usize>,
        bytes: Vec<u8>,
    },
    /// A file gets another length.
    Truncate {
        path: PathBuf,
        length: usize,
    },
    /// A file, or the names in a folder, last from now on.
    Sync(PathBuf),
    Rename(PathBuf, PathBuf),
    Unlink(PathBuf),
    /// Something is told on the standard output: an acknowledgement, where a tap is journalled.
    Tell,
}

impl Call {
    /// A record gets its place.
    pub(crate) fn files_a_record(&self) -> bool {
        matches!(self, Call::Rename(_, to) if to.starts_with("records"))
    }

    pub(crate) fn syncs(&self) -> bool {
        matches!(self, Call::Sync(_))
    }
}

/// A program under `strace`, with these of its calls written down.
pub(crate) fn under_strace(trace: &Path, more: &[&str]) -> Command {
    let mut strace = Command::new("strace");
    strace.args(["-f", "-y", "-xx", "-s", "2000000", "-o"]).arg(trace);
    strace.args(["-e", "trace=openat,write,pwrite64,fsync,fdatasync,ftruncate,rename,unlink"]);
    strace.args(more).arg("--");
    strace
}

/// Reads what `strace -f -y -xx` wrote; calls that failed or touch nothing in the folder are left out.
pub(crate) fn read(trace: &Path, folder: &Path) -> Vec<Call> {
    let text = fs::read_to_string(trace).expect("the trace is text");
    assert!(!text.contains("<unfinished"), "one thread writes, so no call is told in two parts");
    text.lines().filter_map(|line| call(line, folder)).collect()
}

fn call(line: &str, folder: &Path) -> Option<Call> {
    // `1234 name(arguments) = result`
    let (_process, rest) = line.split_once(' ')?;
    let (name, rest) = rest.trim_start().split_once('(')?;
    let (arguments, result) = rest.rsplit_once(" = ")?;
    if result.starts_with('-') || result.starts_with('?') {
        return None;
    }
    let arguments = arguments.trim_end().strip_suffix(')')?;
    let texts = texts(arguments);
    let inside = |path: &[u8]| {
        let path = PathBuf::from(String::from_utf8(path.to_vec()).ok()?);
        path.strip_prefix(folder).ok().map(Path::to_owned)
    };
    let of_descriptor = || inside(&unescaped(arguments.split_once('<')?.1.split_once('>')?.0));
    let numbers = || arguments.rsplit(", ").map_while(|one| one.parse::<usize>().ok());
    Some(match name {
        "openat" if arguments.contains("O_RDWR") || arguments.contains("O_WRONLY") => {
            Call::Open { path: inside(texts.first()?)?, truncate: arguments.contains("O_TRUNC") }
        }
        "write" if arguments.starts_with("1<") => Call::Tell,
        "write" => Call::Write { path: of_descriptor()?, at: None, bytes: texts.into_iter().next()? },
        "pwrite64" => {
            Call::Write { path: of_descriptor()?, at: numbers().next(), bytes: texts.into_iter().next()? }
        }
        "fsync" | "fdatasync" => Call::Sync(of_descriptor()?),
        "ftruncate" => Call::Truncate { path: of_descriptor()?, length: numbers().next()? },
        "rename" => Call::Rename(inside(texts.first()?)?, inside(texts.get(1)?)?),
        "unlink" => Call::Unlink(inside(texts.first()?)?),
        _ => return None,
    })
}

/// Every text in quotes.
fn texts(arguments: &str) -> Vec<Vec<u8>> {
    // With -xx no quote stands inside of a text.
    arguments.split('"').skip(1).step_by(2).map(unescaped).collect()
}

/// Bytes written as `\x2f`; whatever is not written so stands for itself.
fn unescaped(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len() / 4);
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let coded = rest.strip_prefix("\\x").and_then(|coded| coded.get(..2));
        if let Some(byte) = coded.and_then(|coded| u8::from_str_radix(coded, 16).ok()) {
            bytes.push(byte);
            rest = rest.get(4..).unwrap_or_default();
        } else {
            bytes.extend_from_slice(first.to_string().as_bytes());
            rest = rest.get(first.len_utf8()..).unwrap_or_default();
        }
    }
    bytes
}
