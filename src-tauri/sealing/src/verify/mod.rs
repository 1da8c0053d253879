mod layout;
mod reading;
mod verdict;

use chrono::{DateTime, Utc};

use crate::{
    Certificate, RevocationList,
    cms::{self, Block},
    second::{self, Second},
    sign::digest,
};
pub(crate) use layout::der_length;
use layout::{Layout, Tail};
use reading::Reading;
pub(crate) use reading::load;
pub use verdict::{Check, Reason, Signature, Standing, Verdict};

/// Checks a signed record, with no ledger at hand.
///
/// `trusted` are the certificates of the authorities whose records are believed; with none of them
/// the best verdict is [`Standing::UnknownAuthority`]. The checks go on as far as they make sense, so
/// the verdict names everything that is wrong and not only the first; nothing is read out of a document whose bytes
/// are not exactly those that were signed, by whoever signed them.
pub fn verify(pdf: &[u8], trusted: &[Certificate]) -> Verdict {
    verify_with(pdf, trusted, &[])
}

/// The same, with revocation lists from elsewhere, such as a later record's or the ledger's: a record
/// cannot carry the list by which its own certificate was revoked afterwards. Lists of other authorities
/// do not matter.
///
/// The claimed moment decides whether a record was signed before its certificate was revoked. Whoever has
/// a stolen key can claim any moment; the ledger's entry of the revocation, which names the last entry of
/// each stream that is accepted, decides about those.
pub fn verify_with(pdf: &[u8], trusted: &[Certificate], lists: &[RevocationList]) -> Verdict {
    let mut verdict = Verdict::default();
    let Some(layout) = verdict.need(Check::Signed, Layout::find(pdf)) else {
        return verdict;
    };
    let block = layout.block.as_deref().and_then(cms::read);
    let signed = pdf.get(..layout.end).unwrap_or(pdf);
    let known = block.as_ref().is_some_and(|block| trusted.contains(&block.authority));
    let first = block.as_ref().map(|block| First::of(block, signed, &layout, known));
    // Nothing is parsed before that holds.
    let sound = first.is_some_and(|first| first.unchanged && first.genuine && first.issued);
    let added = if sound && layout.tail == Tail::Added { second::read(pdf, layout.end) } else { None };
    verdict.add(whole(layout.tail, sound, added.is_some()));
    let (Some(block), Some(first)) = (verdict.need(Check::SignatureBlock, block), first) else {
        return verdict;
    };
    verdict.check(Check::Unchanged, first.unchanged);
    verdict.check(Check::Genuine, first.genuine);
    verdict.check(Check::Issued, first.issued);
    if verdict.is_broken() {
        return verdict;
    }
    let Some(Reading { facts, attachment, files, lists: carried }) =
        verdict.need(Check::Record, reading::read(signed, &layout))
    else {
        return verdict;
    };
    let when = facts.when.with_timezone(&Utc);
    verdict.check(Check::CertificateHeld, block.signer.holds_at(when) && block.authority.holds_at(when));
    revocation(&mut verdict, &block, when, &carried, lists);
    verdict.check(Check::KnownAuthority, known);
    if let Some(added) = added {
        let lists: Vec<&RevocationList> = carried.iter().chain(lists).collect();
        second_signature(&mut verdict, added, (when, &block), trusted, &lists);
    }
    verdict.attachment = attachment;
    verdict.files = files;
    verdict.lists = carried;
    verdict.signature = Some(Signature {
        when: facts.when,
        name: facts.name,
        reason: facts.reason,
        place: facts.place,
        signer: block.signer,
        authority: block.authority,
    });
    verdict
}

/// What the bytes alone say of the first signature.
#[derive(Clone, Copy)]
struct First {
    unchanged: bool,
    genuine: bool,
    issued: bool,
}

impl First {
    /// Its authority is `known` where it is one of those trusted.
    fn of(block: &Block, signed: &[u8], layout: &Layout, known: bool) -> First {
        First {
            unchanged: digest(signed, &layout.gap) == block.document,
            genuine: block.is_genuine(),
            // A certificate that is trusted as it stands needs no signature of its own.
            issued: block.signer.may_sign()
                && block.signer.issued_by(&block.authority)
                && (known || block.authority.issued_by(&block.authority)),
        }
    }
}

