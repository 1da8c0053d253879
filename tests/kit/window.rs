use std::{
    fs,
    net::{Ipv4Addr, TcpListener},
    path::Path,
    process::{Command, Stdio},
    time::Duration,
};

use fantoccini::{Client, ClientBuilder, Locator, elements::Element};
use rustix::process::{Pid, Signal, kill_process};
use serde_json::{Value, json};
use tempfile::TempDir;

use crate::{
    place::program,
    screen::{Ended, Screen},
};

/// How long a test waits for what should be there at once. Long, because a loaded machine is no
/// failure; nothing passes by waiting.
const PATIENCE: Duration = Duration::from_mins(1);

/// How often it looks.
const GLANCE: Duration = Duration::from_millis(20);

/// The real window of the real program, driven as a person drives it.
///
/// Places are CSS selectors, since ids are what views promise each other. Every wait has a condition.
#[derive(Debug)]
pub struct Window {
    client: Client,
    program: Pid,
    driver: Ended,
    // The home of the program: fonts, caches and settings of whoever runs the tests stay out of it.
    _home: TempDir,
}

impl Window {
    /// Opens the program on a data folder and waits until its page has drawn something.
    ///
    /// # Panics
    ///
    /// Where the driver or the program does not start.
    pub async fn open(screen: &Screen, data: &Path) -> Self {
        let home = tempfile::tempdir().expect("a home for the program");
        let port = free_port();
        let mut driver = Command::new("WebKitWebDriver");
        driver
            .arg(format!("--port={port}"))
            .env("TAURI_AUTOMATION", "true")
            .env("TAURI_WEBVIEW_AUTOMATION", "true")
            // No graphics card here, and none is needed.
            .env("WEBKIT_DISABLE_COMPOSITING_MODE", "1")
            .env("WEBKIT_DISABLE_DMABUF_RENDERER", "1")
            .env("HOME", home.path())
            .env("XDG_RUNTIME_DIR", home.path())
            .env_remove("XDG_DATA_HOME")
            .env_remove("XDG_CONFIG_HOME")
            .env_remove("XDG_CACHE_HOME")
            .stdin(Stdio::null());
        screen.show(&mut driver);
        let driver = driver
            .spawn()
            .unwrap_or_else(|error| panic!("WebKitWebDriver does not start ({error}): cargo xtask setup"));
        let driver = Ended(driver);
        let client = session(port, data).await;
        let program = program_below(driver.0.id());
        let window = Window { client, program, driver, _home: home };
        window.until("the page draws its first view", "return document.querySelector('main') !== null").await;
        window
    }

    /// Waits for what a person would see there.
    ///
    /// # Panics
    ///
    /// Where it does not appear; the message holds the page's text.
    pub async fn see(&self, selector: &str) -> Element {
        self.see_by(Locator::Css(selector), selector).await
    }

    /// Waits for a button or link by the words on it, until it may be tapped.
    ///
    /// # Panics
    ///
    /// Where it does not appear.
    pub async fn see_named(&self, words: &str) -> Element {
        let path = format!(
            "//*[self::button or self::a][not(@disabled)][normalize-space()={words:?} or @aria-label={words:?}]"
        );
        self.see_by(Locator::XPath(&path), words).await
    }

    async fn see_by(&self, locator: Locator<'_>, name: &str) -> Element {
        let seen = tokio::time::timeout(PATIENCE, async {
            loop {
                if let Ok(element) = self.client.find(locator).await
                    && element.is_displayed().await.unwrap_or(false)
                {
                    return element;
                }
                tokio::time::sleep(GLANCE).await;
            }
        });
        let Ok(element) = seen.await else {
            panic!("{name} does not appear. The page reads:\n{}", self.page().await)
        };
        element
    }

    /// Taps it as a finger does: where it is on the screen, once it may be tapped.
    ///
    /// # Panics
    ///
    /// Where it does not appear or something else lies on it.
    pub async fn tap(&self, selector: &str) {
        self.until(
            &format!("{selector} may be tapped"),
            &format!("const it = document.querySelector({selector:?}); return it !== null && !it.disabled"),
        )
        .await;
        // A person brings a thing away from the edges, where a bar may lie over it, before they tap it.
        self.ask(&format!("document.querySelector({selector:?}).scrollIntoView({{ block: 'center' }})"))
            .await;
        let element = self.see(selector).await;
        if let Err(error) = element.click().await {
            let lies = self
                .ask(&format!(
                    "const it = document.querySelector({selector:?}).getBoundingClientRect(); \
                     return document.elementFromPoint(it.x + it.width / 2, it.y + it.height / 2)?.outerHTML \
                       .slice(0, 120) + ' at ' + JSON.stringify(it)"
                ))
                .await;
            panic!("{selector} cannot be tapped: {error}; there lies {lies}");
        }
    }

