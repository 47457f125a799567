//! The grounds of an accept as JSON.

use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::findings::Indication;
use serde::Serialize;

/// A ground of an indication.
#[derive(Serialize)]
pub struct Ground {
    pub(in crate::desk) name: &'static str,
    pub(in crate::desk) state: &'static str,
    /// What it rests on; of many entries the first ones.
    pub(in crate::desk) entries: Vec<u32>,
    pub(in crate::desk) says: String,
}

/// Every ground of an indication, in their order.
pub(super) fn told(indication: Indication<'_>) -> Vec<Ground> {
    let facts = indication.facts();
    let told = indication.grounds().map(|found| Ground {
        name: found.ground.name(),
        state: found.state.word(),
        entries: found.entries.iter().collect(),
        says: found.says(facts).to_string(),
    });
    told.collect()
}
