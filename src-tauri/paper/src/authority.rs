//! What an authority hands out on paper: the recovery sheet, and how to trust its certificate.

use chrono::{DateTime, FixedOffset, NaiveDate};
use contract::grouped;

use crate::{
    PaperError,
    archive::{About, finish, written},
    blanks::blanks,
    faces::Faces,
    paint::paint,
    record::{on_each_page, paragraph},
    sheet::{Format, Sheet, Style, Tag},
    table::pairs,
    words,
};

/// What stands on a recovery sheet.
#[derive(Clone, Copy)]
pub struct RecoverySheet<'a> {
    /// The facility's name.
    pub facility: &'a str,
    /// The code that opens the authority's key, in groups.
    pub code: &'a str,
    /// SHA-256 of the authority's certificate, hexadecimal.
    pub fingerprint: &'a str,
    /// The certificate holds until this date.
    pub until: NaiveDate,
    /// The moment that it says it was drawn at.
    pub drawn: DateTime<FixedOffset>,
    /// Name and version of the program.
    pub program: &'a str,
}

impl std::fmt::Debug for RecoverySheet<'_> {
    /// Never shows the code.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("RecoverySheet").field("fingerprint", &self.fingerprint).finish_non_exhaustive()
    }
}

/// A certificate of an authority, as it is handed out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrustedCertificate {
    /// The name of its file.
    pub file: String,
    /// SHA-256 in hexadecimal.
    pub fingerprint: String,
    /// It holds from this day.
    pub from: NaiveDate,
    /// It holds through this day.
    pub until: NaiveDate,
}

/// What stands on the page that tells how to trust a facility's records.
#[derive(Debug, Clone, Copy)]
pub struct TrustPage<'a> {
    /// The facility's name.
    pub facility: &'a str,
    /// Its certificates, the present one first.
    pub certificates: &'a [TrustedCertificate],
    /// The moment that it says it was drawn at.
    pub drawn: DateTime<FixedOffset>,
    /// Name and version of the program.
    pub program: &'a str,
}

/// A sheet to print once and lock away: with it the authority's key opens where the passphrase is lost.
///
/// # Errors
/// When a text has a character that no font of the program has.
pub fn recovery_sheet(of: &RecoverySheet<'_>) -> Result<Vec<u8>, PaperError> {
    let mut sheet = Sheet::new(Faces::load()?, Format::UPRIGHT);
    head(&mut sheet, of.facility, "Recovery sheet of the record authority");
    for said in [
        "The code below opens the authority’s key in the place of the passphrase. Whoever has it and a device or a \
         backup of the facility can let anyone sign records. Print this sheet once, lock it away where the facility \
         keeps such things, and remove the file from the device.",
        "Printing another sheet makes this one worthless.",
    ] {
        paragraph(&mut sheet, said, Style::BODY);
        sheet.space(4.0);
    }
    sheet.heading("Code", 60.0);
    sheet.space(6.0);
    paragraph(&mut sheet, of.code, Style::BIG);
    sheet.space(2.0);
    paragraph(
        &mut sheet,
        "There is no zero, one, I or O in it. Large or small letters, hyphens and blanks make no difference.",
        Style::SMALL,
    );
    sheet.heading("What it belongs to", 60.0);
    let rows = [
        ("Certificate", format!("{} (SHA-256)", grouped(of.fingerprint))),
        ("Holds until", words::date(of.until)),
        ("Drawn", words::date(of.drawn.date_naive())),
    ];
    pairs(&mut sheet, 1, &rows);
    sheet.heading("If the passphrase is lost or known to others", 60.0);
    numbered(
        &mut sheet,
        &[
            "On a device of the facility, open People and choose to give the authority another key.",
            "Type the code where the passphrase until now is asked for, and a new passphrase twice.",
            "Observers keep their keys and their PINs. Readers of records must trust the new certificate as well: \
             hand it out, and tell its fingerprint by another way.",
            "If no device is left, restore a backup on a new one first.",
        ],
    );
    sheet.heading("Kept by", 80.0);
    blanks(&mut sheet, &[("Place", 2.0), ("Name", 2.0), ("Date", 1.0)]);
    close(sheet, of.facility, "Recovery sheet of the record authority", of.drawn, of.program)
}

