//! Keys and certificates, and every way we know of tampering with a signed record.

mod genuine;
mod keys;
mod revoking;
mod second;
mod signing;
mod tampering;

use chrono::{DateTime, Utc};
use lopdf::{Document, Object, Stream, dictionary};

use crate::{cms, sign, vault, verify, *};

const NOW: &str = "2026-11-25T09:02:03Z";
const FACTS_AT: &str = "2026-11-25T10:02:03+01:00";
const ATTACHED: &[u8] = br#"{"outcome":"competent"}"#;

fn moment(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn seed(byte: u8) -> Seed {
    Seed::new([byte; 32])
}

fn authority() -> Authority {
    Authority::create("Hilltop Hospital", moment(NOW), seed(1)).unwrap()
}

fn signer_of(authority: &Authority) -> Signer {
    let key = ObserverKey::create(seed(2));
    let certificate = authority.certify(&key, "Olga Server", "person-7", moment(NOW), seed(3)).unwrap();
    Signer::new(key, certificate, authority.certificate().clone()).unwrap()
}

fn facts() -> Facts<'static> {
    Facts {
        when: FACTS_AT.parse().unwrap(),
        name: "Olga Server",
        reason: "Observed and assessed by me",
        place: "Ward 3, Hilltop Hospital, Ελλάδα",
    }
}

/// The least PDF with a page and an attachment.
fn plain() -> Document {
    let mut document = Document::with_version("1.7");
    let pages = document.new_object_id();
    let content = document.add_object(Stream::new(dictionary! {}, b"0 0 10 10 re f".to_vec()));
    let page = document.add_object(dictionary! {
        "Type" => "Page", "Parent" => pages, "Contents" => content,
        "MediaBox" => vec![0.into(), 0.into(), 100.into(), 100.into()],
    });
    document.set_object(pages, dictionary! { "Type" => "Pages", "Count" => 1, "Kids" => vec![page.into()] });
    let stream =
        document.add_object(Stream::new(dictionary! { "Type" => "EmbeddedFile" }, ATTACHED.to_vec()));
    let file = document.add_object(dictionary! {
        "Type" => "Filespec", "F" => Object::string_literal("record.json"), "EF" => dictionary! { "F" => stream },
    });
    let names = vec![Object::string_literal("record.json"), file.into()];
    let catalog = document.add_object(dictionary! {
        "Type" => "Catalog", "Pages" => pages,
        "Names" => dictionary! { "EmbeddedFiles" => dictionary! { "Names" => names } },
    });
    document.trailer.set("Root", catalog);
    document
}

fn unsigned() -> Vec<u8> {
    let mut bytes = Vec::new();
    plain().save_to(&mut bytes).unwrap();
    bytes
}

fn signed() -> Vec<u8> {
    sign(plain(), &signer_of(&authority()), &facts()).unwrap()
}

fn trusted() -> Vec<Certificate> {
    vec![authority().certificate().clone()]
}

fn find(bytes: &[u8], needle: &[u8]) -> usize {
    bytes.windows(needle.len()).position(|window| window == needle).unwrap()
}
