//! Every function of the accuracy table against the 50-digit reference, over the whole valid range.

use halfskip_host_tests::accuracy::{PROMISED, TABLE};
use halfskip_host_tests::measured::Worst;

#[test]
fn every_function_keeps_its_accuracy_over_the_whole_range() {
    let worst = Worst::measured();
    println!(
        "{:34} {:>7} {:>8} {:>8}  of",
        "function", "answers", "worst", "allowed"
    );
    for entry in TABLE {
        let (error, answers) = worst.of(entry.function).unwrap_or_default();
        let (function, allowed, term) = (entry.function, entry.error, entry.term);
        println!("{function:34} {answers:7} {error:8.1e} {allowed:8.0e}  {term}");
        assert!(answers >= 100, "{function}: measured at {answers} points only");
        // An allowance that is never used hides the day when digits are lost.
        assert!(
            error > allowed / 5.0,
            "{function}: {error:.1e} measured, {allowed:.0e} is too generous"
        );
    }
}

#[test]
fn no_function_is_allowed_more_than_is_promised() {
    for entry in TABLE {
        assert!(entry.error <= PROMISED, "{}", entry.function);
    }
}
