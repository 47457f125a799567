//! What the program says of itself: help, completions for shells, a manual page; all from its arguments.

use std::format;
use std::io;
use std::string::String;
use std::vec::Vec;

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

use super::args::{Arguments, command, of_line};
use crate::commands;
use crate::language::nearest::nearest;

/// Every verb in a line, as `-h` says it.
#[must_use]
pub fn overview() -> String {
    format!("{}", Arguments::command().render_help())
}

/// What `--help` says.
#[must_use]
pub fn all() -> String {
    format!("{}", command().render_long_help())
}

/// More of one verb, of the program or of a line.
///
/// # Errors
/// That it is neither, and the nearest that is.
pub fn of(word: &str) -> Result<String, String> {
    let mut program = command();
    program.build();
    if let Some(verb) = program.find_subcommand_mut(word) {
        return Ok(format!("{}", verb.render_long_help()));
    }
    of_line(word).ok_or_else(|| {
        let known =
            program.get_subcommands().map(Command::get_name).chain(commands::all().map(|verb| verb.word));
        let near = nearest(word, known.collect::<Vec<_>>().into_iter());
        let near = near.map_or("see halfskip --help".into(), |near| format!("did you mean {near}?"));
        format!("unknown verb '{word}'; {near}")
    })
}

/// What lets a shell complete the words.
#[must_use]
pub fn completions(shell: Shell) -> String {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "halfskip", &mut script);
    String::from_utf8_lossy(&script).into_owned()
}

/// The manual page: what `halfskip --help` says, and below it a section of each verb.
///
/// # Errors
/// None but those of a text that cannot grow.
pub fn page() -> io::Result<String> {
    let mut program = Arguments::command();
    program.build();
    let (man, mut page) = (Man::new(program.clone()).title("HALFSKIP").date(" "), Vec::new());
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    for verb in program.get_subcommands() {
        let (name, man, mut of_verb) = (verb.get_name().to_uppercase(), Man::new(verb.clone()), Vec::new());
        man.render_synopsis_section(&mut of_verb)?;
        man.render_description_section(&mut of_verb)?;
        man.render_options_section(&mut of_verb)?;
        if verb.get_after_help().is_some() {
            man.render_extra_section(&mut of_verb)?;
        }
        let of_verb =
            String::from_utf8_lossy(&of_verb).replace("\n.SH ", "\n.SS ").replace(".SS EXTRA", ".PP");
        page.extend_from_slice(format!("\n.SH \"HALFSKIP {name}\"\n{of_verb}").as_bytes());
    }
    man.render_extra_section(&mut page)?;
    Ok(String::from_utf8_lossy(&page).replace(".SH EXTRA", ".SH \"EXIT STATUS, EXAMPLES, CAUTIONS\""))
}
