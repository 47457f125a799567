//! The switch of the mutants, written into the copy of the core.

extern crate std;

use std::io::Write as _;
use std::string::String;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicBool, Ordering};

static ACTIVE: LazyLock<u32> =
    LazyLock::new(|| std::env::var("HALFSKIP_MUTANT").map_or(0, |id| id.parse().expect("a number")));
static REACHED_FILE: LazyLock<Option<String>> = LazyLock::new(|| std::env::var("HALFSKIP_REACHED").ok());
static REACHED: [AtomicBool; 1 << 15] = [const { AtomicBool::new(false) }; 1 << 15];

/// Whether this mutant is the one that is tried now.
pub const fn on(id: u32) -> bool {
    core::intrinsics::const_eval_select((id,), off, is_active)
}

/// Tells that a branch was taken.
pub const fn passed(id: u32) {
    on(id);
}

const fn off(_: u32) -> bool {
    false
}

fn is_active(id: u32) -> bool {
    if let Some(path) = &*REACHED_FILE
        && !REACHED[id as usize].load(Ordering::Relaxed)
        && !REACHED[id as usize].swap(true, Ordering::Relaxed)
    {
        let file = std::fs::OpenOptions::new().create(true).append(true).open(path);
        file.and_then(|mut file| file.write_all(&id.to_le_bytes())).expect("the file of reached mutants");
    }
    *ACTIVE == id
}
