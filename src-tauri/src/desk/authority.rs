//! The facility's authority, and the observers whom it lets sign.

use contract::{AppointObserver, Fault, Person, SaveAuthority, SavedAuthority, beginning};
use evidence::{ActingAs, CertificateIssued, Facts, ObserverAppointed};
use ledger::{Deed, LedgerError, Moment};
use sealing::{
    Authority, Certificate, DeviceKey, ObserverKey, RevocationList, SealedKey, SealingError, Signer,
    pin_delay,
};

use super::{Books, Desk, Keys, absent, author, civil_date, typed::filled};
use crate::{
    chance,
    fault::{file_fault, ledger_fault, no_key_here, sealing_fault},
    folder::write_whole,
};

/// The certificate of the first authority; entries carry those that came after it.
pub(crate) const FIRST_CERTIFICATE: &str = "authority-certificate";
/// What the file of a certificate is called: the present one always the same, one that was replaced by the beginning of
/// its fingerprint.
pub(super) fn certificate_file(certificate: &Certificate, present: bool) -> String {
    if present {
        return "authority.pem".to_owned();
    }
    let short = beginning(&certificate.fingerprint());
    format!("authority-before-{short}.pem")
}

/// What makes somebody an observer, before any of it is kept.
pub(super) struct Enrolled {
    pub(super) deeds: Vec<Deed>,
    sealed: SealedKey,
    /// The fingerprint of their key.
    key: String,
}

impl Desk {
    /// Appoints an observer on outside evidence, makes their key and certificate; once more renews both.
    pub(crate) fn appoint_observer(&self, request: &AppointObserver, now: &Moment) -> Result<Person, Fault> {
        let evidence = filled(&request.evidence, "outside evidence")?;
        let name = self
            .reader()
            .name(&request.person)
            .map_err(ledger_fault)?
            .and_then(|name| name.name)
            .ok_or_else(|| absent("person"))?;
        let authority = self.authority(&request.passphrase)?;
        self.renew_list(&authority, now)?;
        let mut enrolled = self.enrol(&authority, &request.person, &name, evidence, &request.pin, now)?;
        enrolled.deeds.push(self.certify_device(&authority, now)?);
        // The key first: a certificate whose key is not there would promise what the device cannot do. What is signed
        // with until then stays beside it, since the entries may find no room.
        self.keep_observer_key(&request.person, &enrolled)?;
        self.write_with(Keys { authority: Some(&authority), ..Keys::default() }, &enrolled.deeds, now)?;
        // The observer is appointed all the same; what stays opens nothing, and the next renewal drops it.
        let _dropped_next_time = self.drop_earlier_keys(&request.person, &enrolled.key);
        self.person(&request.person, now)
    }

    /// The facts that make a person an observer, and their key, sealed under their PIN; nothing is kept yet.
    pub(super) fn enrol(
        &self,
        authority: &Authority,
        person: &str,
        name: &str,
        evidence: &str,
        pin: &str,
        now: &Moment,
    ) -> Result<Enrolled, Fault> {
        let key = ObserverKey::create(self.seed()?);
        let sealed = key.seal(pin, &self.device_secret.bytes, self.seed()?).map_err(sealing_fault)?;
        let at = now.wall.to_utc();
        let certificate = authority.certify(&key, name, person, at, self.seed()?).map_err(sealing_fault)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let appointed = ObserverAppointed {
            person: person.to_owned(),
            procedures: None,
            evidence: evidence.to_owned(),
            from: civil_date(&facts, now),
            until: None,
        };
        let deeds = vec![Deed::new(author(ActingAs::Authority), appointed), issued(person, &certificate)?];
        Ok(Enrolled { deeds, sealed, key: certificate.key_fingerprint().map_err(sealing_fault)? })
    }

    /// The fact that this device may seal what it draws from its ledger, renewed whenever an observer is appointed.
    pub(super) fn certify_device(&self, authority: &Authority, now: &Moment) -> Result<Deed, Fault> {
        let device = self.device_name();
        let short = beginning(&device);
        let certificate = authority
            .certify_device(
                &self.device,
                &format!("Device {short}"),
                &device,
                now.wall.to_utc(),
                self.seed()?,
            )
            .map_err(sealing_fault)?;
        issued(&device, &certificate)
    }

