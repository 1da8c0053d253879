use std::fs;

use suite::{Screen, Window, story};

use crate::records;

/// A demonstration from its beginning to its signature; the history is open in the end.
async fn sealed(window: &Window) {
    story::create_facility(window).await;
    story::add_colleague(window).await;
    story::begin(window).await;
    for (count, act) in (1..).zip(["remove-gloves", "remove-goggles", "remove-gown", "remove-mask"]) {
        story::log_act(window, act, count).await;
    }
    story::finish(window).await;
    story::sign(window).await;
}

#[tokio::test]
async fn a_record_is_countersigned_checked_and_voided_in_the_window() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let window = Window::open(&screen, data.path()).await;
    sealed(&window).await;
    // It is handed to the person, so it says first of whom and of what it is.
    let about = window.text("#sealed-about").await;
    assert!(about.starts_with("Tomas Rehn · "), "{about}");

    // The person observed states what they think of it, in a file of its own.
    window.tap("#second-declined").await;
    window.fill("#second-comment", "I had no goggles that fit.").await;
    window.tap("#second-go").await;
    assert!(window.text("#second-done").await.contains("declined"));
    let files = records::below(data.path());
    let both = files.iter().find(|file| file.to_string_lossy().ends_with("-second.pdf")).expect("a file");
    let signatures = records::signatures(both);
    assert_eq!(signatures.matches("Signature is Valid.").count(), 2, "{signatures}");

    // Anybody may bring it back and have it checked.
    window.tap("#nav-verify").await;
    window.choose_file("#record-file", both).await;
    assert_eq!(window.text("#reliable").await, "It can be relied on");
    let reasons = window.text("#reasons").await;
    assert!(reasons.contains("I had no goggles that fit."), "{reasons}");
    let mut bytes = fs::read(both).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    let changed = data.path().join("changed.pdf");
    fs::write(&changed, bytes).unwrap();
    window.choose_file("#record-file", &changed).await;
    window.read("It cannot be relied on").await;

    // It turns out to be the wrong person's: voided, with a reason, for good. Somebody else must sign that.
    window.tap("#nav-roster").await;
    window.tap_named("Tomas Rehn").await;
    window.tap_named("History and records").await;
    window.tap("[id^='right-']").await;
    window.tap("#right-void").await;
    window.fill("#right-reason", "another person was observed").await;
    window.ask("const it = document.querySelector('#right-author'); it.selectedIndex = 1; it.dispatchEvent(new Event('change', { bubbles: true }))").await;
    window.fill("#right-pin", story::PIN).await;
    window.tap("#right-go").await;
    window.read("Does not count any more").await;
    window.read("another person was observed").await;
    window.tap("#save-pdf").await;
    let saved = window.text("#history-saved").await;
    assert!(saved.contains("history-"), "{saved}");

    // Long before, nobody knew of it; from its day on, everybody does.
    window.fill("#history-known-at", "2020-01-01").await;
    window.see("[role='alert']").await;
    window.fill("#history-known-at", "2090-01-01").await;
    window.read("another person was observed").await;

    // They leave, and the name is erased when its time is over.
    window.tap("#nav-roster").await;
    window.tap_named("Tomas Rehn").await;
    window.tap("#about-moved").await;
    window.choose("#about-unit", "").await;
    window.tap("#state-about").await;
    window.see("#erase-open").await;
    window.until("it may be erased", "return document.querySelector('#erase-number') !== null").await;
    // Whoever left is found without knowing their name.
    window.tap("#nav-people").await;
    window.choose("#who", "left").await;
    window.until("one has left", "return document.querySelectorAll('#people .person').length === 1").await;
    window.tap("#people .person a").await;
    window.tap("#erase-open").await;
    window.fill("#erase-number", "1002").await;
    window.fill("#erase-passphrase", story::PASSPHRASE).await;
    window.tap("#erase-go").await;
    window.see("#name-erased").await;
    window.read("(name erased)").await;
}

#[tokio::test]
async fn a_backup_is_restored_on_a_new_device() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    // What a device left behind that stopped while it was writing a record.
    fs::create_dir(data.path().join("records")).unwrap();
    fs::write(data.path().join("records/begun.pdf"), b"%PDF-1.7").unwrap();
    let window = Window::open(&screen, data.path()).await;
    sealed(&window).await;
    window.tap("#nav-today").await;
    let aside = window.text("#set-aside").await;
    assert!(aside.contains("begun.pdf") && aside.contains("counts for nothing"), "{aside}");
    window.tap("#back-up").await;
    window.see("#backed-up").await;
    let backup = fs::read_dir(data.path().join("exports"))
        .unwrap()
        .map(|file| file.unwrap().path())
        .find(|path| path.extension().is_some_and(|extension| extension == "zip"))
        .expect("a backup");
    drop(window);

    let elsewhere = tempfile::tempdir().unwrap();
    let window = Window::open(&screen, elsewhere.path()).await;
    window.tap("#way-restore").await;
    window.choose_file("#backup-file", &backup).await;
    window.see("#restored").await;
    window.tap("#restored #to-today").await;
    window.tap("#nav-roster").await;
    window.read("Tomas Rehn").await;

    // Keys open only where they were made: the observer is appointed anew.
    window.tap("#nav-people").await;
    window.read("Cannot sign on this device").await;
    window.tap("[id^='renew-']").await;
    window.fill("#appoint-evidence", "as before").await;
    window.fill("#appoint-passphrase", story::PASSPHRASE).await;
    window.fill("#appoint-pin", story::PIN).await;
    window.fill("#appoint-pin-again", story::PIN).await;
    window.tap("#appoint").await;
    window.read("Signs on this device through").await;
}