    /// Taps a button or link by the words on it.
    ///
    /// # Panics
    ///
    /// Where it does not appear or something else lies on it.
    pub async fn tap_named(&self, words: &str) {
        let element = self.see_named(words).await;
        // As in `tap`: a list is moved until the thing is in the open.
        let of = serde_json::to_value(&element).expect("an element can be named");
        let centre = "arguments[0].scrollIntoView({ block: 'center' })";
        self.client.execute(centre, vec![of]).await.expect("the page takes a script");
        element.click().await.unwrap_or_else(|error| panic!("{words} cannot be tapped: {error}"));
    }

    /// Types into a field that is empty or is emptied first.
    ///
    /// # Panics
    ///
    /// Where it does not appear or takes no text.
    pub async fn fill(&self, selector: &str, text: &str) {
        let field = self.see(selector).await;
        field.clear().await.unwrap_or_else(|error| panic!("{selector} cannot be emptied: {error}"));
        // The driver takes no empty text, and to empty it was all there was to do.
        if text.is_empty() {
            return;
        }
        field.send_keys(text).await.unwrap_or_else(|error| panic!("{selector} takes no text: {error}"));
    }

    /// Chooses an option of a list by its value.
    ///
    /// # Panics
    ///
    /// Where the list or the option does not appear.
    pub async fn choose(&self, selector: &str, value: &str) {
        let list = self.see(selector).await;
        list.select_by_value(value)
            .await
            .unwrap_or_else(|error| panic!("{selector} has no {value}: {error}"));
    }

    /// Chooses a file in a file field.
    ///
    /// # Panics
    ///
    /// Where it does not appear or takes no file.
    pub async fn choose_file(&self, selector: &str, path: &Path) {
        let field = self.see(selector).await;
        let path = path.to_str().expect("a path that is text");
        field.send_keys(path).await.unwrap_or_else(|error| panic!("{selector} takes no file: {error}"));
    }

    /// Presses keys where the focus is, as a keyboard does; `WebDriver` names those without a letter by private
    /// characters (`WebDriver`, 17.4.2).
    ///
    /// # Panics
    ///
    /// Where nothing has the focus.
    pub async fn press(&self, keys: &str) {
        let focused = self.client.active_element().await.expect("something has the focus");
        focused.send_keys(keys).await.unwrap_or_else(|error| panic!("no keys go there: {error}"));
    }

    /// Keeps a finger on it until `script` returns true.
    ///
    /// # Panics
    ///
    /// Where it does not appear or the script stays false.
    pub async fn hold_until(&self, selector: &str, script: &str) {
        // The driver of this web view lets go at once, so the page is given the pointer's own event.
        self.ask(&format!(
            "document.querySelector({selector:?}).dispatchEvent(new PointerEvent('pointerdown', {{ bubbles: true }}))"
        ))
        .await;
        self.until(&format!("holding {selector} does it"), script).await;
    }

    /// The text of what appears there.
    ///
    /// # Panics
    ///
    /// Where it does not appear.
    pub async fn text(&self, selector: &str) -> String {
        self.see(selector)
            .await
            .text()
            .await
            .unwrap_or_else(|error| panic!("{selector} has no text: {error}"))
    }

    /// Waits until the page shows these words anywhere.
    ///
    /// # Panics
    ///
    /// Where they do not appear.
    pub async fn read(&self, words: &str) {
        self.until(
            &format!("the page says {words:?}"),
            &format!("return document.body.innerText.replace(/\\s+/g, ' ').includes({words:?})"),
        )
        .await;
    }

    /// Waits until a script returns true.
    ///
    /// # Panics
    ///
    /// Where it does not become true; the message holds the page's text.
    pub async fn until(&self, what: &str, script: &str) {
        let met = tokio::time::timeout(PATIENCE, async {
            while self.client.execute(script, vec![]).await.ok() != Some(Value::Bool(true)) {
                tokio::time::sleep(GLANCE).await;
            }
        });
        let met = met.await.is_ok();
        assert!(met, "not so: {what}. The page reads:\n{}", self.page().await);
    }

