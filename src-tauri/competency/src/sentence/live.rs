//! What the live form says.

use crate::live::{ComesFirst, Warning};
use crate::model::Model;

/// How many steps a warning names; it is read at a glance, while somebody undresses.
const MOST_NAMED: usize = 3;

/// The warning that an act came too early, in one or two sentences: what should have come first, nearest
/// first.
pub fn warning(model: &Model, warning: &Warning) -> String {
    let act = model.act_label(&warning.act);
    let Some(nearest) = warning.first.first() else { return format!("“{act}” came too early.") };
    let named: Vec<String> =
        warning.first.iter().take(MOST_NAMED).map(|first| step_name(model, first)).collect();
    let others = match warning.first.len().saturating_sub(MOST_NAMED) {
        0 => String::new(),
        1 => ", and one more step before that".to_owned(),
        more => format!(", and {more} more steps before that"),
    };
    let why = nearest.why.as_deref().map(super::ended).unwrap_or_default();
    format!("“{act}” came too early: first {}{others}. {why}", named.join(", before that "))
        .trim_end()
        .to_owned()
}

fn step_name(model: &Model, first: &ComesFirst) -> String {
    let step = model.step_number(&first.step).and_then(|number| model.step(number));
    step.map_or_else(|| first.step.clone(), |step| super::acts_of(model, step))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::live::Live;
    use crate::procedure::{library, read};
    use crate::testing::log;

    #[track_caller]
    fn warned(file: &str, first: &str, expected: &str) {
        let (_, text) = library().iter().find(|(name, _)| *name == file).unwrap();
        let model = Model::new(read(text).unwrap());
        let seen = log(first).observations;
        let verdict = Live::new(&model, &[]).observe(&model, &seen[0]);
        assert_eq!(warning(&model, verdict.warning().unwrap()), expected);
    }

    #[test]
    fn a_warning_names_what_should_have_come_first_nearest_first() {
        let file = "standard-removal-example-1.json";
        warned(
            file,
            "remove-goggles",
            "“Goggles off” came too early: first “Gloves off”. Contaminated gloves would come close to the eyes.",
        );
        warned(
            file,
            "remove-mask",
            "“Mask off” came too early: first “Gown off”, before that “Goggles off” or “Face shield off”, before \
             that “Gloves off”. Nose and mouth would be bare while the contaminated gown is moved.",
        );
    }
}
