//! Neighbours that a sheet counts as one: the group's length is its whole length, its measure that of its strongest member.
//! Sheets and readings are invented; levels and lengths follow from the readings by hand.

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Measure, Sheet, Verdict};
use halfskip::findings::{Blocked, VerdictFinding};
use halfskip_console::desk::{csv, json};
use halfskip_console::sheets::OneSheet;
use halfskip_console::sheets::criteria as sheet;
use halfskip_console::shell::{Outcome, Shell};
use halfskip_host_tests::job::calibrated;

const HEAD: &str = "title = 'invented'\nsource = 'none'\nlength-by = 'drop-6'\n";

/// Strong or long is rejected.
fn by_level() -> String {
    format!(
        "{HEAD}measure = 'level'\ngroup = '2L'\n[[row]]\nat-least = 6\nverdict = 'reject'\n\
         [[row]]\nlength-over = 18\nverdict = 'reject'\n[[row]]\nverdict = 'accept'\n"
    )
}

/// A low rating is rejected.
fn by_rating() -> String {
    format!(
        "{HEAD}measure = 'weighted'\ngroup = 12\n[weighted]\nper = '2dB/in'\nbeyond = '1in'\nround = 'half-up'\n\
         round-d = 'floor'\nshorter-path = 'zero'\n[[row]]\nat-most = 3\nclass = 'X'\nverdict = 'reject'\n\
         [[row]]\nat-least = 4\nclass = 'Y'\nverdict = 'accept'\n"
    )
}

/// An indication about `x` at mid-wall, by 8 mm long to its 6 dB ends: 80 % at its middle, 40 % at 4 mm from it. Against a
/// reference of 80 % at 40 dB its level is 40 dB less the gain.
fn indication(id: u8, x: f32, gain: f32) -> Vec<String> {
    let read = |dx: f32, height: u8| {
        let x = x + dx;
        format!(
            "reading {id} probe=p side=a x={x} standoff=17.32 path=20 height={height} gain={gain} sweep=along"
        )
    };
    [(-8.0, 10), (-4.0, 40), (0.0, 80), (4.0, 40), (8.0, 10)].map(|(dx, height)| read(dx, height)).to_vec()
}

/// One more reading of the first probe position, the echo above the screen.
fn over(id: u8, x: f32, gain: f32) -> String {
    format!("reading {id} probe=p side=a x={x} standoff=17.32 path=20 height=over gain={gain}")
}

/// Room for more neighbours than a group can ask.
type Roomy = Shell<OneSheet<DEFAULT_ROWS>, 4, 128, 2_048>;

/// An examination of these indications, with that sheet in force.
fn examined(sheet: &str, lines: &[Vec<String>]) -> Box<Roomy> {
    let sheet: Sheet<DEFAULT_ROWS> = sheet::read(sheet).unwrap();
    // The one hole that a rating is of, or two points about the path of the readings.
    let reference: &[&str] = match sheet.head().measure {
        Measure::Weighted(_) => &["dac p path=50 height=80 gain=40"],
        Measure::Level => &["dac p path=15 height=80 gain=40", "dac p path=50 height=80 gain=40"],
    };
    let mut shell = Box::new(Roomy::new(OneSheet { name: "it", sheet }));
    let before = [
        "material m shear=3.24 long=5.92",
        "joint butt thickness=20 prep=square gap=2",
        "probe p angle=60 frequency=4 element=8x9",
        "criteria it",
    ];
    let lines = lines.iter().flatten().map(String::as_str);
    let lines: Vec<&str> = before.into_iter().chain(reference.iter().copied()).chain(lines).collect();
    for line in calibrated(&lines.join("\n")).lines() {
        let mut answer = String::new();
        assert!(matches!(shell.line(line.as_bytes(), &mut answer), Outcome::Recorded(_)), "{line}: {answer}");
    }
    shell
}

/// What the sheet says of each indication.
fn verdicts(sheet: &str, lines: &[Vec<String>]) -> Vec<VerdictFinding> {
    judged(&examined(sheet, lines))
}

fn judged(shell: &Roomy) -> Vec<VerdictFinding> {
    let verdicts = shell.evaluated(|findings| {
        let all = 0..findings.facts().indications().len() as u8;
        all.map(|place| {
            let found = findings.indication(place);
            found.verdict(found.place().as_ref()).unwrap()
        })
        .collect()
    });
    verdicts.unwrap()
}

const REJECT: Option<Verdict> = Some(Verdict::Reject);
const ACCEPT: Option<Verdict> = Some(Verdict::Accept);