    /// Makes the list of what was revoked again with today's date, before a certificate is given out: a list that is
    /// older than a certificate says nothing about it.
    pub(super) fn renew_list(&self, authority: &Authority, now: &Moment) -> Result<(), Fault> {
        let name = list_of(authority.certificate());
        let latest = self.revocations()?;
        let renewed = authority.revoke_also(&latest, &[], now.wall.to_utc()).map_err(sealing_fault)?;
        self.ledger.put_key(&name, renewed.der()).map_err(ledger_fault)
    }

    /// Keeps an observer's sealed key, and on which device it opens. It lies under its own fingerprint, so that it can
    /// be kept before an entry says that it is theirs, and takes the place of none.
    pub(super) fn keep_observer_key(&self, person: &str, enrolled: &Enrolled) -> Result<(), Fault> {
        let place = format!("{person}/{}", enrolled.key);
        self.put_sealed(&observer_key(&place), &enrolled.sealed)?;
        let device = self.device_name();
        self.ledger.put_key(&key_device(&place), device.as_bytes()).map_err(ledger_fault)
    }

    /// Drops every key of an observer but the one that their certificate needs.
    fn drop_earlier_keys(&self, person: &str, key: &str) -> Result<(), LedgerError> {
        let place = format!("{person}/{key}");
        self.ledger.drop_keys(&observer_key(person), &observer_key(&place))?;
        self.ledger.drop_keys(&key_device(person), &key_device(&place))
    }

    /// Where the sealed key lies that belongs to a certificate, if it opens on this device; after a restore none does.
    /// Earlier versions of the program kept one key for each person, under no name of its own.
    fn key_here(&self, person: &str, issued: &CertificateIssued) -> Result<Option<String>, Fault> {
        let certificate = Certificate::read(issued.certificate.as_bytes()).map_err(sealing_fault)?;
        let own = format!("{person}/{}", certificate.key_fingerprint().map_err(sealing_fault)?);
        for place in [own, person.to_owned()] {
            let reader = self.reader();
            if let Some(device) = reader.key(&key_device(&place)).map_err(ledger_fault)? {
                let here = device == self.device_name().as_bytes();
                return Ok(here.then(|| observer_key(&place)));
            }
        }
        Ok(None)
    }

    /// Whether the key that somebody signs with opens on this device.
    pub(super) fn opens_here(&self, facts: &Facts, person: &str) -> Result<bool, Fault> {
        let Some(issued) = facts.certificate(person) else { return Ok(false) };
        Ok(self.key_here(person, issued)?.is_some())
    }

    /// Keeps an authority's sealed key and its first list, which names nothing. They lie under the authority's
    /// fingerprint, so that they can be kept before an entry says that it is the authority.
    pub(super) fn keep_authority(
        &self,
        authority: &Authority,
        passphrase: &str,
        now: &Moment,
    ) -> Result<(), Fault> {
        let sealed = authority.seal(passphrase, self.seed()?).map_err(sealing_fault)?;
        let list = authority.revoke(&[], 1, now.wall.to_utc()).map_err(sealing_fault)?;
        self.put_sealed(&key_of(authority.certificate()), &sealed)?;
        self.ledger.put_key(&list_of(authority.certificate()), list.der()).map_err(ledger_fault)
    }

    /// Keeps the certificate of the first authority.
    pub(super) fn keep_first_certificate(&self, authority: &Authority) -> Result<(), Fault> {
        self.ledger.put_key(FIRST_CERTIFICATE, authority.certificate().der()).map_err(ledger_fault)
    }

    /// Keeps a second seal of the authority's key, under the code of the recovery sheet.
    pub(super) fn keep_recovery(&self, authority: &Authority, code: &str) -> Result<(), Fault> {
        let sealed = authority.seal(code, self.seed()?).map_err(sealing_fault)?;
        self.put_sealed(&recovery_of(authority.certificate()), &sealed)
    }

