//! Takes the pictures of README.md in the real window, on the demo facility.
//!
//! `cargo run -p suite --bin pictures`, after `cargo xtask bundle` and `cargo build -p doorside`; it
//! needs `convert` from Debian's package imagemagick, which makes the files small.
#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a tool for developers stops where it cannot go on, and says what it has done"
)]

use std::{
    fs,
    io::Write,
    path::Path,
    process::{Command, Stdio},
};

use suite::{Screen, Window, place, story};

#[tokio::main(flavor = "current_thread")]
async fn main() {
    let data = tempfile::tempdir().expect("a data folder");
    let played = Command::new(place::program()).arg("demo").arg("--data").arg(data.path()).status();
    assert!(played.is_ok_and(|status| status.success()), "the demo is played");

    let screen = Screen::start();
    let window = Window::open(&screen, data.path()).await;
    window.resize(1180, 820).await;
    window.tap("#nav-roster").await;
    window.see("#roster").await;
    keep(&window, "roster").await;

    story::begin(&window).await;
    // At something like the pace of a real demonstration, so that the times on the pictures say something.
    pause(4).await;
    story::log_act(&window, "remove-gloves", 1).await;
    pause(9).await;
    story::log_act(&window, "remove-mask", 2).await;
    window.see("#too-early").await;
    keep(&window, "live").await;

    pause(7).await;
    story::log_act(&window, "remove-goggles", 3).await;
    pause(6).await;
    story::log_act(&window, "remove-gown", 4).await;
    story::finish(&window).await;
    keep(&window, "review").await;
}

async fn pause(seconds: u64) {
    tokio::time::sleep(std::time::Duration::from_secs(seconds)).await;
}

/// Keeps what is on the screen, with as many colours as flat drawings need.
async fn keep(window: &Window, name: &str) {
    let path = place::root().join("ui/pictures").join(format!("{name}.png"));
    fs::create_dir_all(path.parent().unwrap_or(Path::new("."))).expect("the folder of the pictures");
    let mut convert = Command::new("convert")
        .args(["-", "-strip", "-colors", "96", "-define", "png:compression-level=9"])
        .arg(format!("PNG8:{}", path.display()))
        .stdin(Stdio::piped())
        .spawn()
        .expect("convert starts: apt-get install imagemagick");
    let picture = window.picture().await;
    convert.stdin.take().expect("stdin is piped").write_all(&picture).expect("convert reads the picture");
    assert!(convert.wait().is_ok_and(|status| status.success()), "convert writes {}", path.display());
    println!("{}", path.display());
}
