//! What the window asks about evidence: whether a record can be relied on, and what is put right afterwards.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// Checks a signed record that somebody brought; it need not be of this facility.
#[derive(Clone, Serialize, Deserialize)]
pub struct CheckRecord {
    /// The bytes of the PDF.
    pub pdf: Vec<u8>,
    /// The bytes of the certificate of another authority to trust, PEM or DER; this facility's own are trusted
    /// in any case.
    pub trust: Option<Vec<u8>>,
    /// The bytes of a later list of revoked certificates, PEM or DER, as the facility hands it out.
    pub revoked: Option<Vec<u8>>,
}

impl std::fmt::Debug for CheckRecord {
    /// Never shows the bytes.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CheckRecord").field("length", &self.pdf.len()).finish_non_exhaustive()
    }
}

/// What is to be thought of a record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CheckedRecord {
    /// How it stands.
    pub reliable: Reliable,
    /// Whose record of what it is, in one line; `None` where that could not be read, or it is a history.
    pub about: Option<String>,
    /// The verdict in one sentence.
    pub sentence: String,
    /// Every check that was made, in order.
    pub reasons: Vec<CheckReason>,
}

/// How a signed record stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reliable {
    /// Everything holds, under an authority that is trusted here.
    Yes,
    /// Everything that could be checked holds, but nobody here knows the authority.
    UnknownAuthority,
    /// Something does not hold.
    No,
}

/// One check of a record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CheckReason {
    /// What came of it.
    pub came: Came,
    /// One plain statement, without a full stop.
    pub text: String,
}

/// What came of a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Came {
    /// It holds.
    Holds,
    /// It does not hold.
    Fails,
    /// Nothing here can tell.
    Unknown,
}

/// Voids or corrects a record; the record stays as it is, and this stands beside it.
#[derive(Clone, Serialize, Deserialize)]
pub struct CorrectRecord {
    /// Made by the window, so that a repeated request changes nothing the second time.
    pub correction: String,
    /// The record, or an earlier correction of it.
    pub entry: String,
    /// What is to be done.
    pub change: Change,
    /// Why.
    pub reason: String,
    /// Id of the observer who says so.
    pub author: String,
    /// Opens the author's key.
    pub pin: String,
}

impl std::fmt::Debug for CorrectRecord {
    /// Never shows the PIN.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CorrectRecord").field("entry", &self.entry).finish_non_exhaustive()
    }
}

/// What is put right.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// It does not count any more.
    Void,
    /// It was carried out on another civil date; how long it holds is counted anew.
    Date(NaiveDate),
    /// Anything else, in words.
    Note(String),
}

/// Takes signing away from observers: they leave, or their key may be in other hands.
#[derive(Clone, Serialize, Deserialize)]
pub struct RevokeSigning {
    /// Ids of the observers.
    pub people: Vec<String>,
    /// The devices that were lost, which seal nothing any more.
    pub devices: Vec<String>,
    /// Why, in the list's own words.
    pub why: WhyRevoked,
    /// Why, as the facility says it.
    pub reason: String,
    /// The passphrase that opens the authority's key.
    pub passphrase: String,
}

impl std::fmt::Debug for RevokeSigning {
    /// Never shows the passphrase.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("RevokeSigning")
            .field("people", &self.people)
            .field("devices", &self.devices)
            .finish_non_exhaustive()
    }
}

/// Why signing is taken away.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WhyRevoked {
    /// The observer leaves.
    Left,
    /// A tablet was lost, or a PIN became known.
    KeyInOtherHands,
}

/// What a revocation did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RevokedSigning {
    /// How many certificates hold no longer.
    pub certificates: u32,
    /// Where the list is, which a verifier elsewhere needs.
    pub path: String,
}

/// Makes a backup of the data folder in the folder of exports.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct BackUp {}

/// A backup that was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct BackedUp {
    /// Where the file is.
    pub path: String,
    /// How many records are in it.
    pub records: u32,
}

/// Brings a part of a backup into the program, in order; a backup is too long to be brought at once.
#[derive(Clone, Serialize, Deserialize)]
pub struct BringBackup {
    /// Made by the window; names the file that is brought.
    pub backup: String,
    /// Where the part begins, in bytes.
    pub at: u64,
    /// The part.
    pub part: Vec<u8>,
}

impl std::fmt::Debug for BringBackup {
    /// Never shows the bytes.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("BringBackup")
            .field("backup", &self.backup)
            .field("at", &self.at)
            .finish_non_exhaustive()
    }
}

/// How much of a backup was brought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Brought {
    /// Bytes so far.
    pub length: u64,
}

/// Restores the backup that was brought; the device must have no facility yet.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RestoreBackup {
    /// The one that was brought.
    pub backup: String,
    /// What the file is called where it was chosen, to tell what is wrong with it.
    pub name: String,
    /// It is to be the answer to this device's request to join, and nothing else is taken.
    pub answer: bool,
}

