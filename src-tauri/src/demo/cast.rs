//! The invented people of the demo, and what they demonstrated. None of it is meant to resemble anyone.

/// The invented facility.
pub(super) const FACILITY: &str = "Fennick Hollow Hospital";
/// Opens the demo authority's key.
pub(super) const PASSPHRASE: &str = "three quiet herons";
/// Opens the demo observers' keys.
pub(super) const PIN: &str = "246810";
/// When the facility began.
pub(super) const OPENED_DAYS_AGO: i64 = 385;
/// When certificates were renewed and the second observer was appointed.
pub(super) const RENEWED_DAYS_AGO: i64 = 150;
/// Staff number of the second observer.
pub(super) const SECOND_OBSERVER: &str = "1002";
/// Between two acts.
pub(super) const PAUSE_MS: i64 = 9_000;

/// One of the cast.
pub(super) struct Player {
    pub(super) name: &'static str,
    pub(super) number: &'static str,
    pub(super) unit: &'static str,
    pub(super) role: &'static str,
}

const fn player(name: &'static str, number: &'static str, unit: &'static str, role: &'static str) -> Player {
    Player { name, number, unit, role }
}

/// Everyone; the first is the first observer.
pub(super) const PEOPLE: [Player; 14] = [
    player("Odalys Ferncastle", "1001", "Isolation suite", "Infection prevention nurse"),
    player("Tobiah Wrenhall", "1002", "Isolation suite", "Charge nurse"),
    player("Ingrid Söderlark", "1003", "Isolation suite", "Nurse"),
    player("Kwabena Thistleroy", "1004", "Isolation suite", "Nurse"),
    player("Marisela Quillfeather", "1005", "Isolation suite", "Nurse"),
    player("Dơn Ngọc Lamplight", "1006", "Isolation suite", "Physician"),
    player("Ελένη Μαυροδάσους", "1007", "Isolation suite", "Respiratory therapist"),
    player("Casimir Duskwater", "1008", "Isolation suite", "Nurse"),
    player("Philippa Oakenbrook", "1009", "Ward 4 North", "Nurse"),
    player("Ravindra Millstone", "1010", "Ward 4 North", "Nurse"),
    player("Жанна Ельская", "1011", "Ward 4 North", "Nurse"),
    player("Solveig Harrowgate", "1012", "Ward 4 North", "Nursing assistant"),
    player("Ambrose Pennywhistle", "1013", "Ward 4 North", "Physician"),
    player("Yetunde Brackenridge", "1014", "Ward 4 North", "Environmental services"),
];

/// One demonstration: acts with how long they last in ms, 0 where that is not timed.
pub(super) struct Carried {
    pub(super) number: &'static str,
    pub(super) procedure: &'static str,
    pub(super) days_ago: i64,
    pub(super) acts: &'static [(&'static str, i64)],
    pub(super) remark: &'static str,
}

const DONNING: &str = "standard-donning";
const REMOVAL: &str = "standard-removal-example-1";

const DONNED_WELL: &[(&str, i64)] = &[
    ("hand-rub", 24_000),
    ("put-on-gown", 0),
    ("put-on-mask", 0),
    ("put-on-goggles", 0),
    ("put-on-gloves", 0),
];
/// Gloves before the gown: the cuffs end up under the sleeve.
const DONNED_GLOVES_FIRST: &[(&str, i64)] = &[
    ("hand-rub", 22_000),
    ("put-on-gloves", 0),
    ("put-on-gown", 0),
    ("put-on-mask", 0),
    ("put-on-goggles", 0),
];
const REMOVED_WELL: &[(&str, i64)] = &[
    ("remove-gloves", 0),
    ("remove-goggles", 0),
    ("remove-gown", 0),
    ("remove-mask", 0),
    ("hand-rub", 26_000),
];
/// The mask came off before the gown.
const REMOVED_MASK_EARLY: &[(&str, i64)] = &[
    ("remove-gloves", 0),
    ("remove-goggles", 0),
    ("remove-mask", 0),
    ("remove-gown", 0),
    ("hand-rub", 23_000),
];
/// The gown before the gloves, and the eyes never uncovered.
const REMOVED_TODAY: &[(&str, i64)] =
    &[("remove-gown", 0), ("remove-gloves", 0), ("remove-mask", 0), ("hand-rub", 21_000)];

const fn well(
    number: &'static str,
    procedure: &'static str,
    days_ago: i64,
    acts: &'static [(&'static str, i64)],
) -> Carried {
    Carried { number, procedure, days_ago, acts, remark: "" }
}

/// What was demonstrated so far, earliest first.
pub(super) fn carried() -> Vec<Carried> {
    let mut carried = vec![
        well("1002", DONNING, 378, DONNED_WELL),
        well("1002", REMOVAL, 378, REMOVED_WELL),
        well("1009", DONNING, 372, DONNED_WELL),
        well("1009", REMOVAL, 372, REMOVED_WELL),
        well("1003", DONNING, 341, DONNED_WELL),
        well("1003", REMOVAL, 341, REMOVED_WELL),
        well("1012", DONNING, 318, DONNED_WELL),
        well("1012", REMOVAL, 318, REMOVED_WELL),
        well("1004", DONNING, 290, DONNED_WELL),
        well("1004", REMOVAL, 290, REMOVED_WELL),
        well("1005", DONNING, 260, DONNED_WELL),
        well("1005", REMOVAL, 260, REMOVED_WELL),
        well("1010", DONNING, 231, DONNED_WELL),
        well("1010", REMOVAL, 231, REMOVED_WELL),
        well("1006", DONNING, 186, DONNED_WELL),
        Carried {
            remark: "Went through the sequence again at once; repeat next week.",
            ..well("1006", REMOVAL, 186, REMOVED_MASK_EARLY)
        },
        well("1006", REMOVAL, 179, REMOVED_WELL),
        well("1007", DONNING, 120, DONNED_WELL),
        well("1007", REMOVAL, 120, REMOVED_WELL),
        well("1011", REMOVAL, 64, REMOVED_WELL),
        Carried {
            remark: "Cuffs came out under the sleeve; practised twice.",
            ..well("1011", DONNING, 64, DONNED_GLOVES_FIRST)
        },
        well("1013", DONNING, 21, DONNED_WELL),
        well("1002", DONNING, 20, DONNED_WELL),
        well("1002", REMOVAL, 20, REMOVED_WELL),
    ];
    carried.sort_by_key(|carried| std::cmp::Reverse(carried.days_ago));
    carried
}

/// The demonstration of today.
pub(super) fn played() -> Carried {
    Carried {
        number: "1008",
        procedure: REMOVAL,
        days_ago: 0,
        acts: REMOVED_TODAY,
        remark: "Talked through the order at the mirror; repeat on Thursday.",
    }
}
