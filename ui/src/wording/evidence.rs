//! Words of evidence: checking a record, putting one right, the authority, backups.

pub(crate) mod verify {
    use contract::{Came, Reliable};

    pub(crate) const TITLE: &str = "Check a record";
    pub(crate) const LEAD: &str = "Choose the signed PDF of a record, of this facility or of another one. It is checked \
        here, nothing leaves the device, and nothing is stored.";
    pub(crate) const FILE: &str = "The record";
    pub(crate) const FILE_HINT: &str = "Choose a file, or drop it here.";
    pub(crate) const OTHER: &str = "It comes from another facility";
    pub(crate) const OTHER_WHY: &str = "Choose that facility’s certificate, authority.pem, too. Compare its fingerprint \
        with them by another way first: whoever handed you the record could have handed you a certificate.";
    pub(crate) const CERTIFICATE: &str = "The certificate to trust";
    pub(crate) const REVOKED: &str = "Its latest list of revoked certificates, if you have it";
    pub(crate) const REVOKED_WHY: &str = "A record carries the list of the day it was signed. A later one, revoked.pem, \
        also tells whose right to sign was taken away since.";
    pub(crate) const CHECKING: &str = "Checking the signature and scoring it again";
    pub(crate) const REASONS: &str = "Why";
    pub(crate) const UNREADABLE: &str = "The file could not be read; choose it again.";

    pub(crate) fn too_large(megabytes: u64) -> String {
        format!("The file has {megabytes} MB; no record is that large. Choose the record itself.")
    }

    pub(crate) fn reliable(reliable: Reliable) -> &'static str {
        match reliable {
            Reliable::Yes => "It can be relied on",
            Reliable::UnknownAuthority => "Unchanged, but not to be relied on yet",
            Reliable::No => "It cannot be relied on",
        }
    }

    pub(crate) fn came(came: Came) -> &'static str {
        match came {
            Came::Holds => "Holds",
            Came::Fails => "Fails",
            Came::Unknown => "Not known",
        }
    }
}

pub(crate) mod right {
    pub(crate) const OPEN: &str = "Put this record right";
    pub(crate) const TITLE: &str = "Put a record right";
    pub(crate) const WHY: &str = "What was sealed stays as it is; what you say stands beside it for good, with your \
        name and your reason.";
    pub(crate) const WHAT: &str = "What is to be done";
    pub(crate) const VOID: &str = "Void it";
    pub(crate) const VOID_HINT: &str = "It does not count any more, for good. The person demonstrates again.";
    pub(crate) const DATE: &str = "Put the date right";
    pub(crate) const DATE_HINT: &str =
        "It was carried out on another day. How long it holds is counted anew.";
    pub(crate) const NOTE: &str = "Add a note";
    pub(crate) const NOTE_HINT: &str = "Anything else that is wrong in it. It changes nobody’s standing.";
    pub(crate) const VOID_CORRECTION: &str = "Void this correction";
    pub(crate) const DAY: &str = "The day it was carried out";
    pub(crate) const DAY_HINT: &str = "Year-month-day, such as 2026-11-25.";
    pub(crate) const TEXT: &str = "What it should say";
    pub(crate) const REASON: &str = "Reason";
    pub(crate) const AUTHOR: &str = "Who says so";
    pub(crate) const AUTHOR_HINT: &str =
        "An observer who signs on this device, and not the person of the record.";
    pub(crate) const CHOOSE: &str = "Choose an observer";
    pub(crate) const PIN: &str = "Their PIN";
    pub(crate) const GO: &str = "Sign it";
    pub(crate) const GOING: &str = "Signing";
    pub(crate) const MISSING: &str = "Fill this in.";
    pub(crate) const DONE: &str = "It was put right, and stands beside the record.";
    pub(crate) const NO_LONGER: &str = "Does not count any more";
    pub(crate) const DISPUTED: &str = "Two corrections give different dates. The one that grants the least counts until \
        one of them is voided.";

    /// What was said about a record, in one sentence or two.
    pub(crate) fn amended(amendment: &contract::Amendment) -> String {
        amendment.told(crate::wording::date)
    }

