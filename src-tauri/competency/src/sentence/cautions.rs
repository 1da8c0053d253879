//! What screens and records say in the same words: the cautions, and what the observer’s signature means.

/// What the observer’s signature means: on the sign view, on the page, and in the signature itself.
pub const SIGNED_AS: &str = "Observed and assessed by me";

/// What a record does and does not say, who decides, and what to do after a suspected exposure.
pub const CAUTIONS: [&str; 3] = [
    "This record shows what was observed on one day; it does not show protection against infection.",
    "Local policy, the equipment’s instructions for use and licensed infection-prevention and occupational-health practice decide.",
    "After a suspected exposure, follow the facility’s exposure plan at once.",
];
