//! The weighted rating through a whole job: from typed lines to a, b, c and d.
//!
//! The published figures are those of vectors/weighted.toml (P-130, P-132); here they go in by the front door.

use halfskip::acceptance::criteria::Sheet;
use halfskip::findings::VerdictFinding;
use halfskip::record::examination::Examination;
use halfskip_console::commands::parse::{Line, line};
use halfskip_console::sheets::criteria as sheet;
use halfskip_host_tests::job::findings;

const SHEET: &str = r#"
title = "Weighted form (invented limits)"
source = "invented"
checked-by = ""
measure = "weighted"
length-by = "drop-6"
[weighted]
per = "0.08dB/mm"
beyond = "25mm"
round = "half-up"
round-d = "none"
shorter-path = "negative"
[[row]]
at-most = 3
class = "A"
verdict = "reject"
[[row]]
above = 3
class = "D"
verdict = "accept"
"#;

const SETTINGS: [&str; 5] = [
    "material steel",
    "joint butt thickness=20 prep=square gap=0 cap=10",
    "screen reference=50",
    "probe p70 angle=70 frequency=2.25 element=16x16 front=12",
    "dac p70 path=40 height=50 gain=50",
];

fn examined<'l>(lines: impl IntoIterator<Item = &'l str>) -> Box<Examination> {
    let mut examination = Box::new(Examination::new());
    for text in lines {
        let unit = examination.settings().common().units;
        let Ok(Some(Line::Fact(entry))) = line(text.as_bytes(), unit) else { panic!("no fact: {text}") };
        examination.record(entry).unwrap_or_else(|refusal| panic!("{text}: {refusal}"));
    }
    examination
}

fn judged(examination: &Examination) -> VerdictFinding {
    let sheet: Sheet<24> = sheet::read(SHEET).expect("a sheet");
    let facts = examination.facts();
    let indication = findings(&facts, Some(&sheet)).indication(0);
    indication.verdict(indication.place().as_ref()).unwrap()
}

#[test]
fn a_path_of_100_mm_with_a_55_and_b_50_rates_minus_1() {
    let reading = "reading 1 probe=p70 side=a x=10 standoff=90 path=100 height=50 gain=55";
    let found = judged(&examined(SETTINGS.into_iter().chain([reading])));
    let (_, rating) = found.rating.expect("a rating");
    assert_eq!([rating.a, rating.b, rating.c, rating.d].map(|db| db.get()), [55.0, 50.0, 6.0, -1.0]);
    assert_eq!(found.class.as_str(), "A");
}

#[test]
fn the_reference_height_counts_whether_it_is_told_first_or_last() {
    let reading = "reading 1 probe=p70 side=a x=10 standoff=90 path=100 height=50 gain=55";
    let last = [SETTINGS[0], SETTINGS[1], SETTINGS[3], SETTINGS[4], reading, SETTINGS[2]];
    let told_last = judged(&examined(last));
    let told_first = judged(&examined(SETTINGS.into_iter().chain([reading])));
    assert_eq!(told_last.rating.map(|(_, rating)| rating), told_first.rating.map(|(_, rating)| rating));
}

#[test]
fn a_probe_with_two_reference_points_is_not_rated_against_one() {
    let more = [
        "dac p70 path=90 height=50 gain=56",
        "reading 1 probe=p70 side=a x=1 standoff=90 path=80 height=50 gain=70",
    ];
    let examination = examined(SETTINGS.into_iter().chain(more));
    let found = judged(&examination);
    assert_eq!((found.verdict, found.rating), (None, None));
    let because = found.told(&examination.facts()).to_string();
    assert!(because.contains("several reference points"), "{because}");
}

#[test]
fn a_saturated_echo_is_rejected_when_its_bound_is_and_never_accepted() {
    let gain =
        |gain: u32| format!("reading 1 probe=p70 side=a x=1 standoff=90 path=100 height=over gain={gain}");
    let strong = judged(&examined(SETTINGS.into_iter().chain([gain(60).as_str()])));
    assert_eq!(strong.class.as_str(), "A");
    let unknown = judged(&examined(SETTINGS.into_iter().chain([gain(75).as_str()])));
    // By the rows themselves, whatever else is missing.
    assert!(unknown.verdict.is_none() && unknown.own.is_some_and(|(_, rows)| rows.verdict.is_none()));
}
