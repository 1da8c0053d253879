//! Single terms in words, one place for each.

use crate::procedure::{By, Footing, Precaution};

/// Who carries something out.
pub fn by(by: By) -> &'static str {
    match by {
        By::Wearer => "wearer",
        By::Assistant => "assistant",
        By::Observer => "observer",
    }
}

/// How a source was consulted, and what follows from it.
pub fn footing(footing: Footing) -> &'static str {
    match footing {
        Footing::Read => "read in the publisher’s own text",
        Footing::Secondary => "taken from a secondary copy",
        Footing::Memory => "from memory: check against the current source before use",
        Footing::CommonPractice => "common practice, no source",
    }
}

/// The precautions.
pub fn precaution(precaution: Precaution) -> &'static str {
    match precaution {
        Precaution::Standard => "standard",
        Precaution::Contact => "contact",
        Precaution::Droplet => "droplet",
        Precaution::Airborne => "airborne",
        Precaution::HighConsequence => "high-consequence",
    }
}

/// What must come next: any act of a group, the groups in turn.
pub fn in_turn(groups: &[Vec<String>], label: impl Fn(&str) -> String) -> String {
    let one = |group: &Vec<String>| group.iter().map(|act| label(act)).collect::<Vec<_>>().join(" or ");
    groups.iter().map(one).collect::<Vec<_>>().join(", then ")
}
