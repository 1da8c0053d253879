/// The words that drawings add to the data they are given; a second set is a translation.
#[derive(Debug, Clone)]
pub struct Words {
    /// On a step that must be done.
    pub critical: &'static str,
    /// On a step that may be skipped freely.
    pub optional: &'static str,
    /// On a step that is required only under a condition.
    pub conditional: &'static str,
    /// What the box of a critical step means.
    pub critical_means: &'static str,
    /// What a broken edge means.
    pub loose_means: &'static str,
    /// What a plain line means.
    pub before_means: &'static str,
    /// What a double line means.
    pub danger_means: &'static str,
    /// A step graph in words: how many steps, how many of them critical, the pairs in dangerous order.
    pub graph_said: fn(usize, usize, &[(&str, &str)]) -> String,
}

impl Words {
    /// English.
    pub const ENGLISH: Words = Words {
        critical: "critical",
        optional: "optional",
        conditional: "only if it applies",
        critical_means: "Critical: must be done",
        loose_means: "May not apply",
        before_means: "First this, then that",
        danger_means: "The other way round exposes the person",
        graph_said: |steps, critical, dangers| {
            let pairs: Vec<String> =
                dangers.iter().map(|(first, then)| format!("{first} before {then}.")).collect();
            let told = if pairs.is_empty() { "" } else { " The other way round would expose the person: " };
            format!("{steps} steps, {critical} of them critical.{told}{}", pairs.join(" "))
        },
    };
}
