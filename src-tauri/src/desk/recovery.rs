//! Where the passphrase is lost or known to others: the recovery sheet, and another key for the authority.

use contract::{
    Fault, ListObservers, ObserverLine, Observers, RemoveRecoverySheet, Removed, RollAuthorityOver,
    SaveRecoverySheet, SaveTrustPage, SavedAuthority, Shown, Signing,
};
use evidence::{ActingAs, AuthorityRolledOver, Facts};
use ledger::{Deed, Moment};
use paper::{RecoverySheet, TrustPage, TrustedCertificate};
use sealing::{Authority, Certificate};

use super::{
    Desk, Keys, PROGRAM, absent, author,
    authority::{certificate_file, issued},
    civil_date, civil_day,
    names::{person_view, sort_key},
    typed::filled,
};
use crate::{
    chance,
    fault::{file_fault, ledger_fault, paper_fault, sealing_fault},
    folder::{only_this_user, write_whole},
};

const SHEET: &str = "recovery-sheet.pdf";
/// No letter or digit that another one is taken for.
const ALPHABET: [char; 32] = [
    'A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'Q', 'R', 'S', 'T', 'U', 'V', 'W',
    'X', 'Y', 'Z', '2', '3', '4', '5', '6', '7', '8', '9',
];
/// Twenty characters of thirty-two: a hundred bits, which nobody guesses.
const LETTERS: usize = 20;
const GROUP: usize = 5;

impl Desk {
    /// Makes a recovery sheet in the folder of exports, to be printed, locked away, and removed there.
    pub(crate) fn save_recovery_sheet(
        &self,
        request: &SaveRecoverySheet,
        now: &Moment,
    ) -> Result<Shown, Fault> {
        let authority = self.authority(&request.passphrase)?;
        let secret =
            chance::secret().map_err(|error| file_fault("draw a code for", self.folder().root(), &error))?;
        let code = code(&secret);
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let (_id, facility) = facts.facility.as_ref().ok_or_else(|| absent("facility"))?;
        let sheet = paper::recovery_sheet(&RecoverySheet {
            facility: &facility.name,
            code: &code,
            fingerprint: &authority.certificate().fingerprint(),
            until: civil_day(&facts, authority.certificate().until().fixed_offset()),
            drawn: now.wall,
            program: PROGRAM,
        })
        .map_err(paper_fault)?;
        // The code must open the key before anybody relies on the sheet.
        self.keep_recovery(&authority, &tidy(&code))?;
        let path = self.folder().exports().join(SHEET);
        let saved = write_whole(&path, &sheet).and_then(|()| only_this_user(&path, 0o600));
        saved.map_err(|error| file_fault("save", &path, &error))?;
        Ok(Shown { path: path.display().to_string(), opened: false })
    }

