//! Doffing with a powered respirator; guided, with an assistant.

use super::Subject;
use crate::report::Outcome::{Competent, NotYetCompetent};

const GOWN: &str = "engage-observer inspect-equipment disinfect-outer-gloves warn-of-reflexes+ \
    remove-outer-gloves inspect-inner-gloves disinfect-inner-gloves detach-hose+ hold-unit+ unclasp-belt \
    parts-in-container+ roll-hood-edge+ remove-papr-hood disinfect-inner-gloves assistant-disinfects+ \
    remove-gown disinfect-inner-gloves remove-boot-covers disinfect-inner-gloves disinfect-shoes \
    remove-inner-gloves hand-rub=25 inspect-body review";

fn gown() -> Subject {
    Subject::new("high-consequence-papr-doffing", &["wears-belt-unit"], GOWN)
}

#[test]
fn right() {
    gown().right(GOWN);
    gown().right(
        "engage-observer disinfect-outer-gloves inspect-equipment remove-outer-gloves inspect-inner-gloves \
         disinfect-inner-gloves detach-hose+ hold-unit+ unclasp-belt warn-of-reflexes+ roll-hood-edge+ \
         parts-in-container+ remove-papr-hood assistant-disinfects+ disinfect-inner-gloves remove-gown \
         disinfect-inner-gloves remove-boot-covers disinfect-inner-gloves disinfect-shoes \
         disinfect-inner-gloves remove-inner-gloves hand-wash=45 inspect-body review",
    );
    coverall_and_apron().right(coverall_and_apron().right);
    // A helmet that holds the blower has no belt, and no hose to detach (from memory).
    Subject::new("high-consequence-papr-doffing", &[], "").right(
        "engage-observer inspect-equipment disinfect-outer-gloves warn-of-reflexes+ remove-outer-gloves \
         inspect-inner-gloves disinfect-inner-gloves roll-hood-edge+ remove-papr-hood parts-in-container+ \
         disinfect-inner-gloves assistant-disinfects+ remove-gown disinfect-inner-gloves remove-boot-covers \
         disinfect-inner-gloves disinfect-shoes remove-inner-gloves hand-rub=25 inspect-body review",
    );
}

fn coverall_and_apron() -> Subject {
    Subject::new(
        "high-consequence-papr-doffing",
        &["wears-coverall", "wears-apron", "wears-belt-unit"],
        "engage-observer inspect-equipment disinfect-outer-gloves remove-apron disinfect-outer-gloves \
         inspect-equipment remove-outer-gloves inspect-inner-gloves disinfect-inner-gloves detach-hose+ \
         hold-unit+ unclasp-belt roll-hood-edge+ parts-in-container+ warn-of-reflexes+ remove-papr-hood \
         disinfect-inner-gloves assistant-disinfects+ open-coverall peel-coverall+ remove-coverall \
         disinfect-inner-gloves remove-boot-covers disinfect-inner-gloves disinfect-shoes \
         remove-inner-gloves hand-rub=25 inspect-body review",
    )
}

#[test]
fn errors() {
    // Mumma 2018: hood removal ranked second, with 13 kinds of error.
    gown().changed(
        "remove-papr-hood",
        "remove-papr-hood%skin-touched",
        Competent,
        &["other technique hood-off"],
    );
    gown().changed(
        "remove-papr-hood",
        "remove-papr-hood touch-face",
        NotYetCompetent,
        &["critical forbidden -"],
    );
    gown().changed("hand-rub=25", "", NotYetCompetent, &["critical missed final-hand-hygiene"]);
    // The powered respirator comes off before the garment.
    gown().changed(
        "detach-hose+ hold-unit+ unclasp-belt parts-in-container+ roll-hood-edge+ remove-papr-hood \
         disinfect-inner-gloves assistant-disinfects+ remove-gown",
        "remove-gown detach-hose+ hold-unit+ unclasp-belt parts-in-container+ roll-hood-edge+ remove-papr-hood \
         disinfect-inner-gloves assistant-disinfects+",
        NotYetCompetent,
        &["critical out-of-order garment-off"],
    );
    gown().changed("remove-boot-covers", "", NotYetCompetent, &["critical missed boot-covers-off"]);
    // Mumma 2018: hand hygiene between the items carried the highest risk of all steps.
    gown().changed(
        "remove-boot-covers disinfect-inner-gloves",
        "remove-boot-covers",
        NotYetCompetent,
        &["critical missed inner-gloves-disinfected-4"],
    );
    gown().changed("roll-hood-edge+", "", Competent, &["team missed hood-edge-rolled"]);
}

/// CDC, the trained observer, page 21: the reminder comes ahead of time; and the assistant's hands are
/// disinfected before they touch the wearer again. Neither is held against the wearer.
#[test]
fn errors_of_the_team() {
    gown().changed("warn-of-reflexes+", "", Competent, &["team missed reflexes-warned"]);
    let late = GOWN.replacen("warn-of-reflexes+ ", "", 1).replacen(
        "remove-papr-hood",
        "remove-papr-hood warn-of-reflexes+",
        1,
    );
    gown().check(&late, Competent, &["team out-of-order hood-off"]);
    coverall_and_apron().changed(
        "assistant-disinfects+ open-coverall peel-coverall+",
        "open-coverall peel-coverall+ assistant-disinfects+",
        Competent,
        &["team out-of-order coverall-peeled"],
    );
}
