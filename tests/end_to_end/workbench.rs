use suite::{Screen, Window, story};

/// Waits until what is on the screen is on the disk.
async fn kept(window: &Window) {
    window.until("the draft is kept", "return document.querySelector('#keeping').innerText === 'Kept'").await;
}

#[tokio::test]
async fn an_educator_makes_a_procedure_the_facility_s_own() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let mut window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::begin_next_version(&window).await;

    // The gown comes after the gloves; the gloves after the gown as well would be a circle.
    window.tap("#step-gloves-off").await;
    window.tap("#before-gown-off").await;
    let refused = window.text("#refused").await;
    assert!(refused.contains("Gown off") && refused.contains("Gloves off"), "it names the circle: {refused}");
    let ticked = window.ask("return document.querySelector('#before-gown-off').checked").await;
    assert_eq!(ticked, false, "what was refused does not stay ticked");

    // The eyes must be uncovered: critical, which needs a reason.
    window.tap("#step-eyes-uncovered").await;
    window.fill("#step-why-eyes-uncovered", "Contaminated goggles pass close to the eyes.").await;
    window.tap("#step-critical-eyes-uncovered").await;
    kept(&window).await;

    // Power fails; the draft is as it was kept.
    window.kill();
    window = Window::open(&screen, data.path()).await;
    window.tap("#nav-procedures").await;
    window.tap("#drafts a").await;
    window.tap("#step-eyes-uncovered").await;
    window.see("#step-editor").await;
    let critical = window.ask("return document.querySelector('#step-critical-eyes-uncovered').checked").await;
    assert_eq!(critical, true, "the draft survived");

    // It is tried out before anybody is measured by it.
    window.tap("#part-try").await;
    window.tap("#try-remove-mask").await;
    window.read("came too early").await;
    window.read("Not yet competent").await;

    window.tap("#part-publish").await;
    let changes = window.text("#changes").await;
    assert!(changes.contains("critical"), "it says what changes: {changes}");
    let proposal = window.text("#proposal").await;
    assert!(proposal.contains("Yes, by a date"), "and proposes what follows: {proposal}");
    window.fill("#again-by", "2099-01-31").await;
    window.fill("#again-why", "The eyes now decide.").await;
    story::choose(&window, "approver", "1001").await;
    window.fill("#publish-passphrase", story::PASSPHRASE).await;
    window.tap("#publish").await;
    let told = window.text("#told").await;
    assert!(told.contains("version 2.0.0"), "it says what is in force now: {told}");
    window.read("Version 2.0.0").await;
    window.read("approved by Ines Odum").await;
    window.tap("#compare-2-0-0").await;
    let told = window.text("#comparison").await;
    assert!(told.contains("critical"), "the versions can be compared later: {told}");

    // What is saved as a file comes back as a draft; what is no procedure is refused with its place.
    window.tap("#save-file").await;
    window.read("Saved as").await;
    let saved = data.path().join("exports").join(format!("{}-2.0.0.json", story::PROCEDURE));
    window.tap("#nav-procedures").await;
    for (name, text, says) in suite::bad::procedures() {
        let broken = data.path().join(name);
        std::fs::write(&broken, text).expect("a file");
        window.choose_file("#bring-file", &broken).await;
        for part in says {
            window.read(part).await;
        }
        let drafts = window.ask("return document.querySelectorAll('#drafts a').length").await;
        assert_eq!(drafts, 0, "{name} changed nothing");
    }
    // ISO 8859-1 writes the letter é so; a browser puts a mark in its place.
    let latin = data.path().join("latin.json");
    let text =
        std::fs::read_to_string(&saved).unwrap().replacen("Standard removal", "Standard \u{fffd}removal", 1);
    let mut bytes = Vec::new();
    for part in text.split_inclusive('\u{fffd}') {
        bytes.extend(part.trim_end_matches('\u{fffd}').as_bytes());
        bytes.extend(part.ends_with('\u{fffd}').then_some(0xe9));
    }
    std::fs::write(&latin, bytes).unwrap();
    window.choose_file("#bring-file", &latin).await;
    window.read("save it as UTF-8").await;
    window.choose_file("#bring-file", &saved).await;
    window.see("#part-publish").await;
}
