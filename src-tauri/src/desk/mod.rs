//! The work itself, one method a request: what the window's commands, the command line and the demo
//! have in common. It joins the rules, the ledger, the paper and the seals, and holds no rule of its own.
//!
//! The moment comes in as an argument, so that the demo can play through a year by the same code.

mod aside;
mod authority;
mod backup;
mod clock;
mod correcting;
mod countersigning;
mod demonstration;
mod drafts;
mod erasing;
mod facility;
mod findings;
mod history;
#[cfg(test)]
mod import_tests;
mod invitations;
mod joining;
#[cfg(test)]
mod manager_tests;
#[cfg(test)]
mod midnight_tests;
mod names;
mod notices;
mod observing;
mod people;
mod people_file;
mod person_file;
mod person_lines;
mod procedures;
mod recovery;
#[cfg(test)]
mod reminder_tests;
mod reminders;
mod requirements;
mod reviews;
mod revoking;
mod roster_page;
mod seal;
#[cfg(test)]
mod session_tests;
mod sessions;
mod standing;
#[cfg(test)]
mod tests;
mod typed;
mod verifying;

use std::sync::{Arc, PoisonError, RwLock};

use chrono::{DateTime, FixedOffset, NaiveDate, NaiveDateTime, Offset, TimeZone};
use contract::{Fault, Next, RestoreBackup, RestoredBackup};
use evidence::{ActingAs, Author, Facts, digest};
use ledger::{Deed, Ledger, LedgerError, Moment, Reader, Signature, Stamp, Written};
use sealing::{Authority, DeviceKey, Signer};

use crate::{
    chance,
    device_secret::{self, DeviceSecret},
    fault::{file_fault, ledger_fault, sealing_fault},
    folder::Folder,
};

pub(crate) use authority::FIRST_CERTIFICATE;
pub(crate) use names::sort_key;
pub(crate) use standing::{Books, DueWithin, Required};

/// Name and version of the program, as entries and records carry it.
pub(crate) const PROGRAM: &str = concat!("doorside ", env!("CARGO_PKG_VERSION"));

/// A data folder, open to work in.
#[derive(Debug)]
pub struct Desk {
    folder: Folder,
    ledger: Ledger,
    device: DeviceKey,
    device_secret: DeviceSecret,
    stopped: reviews::StoppedReviews,
    aside: aside::Aside,
}

/// What came of opening the data folder: the window tells a failure where the person is.
#[derive(Debug)]
pub(crate) struct Opened(RwLock<Result<Arc<Desk>, Fault>>);

impl Opened {
    /// Opens a folder.
    pub(crate) fn at(folder: Folder) -> Self {
        Opened(RwLock::new(Desk::open(folder).map(Arc::new)))
    }

