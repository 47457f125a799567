//! The unit of a bare length that a job sends: the one in force on its line, voided `units` lines left out.

use halfskip::record::entry::Entry;
use halfskip_console::desk::link::facts::Facts;

/// The facts of a job.
fn facts(lines: &str) -> Vec<Entry> {
    let mut facts = Facts::default();
    for line in lines.lines() {
        let mut why = String::new();
        facts.take(line.as_bytes(), &mut why);
        assert_eq!(why, "", "{line}");
    }
    facts.into_facts().into_iter().map(|fact| fact.entry).collect()
}

#[test]
fn a_voided_unit_holds_no_longer_for_what_is_sent() {
    let joint = "joint butt thickness=20 prep=square gap=2\n";
    let plain = facts(joint).pop().unwrap();
    let inches = facts(&format!("units in\n{joint}")).pop().unwrap();
    assert_ne!(plain, inches);
    let voided = "title \"Invented\"\nunits in\nvoid 2 reason=\"the drawing is in mm\"\n";
    assert_eq!(facts(&format!("{voided}{joint}")).pop().unwrap(), plain);
    // The unit before it holds again, whatever else was voided.
    let back = "units in\nunits mm\nprobe p60 angle=60 frequency=4 element=8x9\nvoid 3 reason=\"a\"\nvoid 2 reason=\"b\"\n";
    assert_eq!(facts(&format!("{back}{joint}")).pop().unwrap(), inches);
}
