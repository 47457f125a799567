//! The program `halfskip` itself, where the tests of this package find it.

use std::process::ExitCode;
use std::thread;

use halfskip_console::desk::console::Desk;
use halfskip_console::desk::program::program;
use halfskip_console::desk::run::run;

fn main() -> ExitCode {
    let desk = |job: Option<&std::path::Path>| Desk::new(job);
    let program = move || program(std::env::args_os().skip(1), desk, run);
    // A desk's examination is several megabytes, made on the stack before it moves.
    let ended = thread::Builder::new().stack_size(64 << 20).spawn(program);
    match ended.map(thread::JoinHandle::join) {
        Ok(Ok(exit)) => exit.into(),
        _ => ExitCode::from(2),
    }
}
