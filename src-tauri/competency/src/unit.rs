//! When two spellings name the same unit.

/// Whether two names are of one unit: whatever case they are written in, and whatever space stands in them. People type
/// them, and a unit that stands twice in a list has two rosters. Common practice, no source.
pub fn same_unit(one: &str, other: &str) -> bool {
    plain(one) == plain(other)
}

fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::same_unit;

    #[test]
    fn case_and_space_make_no_other_unit_and_letters_do() {
        for other in ["icu west", "ICU  West", " Icu\u{a0}WEST\t"] {
            assert!(same_unit("ICU West", other), "{other:?}");
        }
        for other in ["ICU East", "ICUWest", ""] {
            assert!(!same_unit("ICU West", other), "{other:?}");
        }
    }
}
