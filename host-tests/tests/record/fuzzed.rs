//! What fuzzing found interesting, and bytes drawn at random, put in at every door again.

use std::fs;
use std::path::Path;

use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::fuzzed::{TARGETS, lines};
use halfskip_host_tests::long::cases;

/// How many are drawn at random.
const EXAMINATIONS: u64 = cases(10, 50);

#[test]
fn what_fuzzing_kept_holds_still() {
    for (name, target) in TARGETS {
        let corpus = Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus").join(name);
        let mut files: Vec<_> = fs::read_dir(&corpus).unwrap().map(|file| file.unwrap().path()).collect();
        files.sort();
        assert!(!files.is_empty(), "{name}");
        for file in files {
            target(&fs::read(&file).unwrap());
        }
    }
}

#[test]
fn whole_examinations_drawn_at_random_hold() {
    let mut taken = 0;
    for seed in 0..EXAMINATIONS {
        let mut drawn = Drawn::seeded(seed);
        let data: Vec<u8> = (0..600).map(|_| drawn.bits() as u8).collect();
        taken += lines(&data).len();
        for (name, target) in TARGETS {
            if matches!(name, "examination" | "frames") {
                target(&data);
            }
        }
    }
    assert!(taken > 20 * EXAMINATIONS as usize, "{taken}");
}
