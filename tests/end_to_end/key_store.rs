use suite::{Keys, Screen, Window, story};

/// Where the system has a key store that is open, the half that every PIN needs lies there, and nowhere else.
#[tokio::test(flavor = "multi_thread")]
async fn the_secret_of_a_device_lies_in_the_key_store_of_the_system() {
    let (screen, data) = (Screen::start(), tempfile::tempdir().unwrap());
    let mut keys = Keys::open(&screen);
    let before = keys.bytes();
    let window = Window::open(&screen, data.path()).await;
    story::create_facility(&window).await;
    window.tap("#nav-people").await;
    assert!(window.text("#secret-lies").await.contains("lies in the system's key store"));
    assert!(keys.bytes() > before, "it holds something more");
    let in_folder = data.path().join("device.secret");
    assert!(!in_folder.exists(), "no file of the folder holds it as well");
    window.kill();

    // Whoever has the folder without the store, by signing out or by copying it, opens nothing.
    keys.close();
    let window = Window::open(&screen, data.path()).await;
    window.read("This device's secret lies in the system's key store, which does not give it").await;
    assert!(!in_folder.exists(), "no other secret is made in its place");
    window.kill();

    // With the store open again, so do the keys.
    keys.open_again(&screen);
    let window = Window::open(&screen, data.path()).await;
    story::add_colleague(&window).await;
    story::begin(&window).await;
    story::log_act(&window, "remove-gloves", 1).await;
    story::finish(&window).await;
    story::sign(&window).await;
}
