mod layout;
mod reading;
mod verdict;

use chrono::Utc;

use crate::{Certificate, cms, sign::digest};
use layout::{Layout, Tail};
use reading::Reading;
pub use verdict::{Check, Reason, Signature, Standing, Verdict};

/// Checks a signed record, with no ledger at hand.
///
/// `trusted` are the certificates of the authorities whose records are believed; with none of them
/// the best verdict is [`Standing::UnknownAuthority`]. The checks go on as far as they make sense, so
/// the verdict names everything that is wrong and not only the first; nothing is read out of a
/// document whose bytes are not exactly those that were signed.
pub fn verify(pdf: &[u8], trusted: &[Certificate]) -> Verdict {
    let mut verdict = Verdict::default();
    let Some(layout) = verdict.need(Check::Signed, Layout::find(pdf)) else {
        return verdict;
    };
    let whole = match layout.tail {
        Tail::Nothing => Check::WholeDocument.holds(),
        Tail::Added => Check::WholeDocument.fails("something was added to the document after it was signed"),
        Tail::CutOff => Check::WholeDocument.fails("the end of the document is missing"),
    };
    verdict.add(whole);
    let block = layout.block.as_deref().and_then(cms::read);
    let Some(block) = verdict.need(Check::SignatureBlock, block) else {
        return verdict;
    };
    let signed = pdf.get(..layout.end).unwrap_or(pdf);
    verdict.check(Check::Unchanged, digest(signed, &layout.gap) == block.document);
    let genuine = cms::attributes(&block.document, &block.signer)
        .is_ok_and(|attributes| block.signer.verifies(&attributes, &block.signature));
    verdict.check(Check::Genuine, genuine);
    let issued = block.signer.may_sign()
        && block.signer.issued_by(&block.authority)
        && block.authority.issued_by(&block.authority);
    verdict.check(Check::Issued, issued);
    if verdict.is_broken() {
        return verdict;
    }
    let Some(Reading { facts, attachment }) = verdict.need(Check::Record, reading::read(pdf, &layout)) else {
        return verdict;
    };
    let when = facts.when.with_timezone(&Utc);
    verdict.check(Check::CertificateHeld, block.signer.holds_at(when) && block.authority.holds_at(when));
    verdict.check(Check::KnownAuthority, trusted.contains(&block.authority));
    verdict.attachment = attachment;
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

/// Where the signature block of a signed file stands.
#[cfg(test)]
pub(crate) fn layout_of(pdf: &[u8]) -> std::ops::Range<usize> {
    Layout::find(pdf).expect("signed").gap
}
