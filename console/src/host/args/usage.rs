//! What the program takes, as one table: it is read by, explained by, completed by and printed as a manual from it.

use std::string::String;

use super::{Command, link, record, run};

/// A verb of the program.
#[derive(Debug)]
pub struct Verb {
    /// The word; empty for the program without one.
    pub word: &'static str,
    /// What stands behind the options.
    pub operands: &'static str,
    /// What it does, in one line.
    pub about: &'static str,
    /// Its options.
    pub options: &'static [Choice],
    /// What else to know of it, a sentence or two each.
    pub notes: &'static [&'static str],
    /// Ways to use it, and what each is for.
    pub examples: &'static [(&'static str, &'static str)],
    /// Reads the arguments behind it.
    pub(super) read: fn(&mut lexopt::Parser) -> Result<Command, String>,
}

/// An option.
#[derive(Clone, Copy, Debug)]
pub struct Choice {
    /// The word behind `--`.
    pub long: &'static str,
    /// Its value.
    pub value: Value,
    /// What it does, in one line.
    pub about: &'static str,
}

/// What an option takes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Value {
    /// Nothing.
    None,
    /// A file.
    File,
    /// One of some words.
    Word(&'static [&'static str]),
    /// Something else, of this name.
    Other(&'static str),
}

const fn option(long: &'static str, value: Value, about: &'static str) -> Choice {
    Choice { long, value, about }
}

/// The program without a verb.
pub const PROGRAM: Verb = Verb {
    word: "",
    operands: "",
    about: "take facts and questions line by line; with --job, keep each fact in FILE",
    options: &[
        option("job", Value::File, "each accepted fact is on disk before the next line is asked for"),
        option(
            "sealed",
            Value::None,
            "each line kept carries a running digest; a job that is sealed stays so",
        ),
    ],
    notes: &["At the prompt, help lists what a line can say, and help VERB one of them."],
    examples: &[("halfskip --job weld.job", "begin a job, or go on with one")],
    read: |_| Err(String::new()),
};

