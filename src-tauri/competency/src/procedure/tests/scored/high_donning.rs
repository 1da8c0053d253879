//! Donning under high-consequence precautions; guided, so a prompt is the method.

use super::Subject;
use crate::report::Outcome::{Competent, NotYetCompetent};

fn n95() -> Subject {
    Subject::new(
        "high-consequence-n95-donning",
        &["wears-apron"],
        "engage-observer offer-break+ remove-personal-items inspect-equipment hand-rub=25 put-on-boot-covers \
         put-on-inner-gloves put-on-coverall put-on-respirator positive-check put-on-hood put-on-apron \
         put-on-outer-gloves put-on-face-shield verify",
    )
}

/// Garment and respirator, apron and outer gloves are free in order; no prompt is a fault here.
#[test]
fn n95_donning_right() {
    n95().right(n95().right);
    n95().right(
        "engage-observer inspect-equipment! remove-personal-items! offer-break+ put-on-boot-covers hand-rub=25 \
         put-on-inner-gloves! put-on-respirator negative-check=12 put-on-gown put-on-outer-gloves put-on-apron \
         put-on-hood put-on-face-shield verify",
    );
}

#[test]
fn n95_donning_errors() {
    n95().changed("positive-check", "", NotYetCompetent, &["critical missed seal-checked"]);
    n95().changed("verify", "", NotYetCompetent, &["critical missed verified"]);
    n95().changed("put-on-hood", "put-on-hood%skin-showing", Competent, &["other technique hood-on"]);
    n95().changed(
        "put-on-coverall put-on-respirator positive-check put-on-hood put-on-apron put-on-outer-gloves",
        "put-on-outer-gloves put-on-coverall put-on-respirator positive-check put-on-hood put-on-apron",
        NotYetCompetent,
        &["critical out-of-order outer-gloves-on"],
    );
    n95().changed("offer-break+", "", Competent, &["team missed needs-met"]);
    // CDC training, N95 and coverall, page 02: offered before anything is put on.
    n95().changed(
        "offer-break+ remove-personal-items inspect-equipment hand-rub=25 put-on-boot-covers",
        "remove-personal-items inspect-equipment hand-rub=25 put-on-boot-covers offer-break+",
        Competent,
        &["team out-of-order needs-met"],
    );
    // Page 06: whoever touched the floor disinfects before the inner gloves.
    n95().changed(
        "put-on-boot-covers",
        "put-on-boot-covers :floor-touched",
        Competent,
        &["other response-missed -"],
    );
    n95().changed(
        "put-on-boot-covers put-on-inner-gloves",
        "put-on-inner-gloves put-on-boot-covers",
        Competent,
        &["other out-of-order inner-gloves-on"],
    );
    n95().changed(
        "put-on-coverall",
        "put-on-coverall :item-damaged",
        NotYetCompetent,
        &["critical response-missed -"],
    );
}

fn papr() -> Subject {
    Subject::new(
        "high-consequence-papr-donning",
        &["wears-belt-unit"],
        "engage-observer offer-break+ remove-personal-items inspect-equipment hand-rub=25 put-on-boot-covers \
         put-on-inner-gloves put-on-gown put-on-blower put-on-outer-gloves put-on-papr-hood switch-on-blower+ \
         verify",
    )
}

#[test]
fn papr_donning_right() {
    papr().right(papr().right);
    // A helmet that holds the blower needs no belt (from memory).
    Subject::new("high-consequence-papr-donning", &["wears-apron"], "").right(
        "engage-observer offer-break+ remove-personal-items inspect-equipment hand-rub=25 put-on-boot-covers \
         :floor-touched hand-rub=25 put-on-inner-gloves put-on-gown put-on-papr-hood switch-on-blower+ \
         put-on-apron put-on-outer-gloves verify",
    );
    papr().right(
        "engage-observer inspect-equipment offer-break+ remove-personal-items put-on-boot-covers hand-wash=45 \
         put-on-inner-gloves put-on-coverall put-on-outer-gloves put-on-blower put-on-papr-hood \
         switch-on-blower+ verify",
    );
}

#[test]
fn papr_donning_errors() {
    papr().changed("inspect-equipment", "", NotYetCompetent, &["critical missed equipment-inspected"]);
    papr().changed("verify", "", NotYetCompetent, &["critical missed verified"]);
    papr().changed(
        "put-on-gown put-on-blower",
        "put-on-blower put-on-gown",
        Competent,
        &["other out-of-order blower-on-belt"],
    );
    papr().changed("switch-on-blower+", "", Competent, &["team missed blower-running"]);
    papr().changed(
        "switch-on-blower+ verify",
        "verify switch-on-blower+",
        Competent,
        &["team out-of-order verified"],
    );
    papr().changed("hand-rub=25", "", NotYetCompetent, &["critical missed hands-clean"]);
}
