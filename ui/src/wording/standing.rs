//! Words of the roster and of a person's history.

pub(crate) mod roster {
    pub(crate) const TITLE: &str = "Roster";
    pub(crate) const UNIT: &str = "Unit";
    pub(crate) const AS_OF: &str = "As of";
    pub(crate) const AS_OF_HINT: &str = "Year-month-day, such as 2026-11-25. Empty for today.";
    pub(crate) const KNOWN_AT: &str = "As it was known by the end of";
    pub(crate) const KNOWN_AT_HINT: &str = "Empty for what is known now.";
    pub(crate) const SEARCH: &str = "Find by name or staff number";
    pub(crate) const ONLY: &str = "Only people with something";
    pub(crate) const EVERY_STATE: &str = "In any state";
    pub(crate) const SORT: &str = "In the order of";
    pub(crate) const BY_NAME: &str = "Names";
    pub(crate) const BY_UNIT: &str = "Units";
    pub(crate) const BY_ROLE: &str = "Roles";
    pub(crate) const NO_GROUP: &str = "None stated";
    pub(crate) const BY_RUNS_OUT: &str = "What runs out first";
    pub(crate) const SAVE: &str = "Save the roster";
    pub(crate) const CSV: &str = "Table (CSV)";
    pub(crate) const XLSX: &str = "Spreadsheet (XLSX)";
    pub(crate) const PDF: &str = "Pages to print (PDF)";
    pub(crate) const JSON: &str = "For programs (JSON)";
    pub(crate) const TOTALS: &str = "Of everyone found";
    pub(crate) const NO_MATCH: &str = "Nobody matches. Change what is looked for.";
    pub(crate) const PERSON: &str = "Person";
    pub(crate) const NOBODY: &str = "Nobody belongs to this unit yet. Add people under People.";
    pub(crate) const NO_PROCEDURES: &str =
        "No procedure is required or was demonstrated here yet. Start a demonstration to fill the roster.";

    pub(crate) fn caption(of: &str, as_of: &str, known: Option<&str>) -> String {
        match known {
            Some(known) => format!("{of}, as of {as_of}, as it was known by the end of {known}"),
            None => format!("{of}, as of {as_of}"),
        }
    }

    pub(crate) fn found(found: u32) -> String {
        crate::wording::counted(usize::try_from(found).unwrap_or(usize::MAX), "person", "people")
    }

    /// How wide the table is at least: the person, and each procedure.
    pub(crate) fn width(procedures: usize) -> String {
        format!("{}rem", 18 + 10 * procedures)
    }

    /// The heading of a unit or role.
    pub(crate) fn group(name: &str, people: u32) -> String {
        let name = if name.is_empty() { NO_GROUP } else { name };
        format!("{name} \u{b7} {}", found(people))
    }

    pub(crate) fn hold(share: &str) -> String {
        format!("hold it: {share}")
    }

    pub(crate) fn rests(covers: &str, rules: u32) -> String {
        format!("{covers} By version {rules} of the rules.")
    }

    pub(crate) fn until(date: &str) -> String {
        format!("through {date}")
    }

    /// The first day of a suspension.
    pub(crate) fn since(date: &str) -> String {
        format!("since {date}")
    }

    pub(crate) fn ran_out(date: &str) -> String {
        format!("ran out {date}")
    }

    pub(crate) fn incomplete(entries: u32) -> String {
        format!(
            "{} of a kind this program does not know: the roster may be incomplete. Ask for a newer version.",
            crate::wording::counted(
                usize::try_from(entries).unwrap_or(usize::MAX),
                "entry is",
                "entries are"
            )
        )
    }
}

pub(crate) mod history {
    pub(crate) const STANDINGS: &str = "How this person stands";
    pub(crate) const NO_STANDINGS: &str = "Nothing is required of this person, and nothing was demonstrated.";
    pub(crate) const RECORDS: &str = "Every record";
    pub(crate) const NO_RECORDS: &str =
        "No record yet. It begins with the first demonstration that is signed.";
    pub(crate) const OPEN: &str = "Open the record";
    pub(crate) const START: &str = "Start a demonstration";
    pub(crate) const NO_FINDINGS: &str = "No findings";
    pub(crate) const DIGEST: &str = "SHA-256";
    pub(crate) const GRANTED_NOTHING: &str = "Granted no validation";

    pub(crate) fn ended(on: &str) -> String {
        format!("Ended on {on}: not yet competent that day")
    }

    pub(crate) fn open_name(procedure: &str, on: &str) -> String {
        format!("Open the record of {procedure}, {on}")
    }

    pub(crate) fn findings(count: usize) -> String {
        crate::wording::counted(count, "finding", "findings")
    }
}
