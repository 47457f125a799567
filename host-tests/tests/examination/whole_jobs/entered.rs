//! However an entry came in - typed in either unit, or as a frame - it says the same.

use halfskip::record::entry::frame::{Frame, MAX_FRAME, decode, encode};
use halfskip_host_tests::told::{difference, examined, facts_of, told, without_numbers};

use super::{day, inches, millimetres, written};

#[test]
fn a_day_sent_as_frames_has_the_same_findings_to_the_last_bit() {
    let day = day();
    let sent: Vec<_> = day
        .iter()
        .map(|entry| {
            let mut buffer = [0; MAX_FRAME];
            match decode(encode(entry, &mut buffer).unwrap()) {
                Ok(Frame::Fact(read)) => read,
                other => panic!("{other:?}"),
            }
        })
        .collect();
    assert!(sent == day);
    let (typed, received) = (examined(&day), examined(&sent));
    assert!(told(&typed.facts()) == told(&received.facts()));
    // What an examination gives back is what it was given, whether it packed it or not.
    let kept: Vec<_> = typed.entries().map(|(_, _, entry)| entry).collect();
    assert!(kept == day);
    assert_eq!(typed.last() as usize, day.len());
}

#[test]
fn a_day_in_inches_has_the_findings_of_the_same_day_in_millimetres() {
    let metric = written(millimetres);
    let with_units = written(|thousandths| format!("{}in", inches(thousandths)));
    let by_default = format!("units in\n{}", written(inches));
    let [metric, with_units, by_default] =
        [&metric, &with_units, &by_default].map(|job| told(&examined(&facts_of(job)).facts()));
    assert!(metric == with_units);
    // One entry more moves the numbers that some reasons hold.
    assert!(metric != by_default);
    assert_eq!(difference(&without_numbers(&metric), &without_numbers(&by_default)), None);
}
