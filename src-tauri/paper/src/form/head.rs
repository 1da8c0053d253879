use competency::{
    procedure::{Ask, Footing, Phase, Procedure},
    sentence,
    validity::Purpose,
};

use super::FormOrigin;
use crate::{
    blanks::{blanks, choices},
    record::paragraph,
    sheet::{Sheet, Style, Tag},
    words,
};
use picture::Role;

/// What it is a form of, who and when, and how it is filled in.
pub(super) fn draw(sheet: &mut Sheet, procedure: &Procedure, origin: &FormOrigin<'_>) {
    let (x, width) = (sheet.format.margin, sheet.format.text_width());
    let above = format!("{} · Observation form, to be entered afterwards", origin.facility);
    paragraph(sheet, &above, Style::QUIET);
    sheet.paragraph(Tag::Title, &procedure.title, x, width, Style::TITLE);
    let precautions: Vec<&str> = procedure.precautions.iter().copied().map(words::precaution).collect();
    let mut about = vec![format!("Version {}", procedure.version)];
    about.extend(phase(procedure.phase).map(str::to_owned));
    if !precautions.is_empty() {
        about.push(format!("precautions: {}", precautions.join(", ")));
    }
    if !procedure.ensemble.is_empty() {
        about.push(format!("ensemble: {}", procedure.ensemble.join(", ")));
    }
    paragraph(sheet, &about.join(" · "), Style::BODY);
    if procedure.sources.iter().any(|source| source.footing == Footing::Memory) {
        sheet.space(3.0);
        let said = "Some of it was written from memory. Check it against the current source before use; the \
                    sources are on the last pages.";
        paragraph(sheet, said, Style::STRONG.in_role(Role::Warning));
    }
    sheet.space(8.0);
    blanks(sheet, &[("Person: name", 3.0), ("Staff number", 1.2), ("Unit", 1.6)]);
    blanks(sheet, &[("Observer: name", 3.0), ("Staff number", 1.2), ("Date", 1.6)]);
    blanks(
        sheet,
        &[
            ("Assistant: name", 2.4),
            ("Staff number", 1.1),
            ("Begun at (hour, minute)", 1.2),
            ("Ended at", 0.9),
        ],
    );
    sheet.space(6.0);
    let purposes = [Purpose::Practice, Purpose::Validation, Purpose::LiveCare].map(words::purpose);
    choices(sheet, "Purpose", &purposes.map(str::to_owned));
    let validates: Vec<&str> = procedure.validates_in.iter().copied().map(sentence::mode).collect();
    let modes = [
        "Guided: every step is read aloud and confirmed".to_owned(),
        "Assessed: the person works unaided".to_owned(),
    ];
    choices(sheet, "Mode", &modes);
    choices(sheet, "Attempt", &["First".to_owned(), "Repeat of the one on _______________".to_owned()]);
    let start: Vec<String> = procedure
        .conditions
        .iter()
        .filter(|condition| condition.ask == Ask::Start)
        .map(|condition| condition.text.clone())
        .collect();
    if !start.is_empty() {
        choices(sheet, "At the start", &start);
    }
    sheet.space(4.0);
    paragraph(sheet, &how(&validates), Style::SMALL);
}

fn how(validates: &[&str]) -> String {
    let grants = match validates {
        [] => "No mode of it grants a validation. ".to_owned(),
        modes => format!("Only the {} mode grants a validation. ", modes.join(" or the ")),
    };
    format!(
        "{grants}The observer is neither the wearer nor the assistant. Write into “Order” 1, 2, 3 … as things \
         happen, and the time where you can; tick “Not seen” rather than guess. A step whose number stands in a \
         frame with cut corners is critical. “After” names the steps that must come before; else the order is \
         free, whatever the form prints first."
    )
}

fn phase(phase: Phase) -> Option<&'static str> {
    match phase {
        Phase::Donning => Some("putting on"),
        Phase::Doffing => Some("taking off"),
        Phase::Other => None,
    }
}
