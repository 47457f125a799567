//! Text of what an image has logged with defmt: `halfskip-decoder IMAGE`, the log on standard input.

use std::io::Read;

use anyhow::{Context, bail};
use defmt_decoder::{DecodeError, Table};

fn main() -> anyhow::Result<()> {
    let image = std::env::args_os().nth(1).context("the image is missing")?;
    let table = Table::parse(&std::fs::read(image)?)?.context("the image logs nothing with defmt")?;
    let mut bytes = Vec::new();
    std::io::stdin().read_to_end(&mut bytes)?;
    let mut log = table.new_stream_decoder();
    log.received(&bytes);
    loop {
        match log.decode() {
            Ok(frame) => {
                let level = frame.level().map_or("print", |level| level.as_str());
                println!("{level:5} {}", frame.display_message());
            }
            Err(DecodeError::UnexpectedEof) => return Ok(()),
            Err(DecodeError::Malformed) => bail!("a frame is malformed"),
        }
    }
}