    /// What a script returns.
    ///
    /// # Panics
    ///
    /// Where it throws.
    pub async fn ask(&self, script: &str) -> Value {
        self.client.execute(script, vec![]).await.unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    /// Runs a script that hands its answer to its last argument, a callback.
    ///
    /// # Panics
    ///
    /// Where it throws or never answers.
    pub async fn ask_later(&self, script: &str) -> Value {
        self.client.execute_async(script, vec![]).await.unwrap_or_else(|error| panic!("{script}: {error}"))
    }

    /// Makes the window so large, in CSS pixels.
    ///
    /// # Panics
    ///
    /// Where the window does not take that size.
    pub async fn resize(&self, width: u32, height: u32) {
        self.client.set_window_rect(0, 0, width, height).await.expect("the window can be resized");
        self.until(
            &format!("the window is {width} x {height}"),
            &format!("return innerWidth === {width} && innerHeight === {height}"),
        )
        .await;
    }

    /// What is on the screen, as a PNG file's bytes.
    ///
    /// # Panics
    ///
    /// Where the driver takes none.
    pub async fn picture(&self) -> Vec<u8> {
        self.client.screenshot().await.expect("the driver takes a picture")
    }

    /// Memory that the program and all processes below it hold, in KiB, by their `VmRSS` (proc(5)); what they share
    /// counts more than once.
    pub fn resident_kib(&self) -> u64 {
        let resident = |pid: &i32| {
            let status = fs::read_to_string(format!("/proc/{pid}/status")).ok()?;
            let line = status.lines().find(|line| line.starts_with("VmRSS:"))?;
            line.split_whitespace().nth(1)?.parse::<u64>().ok()
        };
        self.family().iter().filter_map(resident).sum()
    }

    /// Stops the program and all processes below it where they are, as a tablet does with what is in the
    /// background; [`Window::thaw`] lets them go on.
    ///
    /// # Panics
    ///
    /// Where one of them has ended.
    pub fn freeze(&self) {
        self.signal(Signal::STOP);
    }

    /// Lets a frozen program go on, and tells its page that it is seen again.
    ///
    /// # Panics
    ///
    /// Where one of its processes has ended, or the page does not answer.
    pub async fn thaw(&self) {
        self.signal(Signal::CONT);
        self.ask("window.dispatchEvent(new Event('visibilitychange'))").await;
    }

    fn signal(&self, signal: Signal) {
        for pid in self.family().into_iter().filter_map(Pid::from_raw) {
            kill_process(pid, signal).expect("it was still running");
        }
    }

    /// The program and all processes below it.
    fn family(&self) -> Vec<i32> {
        let all = parents();
        let mut family = vec![self.program.as_raw_nonzero().get()];
        let mut at = 0;
        while let Some(&parent) = family.get(at) {
            family.extend(all.iter().filter(|(_, of)| *of == parent).map(|(pid, _)| *pid));
            at += 1;
        }
        family
    }

    /// Ends the program as a power cut would, with nothing of its own run any more.
    ///
    /// # Panics
    ///
    /// Where it has ended before.
    pub fn kill(self) {
        kill_process(self.program, Signal::KILL).expect("the program was still running");
    }

    /// Everything that the page shows as text, for messages.
    async fn page(&self) -> String {
        let text = self.client.execute("return document.body.innerText", vec![]).await;
        text.ok().and_then(|text| text.as_str().map(str::to_owned)).unwrap_or_else(|| "(nothing)".into())
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        // The program is the driver's child: while the driver lives its id cannot name another one.
        if program_of(self.driver.0.id()) == Some(self.program) {
            let _ended_meanwhile = kill_process(self.program, Signal::KILL);
        }
    }
}

/// Every process with its parent.
fn parents() -> Vec<(i32, i32)> {
    let entries = fs::read_dir("/proc").into_iter().flatten().filter_map(Result::ok);
    let pids = entries.filter_map(|entry| entry.file_name().to_str()?.parse::<i32>().ok());
    pids.filter_map(|pid| {
        let stat = fs::read_to_string(format!("/proc/{pid}/stat")).ok()?;
        // The second field is the program's name in brackets and may hold anything.
        let (_, rest) = stat.rsplit_once(") ")?;
        Some((pid, rest.split(' ').nth(1)?.parse().ok()?))
    })
    .collect()
}

/// A port nobody listens on. Another program may take it before the driver does; then the driver
/// says so and the test fails, which has not been seen.
fn free_port() -> u16 {
    TcpListener::bind((Ipv4Addr::LOCALHOST, 0))
        .and_then(|listener| listener.local_addr())
        .expect("a free port")
        .port()
}

/// Asks the driver for the program's window, once the driver listens.
async fn session(port: u16, data: &Path) -> Client {
    let mut wanted = serde_json::Map::new();
    wanted
        .insert("webkitgtk:browserOptions".into(), json!({ "binary": program(), "args": ["--data", data] }));
    let mut last = String::new();
    let client = tokio::time::timeout(PATIENCE, async {
        loop {
            let mut builder = ClientBuilder::new(hyper_util::client::legacy::connect::HttpConnector::new());
            builder.capabilities(wanted.clone());
            match builder.connect(&format!("http://127.0.0.1:{port}")).await {
                Ok(client) => return client,
                Err(error) => last = error.to_string(),
            }
            tokio::time::sleep(GLANCE).await;
        }
    });
    client.await.unwrap_or_else(|_| panic!("the driver opens no window: {last}"))
}

/// The program that the driver started.
fn program_below(driver: u32) -> Pid {
    program_of(driver).expect("the driver has started the program")
}

/// Looks through `/proc` for the driver's child that runs our program (proc(5), field 4 of `stat`).
fn program_of(driver: u32) -> Option<Pid> {
    let program = program();
    fs::read_dir("/proc")
        .ok()?
        .filter_map(Result::ok)
        .filter(|entry| fs::read_link(entry.path().join("exe")).is_ok_and(|exe| exe == program))
        .filter(|entry| {
            fs::read_to_string(entry.path().join("stat")).ok().is_some_and(|stat| {
                // The second field is the program's name in brackets and may hold anything.
                stat.rsplit_once(") ").and_then(|(_, rest)| rest.split(' ').nth(1))
                    == Some(&driver.to_string())
            })
        })
        .find_map(|entry| entry.file_name().to_str()?.parse().ok().and_then(Pid::from_raw))
}