#[test]
fn two_short_neighbours_are_as_long_as_from_the_first_end_to_the_last() {
    // Ends at 96, 104 and 112, 120: a gap of 8 mm joins at twice 8 mm.
    let near = examined(&by_level(), &[indication(1, 100.0, 40.0), indication(2, 116.0, 40.0)]);
    for one in &judged(&near) {
        assert_eq!(one.own.as_ref().unwrap().1.verdict, ACCEPT);
        let group = one.group.as_ref().unwrap();
        assert_eq!((one.verdict, group.group.members.len()), (REJECT, 2));
        let length = group.group.end.get() - group.group.start.get();
        assert!((length - 24.0).abs() < 0.1, "{length}");
        let because = one.told(&near.examination().facts()).to_string();
        assert!(because.starts_with("as a group of 2: row 2"), "{because}");
    }
    let apart = verdicts(&by_level(), &[indication(1, 100.0, 40.0), indication(2, 126.0, 40.0)]);
    for one in &apart {
        assert_eq!((one.verdict, &one.group), (ACCEPT, &None));
    }
}

#[test]
fn a_group_of_more_members_than_can_be_asked_is_never_accepted() {
    let accepts = format!(
        "{HEAD}measure = 'level'\ngroup = '2L'\n[[row]]\nat-least = 6\nverdict = 'reject'\n[[row]]\nverdict = 'accept'\n"
    );
    let row = |count: u8| {
        (0..count).map(|id| indication(id, 100.0 + 16.0 * f32::from(id), 40.0)).collect::<Vec<_>>()
    };
    for one in verdicts(&accepts, &row(64)) {
        let group = one.group.as_ref().unwrap();
        assert_eq!((one.verdict, group.group.members.len(), group.group.more), (ACCEPT, 64, false));
    }
    for one in verdicts(&accepts, &row(65)) {
        let group = &one.group.as_ref().unwrap().group;
        assert_eq!((one.verdict, group.more, group.open), (None, true, true));
        assert_eq!(one.blocked, Some(Blocked::TooManyNeighbours { asked: 64 }));
    }
}

#[test]
fn a_group_is_as_strong_as_its_strongest_member_whichever_that_is() {
    // They touch: 16 mm in all is not too long.
    for (first, second) in [(40.0, 33.0), (33.0, 40.0)] {
        let found = verdicts(&by_level(), &[indication(1, 100.0, first), indication(2, 108.0, second)]);
        for one in &found {
            assert_eq!(one.verdict, REJECT);
            assert!(one.group.as_ref().unwrap().decision.because.to_string().starts_with("row 1"));
        }
        let strong: Vec<bool> =
            found.iter().map(|one| one.own.as_ref().unwrap().1.verdict == REJECT).collect();
        assert_eq!(strong, [first < 40.0, second < 40.0]);
    }
    let weak = verdicts(&by_level(), &[indication(1, 100.0, 40.0), indication(2, 108.0, 36.0)]);
    assert!(weak.iter().all(|one| one.verdict == ACCEPT && one.group.is_some()));
}

#[test]
fn a_member_over_the_screen_makes_its_group_at_least_as_strong() {
    let with = |gain: f32| {
        let mut second = indication(2, 108.0, 40.0);
        second.push(over(2, 108.0, gain));
        verdicts(&by_level(), &[indication(1, 100.0, 40.0), second])
    };
    // At least 20 log10(100 / 80) + 40 - 35 = 6.9 dB: above the limit whatever it is.
    assert!(with(35.0).iter().all(|one| one.verdict == REJECT));
    // At least 1.9 dB: it may be above the limit, and is never accepted.
    for one in with(40.0) {
        assert_eq!((one.verdict, one.group.unwrap().decision.verdict), (None, None));
    }
}

#[test]
fn a_rating_is_strong_when_it_is_low() {
    // d = a - b - c with c = 0 within an inch: 10 for a gain of 50 dB, 2 for 42 dB.
    for (first, second) in [(50.0, 42.0), (42.0, 50.0)] {
        let found = verdicts(&by_rating(), &[indication(1, 100.0, first), indication(2, 112.0, second)]);
        assert!(found.iter().all(|one| one.verdict == REJECT && one.group.is_some()));
        let own: Vec<_> = found.iter().map(|one| one.own.as_ref().unwrap().1.verdict).collect();
        assert_eq!(own, if first > second { [ACCEPT, REJECT] } else { [REJECT, ACCEPT] });
    }
    let weak = verdicts(&by_rating(), &[indication(1, 100.0, 50.0), indication(2, 112.0, 52.0)]);
    assert!(weak.iter().all(|one| one.verdict == ACCEPT && one.group.is_some()));
}

#[test]
fn a_member_over_the_screen_makes_the_rating_of_its_group_at_most_that() {
    let with = |gain: f32| {
        let mut second = indication(2, 112.0, 50.0);
        second.push(over(2, 112.0, gain));
        verdicts(&by_rating(), &[indication(1, 100.0, 50.0), second])
    };
    // At most -(20 log10(100 / 80) + 40 - 43) = 1.06, rounded 1: rejected whatever it is.
    assert!(with(43.0).iter().all(|one| one.verdict == REJECT));
    // At most 8: it may be 3.
    for one in with(50.0) {
        assert_eq!((one.verdict, one.group.unwrap().decision.verdict), (None, None));
    }
}

