//! What the project demands of its own files.
//!
//! A rule that looks at Rust text does not read Rust: it looks for words where comments, literals and tests are taken
//! out. Each rule checks that it found something to look at.

mod layers;
mod logged;
mod named;
mod numbers;
mod panics;
mod shape;
mod tree;
mod words;