    /// Saves the authority's certificate beside the exports, for PDF readers to trust, and each that was replaced in a
    /// file of its own: records that were signed under it are checked with it.
    pub(crate) fn save_authority_certificate(&self) -> Result<String, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let present = self.authority_certificate()?;
        for certificate in self.authorities(&facts) {
            let path = self.folder.exports().join(certificate_file(&certificate, certificate == present));
            let pem = certificate.pem().map_err(sealing_fault)?;
            write_whole(&path, pem.as_bytes()).map_err(|error| file_fault("save", &path, &error))?;
        }
        Ok(self.folder.exports().join(certificate_file(&present, true)).display().to_string())
    }

    /// Saves the authority's certificate, and tells its fingerprint.
    pub(crate) fn save_authority(&self, _request: &SaveAuthority) -> Result<SavedAuthority, Fault> {
        let path = self.save_authority_certificate()?;
        Ok(SavedAuthority { path, fingerprint: self.authority_certificate()?.fingerprint() })
    }

    /// Opens the authority's key, by its passphrase or by the code of the recovery sheet.
    pub(super) fn authority(&self, secret: &str) -> Result<Authority, Fault> {
        let certificate = self.authority_certificate()?;
        let opened = Authority::open(&self.sealed(&key_of(&certificate))?, certificate.clone(), secret);
        let recovery = recovery_of(&certificate);
        let wrong = matches!(opened, Err(SealingError::WrongPassphrase));
        if wrong && self.reader().key(&recovery).map_err(ledger_fault)?.is_some() {
            let code = super::recovery::tidy(secret);
            return Authority::open(&self.sealed(&recovery)?, certificate, &code).map_err(sealing_fault);
        }
        opened.map_err(sealing_fault)
    }

    /// That somebody can sign on this device what they begin on it: whoever learns of it at the end has observed in vain.
    pub(super) fn check_signs_here(&self, facts: &Facts, observer: &str) -> Result<(), Fault> {
        if self.opens_here(facts, observer)? {
            return Ok(());
        }
        Err(Fault::new(
            contract::Next::MendInput,
            "The observer's signing key is not on this device; appoint them again on it under People, or choose another observer.",
        ))
    }

    /// Opens an observer's key with their PIN and puts it together with the certificate in force. Wrong
    /// PINs make each further try wait longer.
    pub(super) fn signer(&self, person: &str, pin: &str, now: &Moment) -> Result<Signer, Fault> {
        let wrong = self.reader().pin_state(person).map_err(ledger_fault)?;
        if let Some(delay) = pin_delay(wrong.tries, wrong.since_last(now)) {
            return Err(Fault::new(contract::Next::TryAgain, delay.to_string()));
        }
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let issued = facts.certificate(person).ok_or_else(no_key_here)?;
        let sealed = self.sealed(&self.key_here(person, issued)?.ok_or_else(no_key_here)?)?;
        // Counted before it is tried, so that killing the program in between wins no guess.
        self.ledger.pin_failed(person, now).map_err(ledger_fault)?;
        let key = ObserverKey::open(&sealed, pin, &self.device_secret.bytes).map_err(sealing_fault)?;
        self.ledger.pin_opened(person).map_err(ledger_fault)?;
        let certificate = Certificate::read(issued.certificate.as_bytes()).map_err(sealing_fault)?;
        let list = self.revocations()?;
        Signer::new(key, certificate, self.authority_certificate()?)
            .and_then(|signer| signer.with_revocations(list))
            .map_err(sealing_fault)
    }

    /// The authority's latest list of what it revoked; new records carry it.
    pub(super) fn revocations(&self) -> Result<RevocationList, Fault> {
        self.books().revocations()
    }

    /// The authority's certificate, by which records are trusted.
    pub(crate) fn authority_certificate(&self) -> Result<Certificate, Fault> {
        self.books().authority_certificate()
    }

    /// This device as the signer of what it draws from its ledger.
    pub(super) fn device_signer(&self) -> Result<Signer, Fault> {
        self.books().device_signer(&self.device)
    }

    pub(super) fn seed(&self) -> Result<sealing::Seed, Fault> {
        chance::seed().map_err(|error| file_fault("draw a key for", self.folder.root(), &error))
    }

    fn put_sealed(&self, name: &str, sealed: &SealedKey) -> Result<(), Fault> {
        let blob = serde_json::to_vec(sealed).map_err(|_never| damaged_key())?;
        self.ledger.put_key(name, &blob).map_err(ledger_fault)
    }

    fn sealed(&self, name: &str) -> Result<SealedKey, Fault> {
        let blob = self.reader().key(name).map_err(ledger_fault)?.ok_or_else(no_key_here)?;
        serde_json::from_slice(&blob).map_err(|_damaged| damaged_key())
    }
}

