//! The recorder keeps what the shell keeps and tells it in the same words; what it does not answer it refuses by name.

use std::fs;
use std::path::Path;

use halfskip::record::entry::LengthUnit;
use halfskip_console::commands;
use halfskip_console::commands::Group;
use halfskip_console::commands::parse::{self, Line};
use halfskip_console::sheets::NoSheets;
use halfskip_console::shell::recorder::Recorder;
use halfskip_console::shell::{Outcome, Shell};

/// The lines of every committed session and of the example jobs; a `criteria` or `technique` line is the shell's own affair.
fn lines() -> Vec<Vec<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sessions = Vec::new();
    for (folder, prefix) in [(root.join("transcripts"), "> "), (root.join("../examples/jobs"), "")] {
        let mut files: Vec<_> = fs::read_dir(&folder).unwrap().map(|file| file.unwrap().path()).collect();
        files.sort();
        for text in files.iter().filter(|file| file.is_file()).map(|file| fs::read_to_string(file).unwrap()) {
            let typed = text.lines().filter_map(|line| line.strip_prefix(prefix));
            sessions.push(
                typed
                    .filter(|line| !(line.starts_with("criteria") || line.starts_with("technique")))
                    .map(str::to_owned)
                    .collect(),
            );
        }
    }
    sessions
}

fn asked_of_the_record(word: &str) -> bool {
    ["list", "status", "help"].contains(&word)
}

/// What `status` says of anything but the sheet, which a recorder does not read, and of `locate`, which it has not.
fn without_sheet(status: &str) -> String {
    let lines = status.lines().filter(|line| !line.contains("sheet") && !line.ends_with("nothing"));
    lines
        .map(|line| line.replace("missing", "").replace("; 'locate' marks them", "").trim().to_owned() + "\n")
        .collect()
}

#[test]
fn a_recorder_answers_facts_and_lists_them_as_the_shell_does_and_refuses_other_questions() {
    let (mut facts, mut refused) = (0, 0);
    for session in lines() {
        let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
        let mut recorder: Box<Recorder> = Box::default();
        for line in session {
            let (mut by_shell, mut by_recorder) = (String::new(), String::new());
            let was = shell.line(line.as_bytes(), &mut by_shell);
            let is = recorder.line(line.as_bytes(), &mut by_recorder);
            let word = line.split_whitespace().next().unwrap_or_default();
            let left_out = commands::find(word).is_some_and(|verb| verb.group == Group::Question)
                && !asked_of_the_record(word);
            if left_out {
                let refusal = format!("column 1: {word} is not part of this console\n");
                assert_eq!((is, by_recorder), (Outcome::Refused { column: Some(1) }, refusal), "{line}");
                refused += 1;
            } else if word != "help" {
                let told = |answer: String| if word == "status" { without_sheet(&answer) } else { answer };
                let (by_recorder, by_shell) = (told(by_recorder), told(by_shell));
                assert_eq!((is, by_recorder), (was, by_shell), "{line}");
                facts += 1;
            }
        }
        assert_eq!(recorder.examination().last(), shell.examination().last());
        let told = |examination: &halfskip::record::examination::Examination| {
            format!("{:?}", examination.entries().collect::<Vec<_>>())
        };
        assert_eq!(told(recorder.examination()), told(shell.examination()));
    }
    assert!(facts > 300 && refused > 100, "{facts} facts, {refused} questions refused");
}

#[test]
fn help_of_a_recorder_names_the_facts_and_the_three_questions_that_it_answers() {
    let mut recorder: Recorder = Recorder::new();
    let mut answer = String::new();
    recorder.line(b"help", &mut answer);
    let shown = |word: &str| answer.lines().any(|line| line.split_whitespace().next() == Some(word));
    for verb in commands::all() {
        assert_eq!(
            shown(verb.word),
            verb.group != Group::Question || asked_of_the_record(verb.word),
            "{}",
            verb.word
        );
    }
    // Asked about another verb it tells all it has, as the shell does for a word that it does not know.
    let mut about = String::new();
    recorder.line(b"help findings", &mut about);
    assert_eq!(about, answer);
}

#[test]
fn a_recorder_never_means_a_verb_that_it_has_not() {
    let mut recorder: Recorder = Recorder::new();
    let mut answer = String::new();
    recorder.line(b"findngs", &mut answer);
    assert!(!answer.contains("findings?"), "{answer}");
    answer.clear();
    recorder.line(b"readng 1", &mut answer);
    assert!(answer.contains("did you mean reading?"), "{answer}");
}

#[test]
fn a_recorder_keeps_the_name_of_a_sheet_that_it_cannot_read() {
    let mut recorder: Recorder = Recorder::new();
    let mut answer = String::new();
    assert_eq!(recorder.line(b"criteria anything.toml", &mut answer), Outcome::Recorded(1));
    assert_eq!(answer, "1: criteria recorded\n");
    let mut status = String::new();
    recorder.line(b"status", &mut status);
    assert!(status.contains("none is read here") && !status.contains("a criteria sheet"), "{status}");
    let Ok(Some(Line::Fact(written))) = parse::line(b"criteria anything.toml", LengthUnit::Mm) else {
        panic!()
    };
    assert_eq!(recorder.examination().entry(1), Some((written, false)));
}