/// The verbs, in the order that they are listed.
pub static VERBS: &[Verb] = &[
    Verb {
        word: "run",
        operands: "JOB",
        about: "evaluate a job file; - is standard input",
        options: &[
            option(
                "format",
                Value::Word(&["text", "json", "csv"]),
                "how the findings are written; text unless told",
            ),
            option(
                "strict",
                Value::None,
                "exit status 1 when anything is rejected, out of tolerance or undetermined",
            ),
            option("stream", Value::None, "one JSON line a reading as it comes; keeps none, any length"),
        ],
        notes: &[
            "A job with a bad line is told whole, every bad line of it, and not evaluated.",
            "To --strict a job without a sheet or without a reading in force is undetermined, however well calibrated.",
        ],
        examples: &[
            ("halfskip run weld.job", "the findings, for a person"),
            ("halfskip run --format json weld.job", "the same for another program"),
        ],
        read: run::run,
    },
    Verb {
        word: "plan",
        operands: "JOB",
        about: "the scan plan for joint and probes of a job, its section and coverage",
        options: &[],
        notes: &["It needs no reading: it can be asked before the probe touches steel."],
        examples: &[("halfskip plan weld.job", "where to scan with which probe")],
        read: run::plan,
    },
    Verb {
        word: "report",
        operands: "JOB",
        about: "the record of a job, drawn; - is standard input",
        options: &[
            option("html", Value::File, "as one page, by itself"),
            option("pdf", Value::File, "on sheets"),
            option("paper", Value::Word(&["a4", "letter"]), "their size; a4 unless told"),
        ],
        notes: &[
            "What a report has to hold and nobody recorded is shown as missing. The same job gives the same bytes.",
            "A file that holds something else than a report is not written over.",
        ],
        examples: &[("halfskip report weld.job --html weld.html --pdf weld.pdf", "the page and the sheets")],
        read: record::report,
    },
    Verb {
        word: "import",
        operands: "TABLE",
        about: "the readings of a CSV table as lines; - is standard input",
        options: &[
            option("job", Value::File, "add them to a job, all of them or none"),
            option("dry-run", Value::None, "only show what that would record"),
        ],
        notes: &[
            "The first line names the columns by the keys of a reading, with the unit of its numbers: x [mm], gain [dB].",
            "Comma, semicolon or tab stand between cells; an empty cell leaves its key out.",
        ],
        examples: &[("halfskip import log.csv --job weld.job --dry-run", "see what would be recorded")],
        read: record::import,
    },
    Verb {
        word: "export",
        operands: "JOB...",
        about: "the findings of many jobs, one line of JSON a job",
        options: &[],
        notes: &["A job that is bad is told and passed over; the exit status is then 2."],
        examples: &[("halfskip export *.job > archive.jsonl", "what a data engine reads")],
        read: record::export,
    },
    Verb {
        word: "compare",
        operands: "JOB JOB",
        about: "two examinations of one weld, indication by indication",
        options: &[
            option(
                "shift",
                Value::Other("MM"),
                "added to the second's x to count from the first's datum; 0 unless told",
            ),
            option(
                "within",
                Value::Other("MM"),
                "how far apart along the weld one place may be; 5 unless told",
            ),
            option("format", Value::Word(&["text", "json"]), "how that is written; text unless told"),
        ],
        notes: &[
            "A difference is told in units of its expanded uncertainty U; above 1 U the uncertainties do not explain it.",
            "An indication that only one examination has is no proof of change: the other may not have looked there.",
        ],
        examples: &[("halfskip compare before.job after.job", "before and after a repair, or two examiners")],
        read: record::compare,
    },
    Verb {
        word: "check",
        operands: "JOB",
        about: "whether the running digests of a sealed job fit its lines",
        options: &[option("digest", Value::Other("DIGITS"), "and whether the last one is this")],
        notes: &[
            "Exit status 1 says that a line does not fit, that no line is sealed, or that the digest is another.",
            "There is no secret in a seal: hold the last digest against one kept elsewhere, such as on a signed report.",
        ],
        examples: &[("halfskip check weld.job", "names the first entry that does not fit")],
        read: record::check,
    },
    Verb {
        word: "schema",
        operands: "",
        about: "the layout of the findings as JSON Schema",
        options: &[],
        notes: &[],
        examples: &[("halfskip schema > findings-2.json", "for a validator")],
        read: record::schema,
    },
    Verb {
        word: "serial",
        operands: "PORT",
        about: "a terminal to the console of a device; Ctrl-] ends",
        options: &[option("record", Value::File, "keep the facts of the device in FILE")],
        notes: &[],
        examples: &[("halfskip serial /dev/ttyACM0 --record weld.job", "talk, and keep what was recorded")],
        read: link::serial,
    },
    Verb {
        word: "ingest",
        operands: "SOURCE",
        about: "frames of a file or a port become job lines; - is standard input",
        options: &[],
        notes: &[],
        examples: &[("halfskip ingest weld.bin > weld.job", "a job from a device's frames")],
        read: link::ingest,
    },
    Verb {
        word: "send",
        operands: "JOB PORT",
        about: "a job goes to a device, fact by fact",
        options: &[],
        notes: &[],
        examples: &[("halfskip send weld.job /dev/ttyACM0", "what the desk knows, on the device")],
        read: link::send,
    },
    Verb {
        word: "tour",
        operands: "",
        about: "an invented examination, typed and answered step by step",
        options: &[],
        notes: &["In a pipe it goes straight on. Nothing is kept."],
        examples: &[("halfskip tour", "the first five minutes")],
        read: run::tour,
    },
    Verb {
        word: "completions",
        operands: "bash|zsh|fish",
        about: "what lets a shell complete these words",
        options: &[],
        notes: &[],
        examples: &[("halfskip completions bash > halfskip.bash", "to be sourced by the shell")],
        read: run::completions,
    },
    Verb {
        word: "manual",
        operands: "",
        about: "this as a manual page",
        options: &[],
        notes: &[],
        examples: &[("halfskip manual | man -l -", "read it")],
        read: run::manual,
    },
    Verb {
        word: "help",
        operands: "[VERB]",
        about: "this, or more of one verb, of the program or of a line",
        options: &[],
        notes: &[],
        examples: &[("halfskip help report", "its options"), ("halfskip help reading", "the keys of a line")],
        read: run::help,
    },
];

/// The verb of a word.
#[must_use]
pub fn find(word: &str) -> Option<&'static Verb> {
    VERBS.iter().find(|verb| verb.word == word)
}

#[cfg(test)]
mod tests {
    use super::super::parse;
    use super::*;
    use std::vec::Vec;

    #[test]
    fn every_option_that_is_told_is_taken_and_no_other() {
        for verb in [&PROGRAM].into_iter().chain(VERBS) {
            let given = |option: &str, value: Option<&str>| {
                let mut arguments = Vec::from([verb.word]);
                arguments.retain(|word| !word.is_empty());
                arguments.extend([option].into_iter().chain(value));
                parse(arguments).err().unwrap_or_default()
            };
            for option in verb.options {
                let value = match option.value {
                    Value::None => None,
                    Value::Word(words) => words.first().copied(),
                    Value::File | Value::Other(_) => Some("a"),
                };
                let said = given(&std::format!("--{}", option.long), value);
                assert!(!said.contains("invalid option") && !said.contains("unknown"), "{said}");
            }
            assert!(!given("--nothing", None).is_empty(), "{}", verb.word);
            assert_eq!(given("--help", None), "");
        }
    }
}
