//! What comes in frames is held to what a line can say: whatever was damaged or made up, a fact that is taken is read
//! again where the job goes.

use crate::generated::{KINDS, Source};
use halfskip::record::entry::frame::{MAX_FRAME, encode};
use halfskip::record::entry::{Entry, LengthUnit, TimebaseEntry, TimebaseKnown};
use halfskip_console::commands::parse::{Line, line};
use halfskip_console::desk::exit::Exit;
use halfskip_console::desk::link::ingest;
use halfskip_console::sheets::NoSheets;
use halfskip_console::shell::{Outcome, Shell};

const SEED: u64 = 0x0f0f_1e1e_2d2d_3c3c;

fn parsed(text: &str) -> Entry {
    match line(text.as_bytes(), LengthUnit::Mm) {
        Ok(Some(Line::Fact(entry))) => entry,
        other => panic!("{text}: {other:?}"),
    }
}

/// The lines that a file of frames comes to, and what was told.
fn ingested(entries: &[Entry]) -> (Exit, String, String) {
    let (mut frames, mut buffer) = (Vec::new(), [0; MAX_FRAME]);
    for entry in entries {
        frames.extend_from_slice(encode(entry, &mut buffer).unwrap());
    }
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let exit = ingest::file("it".into(), frames.as_slice(), &mut out, &mut errors).unwrap();
    (exit, String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
}

/// An entry with some bytes of its encoding changed, where that is an entry still.
fn spoiled(source: &mut Source, entry: &Entry) -> Option<Entry> {
    let mut buffer = [0; MAX_FRAME];
    let bytes = postcard::to_slice(entry, &mut buffer).unwrap();
    for _ in 0..=source.below(2) {
        let at = source.below(bytes.len() as u32) as usize;
        *bytes.get_mut(at)? = source.below(256) as u8;
    }
    postcard::from_bytes(bytes).ok()
}

#[test]
fn a_fact_of_no_line_is_not_taken_from_a_frame() {
    let mut source = Source(SEED);
    let (mut taken, mut refused) = (0, 0);
    for round in 0..KINDS * 400 {
        let entry = source.entry(round % KINDS);
        let Some(entry) = spoiled(&mut source, &entry).filter(Entry::is_plain) else { continue };
        let (exit, lines, told) = ingested(std::slice::from_ref(&entry));
        if exit == Exit::Done {
            assert_eq!(parsed(lines.trim_end()), entry);
            taken += 1;
        } else {
            assert!(told.starts_with("it: byte ") && lines.is_empty(), "{told}{lines}");
            refused += 1;
        }
    }
    assert!(taken > 500 && refused > 50, "{taken} taken, {refused} refused");
}

#[test]
fn lists_of_one_entry_that_differ_in_length_are_refused() {
    let mut timebase = parsed("timebase p path=25,100,125 time=17.31,63.75,79");
    let mut pairs = parsed("linearity screen large=80,60,40 small=40,30,20");
    let mut steps = parsed("linearity gain set=80,80,40 change=-6,-12,6 shown=40,20,80");
    if let Entry::Timebase(TimebaseEntry { how: TimebaseKnown::Echoes { time, .. }, .. }) = &mut timebase {
        time.pop();
    }
    if let Entry::ScreenLinearity(entry) = &mut pairs {
        entry.large.pop();
    }
    if let Entry::GainLinearity(entry) = &mut steps {
        entry.shown.pop();
    }
    let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
    shell.line(b"probe p angle=60 frequency=4 element=8x9", &mut String::new());
    for (entry, told) in [
        (timebase, "not recorded: count of times 2 is outside 3 to 3\n"),
        (pairs, "not recorded: count of smaller heights 3 is outside 2 to 2\n"),
        (steps, "not recorded: count of heights shown 2 is outside 3 to 3\n"),
    ] {
        let mut answer = String::new();
        assert_eq!(shell.record(entry.clone(), &mut answer), Outcome::Refused { column: None });
        assert_eq!(answer, told);
        let (exit, lines, _) = ingested(&[entry]);
        assert_eq!((exit, lines.as_str()), (Exit::BadInput, ""));
    }
}

#[test]
fn a_check_with_half_a_level_is_not_good() {
    let mut check = parsed("check p path=50 shown=50 height=80 gain=40");
    let Entry::Check(entry) = &mut check else { panic!("not a check") };
    entry.gain = None;
    let mut shell: Box<Shell<NoSheets>> = Box::new(Shell::new(NoSheets));
    for line in ["probe p angle=60 frequency=4 element=8x9", "dac p path=50 height=80 gain=40"] {
        shell.line(line.as_bytes(), &mut String::new());
    }
    shell.record(check, &mut String::new());
    // The reference point before it is part of the history too.
    let history = &shell.examination().settings().common().history;
    let checked = history.iter().find(|event| event.number == 3).unwrap();
    assert_eq!((checked.is_good(), checked.level), (false, Some(false)));
}
