use std::{fmt, path::PathBuf};

use serde::Deserialize;

use crate::{place::root, window::Window};

/// One rule that the page breaks, as axe-core tells it.
#[derive(Debug, Clone, Deserialize)]
pub struct Violation {
    /// The rule's own name.
    pub id: String,
    /// What it asks for.
    pub help: String,
    /// The elements that break it.
    pub nodes: Vec<Broken>,
}

/// An element that breaks a rule.
#[derive(Debug, Clone, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct Broken {
    /// Its mark-up.
    pub html: String,
    /// What to mend.
    pub failure_summary: String,
}

#[derive(Deserialize)]
struct Found {
    violations: Vec<Violation>,
    passes: usize,
}

impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}: {}", self.id, self.help)?;
        self.nodes.iter().try_for_each(|node| writeln!(f, "  {}\n    {}", node.html, node.failure_summary))
    }
}

impl Window {
    /// What axe-core finds wrong with the view on the screen, by all rules of WCAG 2.2 A and AA and
    /// its own best practices.
    ///
    /// # Panics
    ///
    /// Where axe-core is not installed or does not run.
    pub async fn violations(&self) -> Vec<Violation> {
        let library = script();
        let source = std::fs::read_to_string(&library)
            .unwrap_or_else(|error| panic!("{}: {error}: cargo xtask setup", library.display()));
        if self.ask("return typeof axe === 'undefined'").await == true {
            self.ask(&source).await;
        }
        let found = self
            .ask_later(
                "const done = arguments[arguments.length - 1]; \
                 axe.run(document, { resultTypes: ['violations'], rules: { 'target-size': { enabled: true } } }).then( \
                   result => done({ violations: result.violations, passes: result.passes.length }), \
                   error => done({ error: String(error) }))",
            )
            .await;
        let found: Found = serde_json::from_value(found.clone())
            .unwrap_or_else(|error| panic!("axe-core did not look at the page ({error}): {found}"));
        assert!(found.passes > 5, "axe-core looked at a page with something on it");
        found.violations
    }
}

fn script() -> PathBuf {
    // The folder's name holds the interpreter's version.
    let libraries = root().join(".venv/lib");
    std::fs::read_dir(&libraries)
        .into_iter()
        .flatten()
        .filter_map(Result::ok)
        .map(|entry| entry.path().join("site-packages/axe_playwright_python/axe.min.js"))
        .find(|path| path.is_file())
        .unwrap_or(libraries)
}