    /// The day of a record: what was sealed, and what counts where that is another one.
    pub(crate) fn carried_out(sealed: &str, now: &str) -> String {
        if sealed == now { now.to_owned() } else { format!("Sealed for {sealed}, put right to {now}") }
    }
}

pub(crate) mod second {
    use chrono::NaiveDate;

    pub(crate) const TITLE: &str = "The person observed";
    pub(crate) const WHY: &str = "Hand the tablet over. What is stated here is added to the record in the person’s \
        name and sealed by this device; the observer’s signature stays as it is.";
    pub(crate) const SEEN: &str = "Seen and discussed";
    pub(crate) const SEEN_HINT: &str =
        "I have read the record and talked it over. It does not mean that I agree.";
    pub(crate) const DECLINED: &str = "I decline";
    pub(crate) const DECLINED_HINT: &str = "That is written down too. The record holds either way.";
    pub(crate) const COMMENT: &str = "Comment, if any";
    pub(crate) const COMMENT_HINT: &str = "It can be read with the signature. Nothing about a patient.";
    pub(crate) const CHOOSE: &str = "Choose one of the two.";
    pub(crate) const GO: &str = "Add it to the record";
    pub(crate) const GOING: &str = "Adding the second signature";
    pub(crate) const ADD: &str = "Seen and discussed?";

    pub(crate) fn done(declined: bool, path: &str) -> String {
        let what = if declined { "Written down that it was declined" } else { "Added: seen and discussed" };
        format!("{what}. The record with both signatures is at {path}")
    }

    pub(crate) fn on(declined: bool, on: NaiveDate) -> String {
        let on = crate::wording::date(on);
        if declined {
            format!("The person declined to sign it, {on}")
        } else {
            format!("Seen and discussed with the person, {on}")
        }
    }
}

pub(crate) mod history {
    pub(crate) const AS_OF: &str = "As of";
    pub(crate) const AS_OF_HINT: &str = "Year-month-day, such as 2026-11-25. Empty for today.";
    pub(crate) const KNOWN_AT: &str = "As it was known by the end of";
    pub(crate) const KNOWN_AT_HINT: &str = "Empty for today: everything that is known now.";
    pub(crate) const BAD_DATE: &str = "Write the date as year-month-day, for example 2026-11-25.";
    pub(crate) const SAVE: &str = "For the auditor";
    pub(crate) const SAVE_WHY: &str = "The signed PDF holds this history with every record attached, and is sealed by \
        this device; the table has one line an observation.";
    pub(crate) const SAVE_PDF: &str = "Save as a signed PDF";
    pub(crate) const SAVE_CSV: &str = "Save as CSV";
    pub(crate) const SAVING: &str = "Putting it together";
    pub(crate) const NO_OBSERVATIONS: &str = "No observation was logged";

    pub(crate) fn saved(path: &str) -> String {
        format!("Saved as {path}")
    }

    pub(crate) fn as_of(as_of: &str, known_at: &str) -> String {
        format!("As of {as_of}, by what was known by the end of {known_at}")
    }

    pub(crate) fn observations(count: usize) -> String {
        crate::wording::counted(count, "observation", "observations")
    }

    pub(crate) fn observer(name: &str, entitled: bool, why: &str) -> String {
        if entitled {
            format!("Observed by {name}, {why}")
        } else {
            format!("Observed by {name}, who was not entitled to: {why}")
        }
    }
}

pub(crate) mod observers {
    use contract::{OtherDevice, SecretPlace, Signing, beginning};

    use crate::wording;

    pub(crate) const TITLE: &str = "Who signs";
    pub(crate) const WHY: &str = "A certificate holds thirteen months; appointing an observer again renews it. Take \
        signing away when an observer leaves, and from everyone on a tablet that is lost.";