#[test]
fn a_neighbour_without_a_length_keeps_an_accept_from_being_passed_on() {
    let alone = "reading 2 probe=p side=a x=400 standoff=17.32 path=20 height=60 gain=40".to_string();
    let found = verdicts(&by_level(), &[indication(1, 100.0, 40.0), vec![alone]]);
    assert_eq!(found[0].verdict, None);
    assert_eq!(found[0].blocked, Some(Blocked::NeighbourWithoutLength { indication: 1 }));
}

#[test]
fn a_neighbour_without_a_length_is_told_by_its_name_in_every_form_of_the_findings() {
    let told = || {
        let alone = "reading 9 probe=p side=a x=400 standoff=17.32 path=20 height=60 gain=40".to_string();
        let shell = examined(&by_level(), &[indication(1, 100.0, 40.0), vec![alone]]);
        let (mut json, mut csv, mut text) = (Vec::new(), Vec::new(), String::new());
        shell.evaluated(|findings| {
            json::line(&json::examined(findings.facts(), findings), &mut json).unwrap();
            csv::write(findings, &mut csv).unwrap();
        });
        shell.ask(b"rate 1", &mut text);
        [String::from_utf8(json).unwrap(), String::from_utf8(csv).unwrap(), text]
    };
    // The program has room for the longest sweep on its stack.
    let all = std::thread::Builder::new().stack_size(64 << 20).spawn(told).unwrap().join().unwrap();
    for told in all {
        let words = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("the sheet groups neighbours, and indication 9 has no length"), "{told}");
    }
}

#[test]
fn the_strongest_of_three_makes_the_group_as_strong_wherever_it_stands() {
    for strong in 0..3u8 {
        let one =
            |id: u8| indication(id + 1, 100.0 + 8.0 * f32::from(id), if id == strong { 33.0 } else { 40.0 });
        let accepts_long = by_level().replace("length-over = 18", "length-over = 180");
        let found = verdicts(&accepts_long, &[one(0), one(1), one(2)]);
        assert!(found.iter().all(|one| one.verdict == REJECT && one.group.is_some()), "{strong}");
    }
}

#[test]
fn the_severer_of_own_and_group_decides_and_of_equal_ones_the_own() {
    let near = [indication(1, 100.0, 40.0), indication(2, 116.0, 40.0)];
    let row = |limit: &str, class: &str, verdict: &str| {
        format!("[[row]]\n{limit}\nclass = '{class}'\nverdict = '{verdict}'\n")
    };
    let head = format!("{HEAD}measure = 'level'\ngroup = '2L'\n");
    let (short, long) =
        (row("length-up-to = 10", "short", "reject"), row("length-over = 10", "long", "reject"));
    let accepted = row("", "none", "accept");
    for sheet in [format!("{head}{short}{accepted}"), format!("{head}{short}{long}{accepted}")] {
        for one in verdicts(&sheet, &near) {
            let group = one.group.unwrap().decision;
            assert_eq!((one.verdict, one.class.as_str()), (REJECT, "short"));
            assert_ne!(group.class.as_str(), "short");
        }
    }
}

#[test]
fn the_sheet_is_asked_by_the_angle_that_the_strongest_echo_was_read_at() {
    let more = ["probe q angle=70 frequency=4 element=8x9", "dac q path=50 height=80 gain=40"];
    let read = |probe: &str, height: u8| {
        format!("reading 1 probe={probe} side=a x=100 standoff=20 path=20 height={height} gain=40")
    };
    for (first, second, angle) in [(40, 80, 70.0), (80, 40, 60.0)] {
        let lines = [more.map(str::to_string).to_vec(), vec![read("p", first), read("q", second)]];
        let asked = verdicts(&by_level(), &lines)[0].own.as_ref().unwrap().0;
        assert_eq!(asked.angle.get(), angle);
    }
}

#[test]
fn a_neighbour_whose_views_disagree_keeps_the_group_from_being_accepted() {
    let mut second = indication(2, 108.0, 40.0);
    // From the other side it lies 12.7 mm off.
    second.push("reading 2 probe=p side=b x=108 standoff=30 path=20 height=80 gain=40".into());
    let found = verdicts(&by_level(), &[indication(1, 100.0, 40.0), second]);
    assert_eq!(found[0].group.as_ref().unwrap().decision.verdict, ACCEPT);
    assert!(matches!(found[0].blocked, Some(Blocked::ViewsDisagree { .. })), "{:?}", found[0].blocked);
}
