//! Takes the pictures of the documents in the real window, on the demo facility: those of README.md, and a small one
//! of every state of the live form for `ui/pictures/README.md`.
//!
//! `cargo run -p suite --bin pictures`, after `cargo xtask bundle` and `cargo build -p doorside`; the Python package
//! `pillow`, which `cargo xtask setup` installs, makes the files small. With names of parts after it (`readme`, `before`,
//! `during`, `after`, `no-room`) it takes those alone.
#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a tool for developers stops where it cannot go on, and says what it has done"
)]

mod door;
mod small;

use std::{path::Path, process::Command};

use suite::{Screen, Window, place, story};

#[tokio::main(flavor = "current_thread")]
async fn main() {
    let data = tempfile::tempdir().expect("a data folder");
    let played = Command::new(place::program()).arg("demo").arg("--data").arg(data.path()).status();
    assert!(played.is_ok_and(|status| status.success()), "the demo is played");

    let screen = Screen::start();
    let window = Window::open(&screen, data.path()).await;
    let parts: Vec<String> = std::env::args().skip(1).collect();
    let wanted = |part: &str| parts.is_empty() || parts.iter().any(|one| one == part);
    if wanted("readme") {
        for_the_readme(&window).await;
    }
    if wanted("before") {
        door::before(&window).await;
    }
    if wanted("during") {
        door::during(&window).await;
    }
    if wanted("after") {
        door::after(&window).await;
    }
    drop(window);
    if wanted("no-room") {
        door::no_room(&screen).await;
    }
}

async fn for_the_readme(window: &Window) {
    window.resize(1180, 820).await;
    window.tap("#nav-roster").await;
    window.see("#roster").await;
    keep(window, "roster").await;

    story::begin(window).await;
    // At something like the pace of a real demonstration, so that the times on the pictures say something.
    pause(4).await;
    story::log_act(window, "remove-gloves", 1).await;
    pause(9).await;
    story::log_act(window, "remove-mask", 2).await;
    window.see("#too-early").await;
    keep(window, "live").await;

    pause(7).await;
    story::log_act(window, "remove-goggles", 3).await;
    pause(6).await;
    story::log_act(window, "remove-gown", 4).await;
    story::finish(window).await;
    keep(window, "review").await;
}

async fn pause(seconds: u64) {
    tokio::time::sleep(std::time::Duration::from_secs(seconds)).await;
}

/// Keeps what is on the screen as it is, with as many colours as flat drawings need.
async fn keep(window: &Window, name: &str) {
    let path = place::root().join("ui/pictures").join(format!("{name}.png"));
    small::keep(&window.picture().await, &path, small::Size::Whole);
    println!("{}", shown(&path));
}

fn shown(path: &Path) -> String {
    path.strip_prefix(place::root()).unwrap_or(path).display().to_string()
}