    /// Where the half lies that every PIN needs.
    pub(crate) fn lies(secret: SecretPlace) -> &'static str {
        match secret {
            SecretPlace::KeyStore => {
                "A PIN opens a key only together with this device's secret. The secret lies in the system's key \
                    store, which opens with the account that is signed in."
            }
            SecretPlace::File => {
                "A PIN opens a key only together with this device's secret. The secret lies in a file that only this \
                    account of the system may read, since no key store was open when the device was set up. Whoever \
                    copies the data folder from this account copies it too: let the device's disk be encrypted."
            }
        }
    }

    pub(crate) const NOBODY: &str = "Nobody signs here yet. Appoint an observer in the list above.";
    pub(crate) const RENEW: &str = "Renew";
    pub(crate) const TAKE_AWAY: &str = "Take signing away";
    pub(crate) const TAKE_AWAY_WHY: &str = "What they have signed by now stays good. Whatever turns up later with their \
        signature does not count, whatever moment it claims, and new records carry the list.";
    pub(crate) const FROM: &str = "From whom";
    pub(crate) const REASON: &str = "Reason";
    pub(crate) const LEFT: &str = "They leave";
    pub(crate) const LEFT_HINT: &str = "Nothing is wrong with what they signed.";
    pub(crate) const OTHER_HANDS: &str = "A tablet is lost, or a PIN is known";
    pub(crate) const OTHER_HANDS_HINT: &str = "Choose everyone who signed on it, and the tablet.";
    pub(crate) const LOST: &str = "Which tablet is lost";
    pub(crate) const LOST_WHY: &str = "What it seals from its ledger from now on, such as histories, does not count. \
        Choose none where only a PIN is known.";
    pub(crate) const WHICH: &str = "What happened";
    pub(crate) const PASSPHRASE: &str = "Passphrase of the authority";
    pub(crate) const GO: &str = "Take it away";
    pub(crate) const GOING: &str = "Making the list";
    pub(crate) const CHOOSE_ONE: &str = "Choose at least one observer or tablet, and say what happened.";

    pub(crate) fn device(device: &OtherDevice) -> String {
        format!("Device {}", beginning(&device.id))
    }

    pub(crate) fn since(device: &OtherDevice) -> String {
        format!("Joined on {}; its request and answer have this in their names.", wording::date(device.since))
    }

    pub(crate) fn renew_name(name: &str) -> String {
        format!("Renew the certificate of {name}")
    }

    pub(crate) fn signing(signing: &Signing) -> String {
        match signing {
            Signing::Here(until) => format!("Signs on this device through {}", wording::date(*until)),
            Signing::Elsewhere(until) => {
                format!("Cannot sign on this device; the certificate holds through {}", wording::date(*until))
            }
            Signing::RanOut(on) => format!("Certificate ran out on {}", wording::date(*on)),
            Signing::TakenAway(on, why) => format!("Signing taken away on {}: {why}", wording::date(*on)),
        }
    }

    pub(crate) fn done(certificates: u32, path: &str) -> String {
        let many = wording::counted(
            usize::try_from(certificates).unwrap_or(usize::MAX),
            "certificate holds",
            "certificates hold",
        );
        format!("{many} no longer. The list is in {path}; hand it to whoever checks records elsewhere.")
    }
}

pub(crate) mod authority {
    pub(crate) const TRUST: &str = "Print how to trust it";
    pub(crate) const RECOVERY: &str = "If the passphrase is lost";
    pub(crate) const RECOVERY_WHY: &str = "A recovery sheet holds a code that opens the authority’s key in the place of \
        the passphrase. Print it once, lock it away, and remove the file. Another sheet makes this one worthless.";
    pub(crate) const PASSPHRASE: &str = "Passphrase of the authority";
    pub(crate) const PRINT: &str = "Make a recovery sheet";
    pub(crate) const PRINTING: &str = "Sealing the key once more";
    pub(crate) const REMOVE: &str = "It is printed: remove the file";
    pub(crate) const REMOVED: &str = "The file is removed. The sheet on paper is all there is.";
    pub(crate) const ROLL: &str = "Give the authority another key";
    pub(crate) const ROLL_WHY: &str = "When its certificate runs out, or the passphrase is known to others. Observers keep \
        their keys and PINs. Earlier records stay good; readers must trust the new certificate as well.";
    pub(crate) const ROLL_OLD: &str = "Passphrase until now, or the code of the recovery sheet";
    pub(crate) const ROLL_NEW: &str = "Passphrase from now on";
    pub(crate) const ROLL_AGAIN: &str = "The new passphrase once more";
    pub(crate) const ROLL_REASON: &str = "Reason";
    pub(crate) const ROLL_GO: &str = "Give it another key";
    pub(crate) const ROLLING: &str = "Making the new key and certificates";
    pub(crate) const ROLLED: &str = "The authority has another key. Hand out its new certificate, make a new recovery \
        sheet, and tell the fingerprint by another way:";
    pub(crate) const JOIN: &str = "Let another device join";
    pub(crate) const JOIN_WHY: &str = "Choose the request that the new device made. The answer holds the facility’s \
        ledger as it stands now: bring it to the new device, and appoint its observers there.";
    pub(crate) const JOIN_COMPARE: &str = "Compare before you answer: the device that asks shows the same fingerprint. Whoever \
        carried the request could have changed it on the way.";
    pub(crate) const JOIN_FILE: &str = "The request";
    pub(crate) const JOIN_GO: &str = "Answer it";
    pub(crate) const JOINING: &str = "Certifying the device and putting the answer together";
    pub(crate) const MISSING: &str = "Fill this in.";

