use suite::{Screen, Window, story};

/// What the log shows, one line each, latest first.
async fn log(window: &Window) -> Vec<String> {
    let lines =
        window.ask("return [...document.querySelectorAll('#log li')].map(line => line.innerText)").await;
    serde_json::from_value(lines).expect("the log is a list of lines")
}

#[tokio::test]
async fn a_killed_window_offers_every_acknowledged_tap() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let mut window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;

    let acts = ["remove-gloves", "remove-goggles", "hand-rub", "remove-gown", "remove-mask", "hand-wash"];
    let mut acknowledged = 0;
    for acts in acts.chunks(2) {
        for act in acts {
            acknowledged += 1;
            story::log_act(&window, act, acknowledged).await;
        }
        let before = log(&window).await;
        window.kill();

        window = Window::open(&screen, data.path()).await;
        window.tap(".unfinished a").await;
        story::lines_are(&window, acknowledged).await;
        assert_eq!(log(&window).await, before, "the log stands as it was acknowledged");
    }
    // What was begun before three power cuts can be finished and sealed.
    story::finish(&window).await;
    story::sign(&window).await;
}
