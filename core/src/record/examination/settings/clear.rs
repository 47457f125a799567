//! Nothing in force, made in place: a device's stack has no room for other settings.

use super::Settings;
use crate::record::examination::Common;

impl<const PROBES: usize> Settings<PROBES> {
    /// As it is without entries.
    #[inline(never)]
    pub(in super::super) fn clear(&mut self) {
        self.common = Common::new();
        self.probes.clear();
    }
}
