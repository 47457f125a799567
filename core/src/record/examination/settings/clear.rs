//! Nothing in force, made in place: a device's stack has no room for other settings.

use super::Settings;
use crate::record::examination::Common;

impl Settings {
    /// As it is without entries, the technique included.
    #[inline(never)]
    pub(in super::super) fn clear(&mut self) {
        self.common = Common::new();
        self.probes.clear();
    }
}
