//! A console without its optional questions: `cargo test -p halfskip-console --no-default-features --test left_out`.
#![cfg(not(any(feature = "planning", feature = "plots", feature = "character", feature = "reasons")))]

use halfskip::acceptance::criteria::{Head, LengthBy, Row, RowShape, Sheet, Verdict};
use halfskip::units::Decibels;
use halfskip_console::sheets::OneSheet;
use halfskip_console::shell::{Outcome, Shell};

/// A plane that the whole console finds planar.
const PLANE: &str = include_str!("../../host-tests/simulated/slot-sweep.job");

type Device = Shell<OneSheet<24>>;

/// Planes are rejected, whatever else is accepted.
fn device() -> Box<Device> {
    let head = Head::level("RowShape form (invented)", "invented", LengthBy::Drop(Decibels::constant(6.0)));
    let mut rows = heapless::Vec::new();
    rows.push(Row { shape: RowShape::Planar, ..Row::always(Verdict::Reject) }).unwrap();
    rows.push(Row::always(Verdict::Accept)).unwrap();
    Box::new(Shell::new(OneSheet { name: "shape", sheet: Sheet::new(head, rows).unwrap() }))
}

fn told(shell: &mut Device, line: &str) -> (Outcome, String) {
    let mut answer = String::new();
    let outcome = shell.line(line.as_bytes(), &mut answer);
    (outcome, answer)
}

#[test]
fn a_question_that_was_left_out_is_refused_by_name_and_help_does_not_list_it() {
    let mut shell = device();
    let (_, help) = told(&mut shell, "help");
    for verb in
        ["plan", "coverage", "expect", "section", "curve", "along", "dynamic", "nature", "margin", "why"]
    {
        let (outcome, answer) = told(&mut shell, &format!("{verb} 1"));
        assert_eq!(outcome, Outcome::Refused { column: Some(1) });
        assert_eq!(answer, format!("column 1: {verb} is not part of this console\n"));
        assert!(!help.contains(&format!("\n  {verb} ")), "{verb}");
    }
    for verb in ["locate", "size", "sides", "rate", "findings", "grounds", "beam", "list", "status", "help"] {
        assert!(help.contains(&format!("\n  {verb} ")), "{verb}");
    }
}

#[test]
fn where_a_sheet_asks_for_the_shape_nothing_is_accepted_without_its_evidence() {
    let mut shell = device();
    for line in PLANE.lines() {
        assert!(!matches!(told(&mut shell, line).0, Outcome::Refused { .. }), "{line}");
    }
    let name = shell.examination().facts().indications()[0].clone();
    assert!(matches!(told(&mut shell, "criteria shape").0, Outcome::Recorded(_)));
    let (_, answer) = told(&mut shell, &format!("rate {name}"));
    let (verdict, because) = answer.split_once('\n').unwrap();
    assert!(verdict.ends_with(": undetermined") && because.contains("row 1 needs the shape"), "{answer}");
}
