//! A verdict has to bear every reading of its indication, not the strongest alone: each by the rows of its own angle and
//! thickness, and none that contradicts the place which the sheet is asked about. Sheets and readings are invented.

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet, Verdict};
use halfskip::findings::{Blocked, VerdictFinding};
use halfskip_console::sheets::criteria as sheet;
use halfskip_host_tests::job::{WEIGHTED, calibrated, findings, job};

const HEAD: &str = "title = 'invented'\nsource = 'none'\nlength-by = 'drop-6'\n";
const JOINT: &str = "material m shear=3.24 long=5.92\njoint butt thickness=20 prep=square gap=2\n\
                     probe p60 angle=60 frequency=4 element=8x9\nprobe p70 angle=70 frequency=4 element=8x9\n";
/// Levels are 40 dB less the gain, at any path from 15 to 60 mm.
const FLAT: &str = "dac p60 path=15 height=80 gain=40\ndac p60 path=60 height=80 gain=40\n\
                    dac p70 path=15 height=80 gain=40\ndac p70 path=60 height=80 gain=40\n";
/// The one hole that a weighted rating is of.
const HOLE: &str = "dac p60 path=50 height=80 gain=40\ndac p70 path=50 height=80 gain=40\n";
/// The first reading of a level: four lines of the joint, four of the reference, three of the head for each probe.
const FIRST: u32 = 15;

/// What a sheet of these rows says of the one indication.
fn judged(head: &str, rows: &[&str], readings: &[&str]) -> VerdictFinding {
    told(head, rows, readings).0
}

/// The same, and the reason in words.
fn told(head: &str, rows: &[&str], readings: &[&str]) -> (VerdictFinding, String) {
    let rows: String = rows.iter().map(|row| format!("[[row]]\n{}\n", row.replace("; ", "\n"))).collect();
    let sheet: Sheet<DEFAULT_ROWS> = sheet::read(&format!("{HEAD}{head}\n{rows}")).unwrap();
    let reference = if head == WEIGHTED { HOLE } else { FLAT };
    let job = job(&calibrated(&format!("{JOINT}{reference}{}", readings.join("\n"))));
    let facts = job.examination().facts();
    let indication = findings(&facts, Some(&sheet)).indication(0);
    let found = indication.verdict(indication.place().as_ref()).unwrap();
    let why = found.told(&facts).to_string();
    (found, why)
}

const LEVEL: &str = "measure = 'level'";
const REJECT: Option<Verdict> = Some(Verdict::Reject);
const ACCEPT: Option<Verdict> = Some(Verdict::Accept);

#[test]
fn each_reading_is_asked_by_the_rows_of_its_own_angle() {
    let rows = [
        "angle = 70; at-most = 1; class = 'A'; verdict = 'reject'",
        "angle = 70; at-least = 2; class = 'D'; verdict = 'accept'",
        "angle = 60; at-most = 5; class = 'A'; verdict = 'reject'",
        "angle = 60; at-least = 6; class = 'D'; verdict = 'accept'",
    ];
    // c = round(0.08 (35.09 - 25)) = 1 and d = 43 - 40 - 1; c = 0 and d = floor(44.5 - 40).
    let steep = "reading 1 probe=p70 side=a x=100 standoff=32.9 path=35.09 height=80 gain=43";
    let flat = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=44.5";
    assert_eq!(judged(WEIGHTED, &rows, &[steep]).verdict, ACCEPT);
    assert_eq!(judged(WEIGHTED, &rows, &[flat]).verdict, REJECT);
    for readings in [[steep, flat], [flat, steep]] {
        let found = judged(WEIGHTED, &rows, &readings);
        assert_eq!((found.verdict, found.class.as_str()), (REJECT, "A"));
        assert_eq!(found.rating.unwrap().1.d.get(), 4.0);
    }
}

#[test]
fn the_rows_of_an_angle_are_asked_of_the_level_by_that_angle() {
    let rows = [
        "angle = 70; above = 0; verdict = 'reject'",
        "angle = 70; verdict = 'accept'",
        "angle = 60; above = 6; verdict = 'reject'",
        "angle = 60; verdict = 'accept'",
    ];
    // -3 dB, and 2 dB where the rows of the other angle would reject.
    let steep = "reading 1 probe=p70 side=a x=100 standoff=32.9 path=35.09 height=80 gain=43";
    let flat = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=38";
    for readings in [[steep, flat], [flat, steep]] {
        assert_eq!(judged(LEVEL, &rows, &readings).verdict, ACCEPT);
    }
    let strong = steep.replace("gain=43", "gain=39");
    assert_eq!(judged(LEVEL, &rows, &[&strong, flat]).verdict, REJECT);
}

#[test]
fn an_echo_that_was_not_seen_stands_in_the_way_where_it_may_be_stronger_than_those_seen() {
    // The height of the noise, and so the very level that the other may have at most: 20 log10(20 / 80) + 40 - 40 dB.
    let noise = "screen noise=20";
    let seen = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=20 gain=40";
    let blocked = |gain: &str| {
        let unseen =
            format!("reading 1 probe=p70 side=b x=100 standoff=32.9 path=35.09 height=under gain={gain}");
        let found = judged(LEVEL, &["verdict = 'accept'"], &[noise, seen, &unseen]);
        (found.verdict, found.blocked)
    };
    assert_eq!((blocked("40"), blocked("41")), ((ACCEPT, None), (ACCEPT, None)));
    assert_eq!(blocked("39.9"), (None, Some(Blocked::MayBeStronger { number: FIRST + 2 })));
}

