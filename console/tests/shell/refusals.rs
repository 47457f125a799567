//! What the language refuses, and the one line that it says then.

use halfskip::record::entry::LengthUnit;
use halfskip_console::commands::parse::line;

fn refusal(text: &str) -> String {
    match line(text.as_bytes(), LengthUnit::Mm) {
        Err(refusal) => refusal.to_string(),
        Ok(taken) => panic!("{text}: taken as {taken:?}"),
    }
}

const READING: &str = "reading 1 probe=p60 side=a x=120 standoff=31 height=76 gain=44";

#[test]
fn each_refusal_names_place_fault_and_what_is_expected() {
    for (text, expected) in [
        ("raeding 1", "column 1: 'raeding' is no verb; did you mean reading?"),
        ("xyzzy", "column 1: 'xyzzy' is no verb; help lists them"),
        ("path=3", "column 1: 'path' is no verb; help lists them"),
        ("exit", "column 1: 'exit' is no verb; Ctrl-D ends the session"),
        ("angle p60 dept=15 distance=26", "column 11: 'dept' is no key of angle; did you mean depth?"),
        ("angle p60 colour=red", "column 11: 'colour' is no key of angle; help angle lists them"),
        ("angle p60 depth=15 depth=16", "column 20: depth= stands here a second time"),
        ("angle p60 depth=15", "column 19: angle is not complete; expected also distance="),
        (
            "angle depth=15 distance=26",
            "column 27: angle is not complete; expected angle NAME, a name of up to 16 bytes",
        ),
        ("dac p60", "column 8: dac is not complete; expected also path=, height=, gain=, or beyond= alone"),
        ("dac p60 path=30", "column 16: dac is not complete; expected also height=, gain="),
        (
            "dac p60 beyond=hold path=30",
            "column 16: beyond= stands alone; expected no other key of dac beside it",
        ),
        (
            "dac p60 beyond=held",
            "column 16: beyond is 'held'; expected refuse, hold or slope; did you mean hold?",
        ),
        ("joint", "column 6: joint is not complete; expected joint butt"),
        (
            "joint but thickness=3",
            "column 7: 'but' is not known behind joint; expected joint butt; did you mean butt?",
        ),
        ("linearity", "column 10: linearity is not complete; expected linearity screen or linearity gain"),
        ("angle p60 depth=36deg distance=26", "column 19: depth is not measured in 'deg'; expected mm or in"),
        ("scanning p60 margin=6mm", "column 22: margin is not measured in 'mm'; expected dB"),
        ("angle p60 depth=deep distance=26", "column 17: depth is 'deep'; expected a number in mm or in"),
        ("angle p60 depth=nan distance=26", "column 17: depth is 'nan'; expected a number in mm or in"),
        ("angle p60 depth= distance=26", "column 17: depth is empty; expected a number in mm or in"),
        (
            "angle p60 depth=\"15\" distance=26",
            "column 17: depth takes no quotes; expected a number in mm or in",
        ),
        ("angle p60 depth=-15 distance=26", "column 17: depth -15 mm is outside 0.1 to 1000 mm"),
        ("angle p60 depth=100in distance=26", "column 17: depth 2540 mm is outside 0.1 to 1000 mm"),
        (
            "angle p60 depth=1e99 distance=26",
            "column 17: depth: '1e99' is too large or too small to be a reading",
        ),
        ("angle p60 depth=1e10 distance=26", "column 17: depth 10000000000 mm is outside 0.1 to 1000 mm"),
        (
            "angle p60 depth=1.2345678 distance=26",
            "column 17: depth: '1.2345678' has more than seven significant digits",
        ),
        (
            "angle p60 depth=1.2.3 distance=26",
            "column 17: depth: '1.2.3' is not a number; expected digits such as 36.9",
        ),
        ("angle p60 depth = 15", "column 11: depth is a key; expected depth=value without blanks"),
        (
            "angle p60 depth=15 mm distance=26",
            "column 20: 'mm' is one word too many; expected key=value, quotes around several words, a unit right behind its number",
        ),
        (
            "title Weld 7",
            "column 12: '7' is one word too many; expected key=value, quotes around several words, a unit right behind its number",
        ),
        ("reading 1 probe=p#2 side=a", "column 18: # inside a word; expected quotes, or a blank before it"),
        ("title \"Weld", "column 7: the quote opened here is not closed"),
        ("title \"Weld\\n\"", "column 12: only \\\" and \\\\ are taken behind a backslash in quotes"),
        ("title \"ü\" \u{1}", "column 11: line holds a control code"),
        ("probe seventeen-letters angle=60", "column 7: NAME is longer than 16 bytes"),
        ("beam seventeen-letters", "column 6: NAME is longer than 16 bytes"),
        ("beam \"\"", "column 7: NAME is empty; expected a name of up to 16 bytes"),
        ("void 0 reason=\"x\"", "column 6: N is '0'; expected a whole number from 1 to 4294967295"),
        ("void 7", "column 7: void is not complete; expected also reason="),
        ("void 7 reason=\"\"", "column 16: reason is empty; expected a text in quotes, up to 120 bytes"),
        ("date 2026-02-29", "column 6: no such day from 1900 to 9999; expected a day such as 2026-03-14"),
        ("date 14.3.2026", "column 6: DATE is '14.3.2026'; expected a day such as 2026-03-14"),
        ("units cm", "column 7: UNIT is 'cm'; expected mm or in"),
        ("help raeding", "column 6: 'raeding' is no verb; did you mean reading?"),
        (
            "observe 1",
            "column 10: observe says nothing; expected at least one of swivel=, orbit=, tip=, damped=, like-clean-length=",
        ),
        ("material m shear=3.2", "column 21: shear=, long= come all together or not at all"),
        ("check p path=100 shown=99 height=80", "column 36: height=, gain= come all together or not at all"),
    ] {
        assert_eq!(refusal(text), expected, "{text}");
    }
}

