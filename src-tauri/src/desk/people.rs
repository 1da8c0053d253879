//! People and observers.

use contract::{
    AddPerson, AppointObserver, Fault, ListPeople, Next, People, Person, SaveAuthority, SavedAuthority,
};
use evidence::{ActingAs, CertificateIssued, ObserverAppointed, UnitAdded};
use ledger::{Deed, Moment, NewPerson};
use sealing::{Authority, Certificate, ObserverKey, SealedKey, Signer, pin_delay};

use super::{Desk, absent, author, civil_date, names::person_view};
use crate::{
    chance,
    fault::{file_fault, ledger_fault, sealing_fault},
    folder::write_whole,
};

const AUTHORITY_KEY: &str = "authority";
const AUTHORITY_CERTIFICATE: &str = "authority-certificate";

impl Desk {
    /// People whose name or number contains a text.
    pub(crate) fn list_people(&self, request: &ListPeople, now: &Moment) -> Result<People, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let found = self.reader().search_names(&request.search, request.most).map_err(ledger_fault)?;
        let people =
            found.names.iter().map(|name| person_view(&facts, &name.person, Some(name), today)).collect();
        Ok(People { found: people, of: found.of })
    }

    /// Adds a person, and their unit where there is none of that name.
    pub(crate) fn add_person(&self, request: &AddPerson, now: &Moment) -> Result<Person, Fault> {
        let name = filled(&request.name, "name")?;
        let number = filled(&request.number, "staff number")?;
        let unit_name = filled(&request.unit, "unit")?;
        let role = filled(&request.role, "role")?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let known = facts.units.iter().find(|(_id, known)| known.to_lowercase() == unit_name.to_lowercase());
        let mut deeds = Vec::new();
        let unit = if let Some((id, _name)) = known {
            id.clone()
        } else {
            let id = chance::id().to_string();
            deeds.push(Deed::new(
                author(ActingAs::Manager),
                UnitAdded { unit: id.clone(), name: unit_name.to_owned() },
            ));
            id
        };
        let person = chance::id().to_string();
        deeds.push(
            Deed::add_person(
                author(ActingAs::Manager),
                NewPerson {
                    person: person.clone(),
                    unit,
                    role: role.to_owned(),
                    from: civil_date(&facts, now),
                    name: name.to_owned(),
                    number: number.to_owned(),
                    salt: chance::id(),
                },
            )
            .map_err(ledger_fault)?,
        );
        self.write(&deeds, now)?;
        self.person(&person, now)
    }

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
        let (deeds, sealed) = self.enrol(&authority, &request.person, &name, evidence, &request.pin, now)?;
        // The key first: a certificate whose key is not there would promise what the device cannot do.
        self.keep_observer_key(&request.person, &sealed)?;
        self.write(&deeds, now)?;
        self.person(&request.person, now)
    }

    /// One person, as they stand now.
    pub(crate) fn person(&self, person: &str, now: &Moment) -> Result<Person, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let name = self.reader().name(person).map_err(ledger_fault)?.ok_or_else(|| absent("person"))?;
        Ok(person_view(&facts, person, Some(&name), civil_date(&facts, now)))
    }

    /// The facts that make a person an observer, and their key, sealed under their PIN.
    pub(super) fn enrol(
        &self,
        authority: &Authority,
        person: &str,
        name: &str,
        evidence: &str,
        pin: &str,
        now: &Moment,
    ) -> Result<(Vec<Deed>, SealedKey), Fault> {
        let key = ObserverKey::create(self.seed()?);
        let sealed = key.seal(pin, &self.device_secret, self.seed()?).map_err(sealing_fault)?;
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
        let issued = CertificateIssued {
            person: person.to_owned(),
            certificate: certificate.pem().map_err(sealing_fault)?,
            fingerprint: evidence::digest(certificate.der()),
            not_before: certificate.from().fixed_offset(),
            not_after: certificate.until().fixed_offset(),
        };
        let deeds = vec![
            Deed::new(author(ActingAs::Authority), appointed),
            Deed::new(author(ActingAs::Authority), issued),
        ];
        Ok((deeds, sealed))
    }

    /// Keeps an observer's sealed key.
    pub(super) fn keep_observer_key(&self, person: &str, sealed: &SealedKey) -> Result<(), Fault> {
        self.put_sealed(&observer_key(person), sealed)
    }

    /// Keeps the authority's sealed key and its certificate.
    pub(super) fn keep_authority(&self, authority: &Authority, passphrase: &str) -> Result<(), Fault> {
        let sealed = authority.seal(passphrase, self.seed()?).map_err(sealing_fault)?;
        self.put_sealed(AUTHORITY_KEY, &sealed)?;
        self.ledger.put_key(AUTHORITY_CERTIFICATE, authority.certificate().der()).map_err(ledger_fault)
    }

    /// The authority's certificate, by which records are trusted.
    pub(crate) fn authority_certificate(&self) -> Result<Certificate, Fault> {
        let der = self
            .reader()
            .key(AUTHORITY_CERTIFICATE)
            .map_err(ledger_fault)?
            .ok_or_else(|| absent("authority"))?;
        Certificate::read(&der).map_err(sealing_fault)
    }

    /// Saves the authority's certificate beside the exports, for PDF readers to trust.
    pub(crate) fn save_authority_certificate(&self) -> Result<String, Fault> {
        let path = self.folder.exports().join("authority.pem");
        let pem = self.authority_certificate()?.pem().map_err(sealing_fault)?;
        write_whole(&path, pem.as_bytes()).map_err(|error| file_fault("save", &path, &error))?;
        Ok(path.display().to_string())
    }

    /// Saves the authority's certificate, and tells its fingerprint.
    pub(crate) fn save_authority(&self, _request: &SaveAuthority) -> Result<SavedAuthority, Fault> {
        let path = self.save_authority_certificate()?;
        Ok(SavedAuthority { path, fingerprint: self.authority_certificate()?.fingerprint() })
    }

    /// Opens the authority's key; whoever can acts for the facility.
    pub(super) fn authority(&self, passphrase: &str) -> Result<Authority, Fault> {
        let sealed = self.sealed(AUTHORITY_KEY)?;
        Authority::open(&sealed, self.authority_certificate()?, passphrase).map_err(sealing_fault)
    }

    /// Opens an observer's key with their PIN and puts it together with the certificate in force. Wrong
    /// PINs make each further try wait longer.
    pub(super) fn signer(&self, person: &str, pin: &str, now: &Moment) -> Result<Signer, Fault> {
        let wrong = self.reader().pin_state(person).map_err(ledger_fault)?;
        if let Some(delay) = pin_delay(wrong.tries, wrong.since_last(now)) {
            return Err(Fault::new(Next::TryAgain, delay.to_string()));
        }
        let sealed = self.sealed(&observer_key(person))?;
        // Counted before it is tried, so that killing the program in between wins no guess.
        self.ledger.pin_failed(person, now).map_err(ledger_fault)?;
        let key = ObserverKey::open(&sealed, pin, &self.device_secret).map_err(sealing_fault)?;
        self.ledger.pin_opened(person).map_err(ledger_fault)?;
        let facts = self.reader().facts_of(person, None).map_err(ledger_fault)?;
        let issued = facts
            .people
            .get(person)
            .and_then(|person| person.certificates.last())
            .ok_or_else(|| absent("certificate"))?;
        let certificate = Certificate::read(issued.certificate.as_bytes()).map_err(sealing_fault)?;
        Signer::new(key, certificate, self.authority_certificate()?).map_err(sealing_fault)
    }

    fn seed(&self) -> Result<sealing::Seed, Fault> {
        chance::seed().map_err(|error| file_fault("draw a key for", self.folder.root(), &error))
    }

    fn put_sealed(&self, name: &str, sealed: &SealedKey) -> Result<(), Fault> {
        let blob = serde_json::to_vec(sealed).map_err(|_never| damaged_key())?;
        self.ledger.put_key(name, &blob).map_err(ledger_fault)
    }

    fn sealed(&self, name: &str) -> Result<SealedKey, Fault> {
        let blob = self.reader().key(name).map_err(ledger_fault)?.ok_or_else(|| {
            Fault::new(
                Next::AskForHelp,
                "The signing key is not on this device; appoint the observer here, or sign on the device where they were appointed.",
            )
        })?;
        serde_json::from_slice(&blob).map_err(|_damaged| damaged_key())
    }
}

fn observer_key(person: &str) -> String {
    format!("observer/{person}")
}

fn damaged_key() -> Fault {
    Fault::new(
        Next::AskForHelp,
        "The sealed key on this device is damaged; appoint the observer again to renew it.",
    )
}

/// What was entered, without blanks around it; it must not be empty.
pub(super) fn filled<'a>(text: &'a str, what: &str) -> Result<&'a str, Fault> {
    match text.trim() {
        "" => Err(Fault::new(Next::MendInput, format!("The {what} is empty; enter it, then try again."))),
        text => Ok(text),
    }
}
