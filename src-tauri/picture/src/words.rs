/// The words that drawings add to the data they are given; a second set is a translation.
#[derive(Debug, Clone)]
pub struct Words {
    /// On a step that must be done.
    pub critical: &'static str,
    /// On a step that may be skipped freely.
    pub optional: &'static str,
    /// On a step that is required only under a condition.
    pub conditional: &'static str,
    /// On a step that must follow another one at once, which is called so.
    pub right_after: fn(&str) -> String,
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
    /// Over the column of steps.
    pub expected: &'static str,
    /// Over the column of acts.
    pub observed: &'static str,
    /// What [`crate::Mark::Well`] means.
    pub well_means: &'static str,
    /// What [`crate::Mark::Open`] means.
    pub open_means: &'static str,
    /// What [`crate::Mark::Warning`] means.
    pub warning_means: &'static str,
    /// What [`crate::Mark::Danger`] means.
    pub critical_finding_means: &'static str,
    /// What a line that stands out means.
    pub displaced_means: &'static str,
    /// An order picture in words: how many steps and acts, the steps nothing is joined to, the acts out of order.
    pub order_said: fn(usize, usize, &[&str], &[&str]) -> String,
    /// A time line in words: how many acts, over how many minutes and seconds.
    pub time_said: fn(usize, &str) -> String,
    /// A load of months in words.
    pub load_said: fn(&[(&str, u32)]) -> String,
    /// A load of weeks in words; the empty ones are left out.
    pub weeks_said: fn(&[(&str, u32)]) -> String,
}

impl Words {
    /// English.
    pub const ENGLISH: Words = Words {
        critical: "critical",
        optional: "optional",
        conditional: "only if it applies",
        right_after: |step| format!("right after {step}"),
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
        expected: "Expected",
        observed: "Observed",
        well_means: "As it should be",
        open_means: "Not counted",
        warning_means: "Finding",
        critical_finding_means: "Critical finding",
        displaced_means: "Out of order",
        order_said: |steps, acts, alone, displaced| {
            let list = |head: &str, labels: &[&str]| {
                if labels.is_empty() { String::new() } else { format!(" {head}: {}.", labels.join("; ")) }
            };
            format!(
                "{steps} steps expected, {acts} acts observed.{}{}",
                list("Nothing was observed for", alone),
                list("Out of order", displaced)
            )
        },
        time_said: |acts, span| format!("{acts} acts in {span} minutes."),
        weeks_said: |weeks| {
            let due = weeks.iter().filter(|(_, due)| *due > 0);
            let said: Vec<String> = due.map(|(week, due)| format!("Week of {week}: {due}")).collect();
            let all: u64 = weeks.iter().map(|(_, due)| u64::from(*due)).sum();
            let listed = if said.is_empty() { String::new() } else { format!(" {}.", said.join(", ")) };
            format!("{all} run out in {} weeks.{listed}", weeks.len())
        },
        load_said: |months| {
            let all: Vec<String> = months.iter().map(|(month, due)| format!("{month}: {due}")).collect();
            if all.is_empty() { String::from("No months.") } else { format!("{}.", all.join(", ")) }
        },
    };
}