impl Books<'_> {
    /// The authority's certificate, by which records are trusted.
    pub(crate) fn authority_certificate(self) -> Result<Certificate, Fault> {
        let facts = self.reader.facts(None).map_err(ledger_fault)?;
        if let Some(rolled) = facts.rolled_over.last() {
            return Certificate::read(rolled.certificate.as_bytes()).map_err(sealing_fault);
        }
        let der =
            self.reader.key(FIRST_CERTIFICATE).map_err(ledger_fault)?.ok_or_else(|| absent("authority"))?;
        Certificate::read(&der).map_err(sealing_fault)
    }

    /// The authority's latest list of what it revoked; new records carry it.
    pub(super) fn revocations(self) -> Result<RevocationList, Fault> {
        let authority = self.authority_certificate()?;
        let first = self
            .reader
            .key(&list_of(&authority))
            .map_err(ledger_fault)?
            .ok_or_else(|| absent("revocation list"))?;
        let first = RevocationList::read(&first).map_err(sealing_fault)?;
        let facts = self.reader.facts(None).map_err(ledger_fault)?;
        let later = facts
            .revoked
            .iter()
            .filter_map(|revoked| RevocationList::read(revoked.list.as_bytes()).ok())
            .filter(|list| list.issued_by(&authority));
        Ok(later.fold(first, |latest, list| if list.number() > latest.number() { list } else { latest }))
    }

    /// This device as the signer of what it draws from its ledger.
    pub(crate) fn device_signer(self, device: &DeviceKey) -> Result<Signer, Fault> {
        let facts = self.reader.facts(None).map_err(ledger_fault)?;
        let uncertified = || {
            Fault::new(
                contract::Next::AskForHelp,
                "This device cannot seal a document yet: appoint an observer on it once, or renew one, with the authority's passphrase; then try again.",
            )
        };
        let issued = facts.certificate(&super::name_of(device)).ok_or_else(uncertified)?;
        let certificate = Certificate::read(issued.certificate.as_bytes()).map_err(sealing_fault)?;
        let list = self.revocations()?;
        Signer::of_device(device, certificate, self.authority_certificate()?)
            .and_then(|signer| signer.with_revocations(list))
            .map_err(sealing_fault)
    }
}

/// The fact that somebody holds a certificate.
pub(super) fn issued(holder: &str, certificate: &Certificate) -> Result<Deed, Fault> {
    let issued = CertificateIssued {
        person: holder.to_owned(),
        certificate: certificate.pem().map_err(sealing_fault)?,
        fingerprint: evidence::digest(certificate.der()),
        not_before: certificate.from().fixed_offset(),
        not_after: certificate.until().fixed_offset(),
    };
    Ok(Deed::new(author(ActingAs::Authority), issued))
}

fn key_of(authority: &Certificate) -> String {
    format!("authority/{}", authority.fingerprint())
}

fn recovery_of(authority: &Certificate) -> String {
    format!("recovery/{}", authority.fingerprint())
}

fn list_of(authority: &Certificate) -> String {
    format!("revocations/{}", authority.fingerprint())
}

fn observer_key(place: &str) -> String {
    format!("observer/{place}")
}

/// Under which name stands the device on which an observer's key opens.
fn key_device(place: &str) -> String {
    format!("observer-device/{place}")
}

fn damaged_key() -> Fault {
    Fault::new(
        contract::Next::AskForHelp,
        "The sealed key on this device is damaged; appoint the observer again to renew it.",
    )
}
