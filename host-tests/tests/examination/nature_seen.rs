//! What the evidence says of movements that the examiner made or saw. Readings are invented; levels follow by hand.

use halfskip::character::{Evidence, Fact, Nature, Thresholds};
use halfskip::math::larger;
use halfskip::part::side::Side;
use halfskip_host_tests::job::{indication, job};

const BEFORE: &str = "material m shear=3.24 long=5.92\njoint butt thickness=20 prep=square gap=2\n\
                      probe p60 angle=60 frequency=4 element=8x9\nprobe p70 angle=70 frequency=4 element=8x9\n\
                      dac p60 path=50 height=80 gain=40\ndac p70 path=50 height=80 gain=40\n";
/// An echo at mid-wall: z = 20 cos 60.
const PEAKED: &str = "reading 1 probe=p60 side=a x=100 standoff=17.32 path=20 height=80 gain=44\n";

fn natured(lines: &str) -> Nature {
    indication(&job(&format!("{BEFORE}{lines}")).examination().facts(), 0).character()
}

/// The one piece of evidence of a kind.
fn only(nature: &Nature, of: impl Fn(&Fact) -> bool) -> Evidence {
    let mut found = nature.evidence().filter(|evidence| of(&evidence.fact));
    let one = *found.next().expect("evidence of that kind");
    assert!(found.next().is_none());
    one
}

#[test]
fn an_echo_that_stays_is_a_body_and_one_that_falls_smoothly_around_is_a_plane() {
    for (line, planar) in [
        ("observe 1 swivel=steady", -1),
        ("observe 1 swivel=smooth", 0),
        ("observe 1 swivel=ragged", 0),
        ("observe 1 orbit=steady", -1),
        ("observe 1 orbit=smooth", 1),
        ("observe 1 orbit=ragged", 0),
    ] {
        let nature = natured(&format!("{PEAKED}{line}"));
        let said = only(&nature, |fact| matches!(fact, Fact::TurnObserved { .. }));
        assert_eq!(said.says.planar, planar, "{line}");
    }
}

/// A series over the skew, strong between `half` degrees to either side and 20 dB weaker beyond.
fn turned(sweep: &str, half: i32) -> String {
    let reading = |skew: i32| {
        let gain = if skew.abs() <= half { 44 } else { 64 };
        format!(
            "reading 1 probe=p60 side=a x=100 standoff=17.32 path=20 height=80 gain={gain} skew={skew} sweep={sweep}\n"
        )
    };
    (-6..=6).map(|step| reading(step * 5)).collect()
}

#[test]
fn led_around_the_echo_of_a_plane_is_narrow_and_that_of_a_body_wide() {
    // The echo falls by 20 dB within 5 degrees: by 6 dB 1.5 beyond the last strong one to either side.
    for (sweep, half, width, planar) in [
        ("orbit", 5, 13.0, 1),
        ("orbit", 15, 33.0, 0),
        ("orbit", 20, 43.0, -1),
        ("swivel", 5, 13.0, 0),
        ("swivel", 20, 43.0, -1),
    ] {
        let nature = natured(&turned(sweep, half));
        let said = only(&nature, |fact| matches!(fact, Fact::Turned { .. }));
        let Fact::Turned { orbit, width: found, open, peaks: _ } = said.fact else { panic!("{said:?}") };
        assert!((found - width).abs() < 0.1, "{sweep} {half}: {found}");
        assert_eq!((orbit, open, said.says.planar), (sweep == "orbit", false, planar), "{sweep} {half}");
    }
}

#[test]
fn of_two_probes_the_more_one_sided_one_is_told() {
    let reading = |probe: &str, side: &str, standoff: f32, path: f32, gain: u32| {
        format!(
            "reading 1 probe={probe} side={side} x=100 standoff={standoff} path={path} height=80 gain={gain}\n"
        )
    };
    // p60 is 12 dB stronger from side a, p70 by 18 dB from side b.
    let lines = [
        reading("p60", "a", 17.32, 20.0, 44),
        reading("p60", "b", 17.32, 20.0, 56),
        reading("p70", "a", 27.47, 29.24, 66),
        reading("p70", "b", 27.47, 29.24, 48),
    ];
    for order in [[0, 1, 2, 3], [2, 3, 0, 1], [3, 1, 2, 0]] {
        let text: String = order.iter().filter_map(|at: &usize| lines.get(*at)).map(String::as_str).collect();
        let said = only(&natured(&text), |fact| matches!(fact, Fact::OneSided { .. }));
        let Fact::OneSided { side, over } = said.fact else { panic!("{said:?}") };
        assert_eq!(side, Side::B);
        assert!((over - 18.0).abs() < 1e-3, "{over}");
    }
}

