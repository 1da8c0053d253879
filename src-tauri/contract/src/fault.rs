use serde::{Deserialize, Serialize};

/// What reaches a person when something did not work: one plain sentence, sorted by what they can do next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fault {
    /// What can be done next.
    pub next: Next,
    /// What is wrong, where, and what to do; no code, no name of a person.
    pub text: String,
}

/// What a person can do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Next {
    /// Change what was entered.
    MendInput,
    /// The thing asked for is not there: go back and choose again.
    ChooseAgain,
    /// Try the same again.
    TryAgain,
    /// Make room on the device, then try again.
    MakeRoom,
    /// Stop and ask whoever looks after the installation.
    AskForHelp,
}

impl Fault {
    /// A fault with its sentence.
    pub fn new(next: Next, text: impl Into<String>) -> Self {
        Fault { next, text: text.into() }
    }
}
