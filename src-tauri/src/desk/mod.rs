//! The work itself, one method a request: what the window's commands, the command line and the demo
//! have in common. It joins the rules, the ledger, the paper and the seals, and holds no rule of its own.
//!
//! The moment comes in as an argument, so that the demo can play through a year by the same code.

mod demonstration;
mod drafts;
mod facility;
mod findings;
mod invitations;
mod names;
mod people;
mod people_file;
mod person_file;
mod person_lines;
mod procedures;
mod reminders;
mod requirements;
mod reviews;
mod roster_page;

#[cfg(test)]
mod manager_tests;
mod seal;
#[cfg(test)]
mod session_tests;
mod sessions;
mod standing;
#[cfg(test)]
mod tests;

use chrono::NaiveDate;
use contract::{Fault, Next};
use evidence::{ActingAs, Author, Facts, digest};
use ledger::{Deed, Ledger, LedgerError, Moment, Reader, Signature, Stamp, Written};
use sealing::{DeviceKey, Signer};

use crate::{
    chance,
    fault::{file_fault, ledger_fault, sealing_fault},
    folder::Folder,
};

pub(crate) use standing::{Books, DueWithin, Required};

/// Name and version of the program, as entries and records carry it.
pub(crate) const PROGRAM: &str = concat!("doorside ", env!("CARGO_PKG_VERSION"));

/// A data folder, open to work in.
#[derive(Debug)]
pub struct Desk {
    folder: Folder,
    ledger: Ledger,
    device: DeviceKey,
    device_secret: [u8; 32],
    stopped: reviews::StoppedReviews,
}

/// What came of opening the data folder: the window tells a failure where the person is.
#[derive(Debug)]
pub(crate) struct Opened(Result<Desk, Fault>);

impl Opened {
    /// Opens a folder.
    pub(crate) fn at(folder: Folder) -> Self {
        Opened(Desk::open(folder))
    }

    /// The desk, or why there is none.
    pub(crate) fn desk(&self) -> Result<&Desk, Fault> {
        self.0.as_ref().map_err(Clone::clone)
    }
}

impl Desk {
    /// Opens a data folder, and makes it where it is not there.
    ///
    /// # Errors
    /// When another window has it open, when it is damaged or newer, or when it cannot be used.
    pub(crate) fn open(folder: Folder) -> Result<Desk, Fault> {
        folder.make().map_err(|error| file_fault("make the data folder", folder.root(), &error))?;
        let ledger = Ledger::open(folder.root(), &mut chance::id).map_err(ledger_fault)?;
        let device_secret = folder
            .device_secret(chance::secret)
            .map_err(|error| file_fault("read this device's secret in", folder.root(), &error))?;
        let device = DeviceKey::of(&device_secret).map_err(sealing_fault)?;
        Ok(Desk { folder, ledger, device, device_secret, stopped: reviews::StoppedReviews::default() })
    }

    /// Everything that only reads, as rosters and histories do.
    pub(crate) fn books(&self) -> Books<'_> {
        Books::of(self.ledger.reader())
    }

    /// The data folder.
    pub(crate) fn folder(&self) -> &Folder {
        &self.folder
    }

    fn reader(&self) -> &Reader {
        self.ledger.reader()
    }

    /// Names this device, by its public key.
    fn device_name(&self) -> String {
        digest(&self.device.public().to_bytes()).to_string()
    }

    /// Writes facts, stamped and signed by this device.
    fn write(&self, deeds: &[Deed], now: &Moment) -> Result<Vec<Written>, Fault> {
        self.stamped(now, None, |ledger, stamp| ledger.write(deeds, stamp)).map_err(ledger_fault)
    }

    /// Lends a stamp by which every entry is signed by this device, and by an observer where one is given.
    fn stamped<T>(
        &self,
        now: &Moment,
        observer: Option<&Signer>,
        act: impl FnOnce(&Ledger, &mut Stamp<'_>) -> Result<T, LedgerError>,
    ) -> Result<T, LedgerError> {
        let device = self.device_name();
        let mut ids = chance::id;
        let mut sign = |_entry: &evidence::Entry, bytes: &[u8]| {
            let of_entry = digest(bytes);
            let mut signatures = vec![Signature {
                signer: ledger::Signer::Device,
                key: device.clone(),
                bytes: self.device.sign_entry(of_entry.as_bytes())?.to_vec(),
            }];
            if let Some(observer) = observer {
                signatures.push(Signature {
                    signer: ledger::Signer::Observer,
                    key: observer.certificate().fingerprint(),
                    bytes: observer.sign_entry(of_entry.as_bytes())?,
                });
            }
            Ok(signatures)
        };
        let mut stamp =
            Stamp { moment: now, device: &device, program: PROGRAM, ids: &mut ids, sign: &mut sign };
        act(&self.ledger, &mut stamp)
    }
}

/// Under which name a device's public key lies in the ledger's own folder.
pub(crate) fn device_key_name(device: &str) -> String {
    format!("device/{device}")
}

/// The author of what nobody signs with a key of their own yet.
fn author(role: ActingAs) -> Author {
    Author { person: None, role, certificate: None }
}

/// The facility's civil date at a moment: dates of validity are counted in its own time zone.
pub(crate) fn civil_date(facts: &Facts, now: &Moment) -> NaiveDate {
    let zone =
        facts.facility.as_ref().and_then(|(_id, facility)| facility.zone.parse::<chrono_tz::Tz>().ok());
    match zone {
        Some(zone) => now.wall.with_timezone(&zone).date_naive(),
        None => now.wall.date_naive(),
    }
}

/// The thing asked for is not there.
fn absent(what: &str) -> Fault {
    Fault::new(Next::ChooseAgain, format!("There is no such {what} here any more; go back and choose again."))
}
