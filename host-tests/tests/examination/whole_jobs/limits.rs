//! One more than there is room for is refused, and nothing recorded is lost or changed.

use halfskip::record::entry::{Entry, LengthUnit, Text};
use halfskip::record::examination::{Examination, Refusal};
use halfskip_host_tests::told::{difference, fact, told};

const PROBES: usize = 2;
const INDICATIONS: usize = 3;
const READINGS: usize = 5;

type Small = Examination<PROBES, INDICATIONS, READINGS, 1024>;

fn entry(line: &str) -> Entry {
    fact(line, LengthUnit::Mm).unwrap()
}

fn probe(name: &str) -> Entry {
    entry(&format!("probe {name} angle=60 frequency=4 element=9"))
}

fn reading(indication: usize) -> Entry {
    entry(&format!("reading {indication} probe=p1 side=a x=0 standoff=30 path=35 height=50 gain=40"))
}

fn small() -> Small {
    let mut examination = Small::new();
    for line in [
        "joint butt thickness=20 prep=square gap=2",
        "probe p1 angle=60 frequency=4 element=9",
        "dac p1 path=30 height=80 gain=38",
    ] {
        examination.record(entry(line)).unwrap();
    }
    examination
}

/// Everything that can be asked of an examination.
fn kept(examination: &Small) -> (String, Vec<(u32, bool, Entry)>, u32, usize) {
    let probes = examination.settings().probes().len();
    (told(&examination.facts()), examination.entries().collect(), examination.last(), probes)
}

/// What is refused for want of room, with everything else as it was and a later fact still taken.
fn refused(examination: &mut Small, entry: Entry) -> (&'static str, u32) {
    let before = kept(examination);
    let Err(Refusal::Full { what, capacity }) = examination.record(entry.clone()) else {
        panic!("{entry:?} was taken")
    };
    let after = kept(examination);
    assert_eq!(difference(&before.0, &after.0), None);
    assert!(before == after, "{entry:?}");
    (what, capacity)
}

#[test]
fn one_probe_more_is_refused_and_nothing_is_lost() {
    let mut examination = small();
    examination.record(probe("p2")).unwrap();
    assert_eq!(refused(&mut examination, probe("p3")), ("probes", PROBES as u32));
    assert_eq!(examination.record(entry("note \"goes on\"")), Ok(5));
    // A voided probe keeps its place for the readings that name it, and can be entered again.
    examination.record(entry("void 4 reason=\"wrong angle\"")).unwrap();
    assert_eq!(refused(&mut examination, probe("p3")), ("probes", PROBES as u32));
    assert_eq!(examination.record(probe("p2")), Ok(7));
}

#[test]
fn one_indication_more_is_refused_and_nothing_is_lost() {
    let mut examination = small();
    for number in 1..=INDICATIONS {
        examination.record(reading(number)).unwrap();
    }
    assert_eq!(refused(&mut examination, reading(9)), ("indications", INDICATIONS as u32));
    assert!(examination.record(reading(1)).is_ok());
}

#[test]
fn one_reading_more_is_refused_and_nothing_is_lost() {
    let mut examination = small();
    for _ in 0..READINGS {
        examination.record(reading(1)).unwrap();
    }
    assert_eq!(refused(&mut examination, reading(1)), ("readings", READINGS as u32));
    assert_eq!(refused(&mut examination, reading(2)), ("readings", READINGS as u32));
    assert!(examination.facts().indication("2").is_none(), "a refused reading has named an indication");
    assert!(examination.record(entry("void 4 reason=\"typing error\"")).is_ok());
}

#[test]
fn one_byte_more_than_the_log_is_refused_and_nothing_is_lost() {
    let mut examination = small();
    let note = |length: usize| Entry::Note(Text::try_from("n".repeat(length).as_str()).unwrap());
    while examination.record(note(40)).is_ok() {}
    while examination.record(note(1)).is_ok() {}
    for line in [
        "probe p2 angle=70 frequency=2 element=9",
        "dac p1 path=60 height=80 gain=44",
        "angle p1 depth=15 distance=26",
        "screen reference=40",
        "tolerance angle=0.5",
        "check p1 path=30 shown=35",
        "dac p1 beyond=slope",
    ] {
        let (what, capacity) = refused(&mut examination, entry(line));
        assert_eq!((what, capacity), ("bytes of entries other than readings", 1024), "{line}");
    }
    // Readings have a place of their own.
    assert!(examination.record(reading(1)).is_ok());
}

#[test]
fn one_point_hole_or_linearity_check_more_is_refused_and_nothing_is_lost() {
    type Long = Examination<PROBES, INDICATIONS, READINGS, 8192>;
    for (line, room) in [
        ("dac p1 path={} height=80 gain=40", 16),
        ("angle p1 depth={} distance=9{}", 12),
        ("linearity gain set=80 change=-6 shown=60 # {}", 8),
    ] {
        let mut examination = Long::new();
        examination.record(probe("p1")).unwrap();
        for number in 1..=room {
            let line = line.replace("{}", &format!("{number}"));
            let line = line.replace("distance=9", "distance=");
            examination.record(entry(&line)).unwrap_or_else(|refusal| panic!("{line}: {refusal}"));
        }
        let before = told(&examination.facts());
        let last = line.replace("distance=9", "distance=").replace("{}", "99");
        assert!(examination.record(entry(&last)).is_err(), "{line}");
        assert_eq!(difference(&before, &told(&examination.facts())), None);
        assert_eq!(examination.last(), room + 1);
        assert!(examination.record(entry("note \"goes on\"")).is_ok());
    }
}

#[test]
fn a_fact_that_contradicts_what_holds_changes_nothing() {
    let mut examination = small();
    examination.record(reading(1)).unwrap();
    let before = kept(&examination);
    let mut reached = 0;
    for line in [
        "joint butt thickness=25 prep=square gap=2",
        "probe p1 angle=45 frequency=4 element=9",
        "probe p2 angle=60 frequency=4 element=9 wedge=2.73 wedge-slope=-0.1 marked-at=0 at=300",
        "dac p1 path=30 height=40 gain=38",
        "dac p9 path=30 height=40 gain=38",
        "screen reference=120",
        "observe 7 swivel=ragged",
        "void 77 reason=\"none\"",
        "void 0 reason=\"none\"",
        "timebase p1 path=100,25 time=10,60",
        "angle p1 depth=100 distance=0",
        "check p1 path=50 shown=50 height=80 gain=400dB",
        "material unobtainium",
        "reading 1 probe=p1 side=a x=0 standoff=30 time=20 height=50 gain=40",
    ] {
        if let Ok(Some(halfskip_console::commands::parse::Line::Fact(entry))) =
            halfskip_console::commands::parse::line(line.as_bytes(), LengthUnit::Mm)
        {
            assert!(examination.record(entry).is_err(), "{line}");
            reached += 1;
        }
        assert!(kept(&examination) == before, "{line}");
    }
    assert!(reached >= 12, "only {reached} were facts");
}
