//! The program, started as its users start it.

mod compare;
mod import;
mod manual;
mod plan;
mod process;
mod progress;
mod sealed;
mod stream;
mod strict;
#[path = "../shell/tally/mod.rs"]
mod tally;
mod tour;
mod untold;
