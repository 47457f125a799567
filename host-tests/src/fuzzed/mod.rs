//! Bytes from a fuzzer, put in at every door; each target panics when something holds no more.
//!
//! `host-tests/fuzz` drives these functions with libFuzzer; what it found interesting is kept in `host-tests/corpus` and
//! replayed by `cargo test`.

mod doors;
mod examination;

pub use doors::{frames, job_text, sheet, shell, table};
pub use examination::{examination, lines};

/// A target.
pub type Target = fn(&[u8]);

/// Every target by the name of its corpus.
pub const TARGETS: [(&str, Target); 6] = [
    ("shell", shell),
    ("job_text", job_text),
    ("frames", frames),
    ("sheet", sheet),
    ("table", table),
    ("examination", examination),
];