/// A page for whoever must rely on the facility's records: how to trust its certificate, and how to check one
/// without any of it.
///
/// # Errors
/// When a text has a character that no font of the program has.
pub fn trust_page(of: &TrustPage<'_>) -> Result<Vec<u8>, PaperError> {
    let mut sheet = Sheet::new(Faces::load()?, Format::UPRIGHT);
    head(&mut sheet, of.facility, "How to trust our records");
    paragraph(
        &mut sheet,
        "Our records of demonstrations are PDF files, signed by the observer under our own authority. A PDF reader \
         shows that nothing was changed; that the signature is ours it can only know once you have told it. That is \
         done once on each computer.",
        Style::BODY,
    );
    for (place, certificate) in of.certificates.iter().enumerate() {
        let TrustedCertificate { file, fingerprint, from, until } = certificate;
        sheet.heading(if place == 0 { "Our certificate" } else { "Our certificate before" }, 50.0);
        let rows = [
            ("File", file.clone()),
            ("Fingerprint", format!("{} (SHA-256)", grouped(fingerprint))),
            ("Holds", format!("{} to {}", words::date(*from), words::date(*until))),
        ];
        pairs(&mut sheet, 1, &rows);
    }
    sheet.heading("First compare, then trust", 60.0);
    numbered(
        &mut sheet,
        &[
            "You were handed the file authority.pem. Whoever handed it to you could have handed you another one, so \
             compare its fingerprint with the one above, on a sheet or a telephone call that came to you by another \
             way.",
            "Many readers show a fingerprint themselves: open a record, click its signature or the panel of signatures, \
             and look for the details of the certificate and, above the observer’s own, that of the authority. Some \
             call the fingerprint a digest; compare the one that is marked SHA-256.",
            "In a PDF reader, open the settings for signatures, find the list of trusted certificates, import \
             authority.pem, and trust it for signatures. Readers name these places differently.",
            "Open a record again: the reader now says that the signature is valid and whose it is. A record that was \
             signed under a certificate before needs that one, compared and trusted in the same way.",
        ],
    );
    sheet.heading("Without trusting any reader", 60.0);
    paragraph(
        &mut sheet,
        "The program with which records are made checks them without our data: “doorside record verify record.pdf \
         --trust authority.pem”, or Check a record in its window. It also scores the attached observations again and \
         compares them with the page. It does so by its own rules: where a record was scored by earlier ones, it says \
         whether the result is still the same, and where it is not or cannot be told, it says that instead.",
        Style::BODY,
    );
    close(sheet, of.facility, "How to trust our records", of.drawn, of.program)
}

fn head(sheet: &mut Sheet, facility: &str, title: &str) {
    paragraph(sheet, facility, Style::QUIET);
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    sheet.paragraph(Tag::Title, title, x, width, Style::TITLE);
    sheet.space(6.0);
}

fn numbered(sheet: &mut Sheet, steps: &[&str]) {
    for (number, step) in (1..).zip(steps) {
        paragraph(sheet, &format!("{number}. {step}"), Style::BODY);
        sheet.space(3.0);
    }
}

fn close(
    mut sheet: Sheet,
    facility: &str,
    title: &str,
    drawn: DateTime<FixedOffset>,
    program: &str,
) -> Result<Vec<u8>, PaperError> {
    let identity = words::date(drawn.date_naive());
    on_each_page(&mut sheet, &format!("{facility} · {title}"), &identity);
    let about = About {
        title,
        subject: facility,
        when: drawn,
        program,
        layout: "Authority sheet, layout 1",
        attachments: Vec::new(),
    };
    written(finish(&paint(&sheet)?, &sheet, &about)?)
}
