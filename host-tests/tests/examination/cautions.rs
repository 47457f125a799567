//! Cautions tell what the figures leave out. The readings are invented.

use halfskip::acceptance::technique::{Ground, Grounds, Technique, Terms, Texts};
use halfskip::findings::{
    Caution, Shared, Why, cautions, evaluate, of_reading, reference_fault, undetermined,
};
use halfskip::record::examination::Examination;
use halfskip_host_tests::job::{findings, job};

/// The part that the velocity has in the uncertainty of the depth, and what is told of it.
fn of_velocity(lines: &str) -> (f32, Vec<String>) {
    let readings = "joint butt thickness=20 prep=square gap=2\nprobe p angle=60 frequency=4 element=9\n";
    let reading = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60\n";
    let job = job(&format!("{readings}{lines}\n{reading}"));
    let facts = job.examination().facts();
    let found = evaluate(&facts, facts.readings().next().unwrap());
    let [_, _, velocity, ..] = found.contributions(&found.place.unwrap().z_partials);
    let mut told = Vec::new();
    cautions(findings(&facts, None), |caution| {
        if let Caution::VelocityNotCounted { .. } = caution {
            told.push(caution.told(&facts).to_string());
        }
    });
    (velocity.abs(), told)
}

#[test]
fn a_half_width_of_the_velocity_that_counts_for_nothing_is_told() {
    let told = "probe p: the half width of the velocity, 0.050 mm/us, is in none of its uncertainties: neither its time \
                base nor the material is recorded";
    assert_eq!(of_velocity("tolerance velocity=0.05"), (0.0, vec![told.to_string()]));
    for known in ["material m shear=3.2 long=5.9", "timebase p path=25,100 time=17.31,63.75"] {
        let (part, told) = of_velocity(&format!("tolerance velocity=0.05\n{known}"));
        // s cos a |1 − tan² a| w / c = 10 · 2 · 0.05 / 3.23
        assert!((part - 0.311).abs() < 0.003 && told.is_empty(), "{known}: {part} {told:?}");
    }
    assert_eq!(of_velocity("tolerance velocity=0"), (0.0, Vec::new()));
    assert_eq!(of_velocity("tolerance angle=1"), (0.0, Vec::new()));
}

#[test]
fn a_calibration_made_anew_after_a_reading_is_told() {
    let before = "material m shear=3.24 long=5.92\njoint butt thickness=20 prep=square gap=2\n\
                  probe p angle=60 frequency=4 element=9\n";
    let (dac, again) = ("dac p path=30 height=80 gain=40\n", "dac p path=30 height=80 gain=34\n");
    let reading = "reading 1 probe=p side=a x=100 standoff=17.32 path=20 height=80 gain=60\n";
    let told = |lines: &[&str]| {
        let job = job(&format!("{before}{}", lines.concat()));
        let (facts, mut told) = (job.examination().facts(), Vec::new());
        cautions(findings(&facts, None), |caution| {
            if let Caution::CalibratedAnew { entry, reading, .. } = caution {
                told.push((entry, reading));
            }
        });
        told
    };
    assert_eq!(told(&[dac, reading]), []);
    assert_eq!(told(&[reading, dac]), []);
    let replaced = [dac, reading, "void 4 reason=\"typed wrong\"\n", again];
    assert_eq!(told(&replaced), [(7, 5)]);
    assert_eq!(told(&[dac, reading, again.replace("30", "60").as_str(), "void 6 reason=\"another\"\n"]), []);
    assert_eq!(told(&[dac, reading, "scanning p margin=6\n", "check p path=50 shown=50\n"]), []);
}

/// How many cautions of one kind a job calls for.
fn count(lines: &str, kind: impl Fn(&Caution) -> bool) -> usize {
    let (job, mut found) = (job(lines), 0);
    cautions(findings(&job.examination().facts(), None), |caution| found += usize::from(kind(&caution)));
    found
}

fn on_the_weld(caution: &Caution) -> bool {
    matches!(caution, Caution::Readings { shared: Shared::InTheWay { .. }, .. })
}

#[test]
fn a_cap_as_wide_as_the_groove_is_wide_enough() {
    let too_narrow = |cap: f32| {
        let line = format!("joint butt thickness=20 prep=square gap=2 cap={cap}");
        count(&line, |caution| matches!(caution, Caution::CapTooNarrow { .. }))
    };
    assert_eq!((too_narrow(2.0), too_narrow(1.9)), (0, 1));
}

/// Prepared on side B, the groove is open from -1.5 to 1.5 + 18 tan 45 = 19.5, about 9.
const ONE_SIDED: &str = "joint butt thickness=20 prep=single-bevel bevel=45 gap=3 land=2";