    /// Removes the file of the recovery sheet: printed, it has no business on the device.
    pub(crate) fn remove_recovery_sheet(&self, _request: &RemoveRecoverySheet) -> Result<Removed, Fault> {
        let path = self.folder().exports().join(SHEET);
        match std::fs::remove_file(&path) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                Err(file_fault("remove", &path, &error))
            }
            Ok(()) | Err(_) => Ok(Removed {}),
        }
    }

    /// Saves the page that tells how to trust the facility's certificate, and the certificate beside it.
    pub(crate) fn save_trust_page(&self, _request: &SaveTrustPage, now: &Moment) -> Result<Shown, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let (_id, facility) = facts.facility.as_ref().ok_or_else(|| absent("facility"))?;
        self.save_authority_certificate()?;
        let authorities = self.authorities(&facts);
        let known: Vec<TrustedCertificate> = authorities
            .iter()
            .rev()
            .enumerate()
            .map(|(before, certificate)| TrustedCertificate {
                file: certificate_file(certificate, before == 0),
                fingerprint: certificate.fingerprint(),
                from: civil_day(&facts, certificate.from().fixed_offset()),
                until: civil_day(&facts, certificate.until().fixed_offset()),
            })
            .collect();
        let page = paper::trust_page(&TrustPage {
            facility: &facility.name,
            certificates: &known,
            drawn: now.wall,
            program: PROGRAM,
        })
        .map_err(paper_fault)?;
        self.save("how-to-trust-our-records.pdf", &page)
    }

    /// Gives the authority another key. Whoever signs now gets a certificate for the key they have, so that nobody
    /// has to be appointed anew; both keys of the authority sign the entry.
    pub(crate) fn roll_authority_over(
        &self,
        request: &RollAuthorityOver,
        now: &Moment,
    ) -> Result<SavedAuthority, Fault> {
        let reason = filled(&request.reason, "reason")?;
        let before = self.authority(&request.passphrase)?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let (_id, facility) = facts.facility.as_ref().ok_or_else(|| absent("facility"))?;
        let at = now.wall.to_utc();
        let authority = Authority::create(&facility.name, at, self.seed()?).map_err(sealing_fault)?;
        let rolled = AuthorityRolledOver {
            before: before.certificate().pem().map_err(sealing_fault)?,
            certificate: authority.certificate().pem().map_err(sealing_fault)?,
            fingerprint: evidence::digest(authority.certificate().der()),
            reason: reason.to_owned(),
        };
        let mut deeds = vec![Deed::new(author(ActingAs::Authority), rolled)];
        for holder in facts.people.keys() {
            let Some(signs) = facts.certificate(holder) else { continue };
            let earlier = Certificate::read(signs.certificate.as_bytes()).map_err(sealing_fault)?;
            if earlier.holds_at(at) {
                let renewed = authority.renew(&earlier, at, self.seed()?).map_err(sealing_fault)?;
                deeds.push(issued(holder, &renewed)?);
            }
        }
        // The key first: an entry that names an authority whose key is nowhere could not be undone.
        self.keep_authority(&authority, &request.new_passphrase, now)?;
        let keys = Keys { authority: Some(&authority), authority_before: Some(&before), ..Keys::default() };
        self.write_with(keys, &deeds, now)?;
        self.save_authority(&contract::SaveAuthority {})
    }

    /// Everyone who signs or signed here, by name.
    pub(crate) fn list_observers(&self, _request: &ListObservers, now: &Moment) -> Result<Observers, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let today = civil_date(&facts, now);
        let mut lines = Vec::new();
        for name in self.reader().names().map_err(ledger_fault)? {
            let person = &name.person;
            if let Some(signing) = self.signing(&facts, person, now)? {
                lines.push(ObserverLine { person: person_view(&facts, person, Some(&name), today), signing });
            }
        }
        lines.sort_by_cached_key(|one| sort_key(&one.person.name));
        let devices = self.other_devices(&facts);
        Ok(Observers { lines, devices, secret: self.device_secret.place })
    }

    fn signing(&self, facts: &Facts, person: &str, now: &Moment) -> Result<Option<Signing>, Fault> {
        let Some(last) = facts.people.get(person).and_then(|known| known.certificates.last()) else {
            return Ok(None);
        };
        let taken = facts.revoked.iter().find(|revoked| revoked.fingerprint == last.fingerprint);
        let until = civil_day(facts, last.not_after);
        Ok(Some(match taken {
            Some(taken) => Signing::TakenAway(civil_day(facts, taken.at), taken.reason.clone()),
            None if last.not_after < now.wall => Signing::RanOut(until),
            None if self.opens_here(facts, person)? => Signing::Here(until),
            None => Signing::Elsewhere(until),
        }))
    }
}

/// The code as it stands on the sheet, in groups that are read out one by one.
fn code(secret: &[u8; 32]) -> String {
    let letters: Vec<char> = secret
        .iter()
        .take(LETTERS)
        .filter_map(|byte| ALPHABET.get(usize::from(byte & 31)).copied())
        .collect();
    letters.chunks(GROUP).map(|group| group.iter().collect::<String>()).collect::<Vec<_>>().join("-")
}

/// The code as it seals: what people add or change when they type it makes no difference.
pub(super) fn tidy(typed: &str) -> String {
    typed.chars().filter(char::is_ascii_alphanumeric).map(|letter| letter.to_ascii_uppercase()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_twenty_letters_that_nobody_confuses_and_is_read_however_it_is_typed() {
        let mut secret = [0; 32];
        for (place, byte) in (0_u8..).zip(&mut secret) {
            *byte = place.wrapping_mul(37);
        }
        let code = code(&secret);
        assert_eq!(code.len(), 23, "{code}");
        assert!(!code.contains(['0', 'O', '1', 'I']), "{code}");
        assert_eq!(tidy(&code.to_lowercase().replace('-', "  ")), tidy(&code));
        assert_eq!(tidy(&code).len(), 20);
    }
}