#[test]
fn a_series_of_more_readings_than_there_is_room_for_looks_the_same_thinned() {
    // Two bells 14 mm apart on the way across, the second one 5 dB lower; 240 steps of 0.125 mm.
    let level = |at: f32| {
        let bell = |centre: f32, top: f32| top - 6.0 * ((at - centre) / 2.5) * ((at - centre) / 2.5);
        larger(larger(bell(11.0, 0.0), bell(25.0, -5.0)), -30.0)
    };
    let reading = |step: u32| {
        let at = step as f32 * 0.125;
        let (standoff, gain) = (6.0 + at, 44.0 - level(at));
        format!(
            "reading 1 probe=p60 side=a x=100 standoff={standoff} path={:.3} height=80 gain={gain:.2} sweep=across\n",
            (6.0 + at) / 0.866_025_4
        )
    };
    let lines: String = (0..240).map(reading).collect();
    let job = job(&format!("{BEFORE}{lines}"));
    let facts = job.examination().facts();
    let whole = indication(&facts, 0).character_by::<256>(&Thresholds::DEFAULT);
    let thinned = indication(&facts, 0).character_by::<60>(&Thresholds::DEFAULT);
    let seen = |nature: &Nature| match only(nature, |fact| matches!(fact, Fact::Series(_))).fact {
        Fact::Series(seen) => seen,
        other => panic!("{other:?}"),
    };
    let (whole, thinned) = (seen(&whole), seen(&thinned));
    assert_eq!((whole.pattern, whole.high_peaks), (thinned.pattern, thinned.high_peaks));
    assert_eq!((whole.high_peaks, whole.deepest, thinned.deepest), (2, 25.0, 25.0));
    // 6 dB below the first top to the second bell's end: 2.5 + 14 + 2.5 sqrt(1/6); in stretches of 29.875 / 59 mm.
    assert!((whole.width - 17.52).abs() < 0.01, "{}", whole.width);
    assert!((thinned.width - whole.width).abs() < 0.51, "{}", thinned.width);
}

/// An echo of a place across and below, read with levels over 0 dB less `down` from three directions: 60 and 70 degrees from
/// the side `over`, 60 from the other one; `y` is counted toward that other one.
fn on_a_bevel(over: &str, y: f32, down: [f32; 3]) -> Nature {
    let before = "material m shear=3.24 long=5.92\njoint butt thickness=20 prep=single-v bevel=30 gap=2 land=2\n\
                  probe p60 angle=60 frequency=4 element=8x9\nprobe p70 angle=70 frequency=4 element=8x9\n\
                  dac p60 path=50 height=80 gain=40\ndac p70 path=50 height=80 gain=40\n";
    let other = if over == "a" { "b" } else { "a" };
    let reading = |probe: &str, side: &str, distance: f32, path: f32, ahead: f32, down: f32| {
        format!(
            "reading 1 probe={probe} side={side} x=100 standoff={:.2} path={path} height=80 gain={:.1}\n",
            distance - ahead,
            40.0 + down
        )
    };
    let [first, second, third] = down;
    let lines = [
        reading("p60", over, 17.32, 20.0, y, first),
        reading("p70", over, 27.47, 29.24, y, second),
        reading("p60", other, 17.32, 20.0, -y, third),
    ];
    indication(&job(&format!("{before}{}", lines.concat())).examination().facts(), 0).character()
}

#[test]
fn a_place_on_a_bevel_that_answers_best_squarely_lies_on_that_face() {
    // The bevel at z = 10: 1 + 8 tan 30 = 5.62 off the centreline, met squarely at 60 degrees from over the weld.
    let told = |nature: &Nature| {
        nature.evidence().find_map(|evidence| match evidence.fact {
            Fact::OnFusionFace { side, off, tilt } => Some((side, off, tilt, evidence.says.planar)),
            _ => None,
        })
    };
    for (over, of) in [("a", Side::B), ("b", Side::A)] {
        let (side, off, tilt, planar) = told(&on_a_bevel(over, 5.62, [0.0, 5.0, 14.0])).unwrap();
        assert!(
            side == of && off < 0.05 && (tilt - 30.0).abs() < 1e-3 && planar == 1,
            "{over}: {off} {tilt}"
        );
        // 1 mm beside it, 0.87 off the face, is within the uncertainty; 6 mm is not.
        let (_, off, ..) = told(&on_a_bevel(over, 6.62, [0.0, 5.0, 14.0])).unwrap();
        assert!((off - 0.866).abs() < 0.05, "{over}: {off}");
        assert_eq!(told(&on_a_bevel(over, 11.62, [0.0, 5.0, 14.0])), None);
        // Strongest from the side of the face itself, or from nowhere in particular.
        assert_eq!(told(&on_a_bevel(over, 5.62, [14.0, 14.0, 0.0])), None);
        assert_eq!(told(&on_a_bevel(over, 5.62, [0.0, 2.0, 8.0])), None);
    }
}
