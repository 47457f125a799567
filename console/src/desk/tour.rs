//! `halfskip tour`: the invented example, typed and answered step by step in the reader's own terminal.

use std::io::{self, BufRead, IsTerminal, Write};
use std::string::String;

use super::console::Desk;
use super::exit::{Exit, Stop, reason};
use super::{Lines, Outcome};

/// Prose, and lines to be typed behind `> `; a line `--` ends a step, `{last}` is the number of the last entry.
const STEPS: &str = include_str!("tour/steps.txt");
/// The sheet that the tour names, and its text: that of the examples, which are no part of the package.
const SHEET: (&str, &str) = ("../criteria/demonstration.toml", include_str!("tour/demonstration.toml"));
const PROMPT: &str = "> ";

/// Walks the reader through; without a terminal to ask, straight on.
///
/// # Errors
/// [`Stop`]: the keyboard cannot be read, or the tour cannot be written.
pub fn run() -> Result<Exit, Stop> {
    let input = io::stdin();
    let stops = input.is_terminal() && io::stdout().is_terminal();
    walk(&mut input.lock(), &mut io::stdout().lock(), stops)
}

/// The same with any input; at each stop, when there are any, lines of the reader are answered.
///
/// # Errors
/// [`Stop`]: the input cannot be read, or the tour cannot be written.
pub fn walk(input: &mut dyn BufRead, out: &mut dyn Write, stops: bool) -> Result<Exit, Stop> {
    let mut desk = Desk::with_sheet(SHEET);
    let mut steps = STEPS.split("--\n").peekable();
    while let Some(step) = steps.next() {
        for line in step.lines() {
            let last = desk.shell().examination().entries().last().map_or(0, |(number, ..)| number);
            let line = line.replace("{last}", &std::format!("{last}"));
            say(out, &line)?;
            say(out, "\n")?;
            if let Some(typed) = line.strip_prefix(PROMPT) {
                answered(&mut desk, typed, out)?;
            }
        }
        if steps.peek().is_none() || (stops && !go_on(&mut desk, input, out)?) {
            break;
        }
        if !stops {
            say(out, "\n")?;
        }
    }
    Ok(Exit::Done)
}

/// Answers what the reader types until that is nothing; false when it is the end.
fn go_on(desk: &mut Desk, input: &mut dyn BufRead, out: &mut dyn Write) -> Result<bool, Stop> {
    let mut typed = String::new();
    loop {
        say(out, "\n[Enter: on, q: end] > ")?;
        typed.clear();
        let read = input.read_line(&mut typed);
        let read = read.map_err(|error| Stop::Failed(std::format!("keyboard: {}", reason(&error))))?;
        match typed.trim() {
            _ if read == 0 => {
                say(out, "\n")?;
                return Ok(false);
            }
            "" => return Ok(true),
            "q" => return Ok(false),
            line => answered(desk, line, out)?,
        }
    }
}

fn answered(desk: &mut Desk, line: &str, out: &mut dyn Write) -> Result<(), Stop> {
    let mut answer = String::new();
    if let Outcome::Refused { column: Some(column) } = desk.line(line.as_bytes(), &mut answer) {
        say(out, &std::format!("column {column}: "))?;
    }
    say(out, &answer)
}

fn say(out: &mut dyn Write, text: &str) -> Result<(), Stop> {
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|error| Stop::writing(&error))
}
