#![expect(
    clippy::unused_self,
    clippy::too_many_arguments,
    clippy::used_underscore_binding,
    reason = "the specification says which methods there are and what they are given"
)]

use std::{
    collections::HashMap,
    sync::{Mutex, PoisonError, mpsc},
    time::Duration,
};

use zbus::{blocking, interface, zvariant::OwnedValue};

use crate::screen::Screen;

/// How long a notification may take to arrive; long, because a loaded machine is no failure.
const PATIENCE: Duration = Duration::from_mins(1);

/// What a desktop has to show notifications: it takes them on the screen's own bus and keeps what they say.
#[derive(Debug)]
pub struct Notices {
    arrived: Mutex<mpsc::Receiver<Notice>>,
    // Takes them as long as it is held.
    _connection: blocking::Connection,
}

/// One notification, as the system would show it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// The line above it.
    pub title: String,
    /// What it says.
    pub text: String,
}

impl Notices {
    /// Begins to take notifications on a screen's bus.
    ///
    /// # Panics
    ///
    /// Where the bus does not answer, or somebody takes them already.
    pub fn on(screen: &Screen) -> Notices {
        let (tell, arrived) = mpsc::channel();
        let connection = blocking::connection::Builder::address(screen.bus())
            .and_then(|bus| bus.name("org.freedesktop.Notifications"))
            .and_then(|bus| bus.serve_at("/org/freedesktop/Notifications", Service { tell, taken: 0 }))
            .and_then(blocking::connection::Builder::build)
            .expect("the bus has room for a service of notifications");
        Notices { arrived: Mutex::new(arrived), _connection: connection }
    }

    /// Waits for the next one.
    ///
    /// # Panics
    ///
    /// Where none comes.
    pub fn next(&self) -> Notice {
        let arrived = self.arrived.lock().unwrap_or_else(PoisonError::into_inner);
        arrived.recv_timeout(PATIENCE).expect("a notification arrives")
    }

    /// One that arrived already and was not asked for yet.
    pub fn another(&self) -> Option<Notice> {
        self.arrived.lock().unwrap_or_else(PoisonError::into_inner).try_recv().ok()
    }
}

/// The interface of the Desktop Notifications Specification 1.2, as far as a program needs it to be shown.
struct Service {
    tell: mpsc::Sender<Notice>,
    taken: u32,
}

#[interface(name = "org.freedesktop.Notifications")]
impl Service {
    fn notify(
        &mut self,
        _app_name: String,
        _replaces_id: u32,
        _app_icon: String,
        summary: String,
        body: String,
        _actions: Vec<String>,
        _hints: HashMap<String, OwnedValue>,
        _expire_timeout: i32,
    ) -> u32 {
        self.taken += 1;
        // Nobody listens any more once the test is over.
        drop(self.tell.send(Notice { title: summary, text: body }));
        self.taken
    }

    fn get_capabilities(&self) -> Vec<String> {
        vec!["body".to_owned()]
    }

    fn get_server_information(&self) -> (String, String, String, String) {
        let said = ["a test", "Doorside", "1", "1.2"].map(str::to_owned);
        let [name, vendor, version, specification] = said;
        (name, vendor, version, specification)
    }

    fn close_notification(&self, _id: u32) {}
}
