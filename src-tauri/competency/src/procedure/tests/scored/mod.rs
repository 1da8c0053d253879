//! The library against logs: right ones in another order than printed, and published typical errors.
//!
//! The errors are those the studies name: Kwon 2017 (ICHE 38:1077), Mumma 2018 and 2019 (CID 66:950,
//! 69 S3:S214), Tomas 2015 (JAMA Intern Med 175:1904), and Zellmer 2015 (AJIC 43:750, from memory).

mod any_order;
mod donning;
mod high_donning;
mod n95_doffing;
mod other;
mod papr_doffing;
mod removal;
mod who_doffing;

use crate::model::Model;
use crate::procedure::{Mode, library, read};
use crate::report::{Outcome, Report};
use crate::score::score;
use crate::testing::log_in;

/// One procedure of the library, how it is observed, and a right log in printed order.
struct Subject {
    model: Model,
    conditions: &'static [&'static str],
    right: &'static str,
}

impl Subject {
    fn new(id: &str, conditions: &'static [&'static str], right: &'static str) -> Self {
        let name = format!("{id}.json");
        let (_, text) = library().iter().find(|(file, _)| *file == name).expect("it is in the library");
        Subject { model: Model::new(read(text).expect("it reads")), conditions, right }
    }

    fn score(&self, log: &str) -> Report {
        let mode = self.model.procedure().validates_in.first().copied().unwrap_or(Mode::Assessed);
        score(&self.model, &log_in(mode, self.conditions, log))
    }

    /// A log that is as it should be: competent, nothing found.
    #[track_caller]
    fn right(&self, log: &str) {
        self.check(log, Outcome::Competent, &[]);
    }

    /// Changes one passage of the right log; an empty passage appends.
    #[track_caller]
    fn changed(&self, from: &str, to: &str, outcome: Outcome, findings: &[&str]) {
        let log = format!(" {} ", self.right.split_whitespace().collect::<Vec<_>>().join(" "));
        assert_eq!(log.matches(&format!(" {from} ")).count(), 1, "{from} must stand in the log once: {log}");
        self.check(&log.replace(&format!(" {from} "), &format!(" {to} ")), outcome, findings);
    }

    /// Compares outcome and findings, each as `severity kind step`.
    #[track_caller]
    fn check(&self, log: &str, outcome: Outcome, findings: &[&str]) {
        let report = self.score(log);
        let word = |value: serde_json::Value| value.as_str().unwrap_or_default().to_owned();
        let told: Vec<String> = report
            .findings
            .iter()
            .map(|finding| {
                let severity = word(serde_json::to_value(finding.severity).unwrap());
                let kind = word(serde_json::to_value(finding.kind).unwrap());
                format!("{severity} {kind} {}", finding.step.as_deref().unwrap_or("-"))
            })
            .collect();
        let texts: Vec<&str> = report.findings.iter().map(|finding| &*finding.text).collect();
        assert_eq!(told, findings, "{log}: {texts:#?}");
        assert_eq!(report.outcome, outcome, "{log}: {texts:#?}");
    }
}

/// A procedure that joins the library is to be held to logs of its own: right ones, and at least four with
/// an error that studies name.
#[test]
fn every_procedure_of_the_library_is_held_to_logs_of_its_own() {
    let held = [
        include_str!("donning.rs"),
        include_str!("high_donning.rs"),
        include_str!("n95_doffing.rs"),
        include_str!("other.rs"),
        include_str!("papr_doffing.rs"),
        include_str!("removal.rs"),
        include_str!("who_doffing.rs"),
    ];
    for (name, _) in library() {
        let id = format!("\"{}\"", name.trim_end_matches(".json"));
        let of_it = held.iter().find(|text| text.contains(&id));
        let text = of_it.unwrap_or_else(|| panic!("{name} is held to no log"));
        // The function that makes its subject, and how often a log of it is expected to be found wanting.
        let subject = text.split("fn ").find(|part| part.contains(&id) && part.contains("-> Subject"));
        let subject = subject.and_then(|part| part.split('(').next()).expect("a function makes its subject");
        let count = |method: &str| text.matches(&format!("{subject}(){method}")).count();
        let spaced = |method: &str| text.matches(&format!("{subject}()\n        {method}")).count();
        let rights = count(".right(") + spaced(".right(");
        let errors = count(".changed(") + count(".check(") + spaced(".changed(");
        assert!(rights >= 2, "{name}: {rights} right logs");
        assert!(errors >= 4, "{name}: {errors} logs with errors");
    }
}
