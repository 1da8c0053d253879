//! Doffing with an N95 respirator; guided, with an assistant.

use super::Subject;
use crate::report::Outcome::{Competent, NotYetCompetent};

const GOWN: &str = "engage-observer inspect-equipment disinfect-outer-gloves warn-of-reflexes+ \
    remove-outer-gloves inspect-inner-gloves disinfect-inner-gloves remove-face-shield disinfect-inner-gloves \
    remove-hood disinfect-inner-gloves remove-gown disinfect-inner-gloves remove-boot-covers \
    change-inner-gloves remove-respirator disinfect-inner-gloves disinfect-shoes remove-inner-gloves \
    hand-rub=25 inspect-body review";

fn gown() -> Subject {
    Subject::new("high-consequence-n95-doffing", &[], GOWN)
}

fn coverall_and_apron() -> Subject {
    Subject::new(
        "high-consequence-n95-doffing",
        &["wears-apron", "wears-coverall"],
        "engage-observer inspect-equipment disinfect-outer-gloves remove-apron inspect-equipment \
         disinfect-outer-gloves remove-outer-gloves inspect-inner-gloves disinfect-inner-gloves \
         warn-of-reflexes+ remove-face-shield disinfect-inner-gloves remove-hood disinfect-inner-gloves \
         open-coverall peel-coverall+ remove-coverall assistant-disinfects+ disinfect-inner-gloves \
         remove-boot-covers change-inner-gloves remove-respirator disinfect-inner-gloves disinfect-shoes \
         remove-inner-gloves hand-wash=45 inspect-body review",
    )
}

/// Inspecting and disinfecting the outer gloves are free in order, gloves may be disinfected at any
/// time, and a prompt is the method.
#[test]
fn right() {
    gown().right(GOWN);
    coverall_and_apron().right(coverall_and_apron().right);
    gown().right(
        "engage-observer warn-of-reflexes+ disinfect-outer-gloves! inspect-equipment! disinfect-outer-gloves \
         remove-outer-gloves! inspect-inner-gloves disinfect-inner-gloves remove-face-shield \
         disinfect-inner-gloves remove-hood disinfect-inner-gloves disinfect-inner-gloves remove-gown \
         disinfect-inner-gloves remove-boot-covers disinfect-inner-gloves change-inner-gloves! \
         remove-respirator disinfect-inner-gloves disinfect-shoes disinfect-inner-gloves remove-inner-gloves \
         hand-wash=45 inspect-body review",
    );
}

/// A torn inner glove is dealt with at once: disinfect, then change (CDC training module, PAPR, page 09).
#[test]
fn a_breach_and_its_response() {
    let breached = "inspect-inner-gloves :inner-glove-breached disinfect-inner-gloves change-inner-gloves";
    let log = GOWN.replacen("inspect-inner-gloves", breached, 1);
    gown().right(&log);
    gown().changed(
        "remove-respirator",
        "remove-respirator :inner-glove-breached",
        NotYetCompetent,
        &["critical response-missed -"],
    );
}

#[test]
fn errors() {
    // Mumma 2018: hand hygiene carried the highest risk of all steps.
    gown().changed("hand-rub=25", "", NotYetCompetent, &["critical missed final-hand-hygiene"]);
    // The airway is protected to the last: respirator before the boot covers.
    gown().changed(
        "remove-boot-covers change-inner-gloves remove-respirator",
        "change-inner-gloves remove-respirator remove-boot-covers",
        NotYetCompetent,
        &["critical out-of-order boot-covers-off"],
    );
    // Kwon 2017: everybody deviated at least once in Ebola-level removal.
    gown().changed(
        "remove-boot-covers change-inner-gloves",
        "remove-boot-covers",
        NotYetCompetent,
        &["critical missed inner-gloves-changed"],
    );
    gown().changed(
        "remove-gown",
        "remove-gown%outside-on-scrubs",
        Competent,
        &["other technique garment-off"],
    );
    // Mumma 2018: hand hygiene between the items carried the highest risk of all steps.
    gown().changed(
        "disinfect-inner-gloves remove-hood",
        "remove-hood",
        NotYetCompetent,
        &["critical missed inner-gloves-disinfected-2"],
    );
    gown().changed("remove-hood", "remove-hood touch-face", NotYetCompetent, &["critical forbidden -"]);
    gown().changed(
        "disinfect-outer-gloves warn-of-reflexes+ remove-outer-gloves",
        "warn-of-reflexes+ remove-outer-gloves",
        NotYetCompetent,
        &["critical missed outer-gloves-disinfected"],
    );
}

/// Kwon 2017: 15 deviations were the assistants' and observers'; they never count against the wearer.
#[test]
fn errors_of_the_team() {
    gown().changed("warn-of-reflexes+", "", Competent, &["team missed reflexes-warned"]);
    // CDC, the trained observer, page 21: the reminder comes ahead of time.
    let late = GOWN.replacen("warn-of-reflexes+ ", "", 1).replacen(
        "remove-hood",
        "remove-hood warn-of-reflexes+",
        1,
    );
    gown().check(&late, Competent, &["team out-of-order hood-off"]);
    coverall_and_apron().changed(
        "assistant-disinfects+",
        "",
        Competent,
        &["team missed assistant-disinfected"],
    );
    coverall_and_apron().changed(
        "peel-coverall+",
        "peel-coverall%outside-on-scrubs+ disinfect-inner-gloves",
        Competent,
        &["team technique coverall-peeled"],
    );
}
