//! One line a rule: what is found, and the outcome.

use super::super::{score, score_unless};
use crate::report::{FindingKind, Outcome, Report, Severity};
use crate::sentence::minutes;
use crate::testing::{log, model};

/// The findings as `kind step@observation!`, `!` critical, `~` team, parted by blanks; then the outcome.
pub(super) fn told(report: &Report) -> String {
    let findings: Vec<String> = report
        .findings
        .iter()
        .map(|finding| {
            let kind = serde_json::to_value(finding.kind).unwrap();
            let step = finding.step.as_deref().map(|step| format!(" {step}")).unwrap_or_default();
            let at = finding.observation.map(|at| format!("@{at}")).unwrap_or_default();
            let mark = match finding.severity {
                Severity::Critical => "!",
                Severity::Other => "",
                Severity::Team => "~",
            };
            format!("{}{step}{at}{mark}", kind.as_str().unwrap())
        })
        .collect();
    findings.join(", ")
}

#[track_caller]
fn check(procedure: &str, observed: &str, cost: u32, expected: &str) {
    let report = score(&model(procedure), &log(observed));
    assert_eq!((report.alignment_cost, told(&report).as_str()), (cost, expected), "of {observed}");
}

#[test]
fn order() {
    check("a b<a c<b", "a b c", 0, "");
    check("a b<a c<b", "b a c", 2, "out-of-order b@0");
    check("a b<!a c<b", "b a c", 2, "out-of-order b@0!");
    check("a b<a c<b", "c a b", 2, "out-of-order c@0");
    check("a b<a c<b", "a c", 1, "missed b");
    check("a b<a c<b", "a b c c", 1, "extra@3");
    check("a b<a c<b", "a b x c", 1, "extra@2");
    check("a* b<a c<b", "b c", 1, "missed a!");
    check("a? b<a", "b", 0, "");
    check("a? b<a", "b a", 1, "out-of-order a@1");
}

/// As many shared acts as may be, and a log of nothing else: asked to stop, it gives no report.
#[test]
fn it_can_be_stopped() {
    let steps: Vec<String> = (0..40)
        .map(|step| if step == 0 { "s0[act]".to_owned() } else { format!("s{step}[act]<s{}", step - 1) })
        .collect();
    let (model, log) = (model(&steps.join(" ")), log(&"act ".repeat(200)));
    let asked = std::cell::Cell::new(0);
    let stop = |at: u32| {
        asked.set(asked.get() + 1);
        asked.get() >= at
    };
    assert_eq!(score_unless(&model, &log, &minutes, &|| stop(2)), None);
    assert_eq!(asked.get(), 2, "not asked again once it was told to stop");
    assert_eq!(score_unless(&model, &log, &minutes, &|| false), Some(score(&model, &log)));
}

/// Otherwise a mask that came off first would be forgiven once it was put on and taken off again.
#[test]
fn doing_it_again_in_its_order_undoes_no_exposure() {
    let dangerous = model("gown mask<!gown");
    let told = |acts: &str| {
        let report = score(&dangerous, &log(acts));
        let findings: Vec<(FindingKind, Severity, Option<usize>)> = report
            .findings
            .iter()
            .map(|finding| (finding.kind, finding.severity, finding.observation))
            .collect();
        (report.outcome, findings)
    };
    let exposed = (FindingKind::OutOfOrder, Severity::Critical, Some(0));
    assert_eq!(told("mask gown mask"), (Outcome::NotYetCompetent, vec![exposed]));
    // Done twice after the gown, the second time is only one too many.
    assert_eq!(
        told("gown mask mask"),
        (Outcome::Competent, vec![(FindingKind::Extra, Severity::Other, Some(2))])
    );
    // Where the order is no danger, so it is.
    let calm = model("gown mask<gown");
    assert_eq!(score(&calm, &log("mask gown mask")).outcome, Outcome::Competent);
}
