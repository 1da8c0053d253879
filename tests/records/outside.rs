use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Output},
};

use sealing::Certificate;
use serde::Deserialize;
use serde_json::json;
use suite::python;
use tempfile::TempDir;

/// A file on disk, and the authority where each outside program looks for it.
pub(crate) struct Desk {
    folder: TempDir,
}

/// What `pdfsig` says of the first signature.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Pdfsig {
    pub(crate) signature: String,
    pub(crate) certificate: String,
    pub(crate) whole: bool,
}

/// What `pyhanko` says of the first signature.
#[expect(clippy::struct_excessive_bools, reason = "each is one statement of the outside program")]
#[derive(Debug, Deserialize)]
pub(crate) struct Pyhanko {
    /// It could be read at all, and the digest and the signature hold.
    pub(crate) intact: bool,
    pub(crate) valid: bool,
    pub(crate) trusted: bool,
    /// `ENTIRE_FILE` where nothing is outside of it.
    pub(crate) coverage: String,
    /// What was changed after it, `NONE` where nothing.
    pub(crate) changed: String,
    /// Its own sum of all this.
    pub(crate) bottom_line: bool,
    /// The reason where the file could not be judged.
    pub(crate) error: String,
}

const PYHANKO: &str = r"
import json, sys
from pyhanko.keys import load_cert_from_pemder
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko_certvalidator import ValidationContext
question = json.load(sys.stdin)
answer = dict(intact=False, valid=False, trusted=False, coverage='', changed='', bottom_line=False, error='')
try:
    root = load_cert_from_pemder(question['authority'])
    context = ValidationContext(trust_roots=[root], allow_fetching=False)
    with open(question['pdf'], 'rb') as file:
        signature = PdfFileReader(file).embedded_signatures[0]
        status = validate_pdf_signature(signature, context)
        answer.update(intact=status.intact, valid=status.valid, trusted=status.trusted,
            coverage=status.coverage.name, changed=status.modification_level.name, bottom_line=status.bottom_line)
except Exception as error:
    answer['error'] = f'{type(error).__name__}: {error}'
print(json.dumps(answer))
";

const PDFA: &str = r"
import json, sys
import pikepdf, pikepdf.pdfa
with pikepdf.open(json.load(sys.stdin)) as pdf:
    report = pikepdf.pdfa.check(pdf, '3b')
print(json.dumps([str(finding) for finding in report.findings]))
";

impl Desk {
    pub(crate) fn new(authority: &Certificate) -> Self {
        let desk = Desk { folder: tempfile::tempdir().expect("a folder") };
        let pem = authority.pem().expect("a certificate as text");
        fs::write(desk.path("authority.pem"), pem).expect("the certificate is written");
        fs::create_dir(desk.path("store")).expect("a folder");
        let store = format!("sql:{}", desk.path("store").display());
        ran("certutil", &["-N", "--empty-password", "-d", &store]);
        let file = desk.path("authority.pem");
        let file = file.to_str().expect("UTF-8");
        ran("certutil", &["-A", "-d", &store, "-n", "authority", "-t", "C,C,C", "-a", "-i", file]);
        desk
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn put(&self, pdf: &[u8]) -> PathBuf {
        let path = self.path("record.pdf");
        fs::write(&path, pdf).expect("the record is written");
        path
    }

    /// Puts a file on the disk; answers where it is, and where the authority's certificate is.
    pub(crate) fn placed(&self, pdf: &[u8]) -> (PathBuf, PathBuf) {
        (self.put(pdf), self.path("authority.pem"))
    }

    /// The store of certificates in which `pdfsig` looks.
    pub(crate) fn store(&self) -> PathBuf {
        self.path("store")
    }

    pub(crate) fn pdfsig(&self, pdf: &[u8]) -> Pdfsig {
        let path = self.put(pdf);
        let output = run("pdfsig", &["-nssdir", text(&self.path("store")), text(&path)]);
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        let after = |key: &str| {
            let line = said.lines().find_map(|line| line.trim().strip_prefix(key));
            line.unwrap_or_default().trim().to_owned()
        };
        Pdfsig {
            signature: after("- Signature Validation:"),
            certificate: after("- Certificate Validation:"),
            whole: said.contains("- Total document signed"),
        }
    }

    pub(crate) fn pyhanko(&self, pdf: &[u8]) -> Pyhanko {
        let path = self.put(pdf);
        python::ask(PYHANKO, &json!({ "pdf": path, "authority": self.path("authority.pem") }))
    }

    /// The text as a reader copies it (poppler's `pdftotext`).
    pub(crate) fn text(&self, pdf: &[u8]) -> String {
        let output = run("pdftotext", &[text(&self.put(pdf)), "-"]);
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// What `qpdf --check` finds wrong; empty where nothing.
    pub(crate) fn qpdf(&self, pdf: &[u8]) -> String {
        let output = run("qpdf", &["--check", text(&self.put(pdf))]);
        if output.status.success() {
            return String::new();
        }
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
    }

    /// What `pikepdf` finds against PDF/A-3b, or cannot judge.
    pub(crate) fn archive(&self, pdf: &[u8]) -> Vec<String> {
        python::ask(PDFA, &self.put(pdf))
    }
}

fn text(path: &Path) -> &str {
    path.to_str().expect("UTF-8")
}

fn run(program: &str, arguments: &[&str]) -> Output {
    let output = Command::new(program).args(arguments).env("LC_ALL", "C.UTF-8").output();
    output.unwrap_or_else(|error| panic!("{program}: {error}: cargo xtask setup"))
}

fn ran(program: &str, arguments: &[&str]) {
    let output = run(program, arguments);
    assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
}
