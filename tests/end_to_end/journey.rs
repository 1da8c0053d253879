use suite::{Screen, Window, story};

use crate::records;

#[tokio::test]
async fn the_whole_job_in_the_real_window() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;

    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;

    // The mask comes off with gloves and gown still on: the observer is warned at once, and why.
    story::log_act(&window, "remove-mask", 1).await;
    let warning = window.text("#banner").await;
    assert!(warning.contains("Too early"), "{warning}");
    assert!(
        warning.contains(
            "first “Gown off”, before that “Goggles off” or “Face shield off”, before that “Gloves off”"
        ),
        "it names what comes first, nearest first: {warning}"
    );
    assert!(warning.contains("Nose and mouth would be bare"), "and says why: {warning}");
    story::log_act(&window, "remove-gloves", 2).await;
    story::log_act(&window, "remove-goggles", 3).await;
    story::log_act(&window, "remove-gown", 4).await;
    story::finish(&window).await;

    assert_eq!(window.text("#outcome").await, "Not yet competent");
    let findings = window.text("#findings").await;
    assert!(findings.contains("Mask off"), "the finding names the step: {findings}");
    assert!(findings.contains("Gown off"), "and what should have come first: {findings}");
    assert!(
        window.ask("return document.querySelector('#findings dl.witness') !== null").await == true,
        "it shows its witnesses"
    );

    story::sign(&window).await;
    window.tap("#to-history").await;
    let history = window.text("#records").await;
    assert!(history.contains("Not yet competent"), "{history}");

    let files = records::below(data.path());
    let [record] = files.as_slice() else { panic!("one record is filed: {files:?}") };
    let signatures = records::signatures(record);
    assert!(signatures.contains("Signature is Valid."), "{signatures}");
    assert!(signatures.contains("Total document signed"), "{signatures}");
    let words = records::words(record);
    for word in ["Harbour Hospital", "Tomas Rehn", "Ines Odum", "Standard removal, example 1", "Mask off"] {
        assert!(words.contains(word), "the record shows {word}: {words}");
    }
}
