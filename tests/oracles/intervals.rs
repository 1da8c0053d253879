//! Wilson score intervals against `SciPy`. The worked examples of Newcombe 1998 (Statistics in Medicine 17:857) stand
//! beside the rule itself, in `competency::share`.

use competency::share::share;
use serde_json::json;

#[test]
fn every_share_of_every_small_group() {
    let most = 60;
    let answers: Vec<(f64, f64)> = suite::python::ask(include_str!("intervals.py"), &json!({ "most": most }));
    let shares = (1..=most).flat_map(|of| (0..=of).map(move |count| share(count, of).expect("a share")));
    let mut compared = 0;
    for (share, (lower, upper)) in shares.zip(&answers) {
        for (ours, theirs) in [(share.lower_ppm, *lower), (share.upper_ppm, *upper)] {
            assert!((f64::from(ours) - theirs).abs() <= 1.0, "{share:?} and {lower} to {upper}");
        }
        compared += 1;
    }
    assert_eq!(compared, answers.len());
}
