//! Suites with more cases than `cargo test` has time for: it tries a few of each, `bash .ci/run long` all of them.

/// How many cases of a long suite are tried: a few, or all with the feature `long`.
pub const fn cases<Count: Copy>(few: Count, all: Count) -> Count {
    if cfg!(feature = "long") { all } else { few }
}
