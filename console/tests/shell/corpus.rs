//! Lines that the language has to take, and what becomes of them when they are written again.

use halfskip::record::entry::{Backing, Entry, LengthUnit, TimebaseKnown, frame};
use halfskip_console::commands::parse::{Line, Question, line};
use halfskip_console::commands::write;
use halfskip_console::commands::{self, help};

fn fact(text: &str) -> Entry {
    match line(text.as_bytes(), LengthUnit::Mm) {
        Ok(Some(Line::Fact(entry))) => entry,
        other => panic!("{text}: {other:?}"),
    }
}

fn written(entry: &Entry) -> String {
    let mut text = String::new();
    write::entry(&mut text, entry).unwrap();
    text
}

/// One line of each form that the language describes.
const FORMS: &str = r#"
title "Invented pipe weld"
examiner "A. Nobody" certificate="none, invented"
procedure "Invented procedure 1"
equipment "instrument" serial="0001"
note "a \"quoted\" word, a back\\slash, a # that is no comment"
date 2026-03-14
detail couplant is="water (invented)"
detail witness is="none"
units mm
units in
material steel
material steel attenuation=0.01dB/mm
material plate7 shear=3.24 long=5.92
material plate7 shear=3240m/s long=5920m/s attenuation=0.01dB/mm
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 crown=1.5 bead=6 excess=1 haz=10 backing=25x6
joint butt thickness=20 prep=single-u bevel=10 gap=0 land=2 radius=6 cap=24 curvature=around od=508
joint butt thickness=20 prep=double-j bevel=10 radius=6 curvature=along od=508 from=inside reach=ab
joint butt thickness=12.5mm prep=square backing=25x6mm
joint butt thickness=0.5in prep=double-v backing=1inx6mm reach=a
joint butt thickness=16 prep=single-bevel curvature=along od=20in from=outside reach=b
joint butt thickness=16 prep=double-bevel
joint butt thickness=16 prep=double-u
joint butt thickness=16 prep=single-j
joint butt thickness=20 prep=single-bevel bevel=45 gap=3 land=2 cap=28 crown=2 bevelled=a centre=-8.5
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 centre=0.1in
probe p60 angle=60 frequency=4 element=8x9
probe p60 angle=60deg frequency=4MHz element=8x9mm front=11 wedge=2.73 wedge-path=8
probe p45 angle=45 frequency=2.25 element=10 wedge=2730m/s wedge-slope=-0.0025 marked-at=20 at=35
timebase p60 path=25,100 time=17.31,63.75
timebase p60 path=1,4in time=17.31,63.75us
angle p60 depth=15 distance=26.3
dac p60 path=30 height=80 gain=38
dac p60 path=30 height=80% gain=38dB hole=3
dac p60 beyond=refuse
dac p60 beyond=hold
dac p60 beyond=slope
screen max=100
screen max=100 noise=5 reference=80
transfer p60 gain=2.5
transfer p60 gain=-1.5dB
transfer p60 block=40:41,80:47.5 part=36:42,72:49
transfer p60 block=40:41,80mm:47.5dB part=1.5:42,3in:49dB
scanning p60 margin=6
check p60 path=100 shown=99.2 height=78 gain=38
check p60 path=100 shown=99.2
linearity screen large=100,80,60 small=50,40,30
linearity screen large=100,80,60 small=50,40,30 window=t9074
linearity screen large=100,80,60% small=50,40,30% window=5%
linearity gain set=80,80 change=-6,-12 shown=40,20
linearity gain set=80,80 change=-6,-12dB shown=40,20 window=4
tolerance angle=2 path=0.5 index=1 standoff=1 thickness=0.3 height=5
tolerance velocity=0.03 range=2% sensitivity=2dB
reading 1 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44
reading 1 probe=p60 side=b x=-4.75in standoff=31mm time=22.7us height=over gain=44dB skew=-10
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=under gain=44 face=far thickness=19.8
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 sweep=along
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 sweep=across
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 sweep=swivel skew=5
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 sweep=orbit
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 point=corner together=1
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 point=upper-tip together=255
reading 2 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 point=lower-tip face=near
reading "odd # name" probe="p=60" side=a x=0 standoff=0 path=1e1 height=76 gain=44
observe 1 swivel=ragged orbit=smooth tip=seen damped=yes like-clean-length=no
observe 1 swivel=steady
observe 1 tip=not-seen damped=no like-clean-length=yes
criteria sheet.toml
criteria "two words.toml"
technique sheet.toml
void 7 reason="probe was not coupled"
"#;

/// Lines of simulated examinations of a plate with a slot.
const SIMULATED: &str = r#"
title "Simulated plate 16 mm"
note "readings from a two-dimensional elastic wave simulation"
units mm
material steel
joint butt thickness=16 prep=square gap=0 cap=6 haz=10
probe p45 angle=45 frequency=4 element=9x9 front=8
angle p45 depth=10 distance=10
dac p45 path=12.64 height=78.2 gain=40
reading 1 probe=p45 side=a x=100 standoff=13 path=20.41 height=73.8 gain=35 point=corner together=1
reading 1 probe=p45 side=a x=100 standoff=13 path=18.34 height=79.1 gain=59 point=upper-tip together=1
reading 1 probe=p45 side=a x=100 standoff=5 path=7.36 height=80 gain=60 point=upper-tip
reading 1 probe=p70 side=b x=100 standoff=28 path=29.82 height=75.5 gain=50 point=lower-tip
reading 1 probe=p45 side=a x=100 standoff=9 path=12.27 height=73 gain=47 sweep=across
"#;

