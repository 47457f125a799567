//! Every public type of core can be logged over `defmt`: by deriving it, or by an implementation of its own.

use super::tree::sources;

/// What holds a whole examination, or stands in the middle of a stream: what comes out of it is logged, not it.
const EXEMPT: [&str; 14] = [
    "evaluate/indication.rs: Indication",
    "evaluate/scan.rs: Scan",
    "evaluate/scratch.rs: Findings",
    "evaluate/scratch.rs: Scratch",
    "planning/coverage/holes.rs: Holes",
    "record/entry/frame/mixed.rs: Mixed",
    "record/entry/frame/reader.rs: FrameReader",
    "record/examination/facts.rs: Facts",
    "record/examination/mod.rs: Examination",
    "record/examination/probe.rs: ProbeState",
    "record/examination/settings.rs: Common",
    "record/examination/settings.rs: Settings",
    "record/store/entries.rs: Entries",
    "record/store/mod.rs: Store",
];

/// The name of the type that a line declares.
fn declared(line: &str) -> Option<&str> {
    let rest = line.strip_prefix("pub struct ").or_else(|| line.strip_prefix("pub enum "))?;
    rest.split(|c: char| !c.is_alphanumeric()).next()
}

#[test]
fn every_public_type_of_core_can_be_logged() {
    let (mut found, mut wrong) = (0, Vec::new());
    for source in sources(&["core/src/"]) {
        let by_hand = |name: &str| source.text.contains(&format!("defmt::Format for {name}<"));
        let mut attributes = String::new();
        for line in source.text.lines() {
            match declared(line) {
                Some(name) => {
                    found += 1;
                    let place = format!("{}: {name}", source.path.trim_start_matches("core/src/"));
                    let exempt = EXEMPT.contains(&place.as_str());
                    if (attributes.contains("derive(defmt::Format)") || by_hand(name)) == exempt {
                        wrong.push(place);
                    }
                }
                None if line.is_empty() => attributes.clear(),
                None => attributes.push_str(line),
            }
        }
    }
    assert!(found > 200, "only {found} public types were found");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
