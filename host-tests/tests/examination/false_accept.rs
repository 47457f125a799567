//! Nothing that lacks what its verdict rests on is accepted. `false_accept` (a program of this package) hunts in 100 000
//! cases; here every fault is tried alone, and every pair of grounds, in a few.

use halfskip::acceptance::technique::Ground;
use halfskip::record::entry::{Entry, ProbeEntry};
use halfskip_host_tests::frames::fact;
use halfskip_host_tests::hunt::{Case, Fault, Kept, Plan, TECHNIQUES, accepts, falsely_passes, passes, told};
use halfskip_host_tests::job::answers;
use halfskip_host_tests::long::cases;
use halfskip_host_tests::sound::{SHEET, SOUND};

#[test]
fn sound_examinations_are_accepted() {
    let (kept, drawn) = (Kept::new(), cases(200, 1_000));
    let accepted = |seed: &u64| {
        let case = Case::sound(*seed);
        let said = told(&kept, &case.lines());
        assert_eq!(said.refused, None, "{}", case.lines().join("\n"));
        accepts(&said.verdict)
    };
    let accepted = (0..drawn).filter(accepted).count() as u64;
    println!("{accepted} of {drawn} sound examinations are accepted");
    assert!(accepted * 1_000 >= drawn * 995, "{accepted} of {drawn}");
}

#[test]
fn sound_examinations_are_of_every_kind() {
    let all: Vec<Case> = (0..300).map(Case::sound).collect();
    let some = |such: &dyn Fn(&str) -> bool| {
        let with = all.iter().filter(|case| case.lines().iter().any(|line| such(line))).count();
        assert!((10..=290).contains(&with), "{with} of 300");
    };
    for (name, _) in TECHNIQUES {
        some(&|line| line == format!("technique {name}"));
    }
    let with = |beginning: &'static str, piece: &'static str| {
        move |line: &str| line.starts_with(beginning) && line.contains(piece)
    };
    for (beginning, piece) in [
        ("units in", ""),
        ("criteria weighted.toml", ""),
        ("date 2026-03-12", ""),
        ("joint", "crown=0.0"),
        ("joint", "haz="),
        ("probe p45", ""),
        ("probe", "front="),
        ("timebase", "velocity="),
        ("angle", "stated="),
        ("dac", "hole="),
        ("transfer", "gain="),
        ("transfer", "block="),
        ("check", "time="),
        ("linearity", ""),
        ("reading", "side=b"),
        ("reading", "thickness="),
        ("reading", "sweep=across"),
    ] {
        some(&with(beginning, piece));
    }
}

#[track_caller]
fn tried(kept: &Kept, plan: Plan, seed: u64) -> bool {
    let spoiled = plan.draw(seed);
    let (lines, faults) = (spoiled.case.lines(), &spoiled.faults);
    let said = told(kept, &lines);
    let told = format!("{faults:?}: {}\n{}", said.verdict, lines.join("\n"));
    assert!(!falsely_passes(&said.verdict, &spoiled.case, faults), "{told}");
    // What is refused alone would be no fault.
    assert!(said.refused.is_none() || faults.len() > 1, "{:?} {told}", said.refused);
    faults.iter().any(|fault| fault.ground().is_some_and(|ground| ground.name() == said.by))
}

#[test]
fn with_any_one_fault_nothing_is_accepted() {
    let kept = Kept::new();
    for fault in Fault::ALL {
        (0..cases(4, 20)).for_each(|seed| _ = tried(&kept, Plan::Alone(*fault), seed));
    }
}

#[test]
fn with_a_fault_of_each_of_two_grounds_nothing_is_accepted() {
    let kept = Kept::new();
    assert_eq!(Plan::pairs().len(), 14 * 13 / 2);
    let seeds = 0..cases(3, 20);
    let all = Plan::pairs().into_iter().flat_map(|pair| seeds.clone().map(move |seed| (pair, seed)));
    let by_ground = all.filter(|(pair, seed)| tried(&kept, *pair, *seed)).count();
    // In two of five at least one of both grounds is what is told; else a reason that comes before the grounds.
    assert!(5 * by_ground as u64 > 14 * 13 * cases(3, 20), "{by_ground}");
}

#[test]
fn every_ground_has_faults_and_some_fault_is_caught_by_it() {
    let kept = Kept::new();
    for ground in Ground::ALL {
        let faults: Vec<Fault> =
            Fault::ALL.iter().copied().filter(|fault| fault.ground() == Some(ground)).collect();
        let caught = faults.iter().any(|fault| (0..5).any(|seed| tried(&kept, Plan::Alone(*fault), seed)));
        // Without a place there is no point, which is told before the grounds are.
        assert!(caught || ground == Ground::Place, "{ground}");
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

/// The sound examination whose probe is voided and entered anew before the first check, `make` in place of its `4 MHz`;
/// and with it all that was measured of it, where that is wanted.
fn remade(make: &str, measured: bool) -> Vec<String> {
    let lines: Vec<String> = SOUND.lines().map(String::from).collect();
    let place = |beginning: &str| lines.iter().position(|line| line.starts_with(beginning)).unwrap();
    let (probe, check) = (place("probe"), place("check"));
    let mut anew = vec![format!("void {} reason=\"invented\"", probe + 1)];
    anew.push(lines[probe].replace("frequency=4", make));
    for (at, line) in lines.iter().enumerate().take(check) {
        let of_it = ["timebase", "angle", "dac", "transfer"].iter().any(|word| line.starts_with(word));
        if measured && of_it {
            anew.push(format!("void {} reason=\"of the other probe\"", at + 1));
            anew.push(line.clone());
        }
    }
    [&lines[..check], &anew, &lines[check..]].concat()
}

#[track_caller]
fn rated(lines: &[String]) -> String {
    let [rated] = answers(SHEET, lines.iter().map(String::as_str), ["rate 1"]);
    rated.split(" because").next().unwrap().to_string()
}

#[test]
fn a_probe_entered_anew_as_another_one_needs_references_of_its_own() {
    // The nose alone, as after a slip of the pen, says nothing against the references.
    let nose: Vec<String> =
        remade("frequency=4", false).iter().map(|line| line.replace("front=11", "front=12")).collect();
    assert!(accepts(&rated(&nose)));
    assert!(!passes(&rated(&remade("frequency=2", false))));
    assert!(accepts(&rated(&remade("frequency=2", true))));
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