#[test]
fn a_reading_has_a_path_or_a_time() {
    let neither = "column 63: reading takes exactly one of path=, time=";
    assert_eq!(refusal(READING), neither);
    assert!(
        refusal(&format!("{READING} path=3 time=4")).ends_with("reading takes exactly one of path=, time=")
    );
}

#[test]
fn values_of_a_reading_are_held_to_their_ranges() {
    for (keys, expected) in [
        ("path=0", "path 0 mm is outside 0.01 to 10000 mm"),
        ("path=36deg", "path is not measured in 'deg'; expected mm or in"),
        ("path=3 together=0", "together is '0'; expected a whole number from 1 to 255"),
        ("path=3 together=256", "together is '256'; expected a whole number from 1 to 255"),
        ("path=3 skew=90", "skew 90 deg is outside -89 to 89 deg"),
        ("path=3 point=tip", "point is 'tip'; expected corner, upper-tip or lower-tip"),
        ("path=3 face=farr", "face is 'farr'; expected near or far; did you mean far?"),
        ("path=3 thickness=-1", "thickness -1 mm is outside 0.5 to 1000 mm"),
    ] {
        let told = refusal(&format!("{READING} {keys}"));
        assert!(told.ends_with(&format!(": {expected}")), "{told}");
    }
    let told = refusal("reading 1 probe=p side=a x=0 standoff=31 path=3 height=ovr gain=44");
    assert_eq!(
        told,
        "column 56: height is 'ovr'; expected a number in %, or over or under; did you mean over?"
    );
}

#[test]
fn lists_are_held_to_their_lengths_and_units() {
    for (text, expected) in [
        ("timebase p path=25 time=17", "path takes 2 to 8 values"),
        ("timebase p path=1,2,3,4,5,6,7,8,9 time=1,2", "path takes 2 to 8 values"),
        (
            "timebase p path=25,100 time=17,63,80",
            "path has 2 values and time has 3; expected as many of each",
        ),
        (
            "timebase p path=25,,100 time=17,63",
            "path is empty; expected 2 to 8 numbers in mm or in with commas between",
        ),
        (
            "timebase p path=25, time=17,63",
            "path is empty; expected 2 to 8 numbers in mm or in with commas between",
        ),
        (
            "timebase p path=25mm,100 time=17,63",
            "path: the last number has no unit; expected one behind the last, or none",
        ),
        ("timebase p path=25,100deg time=17,63", "path is not measured in 'deg'; expected mm or in"),
        (
            "transfer p block=40:41,80 part=1:2",
            "block is '40:41,80'; expected 1 to 4 pairs such as 40:41, in mm or in and dB, with commas between",
        ),
        (
            "transfer p block=40:41:4 part=1:2",
            "block is '40:41:4'; expected 1 to 4 pairs such as 40:41, in mm or in and dB, with commas between",
        ),
        ("transfer p block=1:2,1:2,1:2,1:2,1:2 part=1:2", "block takes 1 to 4 values"),
        ("transfer p", "transfer is not complete; expected also block=, part=, or gain= alone"),
        (
            "probe p angle=60 frequency=4 element=8mmx9",
            "element: the last number has no unit; expected one behind the last, or none",
        ),
        (
            "probe p angle=60 frequency=4 element=8x9x3",
            "element is '8x9x3'; expected two dimensions such as 8x9, or one number for a round one, in mm or in",
        ),
        (
            "joint butt thickness=20 prep=square backing=25",
            "backing is '25'; expected two dimensions such as 25x6, in mm or in",
        ),
        (
            "probe p angle=60 frequency=4 element=8 at=20",
            "wedge-slope=, marked-at=, at= come all together or not at all",
        ),
        ("joint butt thickness=20 prep=square od=500", "curvature=, od= come all together or not at all"),
        ("joint butt thickness=20 prep=square from=inside", "from= needs curvature= beside it"),
        (
            "joint butt thickness=20 prep=v",
            "prep is 'v'; expected square, single-v, double-v, single-bevel, double-bevel, single-u, double-u, single-j or double-j",
        ),
    ] {
        let told = refusal(text);
        assert!(told.ends_with(&format!(": {expected}")), "{told}");
    }
}

#[test]
fn a_text_may_have_its_full_length_and_no_more() {
    let text = |length| format!("note \"{}\"", "n".repeat(length));
    assert!(line(text(120).as_bytes(), LengthUnit::Mm).is_ok());
    assert_eq!(refusal(&text(121)), "column 7: TEXT is longer than 120 bytes");
}

#[test]
fn bytes_that_are_no_text_are_refused_whatever_they_are() {
    for bytes in [&b"title \"\xff\""[..], b"title \"\0\"", b"title \xc3", &[b'x'; 1 << 20]] {
        assert!(line(bytes, LengthUnit::Mm).is_err());
    }
}
