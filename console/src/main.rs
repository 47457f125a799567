//! The host program: the shell at a terminal or a pipe, and jobs evaluated as a whole.

use std::process::ExitCode;
use std::thread;

use halfskip_console::desk::console::Desk;
use halfskip_console::desk::program::program;
use halfskip_console::desk::run::run;

/// A desk's examination is several megabytes of fixed capacity; it is made on the stack before it moves to the heap.
const STACK: usize = 64 << 20;

fn main() -> ExitCode {
    let ended = thread::Builder::new().stack_size(STACK).spawn(|| {
        let desk = |job: Option<&std::path::Path>| Desk::new(job);
        program(std::env::args_os().skip(1), desk, run)
    });
    match ended.map(thread::JoinHandle::join) {
        Ok(Ok(exit)) => exit.into(),
        _ => ExitCode::from(2),
    }
}