/// Whether the first signature, which may be sound, covers everything but a second one that could be read.
fn whole(tail: Tail, sound: bool, second: bool) -> Reason {
    let covers = Check::WholeDocument.holds();
    match tail {
        Tail::Nothing => covers,
        Tail::Added if second => Reason {
            text: "nothing but a second signature was added to what the first one covers".to_owned(),
            ..covers
        },
        Tail::Added if sound => {
            Check::WholeDocument.fails("something was added to the document after it was signed")
        }
        Tail::Added => Check::WholeDocument.fails(
            "something was added after what it covers, and was not looked at, since that does not hold",
        ),
        Tail::CutOff => Check::WholeDocument.fails("the end of the document is missing"),
    }
}

/// Judges the second signature like the first. Its authority may be another one, after a roll-over, and need not be
/// known.
fn second_signature(
    verdict: &mut Verdict,
    second: Second,
    (first, of_first): (DateTime<Utc>, &Block),
    trusted: &[Certificate],
    lists: &[&RevocationList],
) {
    let Second { said, block, digest } = second;
    let genuine = digest == block.document && block.is_genuine();
    let issued = block.signer.may_sign()
        && block.signer.issued_by(&block.authority)
        && block.authority.issued_by(&block.authority);
    let known = block.authority == of_first.authority || trusted.contains(&block.authority);
    let when = said.when.with_timezone(&Utc);
    let held = block.signer.holds_at(when) && block.authority.holds_at(when) && first <= when;
    let of_authority = lists.iter().filter(|list| list.issued_by(&block.authority));
    let revoked = of_authority.filter_map(|list| list.revoked_at(&block.signer)).any(|at| at <= when);
    let reason = if !genuine {
        Check::SecondSignature.fails("the second signature was not made over this document")
    } else if !issued {
        Check::SecondSignature
            .fails("the certificate of the second signature was not issued by its authority")
    } else if !held || revoked {
        Check::SecondSignature.fails("the certificate of the second signature did not hold when it was made")
    } else {
        let mut reason = Check::SecondSignature.holds();
        reason.text = format!(
            "the second signature holds: {}, {}: {}",
            said.name,
            said.when.format("%Y-%m-%d %H:%M %:z"),
            said.reason
        );
        reason
    };
    verdict.add(reason);
    if !known {
        verdict.add(
            Check::KnownAuthority.fails("the authority of the second signature is not one that you trust"),
        );
    }
    verdict.second = Some(Signature {
        when: said.when,
        name: said.name,
        reason: said.reason,
        place: said.place,
        signer: block.signer,
        authority: block.authority,
    });
}

/// Says nothing where there is no list at hand: then nothing is known of any revocation.
fn revocation(
    verdict: &mut Verdict,
    block: &Block,
    when: DateTime<Utc>,
    carried: &[RevocationList],
    given: &[RevocationList],
) {
    if carried.iter().any(|list| !list.issued_by(&block.authority)) {
        verdict.add(
            Check::NotRevoked.fails("the revocation list in the record does not come from its authority"),
        );
        return;
    }
    let given = given.iter().filter(|list| list.issued_by(&block.authority));
    let lists: Vec<&RevocationList> = carried.iter().chain(given).collect();
    let Some(latest) = lists.iter().map(|list| list.made_at()).max() else { return };
    let say = |moment: DateTime<Utc>| moment.format("%Y-%m-%d %H:%M UTC");
    let mut reason = Check::NotRevoked.holds();
    match lists.iter().filter_map(|list| list.revoked_at(&block.signer)).min() {
        Some(revoked) if revoked <= when => {
            reason.holds = false;
            reason.text =
                format!("the certificate was revoked on {}, before the record was signed", say(revoked));
        }
        Some(revoked) if lists.iter().any(|list| list.is_in_other_hands(&block.signer)) => {
            reason.known = false;
            verdict.key_in_other_hands = true;
            reason.text = format!(
                "the certificate was revoked on {}, since its key may be in other hands: the moment at which the \
                 record says it was signed proves nothing, and only the facility’s ledger can tell",
                say(revoked)
            );
        }
        Some(revoked) => {
            reason.text = format!(
                "the certificate was revoked on {}, after the moment at which the record says it was signed",
                say(revoked)
            );
        }
        None if latest < block.signer.from() => {
            reason.known = false;
            reason.text = format!(
                "the latest list of revoked certificates at hand is of {}, before the certificate began: ask the \
                 facility for a later one",
                say(latest)
            );
        }
        None => {
            reason.text = format!(
                "the certificate is not on the latest list of revoked ones at hand, of {}",
                say(latest)
            );
        }
    }
    verdict.add(reason);
}

/// Where the signature block of a signed file stands.
#[cfg(test)]
pub(crate) fn layout_of(pdf: &[u8]) -> std::ops::Range<usize> {
    Layout::find(pdf).expect("signed").gap
}
