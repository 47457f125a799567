//! What the examiner saw of an indication and no number holds, folded from its `observe` lines.

use crate::record::entry::{ObserveEntry, Steadiness};

/// What was seen of one indication; `None` was not looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Observed {
    /// How the echo behaves as the probe is turned about its index point.
    pub swivel: Option<Steadiness>,
    /// How it behaves as the probe is led around the reflector.
    pub orbit: Option<Steadiness>,
    /// Whether a tip echo was seen.
    pub tip: Option<bool>,
    /// Whether the echo fell when the surface was damped.
    pub damped: Option<bool>,
    /// Whether the same echo comes from a length known to be clean.
    pub like_clean_length: Option<bool>,
}

impl Observed {
    /// Takes in one more line: what it says replaces what was held.
    pub(super) fn add(&mut self, line: &ObserveEntry) {
        self.swivel = line.swivel.or(self.swivel);
        self.orbit = line.orbit.or(self.orbit);
        self.tip = line.tip.or(self.tip);
        self.damped = line.damped.or(self.damped);
        self.like_clean_length = line.like_clean_length.or(self.like_clean_length);
    }
}