#[test]
fn each_reading_is_asked_by_the_rows_of_its_own_thickness() {
    let rows = [
        "thickness-to = 15; above = -5; verdict = 'reject'",
        "thickness-to = 15; verdict = 'accept'",
        "thickness-over = 15; above = -2; verdict = 'reject'",
        "thickness-over = 15; verdict = 'accept'",
    ];
    let thick = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=43";
    let thin = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=44 thickness=14";
    assert_eq!(judged(LEVEL, &rows, &[thick]).verdict, ACCEPT);
    assert_eq!(judged(LEVEL, &rows, &[thin]).verdict, REJECT);
    assert_eq!(judged(LEVEL, &rows, &[thick, thin]).verdict, REJECT);
}

#[test]
fn an_echo_that_was_looked_for_in_vain_counts_by_its_rating_not_by_its_level() {
    let rows = ["at-most = 1; verdict = 'reject'", "at-least = 2; verdict = 'accept'"];
    let seen = "reading 1 probe=p70 side=a x=100 standoff=22.55 path=24 height=80 gain=43";
    // At most 20 log10(5 / 80) + 40 - 21.5 = -5.6 dB, below the -3 dB of the other; c = 8 for its path, and d = -3.
    let unseen = "reading 1 probe=p70 side=b x=100 standoff=122.7 path=130.6 height=under gain=21.5";
    assert_eq!(judged(WEIGHTED, &rows, &[seen]).verdict, ACCEPT);
    let both = judged(WEIGHTED, &rows, &[seen, unseen]);
    assert_eq!(both.verdict, None);
    assert!(!matches!(both.blocked, Some(Blocked::NotMet { .. })), "{:?}", both.blocked);
    let strong = seen.replace("gain=43", "gain=41");
    assert_eq!(judged(WEIGHTED, &rows, &[&strong, unseen]).verdict, REJECT);
}

const ZONES: [&str; 2] = ["zone = 'middle-half'; above = -10; verdict = 'reject'", "verdict = 'accept'"];

#[test]
fn a_weak_corner_does_not_take_a_strong_echo_out_of_its_zone() {
    // z = 24 cos 60 = 12 of 20 mm; the corner's ray is cos r = 20 / 40.
    let echo = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=42";
    let corner = "reading 1 probe=p60 side=a x=100 standoff=34.64 path=40 height=80 gain=65 point=corner";
    assert_eq!(judged(LEVEL, &ZONES, &[echo]).verdict, REJECT);
    assert_eq!(judged(LEVEL, &ZONES, &[corner]).verdict, ACCEPT);
    let (both, why) = told(LEVEL, &ZONES, &[echo, corner]);
    assert_eq!((both.verdict, both.blocked), (None, Some(Blocked::Elsewhere { number: FIRST })));
    assert_eq!(why, "reading 15 lies elsewhere than the others, by more than their uncertainty");
}

#[test]
fn what_may_be_no_corner_is_not_accepted_by_the_depth_of_a_corner() {
    // cos r = 20 / 24: 33.6 degrees, far below the lobe of a beam at 60.
    let corner = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=42 point=corner";
    let (found, why) = told(LEVEL, &ZONES, &[corner]);
    assert!(
        matches!(found.blocked, Some(Blocked::NoCorner { number: FIRST, ray }) if (ray - 33.557).abs() < 1e-2)
    );
    assert!(why.starts_with("reading 15 may be no corner: its path makes a ray of 33.6 deg"));
    assert_eq!(found.verdict, None);
}

#[test]
fn readings_of_one_view_that_lie_apart_are_not_accepted_together() {
    let rows = ["above = -6; verdict = 'reject'", "verdict = 'accept'"];
    let near = "reading 1 probe=p60 side=a x=100 standoff=20.78 path=24 height=80 gain=51";
    for (standoff, verdict) in [(21.5, ACCEPT), (30.0, None)] {
        let other = format!("reading 1 probe=p60 side=a x=100 standoff={standoff} path=24 height=80 gain=52");
        let found = judged(LEVEL, &rows, &[near, &other]);
        assert_eq!(found.verdict, verdict, "{standoff}");
        assert!(!matches!(found.blocked, Some(Blocked::NotMet { .. })), "{:?}", found.blocked);
    }
}

#[test]
fn more_views_than_can_be_held_against_each_other_are_not_accepted() {
    let rows = ["above = -6; verdict = 'reject'", "verdict = 'accept'"];
    let reading = |leg: u32| {
        // Mid-wall in each leg: s = 20 (leg - 1/2) / cos 60, standoff = s sin 60.
        let path = 40.0 * (leg as f32 - 0.5);
        format!(
            "reading 1 probe=p60 side=a x=100 standoff={:.2} path={path} height=80 gain=52",
            path * 0.866_025_4
        )
    };
    let readings = |count: u32| (1..=count).map(reading).collect::<Vec<_>>();
    // Points up to the path of the last leg, 2580 mm, each four times as far as the one before.
    let farther = [240, 960, 3840].map(|path| format!("dac p60 path={path} height=80 gain=40"));
    for (count, verdict, blocked) in [(64, ACCEPT, None), (65, None, Some(Blocked::WithoutPoint))] {
        let lines = [farther.to_vec(), readings(count)].concat();
        let found = judged(LEVEL, &rows, &lines.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!((found.verdict, found.blocked), (verdict, blocked));
    }
}