/// A backup was restored. The program is opened anew, and then works on what was restored.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RestoredBackup {
    /// When the backup was made, as the wall clock read.
    pub made: String,
    /// How many entries the ledger check went through.
    pub entries: u64,
    /// How many records.
    pub records: u32,
    /// Whose ledger it is.
    pub facility: String,
    /// Fingerprint of the facility's authority, to be compared with what a device of the facility shows.
    pub authority: String,
    /// Whether it answers a request of this very device; a backup does not.
    pub answered: bool,
}

/// Makes a recovery sheet: a code that opens the authority's key where the passphrase is lost. A new sheet makes
/// earlier ones worthless.
#[derive(Clone, Serialize, Deserialize)]
pub struct SaveRecoverySheet {
    /// The passphrase that opens the authority's key.
    pub passphrase: String,
}

impl std::fmt::Debug for SaveRecoverySheet {
    /// Never shows the passphrase.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SaveRecoverySheet").finish_non_exhaustive()
    }
}

/// Removes the file of the recovery sheet, once it is printed.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct RemoveRecoverySheet {}

/// The file is gone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Removed {}

/// Saves a page that tells a reader of records how to trust the facility's certificate.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct SaveTrustPage {}

/// Gives the authority another key, certificate and passphrase. Observers keep their keys and PINs.
#[derive(Clone, Serialize, Deserialize)]
pub struct RollAuthorityOver {
    /// The passphrase until now, or the code of the recovery sheet.
    pub passphrase: String,
    /// The passphrase from now on.
    pub new_passphrase: String,
    /// Why.
    pub reason: String,
}

impl std::fmt::Debug for RollAuthorityOver {
    /// Never shows the passphrases.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("RollAuthorityOver").finish_non_exhaustive()
    }
}

/// Makes a request to join a facility, on a device that has none yet.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct MakeJoinRequest {}

/// A request to join was saved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinRequested {
    /// Where the file is.
    pub path: String,
    /// The beginning of the fingerprint of this device's key, hexadecimal: to be compared where it is answered.
    pub fingerprint: String,
}

/// Reads a request to join before it is answered.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ReadJoinRequest {
    /// The text of the request.
    pub request: String,
}

/// Which device asks.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinRequestRead {
    /// What [`JoinRequested`] says on the device that asks, where the request is its own.
    pub fingerprint: String,
}

/// Answers a request to join, on a device of the facility.
#[derive(Clone, Serialize, Deserialize)]
pub struct AnswerJoinRequest {
    /// The text of the request.
    pub request: String,
    /// The passphrase that opens the authority's key.
    pub passphrase: String,
}

impl std::fmt::Debug for AnswerJoinRequest {
    /// Never shows the passphrase.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("AnswerJoinRequest").finish_non_exhaustive()
    }
}

/// Lists everyone who signs or signed here.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ListObservers {}

/// Who signs or signed here, and where the secret of this device lies, without which no PIN opens a key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Observers {
    /// Everyone, by name.
    pub lines: Vec<ObserverLine>,
    /// The other devices of the facility that may seal what they draw from their ledger.
    pub devices: Vec<OtherDevice>,
    /// Where the secret lies.
    pub secret: SecretPlace,
}

/// Another device of the facility.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OtherDevice {
    /// The digest of its key.
    pub id: String,
    /// Since this civil date.
    pub since: NaiveDate,
}

/// Where a device keeps its secret.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SecretPlace {
    /// In the system's key store, which opens with the session of the system's user.
    KeyStore,
    /// In a file of the data folder that only the system's user may read.
    File,
}

/// Somebody who signs or signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ObserverLine {
    /// The person.
    pub person: crate::Person,
    /// How signing stands with them.
    pub signing: Signing,
}

/// How signing stands with an observer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Signing {
    /// They sign on this device through this date.
    Here(NaiveDate),
    /// They sign on another device through this date, or did before a restore.
    Elsewhere(NaiveDate),
    /// Their certificate ran out on this date.
    RanOut(NaiveDate),
    /// Signing was taken away on this date, for this reason.
    TakenAway(NaiveDate, String),
}

/// Adds the second signature to a record: the person observed has seen it and talked it over, or declines.
#[derive(Clone, Serialize, Deserialize)]
pub struct Countersign {
    /// The record.
    pub record: String,
    /// They decline to sign it as seen and discussed.
    pub declined: bool,
    /// What they want to be read with it; may be empty.
    pub comment: String,
}

impl std::fmt::Debug for Countersign {
    /// Never shows the comment.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Countersign").field("record", &self.record).finish_non_exhaustive()
    }
}

/// The record carries the second signature, in another file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Countersigned {
    /// Where the file is.
    pub path: String,
    /// SHA-256 of the file, hexadecimal.
    pub digest: String,
    /// They declined.
    pub declined: bool,
}
