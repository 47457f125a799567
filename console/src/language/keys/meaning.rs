//! What `help` says of a form and its keys beyond their words, units and limits.

use core::fmt;
use core::ops::Deref;

/// A text of `help`, which a console with the feature `terse` has no room for.
///
/// ```
/// let verb = halfskip_console::commands::find("date").unwrap();
/// let shown = verb.forms[0].example.text();
/// assert_eq!(shown, if cfg!(feature = "terse") { "" } else { "date 2026-03-14" });
/// ```
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Meaning {
    #[cfg(not(feature = "terse"))]
    text: &'static str,
}

impl Meaning {
    #[cfg(not(feature = "terse"))]
    pub(crate) const fn new(text: &'static str) -> Self {
        Self { text }
    }

    #[cfg(feature = "terse")]
    pub(crate) const fn new(_: &'static str) -> Self {
        Self {}
    }

    /// The text; empty where it was left out.
    #[must_use]
    pub const fn text(&self) -> &'static str {
        #[cfg(not(feature = "terse"))]
        return self.text;
        #[cfg(feature = "terse")]
        ""
    }
}

impl Deref for Meaning {
    type Target = str;

    fn deref(&self) -> &str {
        self.text()
    }
}

impl fmt::Display for Meaning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}
