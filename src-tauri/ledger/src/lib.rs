//! The ledger of a data folder: the live journal, the sealed entries, the names beside them, and where
//! the records are filed. It is the only SQL of the project.
//!
//! What this crate does *not* do: it holds no rule of the trade (facts are folded by
//! [`evidence::Facts`]), reads no clock, draws no random number, knows no key, signs nothing, draws no
//! PDF and deletes nothing to repair a file.
//!
//! ```
//! # use evidence::*;
//! # use ledger::*;
//! # fn shell(
//! #     folder: &std::path::Path, now: Moment, ids: &mut dyn FnMut() -> uuid::Uuid, sign: &mut Sign<'_>,
//! #     author: Author, facility: FacilityCreated, unit: UnitAdded, person: NewPerson, begin: Begin,
//! #     event: competency::journal::Event, sealed: DemonstrationSealed, record: NewRecord,
//! # ) -> Result<(), LedgerError> {
//! let ledger = Ledger::open(folder, ids)?; // One per process; share it between threads.
//! let mut stamp = Stamp { moment: &now, device: "key of the device", program: "doorside 0.1.0", ids, sign };
//! // Facts are deeds; what belongs together is written together, all or nothing.
//! let deeds = [Deed::new(author.clone(), unit), Deed::add_person(author.clone(), person)?];
//! ledger.create_facility(author.clone(), facility, &deeds, &mut stamp)?;
//! // A demonstration: each call returns when it is on the disk.
//! ledger.rest()?;
//! ledger.begin(&begin, &now)?;
//! let line = ledger.append(&begin.demonstration, &"tap 1".to_owned(), &event, &now)?;
//! // Sealing: take a place, draw and sign the PDF with it, file it, then seal at that very place.
//! let place = ledger.reader().next_place()?;
//! ledger.seal(&place, author, &sealed, &record, &[], &mut stamp)?;
//! // Reading: rosters and histories come from facts, names from beside them.
//! let facts = ledger.reader().facts(None)?;
//! let people = facts.members(None, now.wall.date_naive());
//! let found = ledger.reader().search_names("schmidt")?;
//! let filed = ledger.reader().record(&begin.demonstration)?;
//! // A PIN: ask `sealing::pin_delay`, count the try before it is made, and forget it when the key opened.
//! let state = ledger.reader().pin_state("person-7")?;
//! let (tries, since) = (state.tries, state.since_last(&now));
//! ledger.pin_failed("person-7", &now)?;
//! ledger.pin_opened("person-7")?;
//! # Ok(()) }
//! ```

mod backup;
mod check;
mod columns;
mod drafts;
mod entries;
mod error;
mod flaw;
mod journal;
mod kept;
mod keys;
mod moment;
mod names;
mod open;
mod pins;
mod reader;
mod records;
mod schema;
mod space;

pub use backup::{BackupContents, BackupError, Check, Restored, backup_heads, restore};
pub use check::{Checked, Known, Verify};
pub use drafts::KeptDraft;
pub use entries::{Deed, NewPerson, Sign, Signature, Signer, Stamp, Written};
pub use error::{LedgerError, SignError};
pub use flaw::Flaw;
pub use journal::{Begin, Begun};
pub use moment::Moment;
pub use names::Name;
pub use open::{Installation, Ledger, records_folder};
pub use pins::PinState;
pub use reader::Reader;
pub use records::{Countersigned, FiledRecord, NewRecord};