#[test]
fn a_cap_that_ends_over_the_groove_on_one_side_is_told() {
    let told = |cap: &str| {
        let (job, mut told) = (job(&format!("{ONE_SIDED} {cap}")), Vec::new());
        let facts = job.examination().facts();
        cautions(findings(&facts, None), |caution| {
            if let Caution::CapTooNarrow { .. } | Caution::CapBesideGroove { .. } = caution {
                told.push(caution.told(&facts).to_string());
            }
        });
        told
    };
    for covers in ["cap=21", "cap=28", "cap=28 centre=5.5", "cap=28 centre=12.5"] {
        assert_eq!(told(covers), Vec::<String>::new(), "{covers}");
    }
    assert_eq!(
        told("cap=28 centre=0"),
        [
            "the cap ends 14.0 mm from the centreline on side b, over the groove, which is open to 19.5 mm there: coverage \
          and stand-offs count on one of them"
        ]
    );
    assert!(told("cap=28 centre=13.5")[0].starts_with("the cap ends 0.5 mm from the centreline on side a"));
    assert!(told("cap=20")[0].starts_with("the cap of 20.0 mm is narrower than the groove, 21.0 mm open"));
}

#[test]
fn a_probe_is_on_the_cap_by_where_the_cap_lies() {
    let on_the_cap = |joint: &str, side: &str, standoff: f32| {
        let lines = format!(
            "tolerance standoff=0\n{ONE_SIDED} cap=28 crown=2{joint}\nprobe p angle=60 frequency=4 element=9 front=11\n\
             reading 1 probe=p side={side} x=100 standoff={standoff} path=20 height=80 gain=60"
        );
        count(&lines, on_the_weld)
    };
    // 14 - 9 + 11 on side A, 14 + 9 + 11 on side B.
    assert_eq!((on_the_cap("", "a", 16.0), on_the_cap("", "a", 15.9)), (0, 1));
    assert_eq!((on_the_cap("", "b", 34.0), on_the_cap("", "b", 33.9)), (0, 1));
    let other = " bevelled=a centre=-8.5";
    assert_eq!((on_the_cap(other, "a", 33.5), on_the_cap(other, "a", 33.4)), (0, 1));
    assert_eq!((on_the_cap(other, "b", 16.5), on_the_cap(other, "b", 16.4)), (0, 1));
}

#[test]
fn a_probe_past_the_centreline_of_a_dressed_cap_is_placed_where_it_stands() {
    let y = |side: &str| {
        let lines = format!(
            "{ONE_SIDED} cap=28\nprobe p angle=60 frequency=4 element=9 front=11\n\
             reading 1 probe=p side={side} x=100 standoff=-6 path=20 height=80 gain=60"
        );
        let job = job(&lines);
        let facts = job.examination().facts();
        let finding = evaluate(&facts, facts.readings().next().unwrap());
        finding.place.unwrap().y.get()
    };
    // 6 + 20 sin 60 = 23.3205, looking the same way.
    assert!((y("a") - 23.3205).abs() < 1e-3 && (y("b") + 23.3205).abs() < 1e-3, "{} {}", y("a"), y("b"));
}

#[test]
fn a_nose_that_touches_the_cap_is_not_on_it() {
    let on_the_cap = |standoff: f32| {
        let lines = format!(
            "tolerance standoff=0\njoint butt thickness=20 prep=square gap=2 cap=20 crown=2\n\
             probe p angle=60 frequency=4 element=9 front=10\n\
             reading 1 probe=p side=a x=100 standoff={standoff} path=20 height=80 gain=60"
        );
        count(&lines, on_the_weld)
    };
    assert_eq!((on_the_cap(20.0), on_the_cap(19.9)), (0, 1));
}

#[test]
fn one_reference_point_serves_a_tenth_of_its_path_to_either_side() {
    let elsewhere = |path: f32| {
        let lines = format!(
            "joint butt thickness=20 prep=square gap=2\nprobe p angle=60 frequency=4 element=9\n\
             dac p path=50 height=80 gain=40\n\
             reading 1 probe=p side=a x=100 standoff=40 path={path} height=80 gain=60"
        );
        count(&lines, |caution| matches!(caution, Caution::OnePoint { path: 50.0, .. }))
    };
    assert_eq!([44.9, 45.0, 47.0, 55.0, 55.1].map(elsewhere), [1, 0, 0, 0, 1]);
}

#[test]
fn velocities_may_differ_by_the_whole_tolerance_of_the_range() {
    let differs = |shear: f32| {
        // The time base runs at 2 · 75 / 60 = 2.5 mm/us.
        let lines = format!(
            "tolerance range=25\nmaterial m shear={shear} long=5.9\nprobe p angle=60 frequency=4 element=9\n\
             timebase p path=25,100 time=20,80"
        );
        count(&lines, |caution| matches!(caution, Caution::SpeedDiffers { .. }))
    };
    assert_eq!((differs(2.0), differs(1.99)), (0, 1));
}

