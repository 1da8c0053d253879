//! Every text of a procedure, with its place, and how it names what it speaks of.

use serde_json::Value;

use super::Procedure;
use crate::flaw::below;
use crate::model::Model;

/// Every text in a procedure that is shown or names something, with its place as a JSON pointer.
pub fn texts(procedure: &Procedure) -> Vec<(String, String)> {
    // A procedure always has a form in JSON: it has no map with keys that are no text.
    let whole = serde_json::to_value(procedure).unwrap_or_default();
    let mut texts = Vec::new();
    let mut open = vec![(String::new(), whole)];
    while let Some((pointer, value)) = open.pop() {
        match value {
            Value::String(text) => texts.push((pointer, text)),
            Value::Array(values) => {
                let places = values.into_iter().enumerate();
                open.extend(places.map(|(index, value)| (below(&pointer, index), value)));
            }
            Value::Object(fields) => {
                open.extend(fields.into_iter().map(|(name, value)| (below(&pointer, name), value)));
            }
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    texts.sort();
    texts
}

/// What is said of a file, for somebody who does not see the file: its ids in quotes become the names that the
/// window shows, a step its number and its acts.
pub fn in_names(said: &str, procedure: &Procedure) -> String {
    let model = Model::new(procedure.clone());
    let name = |id: &str| -> Option<String> {
        let place = procedure.steps.iter().position(|step| step.id == id);
        let of_step = place.zip(model.step_number(id).and_then(|number| model.step(number)));
        let step = of_step.map(|(place, step)| {
            let acts: Vec<&str> = step.acts.iter().map(|act| model.act_label(act)).collect();
            format!("“{}. {}”", place + 1, acts.join(" or "))
        });
        let act = || procedure.acts.get(id).map(|label| format!("“{label}”"));
        let condition = || {
            let known = procedure.conditions.iter().find(|condition| condition.id == id)?;
            Some(format!("“{}”", known.text))
        };
        let source = || {
            let known = procedure.sources.iter().find(|source| source.id == id)?;
            Some(format!("“{}”", known.title))
        };
        step.or_else(act).or_else(condition).or_else(source)
    };
    // Every second part stands between quotes; one that names nothing keeps them.
    let parts = said.split('"').enumerate();
    parts
        .map(|(place, part)| match place % 2 {
            0 => part.to_owned(),
            _ => name(part).unwrap_or_else(|| format!("“{part}”")),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::{check, library, odd, read};

    fn removal() -> Procedure {
        let (_, text) = library().iter().find(|(name, _)| name.contains("removal-example-1")).unwrap();
        read(text).unwrap()
    }

    #[test]
    fn a_flaw_names_steps_as_the_window_shows_them() {
        let mut procedure = removal();
        let said = in_names("Nothing comes after \"gown-off\"; \"no-such\" is not there.", &procedure);
        assert_eq!(said, "Nothing comes after “3. Gown off”; “no-such” is not there.");
        // Whatever is found, no id is left in it.
        procedure.steps.retain(|step| step.id != "leave-room");
        for step in &mut procedure.steps {
            step.source = None;
        }
        let flaws = check(&procedure).into_iter().chain(odd(&procedure));
        for flaw in flaws {
            let said = in_names(&flaw.text, &procedure);
            assert!(!said.contains('"') && !said.contains("“gown-off”"), "{said}");
        }
    }

    #[test]
    fn every_text_has_its_place() {
        let procedure = removal();
        let all = texts(&procedure);
        assert!(all.contains(&("/title".to_owned(), procedure.title.clone())));
        let first = (String::from("/steps/0/text"), procedure.steps[0].text.clone());
        assert!(all.contains(&first));
    }
}
