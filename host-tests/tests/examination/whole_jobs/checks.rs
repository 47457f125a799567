//! In-service checks: which readings rest on a calibration that was found out of tolerance.

use halfskip::findings::{Suspicion, suspicion, suspicion_of_probe};
use halfskip::record::entry::{Entry, LengthUnit};
use halfskip::record::examination::linearity_of;
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::told::{Roomy, examined, fact};

const SET_UP: &str = "\
joint butt thickness=20 prep=square gap=2
probe p45 angle=45 frequency=4 element=9
probe p60 angle=60 frequency=4 element=9
dac p45 path=20 height=80 gain=34
dac p45 path=100 height=80 gain=46
dac p60 path=20 height=80 gain=34
dac p60 path=100 height=80 gain=50
";

const READING: &str = "reading 1 probe=PROBE side=a x=0 standoff=30 path=35 height=50 gain=40";
const GOOD: &str = "check PROBE path=60 shown=60.4 height=78 gain=GAIN";

/// 60 mm shown as 58, or an echo at half its height: 3.3 % and 6 dB.
const BAD: [&str; 2] =
    ["check PROBE path=60 shown=58 height=80 gain=GAIN", "check PROBE path=60 shown=60 height=40 gain=GAIN"];

fn entry(line: &str, probe: &str) -> Entry {
    // The gain lines stand at 40 and 42 dB half way.
    let gain = if probe == "p45" { "40" } else { "42" };
    fact(&line.replace("PROBE", probe).replace("GAIN", gain), LengthUnit::Mm).unwrap()
}

fn set_up() -> Vec<Entry> {
    halfskip_host_tests::told::facts_of(SET_UP)
}

/// The entries of readings that are suspect for a check.
fn suspect(examination: &Roomy) -> Vec<u32> {
    let facts = examination.facts();
    let for_a_check = |found| matches!(found, Some(Suspicion::Check { .. }));
    facts
        .readings()
        .filter(|reading| for_a_check(suspicion(&facts, *reading)))
        .map(|reading| reading.number())
        .collect()
}

#[derive(Clone, Copy, PartialEq, Debug)]
enum Event {
    Reading,
    Good,
    Bad,
}