    pub(crate) fn saved(path: &str) -> String {
        format!("Saved as {path}")
    }
}

pub(crate) mod keep {
    pub(crate) const TITLE: &str = "Print the recovery sheet now";
    pub(crate) const ON: &str = "Go on to Today";
    pub(crate) const LEAD: &str = "The facility is there, and its records are signed under its own authority. If the \
        passphrase is lost and there is no recovery sheet, nobody can be appointed any more.";
}

pub(crate) mod backup {
    pub(crate) const TITLE: &str = "Backup";
    pub(crate) const WHY: &str = "One file with the ledger and every record. Keep it away from this device, and locked \
        away: observers’ keys open only here, but with the passphrase or the recovery code it can appoint others.";
    pub(crate) const GO: &str = "Back up now";
    pub(crate) const GOING: &str = "Copying the ledger and the records";
    pub(crate) const RESTORE: &str = "Restore a backup";
    pub(crate) const RESTORE_WHY: &str = "The ledger is checked before it counts; a damaged file is refused, and nothing is \
        changed.";
    pub(crate) const FILE: &str = "The backup";
    pub(crate) const JOIN: &str = "Join a facility";
    pub(crate) const JOIN_FIRST: &str = "1. Ask";
    pub(crate) const JOIN_THEN: &str = "2. Bring the answer";
    pub(crate) const JOIN_THEN_WHY: &str =
        "The answer holds the facility’s ledger. It is checked before it counts.";
    pub(crate) const ANSWER: &str = "The answer";
    pub(crate) const JOIN_FINGERPRINT: &str = "Fingerprint of this device. The device that answers shows the same one; compare \
        them before it is answered.";
    pub(crate) const RESTORING: &str = "Checking every entry and every record";
    pub(crate) const JOIN_WHY: &str =
        "Make a request here, and bring it to a device of the facility, where it is answered under People.";
    pub(crate) const REQUEST: &str = "Make a request to join";
    pub(crate) const RESTORED: &str = "Restored";
    pub(crate) const OF_FACILITY: &str = "It is the ledger of";
    pub(crate) const COMPARE_AUTHORITY: &str = "Fingerprint of its authority. A device of the facility shows it under \
        People; if it shows another one, this file was exchanged on the way: do not work with it.";
    pub(crate) const ANSWERED: &str = "It answers the request of this device.";
    pub(crate) const NO_ANSWER: &str = "It is a backup and answers no request of this device; the device can seal papers of \
        its own once an observer is appointed or renewed here.";
    pub(crate) const NEXT: &str = "Observers are appointed anew on this device: open People, and renew each one who signs \
        here.";
    pub(crate) const ON: &str = "Open Today";

    pub(crate) fn made(path: &str, records: u32) -> String {
        let records =
            crate::wording::counted(usize::try_from(records).unwrap_or(usize::MAX), "record", "records");
        format!("Saved with {records} as {path}")
    }

    pub(crate) fn bringing(percent: u32) -> String {
        format!("Bringing it in, {percent} %")
    }

    pub(crate) fn restored(made: &str, entries: u64, records: u32) -> String {
        format!("Made {made}; {entries} entries and {records} records were checked, and nothing is wrong.")
    }

    pub(crate) fn request_made(path: &str) -> String {
        format!("Saved as {path}")
    }
}
