//! Words of the review and of signing.

use super::counted;

pub(crate) const ENTERED_LATE: &str = "entered late";
pub(crate) const ORDER: &str = "Expected against observed order";

pub(crate) const TIMES: &str = "Acts over time";

pub(crate) mod review {
    pub(crate) const TITLE: &str = "Review";
    pub(crate) const FINDINGS: &str = "Findings";
    pub(crate) const NO_FINDINGS: &str =
        "No findings. Everything that was called for was seen as it should be.";
    pub(crate) const NO_FINDINGS_SEEN: &str = "No findings in what was seen. Some of it could not be seen.";
    pub(crate) const NO_FINDINGS_SO_FAR: &str =
        "No findings up to where it ended. It ended early, so this says nothing of the steps after that.";
    pub(crate) const SHOULD_FIRST: &str = "Should have come first";
    pub(crate) const CAME: &str = "Came before it";
    pub(crate) const WHY: &str = "Why it matters";
    pub(crate) const NOTES: &str = "Notes";

    /// A note on something that was logged.
    pub(crate) fn note_on(about: &str, note: &str) -> String {
        format!("{about}: {note}")
    }

    pub(crate) const STEPS: &str = "Step by step";
    pub(crate) const STEP: &str = "Step";
    pub(crate) const WHEN: &str = "When";
    pub(crate) const HOW: &str = "How it stands";
    pub(crate) const CREDIT: &str = "Credit";
    pub(crate) const LATE: &str = "Entered afterwards";
    pub(crate) const TO_SIGN: &str = "Sign the record";
    pub(crate) const BACK: &str = "Change an answer";
    pub(crate) const SEALED: &str = "This demonstration is sealed.";
    pub(crate) const TO_HISTORY: &str = "Open the history";
    pub(crate) const ENDED: &str = "How it ended";
    pub(crate) const EXPOSURE: &str = "A suspected exposure: follow the facility's exposure plan at once.";

    pub(crate) fn headline(well: u32, counted: u32) -> String {
        format!("{well} of {counted} steps as they should be")
    }

    pub(crate) fn credit(credit: u8) -> String {
        format!("{credit} of 2")
    }

    pub(crate) fn would_hold(until: &str) -> String {
        format!("Once signed, the validation holds through {until}.")
    }

    pub(crate) fn kept_as(title: &str) -> String {
        format!(
            "Scored as \u{201c}{title}\u{201d}: of the sequences accepted here, what was seen fits it best."
        )
    }

    pub(crate) fn would_end(until: &str) -> String {
        format!("Once signed, it ends the validation that holds through {until}.")
    }

    pub(crate) const GRANTS_NOTHING: &str =
        "Once signed, it is kept in the history and grants no validation.";

    pub(crate) fn taken_back(lines: usize) -> String {
        let them = if lines == 1 { "it" } else { "them" };
        let lines = super::counted(lines, "line was", "lines were");
        format!("{lines} taken back while it ran; the record keeps {them}.")
    }
}

pub(crate) mod sign {
    use competency::sentence::SIGNED_AS;

    pub(crate) const TITLE: &str = "Sign the record";
    pub(crate) const SEALED_TITLE: &str = "The record is sealed";
    pub(crate) fn means() -> String {
        format!("The signature means: “{SIGNED_AS}”. It stands beside the name on the record.")
    }
    pub(crate) const LEAD: &str = "Your PIN opens your signing key on this device. Once signed, the record can be \
        added to, never changed.";
    pub(crate) const PIN: &str = "PIN of the observer";
    pub(crate) const REMARK: &str = "Remark for the person, if any";
    pub(crate) const REMARK_HINT: &str =
        "What went well, what to practise. It stands in the record; no patient data.";
    pub(crate) const GO: &str = "Sign and file";
    pub(crate) const GOING: &str = "Signing and filing";
    pub(crate) const DONE: &str = "Signed and filed";
    pub(crate) const WHERE: &str = "Where it is";
    pub(crate) const DIGEST: &str = "SHA-256 of the file";
    pub(crate) const UNTIL: &str = "Valid through";
    pub(crate) const NOTHING: &str = "It grants no validation";
    pub(crate) const OPEN: &str = "Open the record";
    pub(crate) const HISTORY: &str = "Open the history";
    pub(crate) const BACK: &str = "Back to the review";
    pub(crate) const PIN_MISSING: &str = "Enter the PIN.";

    pub(crate) fn signs(observer: &str) -> String {
        format!("{observer} signs as the observer.")
    }
}

pub(crate) fn opened(path: &str, opened: bool) -> String {
    if opened {
        format!("Handed to the device's own reader. It is at {path}")
    } else {
        format!("This device has no program that shows it. It is at {path}")
    }
}

#[cfg(test)]
mod tests {
    use super::review::taken_back;

    #[test]
    fn one_line_that_was_taken_back_is_told_as_one() {
        assert_eq!(taken_back(1), "1 line was taken back while it ran; the record keeps it.");
        assert_eq!(taken_back(2), "2 lines were taken back while it ran; the record keeps them.");
    }
}
