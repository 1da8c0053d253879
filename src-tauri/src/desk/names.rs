//! Putting names beside facts, for whoever may see them.

use chrono::NaiveDate;
use contract::Person;
use evidence::{Facts, Party};
use ledger::Name;
use unicode_normalization::{UnicodeNormalization, char::is_combining_mark};

/// What stands for a name that was erased when its retention ended.
const ERASED: &str = "(name erased)";

/// A person as the window shows them on a date.
pub(super) fn person_view(facts: &Facts, person: &str, name: Option<&Name>, on: NaiveDate) -> Person {
    let membership = facts.membership(person, on);
    let unit = membership.and_then(|membership| membership.unit.clone()).unwrap_or_default();
    Person {
        id: person.to_owned(),
        name: shown_name(name),
        number: name.and_then(|name| name.number.clone()).unwrap_or_default(),
        unit_name: facts.units.get(&unit).cloned().unwrap_or_default(),
        unit,
        role: membership.map(|membership| membership.role.clone()).unwrap_or_default(),
        observes: facts.certificate(person).is_some(),
    }
}

/// A name as it is shown; where it was erased, that it was.
pub(super) fn shown_name(name: Option<&Name>) -> String {
    name.and_then(|name| name.name.clone()).unwrap_or_else(|| ERASED.to_owned())
}

/// What names are sorted by, wherever they are listed: the letters without their marks and in small ones, so that
/// Émilie stands among the E's, and then the name itself. Letters with no mark to take away, such as ø, stand where
/// they are read. It is no language's own order, since a facility's people come from many.
pub(crate) fn sort_key(name: &str) -> (String, String) {
    let letters = name.nfd().filter(|letter| !is_combining_mark(*letter)).flat_map(char::to_lowercase);
    let mut key = String::with_capacity(name.len());
    for letter in letters {
        match letter {
            'ø' => key.push('o'),
            'ł' => key.push('l'),
            'đ' | 'ð' => key.push('d'),
            'ı' => key.push('i'),
            'ß' => key.push_str("ss"),
            'æ' => key.push_str("ae"),
            'œ' => key.push_str("oe"),
            'þ' => key.push_str("th"),
            other => key.push(other),
        }
    }
    (key, name.to_owned())
}

/// A person as they stand on a record.
pub(super) fn party(person: Person) -> Party {
    Party { id: person.id, name: person.name, number: person.number, role: person.role }
}

#[cfg(test)]
mod tests {
    use super::sort_key;

    /// The letters are decomposed by Unicode Standard Annex 15 (NFD); where the others stand is common practice, no
    /// source.
    #[test]
    fn a_mark_on_a_letter_puts_nobody_after_z() {
        let mut names = [
            "Zoë",
            "Émilie",
            "Özlem",
            "emil",
            "Łukasz",
            "Lena",
            "Ørsted",
            "Oskar",
            "Eva",
            "E\u{301}mile",
            "Ζωή",
            "Άννα",
        ];
        names.sort_by_key(|name| sort_key(name));
        assert_eq!(
            names,
            [
                "emil",
                "E\u{301}mile",
                "Émilie",
                "Eva",
                "Lena",
                "Łukasz",
                "Ørsted",
                "Oskar",
                "Özlem",
                "Zoë",
                "Άννα",
                "Ζωή"
            ]
        );
    }
}
