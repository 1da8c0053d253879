/// What the columns of a file seem to be.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Guess {
    /// The personnel number.
    pub number: Option<usize>,
    /// The name: one column, or first and last name in this order.
    pub name: Vec<usize>,
    /// The unit's name.
    pub unit: Option<usize>,
    /// The role.
    pub role: Option<usize>,
    /// Since when.
    pub since: Option<usize>,
    /// The last day.
    pub last_day: Option<usize>,
}

/// What the columns seem to be, by words in their names; it is only offered, and whoever imports decides.
/// A column is guessed once, and the surer guesses come first.
pub fn guess(header: &[String]) -> Guess {
    let mut taken = vec![false; header.len()];
    let mut find = |words: &[&str]| {
        let found = words.iter().find_map(|word| {
            header.iter().zip(&taken).position(|(name, taken)| !taken && name.to_lowercase().contains(word))
        })?;
        *taken.get_mut(found)? = true;
        Some(found)
    };
    let last_day =
        find(&["last day", "last working", "final day", "leaving", "end date", "exit", "left on", "until"]);
    let since = find(&["since", "valid from", "effective", "start", "from", "joined"]);
    let number = find(&["number", "staff no", "personnel", "employee id", "staff id", "badge", "id"]);
    let first = find(&["first name", "given name", "forename", "first"]);
    let last = find(&["last name", "surname", "family name"]);
    let name = match (first, last) {
        (Some(first), Some(last)) => vec![first, last],
        (one, other) => find(&["full name", "name"]).or(other).or(one).into_iter().collect(),
    };
    let unit = find(&["unit", "ward", "department", "cost cent", "team"]);
    let role = find(&["role", "job", "position", "profession", "grade", "title"]);
    Guess { number, name, unit, role, since, last_day }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(header: &str, expected: Guess) {
        let header: Vec<String> = header.split(';').map(str::to_owned).collect();
        assert_eq!(guess(&header), expected, "{header:?}");
    }

    #[test]
    fn columns_are_guessed_by_their_names_and_none_twice() {
        check(
            "Personnel number;Surname;First name;Ward;Job title;Effective date;Last day",
            Guess {
                number: Some(0),
                name: vec![2, 1],
                unit: Some(3),
                role: Some(4),
                since: Some(5),
                last_day: Some(6),
            },
        );
        check(
            "id;name;unit;role",
            Guess { number: Some(0), name: vec![1], unit: Some(2), role: Some(3), ..Guess::default() },
        );
        let leaving = |last_day| Guess { number: Some(0), last_day: Some(last_day), ..Guess::default() };
        check("number;Last working day", leaving(1));
        check("number;last day", leaving(1));
        check("number;Leaving date", leaving(1));
        check("a;b", Guess::default());
    }
}
