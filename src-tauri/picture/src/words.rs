/// The words that drawings add to the data they are given; a second set is a translation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// On a step that must be done.
    pub critical: &'static str,
}

impl Words {
    /// English.
    pub const ENGLISH: Words = Words { critical: "critical" };
}
