//! A weld around a pipe of 273 mm: x comes back to its datum after 857.655 mm.

use halfskip::findings::{LengthRule, grouped, scanned};
use halfskip::units::Decibels;
use halfskip_console::sheets::criteria as sheet;
use halfskip_host_tests::job::{answers, findings, indication, job};

const HEAD: &str = "\
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=26 crown=2 curvature=along od=273
probe p60 angle=60 frequency=4 element=8x9 front=11
dac p60 path=10 height=80 gain=40
dac p60 path=100 height=80 gain=40
";
const SHEET: &str = "title = 'invented'\nsource = 'invented'\nmeasure = 'level'\nlength-by = 'drop-6'\n[[row]]\nverdict = 'accept'\n";
const TURN: f32 = core::f32::consts::PI * 273.0;

fn swept(indication: u32, places: &[(f32, u32)]) -> String {
    let line = |(x, height): &(f32, u32)| {
        format!(
            "reading {indication} probe=p60 side=a x={x:.3} standoff=33 path=38 height={height} gain=44 sweep=along\n"
        )
    };
    places.iter().map(line).collect()
}

/// Over the datum: peak at 857.655, from 845 to 12.
const OVER: [(f32, u32); 6] = [(845.0, 10), (850.0, 40), (856.0, 80), (2.0, 76), (5.0, 40), (12.0, 10)];

fn length(lines: &str) -> halfskip::evaluate::sizing::length::Length {
    let job = job(lines);
    indication(&job.examination().facts(), 0).length(LengthRule::Drop(Decibels::constant(6.0206))).unwrap()
}

#[test]
fn a_sweep_over_the_datum_is_one_length_with_two_ends() {
    let found = length(&format!("{HEAD}{}", swept(1, &OVER)));
    // Half of 80 % is 40 %: at 850, and at 5 of the next turn.
    assert!(!found.is_open() && (found.start.get() - 850.0).abs() < 0.01, "{found:?}");
    assert!(
        (found.end.get() - (TURN + 5.0)).abs() < 0.01 && (found.length().get() - 12.655).abs() < 0.02,
        "{found:?}"
    );
    // On a plate it is none: both ends are where the sampling ends.
    let flat = length(&format!("{}{}", HEAD.replace(" curvature=along od=273", ""), swept(1, &OVER)));
    assert!(flat.length().get() > 800.0 || flat.is_open(), "{flat:?}");
    // The same sweep a quarter of a turn further, and in another order, is as long.
    let mut elsewhere: Vec<_> = OVER.iter().map(|(x, height)| ((x + 200.0) % 857.655, *height)).collect();
    elsewhere.reverse();
    let moved = length(&format!("{HEAD}{}", swept(1, &elsewhere)));
    assert!((moved.length().get() - found.length().get()).abs() < 0.01, "{moved:?}");
    assert!((moved.start.get() - (1050.0 - TURN)).abs() < 0.01, "{moved:?}");
    // An x counted on past the turn, or back before the datum, is the same place.
    let counted: Vec<_> = OVER.iter().map(|(x, h)| (if *x < 100.0 { x + 857.655 } else { *x }, *h)).collect();
    let counted = length(&format!("{HEAD}{}", swept(1, &counted)));
    assert!((counted.length().get() - found.length().get()).abs() < 0.01, "{counted:?}");
}

#[test]
fn neighbours_on_both_sides_of_the_datum_are_one_group() {
    let at = |middle: f32| {
        [(middle - 4.0, 20), (middle, 80), (middle + 4.0, 20)].map(|(x, h)| ((x + 857.655) % 857.655, h))
    };
    let lines = format!("{HEAD}{}{}{}", swept(1, &at(850.0)), swept(2, &at(8.0)), swept(3, &at(400.0)));
    let job = job(&lines);
    let facts = job.examination().facts();
    let criteria = sheet::read::<24>(&SHEET.replace("length-by", "group = 15\nlength-by")).unwrap();
    let found = findings(&facts, Some(&criteria));
    for asked in [0, 1] {
        let group = grouped(found, asked).unwrap();
        assert_eq!(group.members.len(), 2);
        // From 848 on to 10 past the datum, whichever is asked.
        assert!((group.length() - (857.655 + 8.0 - 850.0 + 2.0 * 2.0)).abs() < 0.2, "{group:?}");
        assert!((group.start.get() - 848.0).abs() < 0.2, "{group:?}");
    }
    assert!(grouped(found, 2).is_none());
}

#[test]
fn a_movement_over_the_datum_is_joined() {
    let line = |x: f32| {
        format!("reading 1 probe=p60 side=a x={x} standoff=33 path=38 height=20 gain=44 sweep=along\n")
    };
    let found = |places: &[f32]| {
        let lines: String = places.iter().map(|x| line(*x)).collect();
        scanned::<8>(&job(&format!("{HEAD}{lines}")).examination().facts(), 2).unwrap()
    };
    let over = found(&[840.0, 850.0, 2.0, 12.0]);
    assert!((over.from - 840.0).abs() < 0.01 && (over.to - (TURN + 12.0)).abs() < 0.01, "{over:?}");
    assert!((over.widest - 10.0).abs() < 0.01, "{over:?}");
    let beside = found(&[440.0, 450.0, 459.655, 469.655]);
    assert_eq!(over.coverage, beside.coverage);
}

#[test]
fn section_and_findings_tell_the_clock() {
    let lines = format!(
        "{HEAD}reading 1 probe=p60 side=a x=214.414 standoff=33 path=38 height=50 gain=44\n{}",
        swept(2, &OVER)
    );
    let [section, findings] = answers(SHEET, lines.lines(), ["section", "findings"]);
    assert!(
        section.contains("at x 214.4 mm, 3:00 on the clock, 90.0 deg around, the datum at 12"),
        "{section}"
    );
    assert!(findings.contains("3:00 on the clock, 90.0 deg around"), "{findings}");
    assert!(findings.contains("past the datum at 5.0 mm"), "{findings}");
}
