//! The figures of an examination whose lines come from standard input: `figures SHEETS...`, where each argument is a
//! folder of acceptance sheets. The firmware image of the same name answers the same lines.

use std::io::{self, BufRead, BufReader, Write};
use std::path::PathBuf;
use std::{env, fs};

use halfskip::criteria::{DEFAULT_ROWS, Sheet};
use halfskip_console::host::sheet;
use halfskip_console::sheets::Sheets;
use halfskip_console::shell::{Outcome, Shell};
use halfskip_host_tests::figures;

struct Folders(Vec<PathBuf>);

impl Sheets<DEFAULT_ROWS> for Folders {
    type Error = String;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, String> {
        let text = self.0.iter().find_map(|folder| fs::read_to_string(folder.join(name)).ok());
        sheet::read(&text.ok_or("no such sheet")?).map_err(|error| error.to_string())
    }
}

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
    figures::write(&shell.examination().facts(), shell.sheet(), &mut text).map_err(io::Error::other)?;
    io::stdout().write_all(text.as_bytes())
}
