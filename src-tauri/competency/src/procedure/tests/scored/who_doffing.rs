//! WHO filovirus coverall doffing; guided.

use super::Subject;
use crate::report::Outcome::NotYetCompetent;

fn coverall() -> Subject {
    Subject::new(
        "who-filovirus-coverall-doffing",
        &[],
        "engage-observer clean-gloved-hands remove-apron clean-gloved-hands remove-hood clean-gloved-hands \
         coverall-with-gloves clean-gloved-hands remove-goggles clean-gloved-hands remove-mask \
         clean-gloved-hands remove-boots clean-gloved-hands remove-inner-gloves hand-rub=25",
    )
}

/// Shield with bonnet instead of goggles with hood; boots kept on and decontaminated at an earlier step
/// (several options are accepted, Fondation Mérieux course).
#[test]
fn right() {
    coverall().right(coverall().right);
    coverall().right(
        "engage-observer clean-gloved-hands remove-apron clean-gloved-hands remove-bonnet clean-gloved-hands \
         remove-coverall remove-outer-gloves decontaminate-boots clean-gloved-hands remove-face-shield \
         clean-gloved-hands remove-mask clean-gloved-hands clean-gloved-hands remove-inner-gloves hand-wash=45",
    );
    // Hands cleaned once after every item, the boots among them: nothing is asked for twice.
    coverall().right(
        "engage-observer clean-gloved-hands remove-apron clean-gloved-hands remove-bonnet clean-gloved-hands \
         coverall-with-gloves clean-gloved-hands remove-boots clean-gloved-hands remove-face-shield \
         clean-gloved-hands remove-mask clean-gloved-hands remove-inner-gloves hand-wash=45",
    );
}

#[test]
fn errors() {
    coverall().changed(
        "remove-goggles clean-gloved-hands remove-mask",
        "remove-mask clean-gloved-hands remove-goggles",
        NotYetCompetent,
        &["critical out-of-order mask-off", "critical missed gloved-hands-clean-6"],
    );
    coverall().changed(
        "coverall-with-gloves clean-gloved-hands remove-goggles",
        "coverall-with-gloves remove-goggles",
        NotYetCompetent,
        &["critical missed gloved-hands-clean-4"],
    );
    coverall().changed("hand-rub=25", "", NotYetCompetent, &["critical missed final-hand-hygiene"]);
    coverall().changed("remove-mask", "remove-mask touch-face", NotYetCompetent, &["critical forbidden -"]);
    coverall().changed(
        "coverall-with-gloves",
        ":inner-glove-breached coverall-with-gloves",
        NotYetCompetent,
        &["critical response-missed -"],
    );
}
