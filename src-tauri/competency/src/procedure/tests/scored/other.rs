//! Hand hygiene and reprocessing.

use super::Subject;
use crate::model::Model;
use crate::report::Outcome::{Competent, NotYetCompetent};

fn rub() -> Subject {
    Subject::new(
        "hand-rub",
        &[],
        "apply-rub hand-rub=25 rub-palms rub-backs rub-interlaced rub-finger-backs rub-thumbs rub-fingertips \
         hands-dry",
    )
}

/// WHO prints an order of the six motions, but coverage is the aim: any order will do.
#[test]
fn hand_rub_right() {
    rub().right(rub().right);
    rub().right(
        "apply-rub hand-rub=20 rub-fingertips rub-thumbs rub-palms rub-finger-backs rub-backs rub-interlaced \
         hands-dry",
    );
}

#[test]
fn hand_rub_errors() {
    rub().changed("rub-thumbs", "", Competent, &["other missed thumbs"]);
    rub().changed("hand-rub=25", "hand-rub=8", Competent, &["other too-short rubbed"]);
    rub().changed("apply-rub", "apply-rub%too-little", Competent, &["other technique rub-applied"]);
    rub().changed(
        "rub-thumbs rub-fingertips hands-dry",
        "",
        NotYetCompetent,
        &["other missed thumbs", "other missed fingertips", "other missed hands-dry"],
    );
}

fn wash() -> Subject {
    Subject::new(
        "hand-wash",
        &[],
        "hand-wash=50 wet-hands take-soap rub-palms rub-backs rub-interlaced rub-finger-backs rub-thumbs \
         rub-fingertips rinse dry-with-towel tap-off",
    )
}

#[test]
fn hand_wash_right() {
    wash().right(wash().right);
    wash().right(
        "wet-hands hand-wash=40 take-soap rub-thumbs rub-fingertips rub-palms rub-interlaced rub-backs \
         rub-finger-backs rinse dry-with-towel tap-hands-free",
    );
}

#[test]
fn hand_wash_errors() {
    wash().changed("hand-wash=50", "hand-wash=15", Competent, &["other too-short washed"]);
    wash().changed("rub-fingertips", "", Competent, &["other missed fingertips"]);
    wash().changed(
        "tap-off",
        "touch-tap",
        NotYetCompetent,
        &["critical forbidden -", "other missed tap-closed"],
    );
    wash().changed(
        "wet-hands take-soap",
        "take-soap wet-hands",
        Competent,
        &["other out-of-order soap-taken"],
    );
    wash().changed("rinse", "", NotYetCompetent, &["critical missed rinsed"]);
}

fn eyes() -> Subject {
    Subject::new(
        "eye-protection-reprocessing",
        &[],
        "put-on-gloves wipe-inside wipe-outside disinfect-outside rinse-outside dry remove-gloves hand-rub=25",
    )
}

/// CDC prints one sequence in which each step prepares the next; hand hygiene may be added anywhere.
#[test]
fn eye_protection_right() {
    eyes().right(eyes().right);
    eyes().right(
        "hand-rub=25 put-on-gloves wipe-inside wipe-outside disinfect-outside rinse-outside dry remove-gloves \
         hand-wash=45",
    );
}

#[test]
fn eye_protection_errors() {
    eyes().changed(
        "wipe-inside wipe-outside",
        "wipe-outside wipe-inside",
        NotYetCompetent,
        &["critical out-of-order outside-wiped"],
    );
    eyes().changed(
        "disinfect-outside",
        "disinfect-outside%dried-early",
        Competent,
        &["other technique disinfected"],
    );
    eyes().changed("disinfect-outside", "", NotYetCompetent, &["critical missed disinfected"]);
    eyes().changed("hand-rub=25", "", NotYetCompetent, &["critical missed final-hand-hygiene"]);
    eyes().changed("put-on-gloves", "", NotYetCompetent, &["critical missed gloves-on"]);
}

/// The contact time is the facility's: nothing is timed before it is set, and the label's time holds then.
#[test]
fn eye_protection_contact_time() {
    let dry_too_soon = "put-on-gloves wipe-inside wipe-outside disinfect-outside=100 rinse-outside dry remove-gloves hand-rub=25";
    eyes().right(dry_too_soon);
    let mut subject = eyes();
    let mut procedure = subject.model.procedure().clone();
    procedure.equipment.contact_times[0].seconds = Some(120);
    subject.model = Model::new(procedure);
    subject.check(dry_too_soon, Competent, &["other too-short disinfected"]);
    subject.right(&dry_too_soon.replace("=100", "=120"));
}
