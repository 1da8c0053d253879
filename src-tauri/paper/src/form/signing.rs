use competency::procedure::Procedure;

use crate::{
    blanks::blanks,
    record::{paragraph, pass_rule},
    sheet::{Sheet, Style},
};

/// Remarks, what the outcome rests on, who signs, and who enters it.
pub(super) fn draw(sheet: &mut Sheet, procedure: &Procedure) {
    sheet.heading("Remarks by the observer", 120.0);
    for _ in 0..3 {
        blanks(sheet, &[("", 1.0)]);
    }
    sheet.heading("Outcome", 60.0);
    let rule = pass_rule(procedure.pass);
    let said = format!(
        "The outcome is reached when this form is entered, by the rules of the procedure; do not promise one \
         before. {rule} A validation holds {} months from the date of this form.",
        procedure.valid_months
    );
    paragraph(sheet, &said, Style::BODY);
    sheet.heading("Signatures", 190.0);
    blanks(sheet, &[("Observer: seen and written down by me as it happened", 3.0), ("Date", 1.0)]);
    blanks(sheet, &[("Person: seen and talked over", 3.0), ("Date", 1.0)]);
    blanks(sheet, &[("Entered afterwards by the observer", 3.0), ("Date", 1.0)]);
    paragraph(
        sheet,
        "Keep this form: the record that comes of it says that it was transcribed, by whom, and this form’s date.",
        Style::SMALL,
    );
}
