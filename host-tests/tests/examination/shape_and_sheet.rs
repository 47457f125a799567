//! Evidence of shape may reject by a sheet that asks for planes; it never accepts by one.

use halfskip::acceptance::criteria::Verdict;
use halfskip::character::Nature;
use halfskip::findings::VerdictFinding;
use halfskip_console::sheets::criteria as sheet;
use halfskip_host_tests::job::{findings, indication, job};

/// Planes are rejected, whatever else is accepted.
const SHEET: &str = r#"
title = "Shape form (invented)"
source = "invented"
checked-by = ""
measure = "level"
length-by = "drop-6"
[[row]]
shape = "planar"
class = "R"
verdict = "reject"
[[row]]
class = ""
verdict = "accept"
"#;

/// The character, what the sheet says, and why.
fn judged(name: &str) -> (Nature, VerdictFinding, String) {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("simulated").join(name);
    let job = job(&std::fs::read_to_string(path).unwrap());
    let facts = job.examination().facts();
    let character = indication(&facts, 0).character();
    assert_eq!(indication(&facts, 0).plane(), character.for_sheet());
    let sheet = sheet::read::<24>(SHEET).unwrap();
    let found = findings(&facts, Some(&sheet)).indication(0);
    let found = found.verdict(found.place().as_ref()).unwrap();
    let because = found.told(&facts).to_string();
    (character, found, because)
}

#[test]
fn a_plane_by_the_evidence_is_rejected_and_the_reason_says_whence_the_shape_comes() {
    let (character, found, because) = judged("slot-sweep.job");
    assert_eq!((character.planar(), found.verdict), (Some(true), Some(Verdict::Reject)));
    assert!(because.contains("advice"), "{because}");
}

#[test]
fn a_body_by_the_evidence_is_not_accepted_for_being_none() {
    let (character, found, _) = judged("void-sweep.job");
    assert_eq!((character.planar(), found.verdict), (Some(false), None));
    assert_eq!(character.for_sheet(), None);
    assert!(found.own.is_some_and(|(asked, rows)| asked.planar.is_none() && rows.verdict.is_none()));
}
