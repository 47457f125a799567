//! The program, started as its users start it.

mod compare;
#[path = "../shell/device/mod.rs"]
#[allow(dead_code)]
mod device;
mod doors;
mod import;
mod interrupted;
mod manual;
mod plan;
mod process;
mod progress;
mod sealed;
mod stream;
mod strict;
mod tables;
#[path = "../shell/tally/mod.rs"]
mod tally;
mod tour;
mod untold;
