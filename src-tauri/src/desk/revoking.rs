//! Taking signing away: an observer leaves, a tablet is lost.

use std::fs;

use contract::{Fault, Next, OtherDevice, RevokeSigning, RevokedSigning, WhyRevoked};
use evidence::{ActingAs, CertificateRevoked, Facts, PersonFacts};
use ledger::{Deed, Moment};
use sealing::{Certificate, RevocationList, Revoked, WhyRevoked as ListedWhy};

use super::{Desk, Keys, author, civil_day, facility::count, typed::filled};
use crate::{
    fault::{file_fault, ledger_fault, sealing_fault},
    folder::write_whole,
};

/// The list, as verifiers elsewhere read it.
const LIST_FILE: &str = "revoked.pem";

impl Desk {
    /// Revokes every certificate that these observers and devices sign with; new records carry the list from now on. What
    /// stands in the ledger by now stays accepted, and nothing that comes after it.
    pub(crate) fn revoke_signing(
        &self,
        request: &RevokeSigning,
        now: &Moment,
    ) -> Result<RevokedSigning, Fault> {
        let reason = filled(&request.reason, "reason")?;
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        let mut chosen = Vec::new();
        for person in &request.people {
            chosen.extend(in_force(&facts, person).into_iter().map(|issued| (person.clone(), issued)));
        }
        let others = self.other_devices(&facts);
        for device in request.devices.iter().filter(|device| others.iter().any(|other| other.id == **device))
        {
            chosen.extend(in_force(&facts, device).into_iter().map(|issued| (device.clone(), issued)));
        }
        if chosen.is_empty() {
            // There may have been no room for the file the first time.
            let last = facts.revoked.last().map(|revoked| &revoked.list);
            let taken: Vec<_> = facts.revoked.iter().filter(|one| Some(&one.list) == last).collect();
            let mut asked = request.people.iter().chain(&request.devices);
            let meant = asked.any(|holder| taken.iter().any(|one| one.person == *holder));
            if meant && self.renew_list_file()? {
                return Ok(self.revoked_signing(taken.len()));
            }
            return Err(Fault::new(
                Next::MendInput,
                "None of those chosen can sign any more; choose an observer or a device that can.",
            ));
        }
        let authority = self.authority(&request.passphrase)?;
        let why = match request.why {
            WhyRevoked::Left => ListedWhy::Left,
            WhyRevoked::KeyInOtherHands => ListedWhy::KeyInOtherHands,
        };
        let at = now.wall.to_utc();
        let listed: Vec<Revoked> = chosen
            .iter()
            // What an earlier authority issued is on no list of this one; the ledger's entry revokes it.
            .filter(|(_person, certificate)| certificate.issued_by(authority.certificate()))
            .map(|(_person, certificate)| Revoked { certificate: certificate.clone(), at, why })
            .collect();
        let list = authority.revoke_also(&self.revocations()?, &listed, at).map_err(sealing_fault)?;
        let pem = list.pem().map_err(sealing_fault)?;
        let last_accepted = self.reader().heads().map_err(ledger_fault)?;
        let deeds: Vec<Deed> = chosen
            .iter()
            .map(|(person, certificate)| {
                let revoked = CertificateRevoked {
                    person: person.clone(),
                    fingerprint: evidence::digest(certificate.der()),
                    at: now.wall,
                    reason: reason.to_owned(),
                    last_accepted: last_accepted.clone(),
                    list: pem.clone(),
                };
                Deed::new(author(ActingAs::Authority), revoked)
            })
            .collect();
        self.write_with(Keys { authority: Some(&authority), ..Keys::default() }, &deeds, now)?;
        self.renew_list_file()?;
        Ok(self.revoked_signing(deeds.len()))
    }

    fn revoked_signing(&self, certificates: usize) -> RevokedSigning {
        let path = self.folder().exports().join(LIST_FILE);
        RevokedSigning { certificates: count(certificates), path: path.display().to_string() }
    }

    /// Saves the latest list beside the exports, where what lies there is not it: the entries are written first, and
    /// then there may be no room for a file. Whether it was saved; where nothing was ever revoked there is none.
    pub(super) fn renew_list_file(&self) -> Result<bool, Fault> {
        let facts = self.reader().facts(None).map_err(ledger_fault)?;
        if facts.revoked.is_empty() {
            return Ok(false);
        }
        let (authority, latest) = (self.authority_certificate()?, self.revocations()?);
        let of_this = |list: &RevocationList| list.issued_by(&authority);
        let lists = || facts.revoked.iter().map(|one| RevocationList::read(one.list.as_bytes()));
        let path = self.folder().exports().join(LIST_FILE);
        let lies = fs::read(&path).ok().and_then(|bytes| RevocationList::read(&bytes).ok());
        let newer = lies.filter(of_this).is_none_or(|lies| lies.number() < latest.number());
        if !newer || !lists().any(|list| list.is_ok_and(|list| of_this(&list))) {
            return Ok(false);
        }
        let pem = latest.pem().map_err(sealing_fault)?;
        write_whole(&path, pem.as_bytes()).map_err(|error| file_fault("save", &path, &error))?;
        Ok(true)
    }

    /// The devices of the facility beside this one that may seal what they draw from their ledger.
    pub(super) fn other_devices(&self, facts: &Facts) -> Vec<OtherDevice> {
        let here = self.device_name();
        let devices = facts.people.iter().filter(|(id, known)| {
            known.name_digest.is_none() && known.memberships.is_empty() && **id != here
        });
        let line = |(id, known): (&String, &PersonFacts)| {
            let since = civil_day(facts, known.certificates.first()?.not_before);
            Some(OtherDevice { id: id.clone(), since })
        };
        devices.filter(|(id, _known)| !in_force(facts, id).is_empty()).filter_map(line).collect()
    }
}

/// Every certificate of somebody that was not revoked; one that ran out does no harm on a list.
fn in_force(facts: &Facts, person: &str) -> Vec<Certificate> {
    let issued = facts.people.get(person).map(|known| known.certificates.as_slice()).unwrap_or_default();
    issued
        .iter()
        .filter(|issued| !facts.is_revoked(issued.fingerprint))
        .filter_map(|issued| Certificate::read(issued.certificate.as_bytes()).ok())
        .collect()
}