    /// The desk, or why there is none.
    pub(crate) fn desk(&self) -> Result<Arc<Desk>, Fault> {
        self.0.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Restores a backup that was brought, in the place of a desk that has no facility yet.
    pub(crate) fn restore(&self, request: &RestoreBackup) -> Result<RestoredBackup, Fault> {
        let mut place = self.0.write().unwrap_or_else(PoisonError::into_inner);
        let desk = place.clone()?;
        let ready = desk.ready_to_restore(request)?;
        let closed = Fault::new(Next::TryAgain, "A backup is being restored; open the program again.");
        drop(desk);
        let desk = std::mem::replace(&mut *place, Err(closed));
        // Nobody else may hold the ledger open while its files are exchanged.
        match desk.map(Arc::try_unwrap) {
            Ok(Ok(only)) => drop(only),
            Ok(Err(held)) => {
                *place = Ok(held);
                return Err(Fault::new(
                    Next::TryAgain,
                    "Something else is still going on; wait a moment, then try again. Nothing was changed.",
                ));
            }
            Err(fault) => return Err(fault),
        }
        let restored = ready.put();
        *place = Desk::open(ready.folder().clone()).map(Arc::new);
        let (desk, restored) = (place.clone()?, restored?);
        desk.keep_device_key()?;
        desk.told_of(&restored)
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
        let device_secret = device_secret::of_device(&folder, chance::secret, chance::id)?;
        let device = DeviceKey::of(&device_secret.bytes).map_err(sealing_fault)?;
        let desk = Desk {
            folder,
            ledger,
            device,
            device_secret,
            stopped: reviews::StoppedReviews::default(),
            aside: aside::Aside::default(),
        };
        desk.set_aside()?;
        // What there is no room for keeps nobody from their work; it is tried again with the next start.
        let _tried_again = desk.renew_list_file();
        Ok(desk)
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
        name_of(&self.device)
    }

    /// Keeps this device's public key where the ledger check finds it.
    pub(crate) fn keep_device_key(&self) -> Result<(), Fault> {
        let device = self.device.public().to_bytes();
        self.ledger.put_key(&device_key_name(&self.device_name()), &device).map_err(ledger_fault)
    }

    /// Writes facts, stamped and signed by this device.
    fn write(&self, deeds: &[Deed], now: &Moment) -> Result<Vec<Written>, Fault> {
        self.write_with(Keys::default(), deeds, now)
    }

    /// Writes facts that this device signs, and others with it.
    fn write_with(&self, keys: Keys<'_>, deeds: &[Deed], now: &Moment) -> Result<Vec<Written>, Fault> {
        self.stamped(now, keys, |ledger, stamp| ledger.write(deeds, stamp)).map_err(ledger_fault)
    }

    /// Lends a stamp by which every entry is signed by this device, and by the keys that are given.
    fn stamped<T>(
        &self,
        now: &Moment,
        keys: Keys<'_>,
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
            if let Some(observer) = keys.observer {
                signatures.push(Signature {
                    signer: ledger::Signer::Observer,
                    key: observer.certificate().fingerprint(),
                    bytes: observer.sign_entry(of_entry.as_bytes())?,
                });
            }
            for authority in [keys.authority, keys.authority_before].into_iter().flatten() {
                signatures.push(Signature {
                    signer: ledger::Signer::Authority,
                    key: authority.certificate().fingerprint(),
                    bytes: authority.sign_entry(of_entry.as_bytes())?,
                });
            }
            Ok(signatures)
        };
        let mut stamp =
            Stamp { moment: now, device: &device, program: PROGRAM, ids: &mut ids, sign: &mut sign };
        act(&self.ledger, &mut stamp)
    }
}

/// The keys that sign an entry beside the device's own.
#[derive(Debug, Default, Clone, Copy)]
struct Keys<'a> {
    observer: Option<&'a Signer>,
    authority: Option<&'a Authority>,
    /// The authority's earlier key, where it is rolled over.
    authority_before: Option<&'a Authority>,
}

/// Names a device, by its public key.
fn name_of(device: &DeviceKey) -> String {
    digest(&device.public().to_bytes()).to_string()
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
    civil_day(facts, now.wall)
}

/// The facility's civil date at a point in time, such as the end of a certificate.
fn civil_day(facts: &Facts, at: DateTime<FixedOffset>) -> NaiveDate {
    civil_in(zone(facts), at).date()
}

/// The date and time by the facility's clocks.
pub(crate) fn civil_time(facts: &Facts, now: &Moment) -> NaiveDateTime {
    civil_in(zone(facts), now.wall)
}

/// The facility's zone, by its IANA name; empty where there is no facility yet.
fn zone(facts: &Facts) -> &str {
    facts.facility.as_ref().map_or("", |(_id, facility)| facility.zone.as_str())
}

/// The date and time in a zone, by its IANA name; by the clock of the device where there is no such zone.
pub(crate) fn civil_in(zone: &str, at: DateTime<FixedOffset>) -> NaiveDateTime {
    let utc = at.naive_utc();
    let offset = zone.parse::<chrono_tz::Tz>().map(|zone| zone.offset_from_utc_datetime(&utc).fix());
    // A record that somebody brings may be dated in the calendar's last hours, which no zone further east has.
    utc.checked_add_offset(offset.unwrap_or_else(|_unknown| *at.offset())).unwrap_or(utc)
}

/// The thing asked for is not there.
fn absent(what: &str) -> Fault {
    Fault::new(Next::ChooseAgain, format!("There is no such {what} here any more; go back and choose again."))
}