#[test]
fn a_technique_sheet_that_nobody_checked_or_that_asks_less_than_the_minimum_is_told() {
    let told = |asks: Grounds, checked_by: &str| {
        let mut texts = Texts::new("invented", "no document");
        texts.checked_by = checked_by.try_into().unwrap();
        let mut examination: Box<Examination> = Box::new(Examination::new());
        examination.adopt(Technique::new(texts, Terms::asking(asks)).ok());
        let (facts, mut told) = (examination.facts(), Vec::new());
        cautions(findings(&facts, None), |caution| told.push(caution.told(&facts).to_string()));
        told.split_off(1)
    };
    let unchecked = || "technique sheet not checked against its source".to_string();
    let asked = Technique::MINIMUM.asks;
    assert_eq!(told(asked, "somebody"), Vec::<String>::new());
    assert_eq!(told(asked, ""), [unchecked()]);
    let less = asked.without(Ground::Angle).without(Ground::Reach).with(Ground::Linearity);
    let left_out =
        "the technique sheet leaves out what the built-in minimum asks for before an accept: angle, reach"
            .to_string();
    assert_eq!(told(less, ""), [unchecked(), left_out]);
}

#[test]
fn readings_that_lack_a_place_or_a_level_for_one_reason_are_told_together() {
    let told = |lines: &str| {
        let (job, mut told) = (job(lines), Vec::new());
        let facts = job.examination().facts();
        undetermined(&facts, |caution| told.push(caution.told(&facts).to_string()));
        told
    };
    let reading =
        |path: u8| format!("reading 1 probe=p side=a x=100 standoff=40 path={path} height=80 gain=60\n");
    let probe = "probe p angle=60 frequency=4 element=9\n".to_string();
    let three = probe.clone() + &reading(20) + &reading(30) + &reading(40);
    let no_joint = "readings 2 to 4 have no place: no joint is recorded and the reading gives no thickness";
    let no_reference = "readings 2 to 4 have no level: no reference point has been recorded";
    assert_eq!(told(&three), [no_joint, no_reference]);
    let curve = "joint butt thickness=20 prep=square gap=2\ndac p path=40 height=80 gain=40\n\
                 dac p path=60 height=80 gain=44\n";
    let outside = probe.clone() + curve + &reading(20) + &reading(50) + &reading(30);
    let told_together = "readings 5, 7 have no level: their paths are outside the reference points, which reach from 40 to 60 mm";
    assert_eq!(told(&outside), [told_together]);
    let one = told(&(probe + curve + &reading(20)));
    assert!(
        one.len() == 1 && one[0].starts_with("reading 5 has no level: ") && one[0].contains("20 mm"),
        "{one:?}"
    );
}

#[test]
fn a_reading_by_itself_and_a_curve_by_itself_say_what_they_lack() {
    let of = |keys: &str| {
        let lines = format!(
            "joint butt thickness=20 prep=square gap=2 reach=a\nprobe p angle=60 frequency=4 element=9\n\
             dac p path=20 height=80 gain=40\nreading 1 probe=p x=100 standoff=17.32 path=20 gain=40 {keys}"
        );
        let (job, mut found) = (job(&lines), Vec::new());
        let facts = job.examination().facts();
        of_reading(&facts, facts.readings().next().unwrap(), |why| found.push(why));
        found
    };
    assert_eq!(of("side=a height=80"), []);
    assert!(matches!(of("side=b height=80")[..], [Why::SideNotReached { reading: 4 }]));
    assert!(matches!(of("side=a height=over")[..], [Why::LeftTheScreen { reading: 4 }]));
    let fault = |points: &str| {
        let job = job(&format!("probe p angle=60 frequency=4 element=9\n{points}"));
        reference_fault(&job.examination().facts(), 0)
    };
    let dac = |path: u8, gain: u8, hole: &str| format!("dac p path={path} height=80 gain={gain}{hole}\n");
    assert_eq!(fault(&(dac(50, 40, "") + &dac(80, 44, ""))), None);
    assert_eq!(fault(&(dac(50, 40, " hole=3") + &dac(80, 44, ""))), Some(Why::HolesMixed { probe: 0 }));
    assert!(matches!(fault(&(dac(50, 40, "") + &dac(80, 34, ""))), Some(Why::Falls { from: 2, to: 3, .. })));
}

#[test]
fn a_sheet_that_nobody_checked_is_told_as_that() {
    let mut told = Vec::new();
    halfskip::findings::of_sheet(&halfskip_host_tests::told::demonstration(), &mut |caution| {
        told.push(caution)
    });
    assert_eq!(told, [Caution::SheetNotChecked]);
}