/// From the last good check, or the start, to the next good one, or the end, around every bad one.
fn expected(events: &[(Event, &str)], first: usize) -> Vec<u32> {
    let mut found: Vec<u32> = Vec::new();
    for (bad, (_, probe)) in events.iter().enumerate().filter(|(_, (event, _))| *event == Event::Bad) {
        let is_good = |place: &usize| events[*place] == (Event::Good, probe);
        let since = (0..bad).rev().find(is_good).unwrap_or(0);
        let until = (bad..events.len()).find(is_good).unwrap_or(events.len());
        let readings = (since..until).filter(|place| events[*place] == (Event::Reading, probe));
        found.extend(readings.map(|place| (place + first) as u32));
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// The set-up and what came of the events, one entry each.
fn recorded(set_up: &[Entry], events: &[(Event, &str)], from: &mut Drawn) -> Vec<Entry> {
    let made = events.iter().map(|(event, probe)| {
        let line = match event {
            Event::Reading => READING,
            Event::Good => GOOD,
            Event::Bad => from.one_of(&BAD),
        };
        entry(line, probe)
    });
    set_up.iter().cloned().chain(made).collect()
}

#[test]
fn exactly_the_readings_since_the_last_good_check_are_suspect() {
    let set_up = set_up();
    let mut from = Drawn::seeded(81);
    let mut seen = 0;
    for _ in 0..300 {
        let events: Vec<(Event, &str)> = (0..from.one_of(&[3, 9, 20]))
            .map(|_| {
                let event = from.one_of(&[Event::Reading, Event::Reading, Event::Good, Event::Bad]);
                (event, from.one_of(&["p45", "p60"]))
            })
            .collect();
        let entries = recorded(&set_up, &events, &mut from);
        let found = suspect(&examined(&entries));
        assert_eq!(found, expected(&events, set_up.len() + 1), "{events:?}");
        seen += found.len();
    }
    assert!(seen > 500);
}

/// Of many checks only those that decide something are held, and the findings are those of all of them.
#[test]
fn any_number_of_good_checks_leaves_room_for_one_that_failed() {
    let set_up = set_up();
    let mut from = Drawn::seeded(82);
    for _ in 0..20 {
        let events: Vec<(Event, &str)> = (0..400)
            .map(|_| {
                let event = match from.between(0.0, 1.0) {
                    ..0.01 => Event::Bad,
                    ..0.5 => Event::Good,
                    _ => Event::Reading,
                };
                (event, from.one_of(&["p45", "p60"]))
            })
            .collect();
        let entries = recorded(&set_up, &events, &mut from);
        let examination = examined(&entries);
        let checks = events.iter().filter(|(event, _)| *event != Event::Reading).count();
        assert!(checks > 150 && !examination.facts().common().history_lost);
        assert_eq!(suspect(&examination), expected(&events, set_up.len() + 1), "{events:?}");
    }
}

/// Good and failed ones by turns: nobody can hold them all, and none may be taken for good.
#[test]
fn where_checks_are_lost_every_reading_is_suspect() {
    let mut entries = set_up();
    let turns = |count: usize| (0..count).map(|turn| entry(if turn % 2 == 0 { GOOD } else { BAD[0] }, "p45"));
    entries.push(entry(READING, "p60"));
    // 64 are held, and the four reference points are among them.
    entries.extend(turns(60));
    let found = |entries: &[Entry]| {
        let examination = examined(entries);
        let facts = examination.facts();
        let reading = facts.readings().next().unwrap();
        (facts.common().history_lost, suspicion(&facts, reading))
    };
    assert_eq!(found(&entries), (false, None));
    entries.push(entry(GOOD, "p60"));
    assert_eq!(found(&entries), (true, Some(Suspicion::ChecksLost)));
    // A check that is voided leaves room for it again.
    entries.push(fact("void 9 reason=\"wrong probe\"", LengthUnit::Mm).unwrap());
    assert_eq!(found(&entries), (false, None));
}

#[test]
fn checks_that_all_fail_by_another_gain_line_are_not_forgotten() {
    let mut entries = set_up();
    for _ in 0..70 {
        entries.push(entry(GOOD, "p45"));
        entries.push(entry(READING, "p60"));
    }
    assert_eq!(suspect(&examined(&entries)), [0; 0]);
    entries.push(fact("dac p45 path=60 height=80 gain=44", LengthUnit::Mm).unwrap());
    let examination = examined(&entries);
    let facts = examination.facts();
    assert!(facts.readings().all(|reading| suspicion(&facts, reading) == Some(Suspicion::ChecksLost)));
}

#[test]
fn a_check_is_judged_by_the_gain_line_that_holds_now() {
    let mut entries = set_up();
    entries.push(entry(READING, "p45"));
    entries.push(entry("check PROBE path=60 shown=60 height=80 gain=GAIN", "p45"));
    assert!(suspect(&examined(&entries)).is_empty());
    // A point between, 4 dB off the straight line: the check was made at the old one's gain.
    entries.push(fact("dac p45 path=60 height=80 gain=44", LengthUnit::Mm).unwrap());
    assert_eq!(suspect(&examined(&entries)), [8]);
    let mut examination = examined(&entries);
    examination.record(fact("void 10 reason=\"not this hole\"", LengthUnit::Mm).unwrap()).unwrap();
    assert!(suspect(&examination).is_empty());
    // Without the far point nobody can judge it any more, and it speaks for nothing.
    examination.record(fact("void 5 reason=\"not this hole\"", LengthUnit::Mm).unwrap()).unwrap();
    examination.record(fact("dac p45 path=50 height=80 gain=40", LengthUnit::Mm).unwrap()).unwrap();
    assert_eq!(suspect(&examination), [8]);
}

#[test]
fn limits_that_are_widened_after_a_check_clear_no_failure() {
    let mut entries = set_up();
    entries.push(entry(READING, "p60"));
    let wide = fact("tolerance range=4", LengthUnit::Mm).unwrap();
    let before = [entries.clone(), vec![wide.clone(), entry(BAD[0], "p60")]].concat();
    assert!(suspect(&examined(&before)).is_empty());
    entries.push(entry(BAD[0], "p60"));
    assert_eq!(suspect(&examined(&entries)), [8]);
    entries.push(wide);
    assert_eq!(suspect(&examined(&entries)), [8]);
}

#[test]
fn a_linearity_check_out_of_its_window_speaks_against_every_reading() {
    let mut entries = set_up();
    entries.push(entry(READING, "p45"));
    entries.push(fact("linearity screen large=80,60,40 small=40,20,20", LengthUnit::Mm).unwrap());
    entries.push(entry(READING, "p60"));
    let examination = examined(&entries);
    let facts = examination.facts();
    for reading in facts.readings() {
        assert_eq!(suspicion(&facts, reading), Some(Suspicion::Linearity { number: 9 }));
    }
}

#[test]
fn a_linearity_check_says_how_many_of_its_pairs_were_judged() {
    // 100 is above 80 %, half of 30 below 20 %: neither is judged, however far off.
    for (line, judged, steps, told) in [
        (
            "linearity screen large=100,80 small=70,40",
            1,
            2,
            "linearity within its window, 1 of 2 steps judged",
        ),
        (
            "linearity screen large=80,30 small=50,40",
            1,
            2,
            "linearity OUT OF ITS WINDOW, 1 of 2 steps judged",
        ),
        ("linearity screen large=80,40 small=40,20", 2, 2, "linearity within its window"),
        ("linearity screen large=100,80 small=52,40 window=5", 2, 2, "linearity within its window"),
        ("linearity gain set=80,30 change=-6,6 shown=40,60", 2, 2, "linearity within its window"),
    ] {
        let found = linearity_of(&fact(line, LengthUnit::Mm).unwrap()).unwrap().unwrap();
        assert_eq!((found.judged(), found.steps()), (judged, steps), "{line}");
        let (mut shell, mut answer) = (halfskip_host_tests::job::job(""), String::new());
        shell.line(line.as_bytes(), &mut answer);
        assert_eq!(answer, format!("1: {told}\n"), "{line}");
    }
    assert!(linearity_of(&entry(READING, "p45")).is_none());
}

#[test]
fn a_probe_whose_own_calibration_is_off_says_what_is() {
    let probe = "probe p45 angle=45 frequency=4 element=9\n";
    let of = |lines: &str| {
        let examination = examined(&halfskip_host_tests::told::facts_of(&format!("{probe}{lines}")));
        suspicion_of_probe(&examination.facts(), 0)
    };
    assert_eq!(of(""), None);
    assert_eq!(of("timebase p45 path=25,100,175 time=17.6,64,110.4"), None);
    // The last echo 1 us, 1.6 mm, late.
    assert_eq!(of("timebase p45 path=25,100,175 time=17.6,64,111.4"), Some(Suspicion::Timebase));
    assert_eq!(of("angle p45 depth=20 distance=20\nangle p45 depth=40 distance=40"), None);
    assert_eq!(of("angle p45 depth=20 distance=22\nangle p45 depth=40 distance=45"), Some(Suspicion::Angle));
    assert_eq!(of("angle p45 depth=20 distance=22\nangle p45 depth=40 distance=42"), Some(Suspicion::Index));
}
