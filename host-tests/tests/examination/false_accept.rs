//! Nothing that lacks what its verdict rests on is accepted. `false_accept` (a program of this package) hunts in 100 000
//! cases; here every fault is put, alone, into cases that are accepted without it.

use halfskip::entry::{Entry, ProbeEntry};
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::frames::fact;
use halfskip_host_tests::hunt::{Case, Fault, Kept, accepts, falsely_passes, passes, told};

#[test]
fn a_case_is_accepted_and_with_any_one_fault_it_is_not() {
    let kept = Kept::new();
    for fault in Fault::ALL {
        let sound = (0..200).map(Case::sound).filter(|case| fault.matters(case));
        let mut tried = 0;
        for (seed, mut case) in (0..).zip(sound).take(8) {
            assert!(accepts(&told(&kept, &case.lines())), "{}", case.lines().join("\n"));
            fault.spoil(&mut case, &mut Drawn::seeded(seed));
            let said = told(&kept, &case.lines());
            assert!(
                !falsely_passes(&said, &case, &[fault]),
                "{fault:?}: {said}\n{}",
                case.lines().join("\n")
            );
            tried += 1;
        }
        assert_eq!(tried, 8, "{fault:?} matters to too few cases");
    }
}

#[test]
fn a_record_passes_as_an_accept_does() {
    let (accepted, recorded, open) =
        ("Indication 1: accept", "Indication 1: record, class 2", "Indication 1: undetermined");
    assert!(passes(accepted) && passes(recorded) && !passes(open) && !accepts(recorded));
    let case = (0..).map(Case::sound).find(|case| case.sheet == "level-length.toml").unwrap();
    assert!(falsely_passes(recorded, &case, &[Fault::NoJoint]));
    // Off the screen it is known to be over the level from which that sheet records; beside another fault it is not.
    assert!(!falsely_passes(recorded, &case, &[Fault::OverTheScreen]));
    assert!(falsely_passes(recorded, &case, &[Fault::OverTheScreen, Fault::AngleOff]));
    assert!(falsely_passes(accepted, &case, &[Fault::OverTheScreen]));
}

/// The lines of a sound case whose probe is then voided and entered again with `make` in place of its `4 MHz`.
fn remade(make: &str) -> Vec<String> {
    let mut case = Case::sound(1);
    let number = case.number_of("probe").unwrap();
    case.after.push(format!("void {number} reason=\"invented\""));
    case.after.push(case.before[2].replace("frequency=4", make));
    case.lines()
}

#[test]
fn a_probe_entered_anew_as_another_one_needs_references_of_its_own() {
    let kept = Kept::new();
    // The nose alone, as after a slip of the pen, says nothing against the references.
    assert!(accepts(&told(
        &kept,
        &remade("frequency=4").iter().map(|line| line.replace("front=10", "front=12")).collect::<Vec<_>>()
    )));
    let mut lines = remade("frequency=2");
    assert!(!passes(&told(&kept, &lines)));
    let points: Vec<(usize, String)> = (1..)
        .zip(&lines)
        .filter(|(_, line)| line.starts_with("dac"))
        .map(|(n, line)| (n, line.clone()))
        .collect();
    for (number, line) in points {
        lines.push(format!("void {number} reason=\"of the other probe\""));
        lines.push(line);
    }
    assert!(accepts(&told(&kept, &lines)), "{}", lines.join("\n"));
}

fn probe(rest: &str) -> ProbeEntry {
    let Entry::Probe(probe) = fact(&format!("probe p {rest}")) else { panic!("{rest}") };
    probe
}

#[test]
fn two_probes_sound_alike_when_all_but_their_nose_is_the_same() {
    let one = probe("angle=60 frequency=4 element=8x9 front=10 wedge=2.73");
    assert!(one.sounds_as(&probe("angle=60 frequency=4 element=8x9 front=11 wedge=2.73")));
    for other in [
        "angle=45 frequency=4 element=8x9 front=10 wedge=2.73",
        "angle=60 frequency=2 element=8x9 front=10 wedge=2.73",
        "angle=60 frequency=4 element=9x8 front=10 wedge=2.73",
        "angle=60 frequency=4 element=8x9 front=10 wedge=2.4",
        "angle=60 frequency=4 element=8x9 front=10 wedge=2.73 wedge-path=8",
    ] {
        assert!(!one.sounds_as(&probe(other)), "{other}");
    }
}

#[test]
fn the_entry_that_made_a_probe_another_one_is_told() {
    let job = halfskip_host_tests::job::job(
        "probe p angle=60 frequency=4 element=9\ntimebase p path=25,100 time=17,64\nvoid 1 reason=\"slip\"\n\
         probe p angle=70 frequency=4 element=9",
    );
    assert_eq!(job.examination().facts().probe(0).unwrap().remade(), Some(4));
    let same = halfskip_host_tests::job::job(
        "probe p angle=60 frequency=4 element=9\nvoid 1 reason=\"slip\"\nprobe p angle=70 frequency=4 element=9\n\
         timebase p path=25,100 time=17,64",
    );
    assert_eq!(same.examination().facts().probe(0).unwrap().remade(), None);
}
