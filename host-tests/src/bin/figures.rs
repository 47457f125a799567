//! The figures of an examination whose lines come from standard input: `figures SHEETS...`, where each argument is a
//! folder of acceptance sheets. The firmware image of the same name answers the same lines.

use std::env;
use std::io::{self, BufRead, BufReader, Write};
use std::path::PathBuf;

use halfskip_console::shell::{Outcome, Shell};
use halfskip_host_tests::figures;
use halfskip_host_tests::folders::Folders;

fn main() -> io::Result<()> {
    let mut shell: Box<Shell<Folders>> =
        Box::new(Shell::new(Folders(env::args_os().skip(1).map(PathBuf::from).collect())));
    let (mut recorded, mut refused) = (0, 0);
    for line in BufReader::new(io::stdin()).lines() {
        match shell.line(line?.as_bytes(), &mut String::new()) {
            Outcome::Recorded(_) => recorded += 1,
            Outcome::Refused { .. } => refused += 1,
            _ => {}
        }
    }
    let mut text = format!("{recorded} recorded, {refused} refused\n");
    let written = shell.evaluated(|findings| figures::write(findings, &mut text));
    written.expect("nobody evaluates it").map_err(io::Error::other)?;
    io::stdout().write_all(text.as_bytes())
}
