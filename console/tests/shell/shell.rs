//! The shell: what a line does to the examination and to the sheet, and what is said of it.

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Head, LengthBy, Row, Sheet, Verdict};
use halfskip::acceptance::technique::{Ground, Grounds, Technique, Terms, Texts};
use halfskip::units::Decibels;
use halfskip_console::sheets::{NoSheets, Sheets};
use halfskip_console::shell::{Outcome, Shell};

/// Invented sheets named "a" and "b"; "b" can be had once only.
struct Two {
    b_left: u32,
}

impl Sheets<DEFAULT_ROWS> for Two {
    type Error = &'static str;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, &'static str> {
        match name {
            "a" => {}
            "b" if self.b_left > 0 => self.b_left -= 1,
            _ => return Err("no such sheet"),
        }
        let mut rows = heapless::Vec::new();
        rows.push(Row::always(Verdict::Record)).ok();
        let drop = LengthBy::Drop(Decibels::constant(6.0));
        Ok(Sheet::new(Head::level(name, "invented", drop), rows).unwrap())
    }

    fn technique(&mut self, name: &str) -> Result<Option<Technique>, &'static str> {
        self.sheet(name)?;
        let asks = Grounds::EMPTY.with(Ground::Angle);
        Ok(Technique::new(Texts::new(name, "invented"), Terms::asking(asks)).ok())
    }
}

fn shell() -> Box<Shell<Two>> {
    Box::new(Shell::new(Two { b_left: 1 }))
}

fn say(shell: &mut Shell<Two>, line: &str) -> (Outcome, String) {
    let mut answer = String::new();
    let outcome = shell.line(line.as_bytes(), &mut answer);
    (outcome, answer)
}

fn title(shell: &Shell<Two>) -> Option<&str> {
    shell.sheet().map(|sheet| sheet.head().title.as_str())
}

#[test]
fn blank_lines_and_comments_say_and_change_nothing() {
    let mut shell = shell();
    for line in ["", "   ", "# a remark", "\r\n"] {
        assert_eq!(say(&mut shell, line), (Outcome::Nothing, String::new()));
    }
    assert_eq!(shell.examination().last(), 0);
}

#[test]
fn a_refused_line_changes_nothing_and_says_where_it_is_wrong() {
    let mut shell = shell();
    let (outcome, answer) = say(&mut shell, "material stel");
    assert_eq!(outcome, Outcome::Refused { column: None });
    assert!(answer.starts_with("not recorded: material stel is not known"), "{answer}");
    let (outcome, answer) = say(&mut shell, "joint butt thickness=-20 prep=square gap=0");
    assert_eq!(outcome, Outcome::Refused { column: Some(22) });
    assert!(answer.starts_with("column 22: "), "{answer}");
    let mut unplaced = String::new();
    shell.unplaced(b"joint butt thickness=-20 prep=square gap=0", &mut unplaced);
    assert_eq!(format!("column 22: {unplaced}"), answer);
    assert_eq!(shell.examination().last(), 0);
}

#[test]
fn a_sheet_that_cannot_be_had_is_not_recorded() {
    let mut shell = shell();
    let (outcome, answer) = say(&mut shell, "criteria c");
    assert_eq!(outcome, Outcome::Refused { column: None });
    assert_eq!(answer, "not recorded: sheet c: no such sheet\n");
    assert_eq!((shell.examination().last(), title(&shell)), (0, None));
}

#[test]
fn a_voided_sheet_gives_way_to_the_one_before_it() {
    let mut shell = shell();
    say(&mut shell, "criteria a");
    assert_eq!(title(&shell), Some("a"));
    say(&mut shell, "criteria b");
    assert_eq!(title(&shell), Some("b"));
    let (_, answer) = say(&mut shell, "void 2 reason=\"wrong sheet\"");
    assert_eq!(answer, "3: entry 2 is void\nsheet a is in force again\n");
    assert_eq!(title(&shell), Some("a"));
    say(&mut shell, "void 1 reason=\"wrong sheet too\"");
    assert_eq!(title(&shell), None);
}

#[test]
fn a_sheet_that_is_gone_by_then_leaves_none_in_force() {
    let mut shell = shell();
    say(&mut shell, "criteria b");
    say(&mut shell, "criteria a");
    let (outcome, answer) = say(&mut shell, "void 2 reason=\"wrong sheet\"");
    assert_eq!(outcome, Outcome::Recorded(3));
    assert!(answer.ends_with("no sheet is in force: b: no such sheet\n"), "{answer}");
    assert_eq!(title(&shell), None);
}

fn technique(shell: &Shell<Two>) -> &str {
    shell.examination().facts().technique().title()
}

#[test]
fn a_voided_technique_gives_way_to_the_one_before_it_and_the_last_to_the_minimum() {
    let mut shell = shell();
    let (outcome, answer) = say(&mut shell, "technique c");
    assert_eq!(outcome, Outcome::Refused { column: None });
    assert_eq!(answer, "not recorded: technique c: no such sheet\n");
    assert_eq!((shell.examination().last(), technique(&shell)), (0, "built-in minimum"));
    say(&mut shell, "technique a");
    say(&mut shell, "technique b");
    assert_eq!((technique(&shell), title(&shell)), ("b", None));
    let (_, answer) = say(&mut shell, "void 2 reason=\"another procedure\"");
    assert_eq!(answer, "3: entry 2 is void\ntechnique a is in force again\n");
    assert_eq!(technique(&shell), "a");
    let (_, answer) = say(&mut shell, "void 1 reason=\"another procedure too\"");
    assert_eq!(answer, "4: entry 1 is void\nno technique sheet is in force, only the built-in minimum\n");
    assert_eq!(technique(&shell), "built-in minimum");
}

#[test]
fn a_technique_that_is_gone_by_then_is_named_and_the_minimum_holds() {
    let mut shell = shell();
    say(&mut shell, "technique b");
    say(&mut shell, "technique a");
    let (_, answer) = say(&mut shell, "void 2 reason=\"another procedure\"");
    assert!(answer.ends_with("only the built-in minimum: b: no such sheet\n"), "{answer}");
    assert_eq!(technique(&shell), "built-in minimum");
}

#[test]
fn where_no_technique_sheets_are_kept_the_line_is_refused() {
    let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
    let mut answer = String::new();
    assert_eq!(shell.line(b"technique a", &mut answer), Outcome::Refused { column: None });
    assert_eq!(answer, "not recorded: technique a: no sheets are kept here\n");
}

#[test]
fn an_answer_that_cannot_be_written_loses_no_fact() {
    struct Broken;
    impl core::fmt::Write for Broken {
        fn write_str(&mut self, _: &str) -> core::fmt::Result {
            Err(core::fmt::Error)
        }
    }
    let mut shell = shell();
    assert_eq!(shell.line(b"title \"kept\"", &mut Broken), Outcome::Recorded(1));
    assert_eq!(shell.line(b"findings", &mut Broken), Outcome::Answered);
    assert_eq!(shell.examination().last(), 1);
}

#[test]
fn cleared_it_is_as_new() {
    let mut shell = shell();
    say(&mut shell, "criteria a");
    say(&mut shell, "technique a");
    shell.clear();
    assert_eq!((shell.examination().last(), title(&shell)), (0, None));
    assert_eq!(technique(&shell), "built-in minimum");
    assert_eq!(say(&mut shell, "list").1, "nothing is recorded\n");
}
