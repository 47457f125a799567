//! The shell, and what carries its lines: editor, job file, session, link. Nothing here starts the program, which would for a
//! moment hold locks and lines that others have open.

mod corpus;
mod device;
mod editor;
mod framed;
mod generated;
mod job;
mod kept;
mod link;
mod refusals;
mod round_trip;
mod session;
mod shell;
mod tally;
mod unit_in_force;