fn lines(text: &'static str) -> impl Iterator<Item = &'static str> {
    text.lines().filter(|line| !line.is_empty())
}

#[test]
fn every_form_is_taken_and_reads_the_same_when_written_again() {
    for text in lines(FORMS).chain(lines(SIMULATED)) {
        let entry = fact(text);
        let canonical = written(&entry);
        for default in [LengthUnit::Mm, LengthUnit::In] {
            assert_eq!(
                line(canonical.as_bytes(), default),
                Ok(Some(Line::Fact(entry.clone()))),
                "{canonical}"
            );
        }
        assert_eq!(written(&fact(&canonical)), canonical);
        let mut buffer = [0; frame::MAX_FRAME];
        let frame = frame::encode(&entry, &mut buffer).unwrap();
        assert_eq!(frame::decode(frame), Ok(frame::Frame::Fact(entry)), "{text}");
    }
}

#[test]
fn the_example_of_every_verb_is_taken() {
    for verb in commands::all() {
        for form in verb.forms {
            let parsed = line(form.example.as_bytes(), LengthUnit::Mm);
            assert!(matches!(parsed, Ok(Some(_))), "{}: {parsed:?}", form.example);
            assert!(form.example.starts_with(verb.word));
        }
    }
}

#[test]
fn the_order_of_keys_is_free() {
    let usual = fact("reading 1 probe=p60 side=a x=120 standoff=31 path=36.9 height=76 gain=44 skew=3");
    let other = fact("reading skew=3 gain=44 height=76 path=36.9 standoff=31 x=120 side=a probe=p60 1");
    assert_eq!(usual, other);
}

#[test]
fn a_bare_length_takes_the_unit_of_the_session() {
    let Ok(Some(Line::Fact(Entry::Joint(joint)))) = line(
        b"joint butt thickness=0.5 prep=square gap=2mm backing=1x.25 od=10 curvature=along",
        LengthUnit::In,
    ) else {
        panic!("not a joint");
    };
    assert_eq!(joint.thickness.quantity().get(), 12.7);
    assert_eq!(joint.gap.unwrap().quantity().get(), 2.0);
    let Backing { width, height } = joint.backing.unwrap();
    assert_eq!((width.quantity().get(), height.quantity().get()), (25.4, 6.35));
    let Ok(Some(Line::Fact(Entry::Timebase(echoes)))) =
        line(b"timebase p path=25,100mm time=17,63", LengthUnit::In)
    else {
        panic!("not a time base");
    };
    let TimebaseKnown::Echoes { path, .. } = echoes.how else { panic!("stated") };
    assert_eq!(path.first().unwrap().quantity().get(), 25.0);
}

#[test]
fn what_was_typed_is_what_is_written() {
    for (typed, expected) in [
        ("angle p depth=15.0 distance=26.30", "angle p depth=15.0mm distance=26.30mm"),
        ("probe p angle=60 element=8x9 frequency=4", "probe p angle=60deg frequency=4MHz element=8mmx9mm"),
        ("transfer p part=36:42 block=40:41", "transfer p block=40mm:41dB part=36mm:42dB"),
        ("note \"a \\\\ b\"", "note \"a \\\\ b\""),
        ("criteria a\\b.toml", "criteria a\\b.toml"),
        ("check \"p 1\" path=100 shown=99 # drift", "check \"p 1\" path=100mm shown=99mm"),
        ("date 2024-02-29", "date 2024-02-29"),
        ("linearity screen large=100 small=50", "linearity screen large=100% small=50% window=t9074"),
    ] {
        assert_eq!(written(&fact(typed)), expected);
    }
}

#[test]
fn questions_are_told_from_facts() {
    let ask = |text: &str| match line(text.as_bytes(), LengthUnit::Mm) {
        Ok(Some(Line::Question(question))) => question,
        other => panic!("{text}: {other:?}"),
    };
    assert_eq!(ask("findings"), Question::Findings);
    assert_eq!(ask("help"), Question::Help(None));
    assert_eq!(ask("help dac # how"), Question::Help(Some("dac")));
    assert_eq!(ask("why 3b"), Question::Why("3b".try_into().unwrap()));
    assert!(matches!(ask("expect p60 side=b"), Question::Expect { .. }));
    assert_eq!(ask("\u{feff}findings"), Question::Findings);
    for text in ["", "   ", "\t# only a remark", "\r\n", "\n"] {
        assert_eq!(line(text.as_bytes(), LengthUnit::Mm), Ok(None));
    }
}

#[test]
fn help_shows_every_verb_and_every_key() {
    let mut all = String::new();
    help::answer(&mut all, None).unwrap();
    for verb in commands::all() {
        assert!(all.contains(&format!("\n  {:14}{}\n", verb.word, verb.about)), "{}", verb.word);
        let mut one = String::new();
        help::answer(&mut one, Some(verb.word)).unwrap();
        for form in verb.forms {
            assert!(one.contains(form.example.text()));
            assert!(form.expected.keys.iter().all(|key| one.contains(&format!("{}=", key.word))), "{one}");
        }
    }
}
