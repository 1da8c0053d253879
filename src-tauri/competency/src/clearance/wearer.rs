//! What keeps a respirator from being worn: the fit test for the very model, and medical clearance.

use chrono::NaiveDate;

use super::Need;
use crate::{
    procedure::Procedure,
    validity::{long_date, strict_year, valid_until},
};

/// A fit test of one person with one model.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FitTest {
    /// Make and model, as the procedure's list of respirator models names it; the very model counts.
    pub model: String,
    /// Size, or what else tells apart what was worn.
    pub size: String,
    /// The civil date of the test.
    pub on: NaiveDate,
    /// Whether it was passed.
    pub passed: bool,
}

/// Whether a fit test with a measured fit factor is passed: at least 100 with a half mask, filtering
/// facepieces included, and 500 with a full one, 29 CFR 1910.134(f)(7) (from memory).
pub fn factor_passes(fit_factor: u32, full_facepiece: bool) -> bool {
    fit_factor >= if full_facepiece { 500 } else { 100 }
}

/// What occupational health said about wearing a respirator; never why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Medical {
    /// The civil date.
    pub on: NaiveDate,
    /// Whether the person is cleared.
    pub cleared: bool,
    /// Through this date; open where it is `None`.
    pub until: Option<NaiveDate>,
}

/// What is known of a person as a wearer of respirators, and what the facility asks of one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Wearer {
    /// The fit tests, in the order of their dates.
    pub fit_tests: Vec<FitTest>,
    /// What occupational health said, in the order of the dates.
    pub medical: Vec<Medical>,
    /// Whether the facility asks for medical clearance of whoever wears a respirator.
    pub medical_required: bool,
    /// The facility counts a year as 365 days at most.
    pub strict_year: bool,
}

impl Wearer {
    /// The models that these procedures list and for which a fit test holds, with its last day, the longest
    /// first; or what is missing.
    pub(super) fn fitted<'p>(
        &self,
        procedures: impl IntoIterator<Item = &'p Procedure>,
        as_of: NaiveDate,
    ) -> Result<Vec<(NaiveDate, String)>, String> {
        let listed = procedures.into_iter().flat_map(|one| &one.equipment.respirator_models);
        let mut models: Vec<&str> = listed.map(|model| model.name.as_str()).collect();
        models.sort_unstable();
        models.dedup();
        if models.is_empty() {
            let why = "No respirator model is set in the procedure, so that no fit test can be for it: set it under Procedures, in the workbench, among the facility values.";
            return Err(why.to_owned());
        }
        let mut holding = Vec::new();
        let mut missing = Vec::new();
        for model in models {
            match self.fit(model, as_of) {
                Ok(until) => holding.push((until, model.to_owned())),
                Err(sentence) => missing.push(sentence),
            }
        }
        holding.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        if holding.is_empty() { Err(missing.join(" ")) } else { Ok(holding) }
    }

    /// Through when the fit test with one model holds: a year, on or before the anniversary (29 CFR
    /// 1910.134(f)(2), and OSHA's letter of 23 December 1998). The latest test of a size decides, so that a
    /// failed one ends an earlier one of that size.
    fn fit(&self, model: &str, as_of: NaiveDate) -> Result<NaiveDate, String> {
        let own = || self.fit_tests.iter().filter(|test| same(&test.model, model) && test.on <= as_of);
        let decides = own().filter(|test| {
            let last = own().rfind(|other| same(&other.size, &test.size));
            last.is_some_and(|last| std::ptr::eq(last, *test))
        });
        let passed = decides.filter(|test| test.passed);
        let Some(last) = passed.max_by_key(|test| test.on) else {
            return Err(match own().next_back() {
                Some(failed) => {
                    format!("The fit test with {model} on {} was not passed.", long_date(failed.on))
                }
                None => format!("No fit test with {model}."),
            });
        };
        let until = valid_until(last.on, 12).unwrap_or(NaiveDate::MAX);
        let strict = self.strict_year.then(|| strict_year(last.on, until)).flatten();
        let until = strict.map_or(until, |cut| cut.by);
        if until < as_of {
            Err(format!("The fit test with {model} ran out on {}.", long_date(until)))
        } else {
            Ok(until)
        }
    }

    /// Through when the medical clearance holds, or what is missing.
    pub(super) fn medically(&self, as_of: NaiveDate) -> Need {
        match self.medical.iter().rfind(|one| one.on <= as_of) {
            None => Err("No medical clearance for a respirator.".to_owned()),
            Some(one) if !one.cleared => {
                Err(format!("Not medically cleared for a respirator on {}.", long_date(one.on)))
            }
            Some(one) => match one.until {
                Some(until) if until < as_of => {
                    Err(format!("The medical clearance ran out on {}.", long_date(until)))
                }
                until => Ok((until.unwrap_or(NaiveDate::MAX), "the medical clearance".to_owned())),
            },
        }
    }
}

/// Names are typed by people: neither case nor space around them tells two models apart.
fn same(one: &str, other: &str) -> bool {
    one.trim().to_lowercase() == other.trim().to_lowercase()
}
