//! The shell's line language, and the program around it.

mod compare;
mod corpus;
mod device;
mod editor;
mod framed;
mod generated;
mod import;
mod job;
mod link;
mod manual;
mod plan;
mod process;
mod progress;
mod refusals;
mod round_trip;
mod sealed;
mod session;
mod shell;
mod stream;
mod strict;
mod tally;
mod tour;
mod untold;
