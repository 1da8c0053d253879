//! The form while it is entered from paper: no clock runs, and times are those that were written by hand.

use chrono::{DateTime, NaiveDate, TimeDelta};
use competency::{
    journal::{
        Event,
        written::{self, TimeOfDay},
    },
    log::What,
    sentence,
};

use super::Form;

/// What the form says of one line.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct WrittenLine {
    /// The time as text; empty where there is none.
    pub(crate) at: String,
    /// The seconds as text; empty where there are none.
    pub(crate) lasted: String,
    /// It is an act that must last some time.
    pub(crate) timed: bool,
}

impl Form {
    /// The date of the paper form that is entered; `None` where it is logged as it happens.
    pub(crate) fn paper(&self) -> Option<NaiveDate> {
        self.opened.paper_form
    }

    /// What the form says of a line; `None` where the line is nothing that has a time.
    pub(crate) fn written_of(&self, line: &str) -> Option<WrittenLine> {
        self.paper()?;
        let seen = self.folded.log.observations.get(self.folded.observation_of(line)?)?;
        let timed = match &seen.what {
            What::NotSeen(_) => return None,
            What::Act(act) => {
                let procedure = self.model.procedure();
                procedure.steps.iter().any(|step| procedure.least_seconds(step, act).is_some())
            }
            What::Contamination(_) | What::Condition(_) | What::TeamError(_) => false,
        };
        Some(WrittenLine {
            at: seen.at_ms.map(sentence::time_of_day).unwrap_or_default(),
            lasted: seen.lasted_ms.map(|ms| (ms / 1000).to_string()).unwrap_or_default(),
            timed,
        })
    }

    /// When the form says that it began and ended, as text.
    pub(crate) fn written_span(&self) -> (String, String) {
        let told = |time: Option<TimeOfDay>| time.map(String::from).unwrap_or_default();
        (told(self.folded.span.begun), told(self.folded.span.ended))
    }

    /// Whether what is written may be; the sentence to show where not. `now` is what the page's clock shows.
    pub(crate) fn check_written(&self, event: &Event, now: i64) -> Result<(), String> {
        let here = DateTime::parse_from_rfc3339(&self.opened.begun).ok();
        let here =
            here.and_then(|begun| begun.checked_add_signed(TimeDelta::try_milliseconds(self.elapsed(now))?));
        let today = here.filter(|here| self.paper() == Some(here.date_naive()));
        let today = today.map(|here| TimeOfDay::from(here.time()));
        written::check(&self.model, &self.opened.lines, &String::new(), event, today)
    }
}
