//! The manual page, in the language of man(7).

use std::format;
use std::string::String;

use super::{STATUS, form, usage};
use crate::host::args::usage::{PROGRAM, VERBS};
use crate::host::args::{CAUTION, VERSION};

/// A text as the page has to hold it: no line of it is a request, and a hyphen stays one.
fn plain(text: &str) -> String {
    let text = text.replace('\\', "\\e").replace('-', "\\-");
    if text.starts_with(['.', '\'']) { format!("\\&{text}") } else { text }
}

/// The page.
#[must_use]
pub fn page() -> String {
    let mut out = format!(".TH HALFSKIP 1 \"\" \"{}\" \"\"\n", VERSION.trim_end());
    out += ".SH NAME\nhalfskip \\- what angle\\-beam ultrasonic readings of a weld amount to\n.SH SYNOPSIS\n.nf\n";
    for verb in [&PROGRAM].into_iter().chain(VERBS) {
        out += &format!("{}\n", plain(&usage(verb)));
    }
    out += ".fi\n.SH DESCRIPTION\n";
    out += &plain(
        "A job is a list of facts, one a line, in words of the trade: joint, probes, calibration, readings. What they \
         amount to is computed whenever it is asked for: where an indication lies, how strong, how long and how high it is, \
         and what the acceptance sheet in force makes of it, each with its uncertainty. Nothing is edited; a void line \
         takes an earlier one out.",
    );
    out += "\n.PP\n";
    out += &plain(PROGRAM.notes.join(" ").as_str());
    out += "\n.SH OPTIONS\n";
    for option in PROGRAM.options {
        out += &format!(".TP\n.B {}\n{}\n", plain(&form(option)), plain(option.about));
    }
    out += ".SH VERBS\n";
    for verb in VERBS {
        out += &format!(".SS {}\n{}.\n", plain(&usage(verb)), plain(verb.about));
        for option in verb.options {
            out += &format!(".TP\n.B {}\n{}\n", plain(&form(option)), plain(option.about));
        }
        for note in verb.notes {
            out += &format!(".PP\n{}\n", plain(note));
        }
    }
    out += ".SH EXIT STATUS\n";
    out += &plain(STATUS);
    out += "\n.PP\nBad input is told on standard error as file:line:column: why.\n.SH EXAMPLES\n";
    for (typed, what) in [&PROGRAM].into_iter().chain(VERBS).flat_map(|verb| verb.examples) {
        out += &format!(".TP\n.B {}\n{}\n", plain(typed), plain(what));
    }
    out += ".SH CAUTIONS\n";
    out += &plain(CAUTION.trim_end());
    out + "\n"
}
