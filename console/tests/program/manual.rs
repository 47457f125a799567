//! What the program says of itself, and what it gives to shells; what they make of it: bash .ci/run completions release.

use std::process::Command;

const VERBS: [&str; 3] = ["run", "report", "check"];
/// What a manual page is written with.
const REQUESTS: [&str; 11] = [".TH", ".SH", ".SS", ".TP", ".PP", ".RS", ".RE", ".IP", ".br", ".ie", ".el"];

/// Exit status, standard output, standard error.
fn halfskip(arguments: &[&str]) -> (i32, String, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_halfskip")).args(arguments).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

#[test]
fn help_of_a_verb_is_the_same_by_either_way() {
    for verb in VERBS {
        let (status, said, _) = halfskip(&["help", verb]);
        assert_eq!(status, 0);
        assert!(said.contains(&format!("\nUsage: halfskip {verb} ")) && said.contains("\nExample"), "{said}");
        assert_eq!(halfskip(&[verb, "--help"]).1, said);
    }
    // A verb of a line alone, and one of both.
    assert!(halfskip(&["help", "reading"]).1.starts_with("reading: "));
    let (_, both, _) = halfskip(&["help", "plan"]);
    assert!(
        both.contains("\nUsage: halfskip plan <JOB>\n") && both.contains("\nIn a line: plan: "),
        "{both}"
    );
    let (_, all, _) = halfskip(&["--help"]);
    assert_eq!(halfskip(&["help"]).1, all);
    assert!(all.contains("\nExamples:\n") && all.contains("it does not qualify anyone"), "{all}");
    assert!(all.lines().all(|line| line.len() <= 110), "{all}");
}

#[test]
fn a_word_that_is_not_known_is_told_with_the_nearest() {
    for (arguments, said) in [
        (&["rnu"][..], "halfskip: unknown command 'rnu'; did you mean run?\n"),
        (&["frobnicate"], "halfskip: unknown command 'frobnicate'; see halfskip --help\n"),
        (&["help", "reeding"], "halfskip: unknown verb 'reeding'; did you mean reading?\n"),
        (
            &["completions", "csh"],
            "halfskip: unknown shell 'csh'; expected bash, elvish, fish, powershell or zsh\n",
        ),
        (&["completions"], "halfskip: missing: <SHELL>; see halfskip --help\n"),
    ] {
        assert_eq!(halfskip(arguments), (2, String::new(), said.into()));
    }
}

#[test]
fn the_manual_page_has_every_verb_and_no_line_that_is_a_request_by_mistake() {
    let (status, page, _) = halfskip(&["manual"]);
    assert_eq!(status, 0);
    assert!(page.contains("\n.TH HALFSKIP 1 "));
    for verb in VERBS {
        assert!(page.contains(&format!("\n.SH \"HALFSKIP {}\"\n", verb.to_uppercase())), "{verb}");
    }
    for line in page.lines().filter(|line| line.starts_with(['.', '\''])) {
        let request = line.split(' ').next().unwrap();
        assert!(REQUESTS.contains(&request), "{line}");
    }
}
