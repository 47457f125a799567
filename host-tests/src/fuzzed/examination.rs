//! Whole examinations from a fuzzer's choices, and what holds of every one.

use std::fmt::Write;

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet};
use halfskip::record::entry::frame::{self, Frame};
use halfskip_console::sheets::OneSheet;
use halfskip_console::sheets::criteria as sheet;
use halfskip_console::shell::{Outcome, Shell};

use crate::figures;

type Kept = Shell<OneSheet<DEFAULT_ROWS>>;

/// The one sheet that there is.
pub(super) fn kept() -> OneSheet<DEFAULT_ROWS> {
    OneSheet { name: "kept.toml", sheet: read() }
}

fn read() -> Sheet<DEFAULT_ROWS> {
    sheet::read(include_str!("../../../examples/criteria/demonstration.toml")).expect("a sheet")
}

/// Choices drawn from a fuzzer's bytes; a byte that is not there counts as zero.
struct Choices<'a>(&'a [u8]);

impl Choices<'_> {
    fn byte(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    fn of<'c>(&mut self, choices: &[&'c str]) -> &'c str {
        choices[usize::from(self.byte()) % choices.len()]
    }

    /// A number near enough to what is asked that it often passes, with an odd one now and then.
    fn number(&mut self, low: f32, high: f32) -> String {
        match self.byte() {
            0 => self.of(&["0", "-1", "1e9", "0.000001", "99999999", "nan", "inf", "1mm", ""]).to_string(),
            byte => {
                let part = (f32::from(byte) * 256.0 + f32::from(self.byte())) / 65_536.0;
                format!("{:.3}", low + part * (high - low))
            }
        }
    }
}

/// A line of the language by choice: facts in no sensible order, with values that mostly can be.
fn line(choices: &mut Choices<'_>, last: u32) -> String {
    let probe = choices.of(&["p", "q", "r"]);
    match choices.byte() % 20 {
        0 => format!("units {}", choices.of(&["mm", "in"])),
        1 => format!("material m shear={} long={}", choices.number(2.0, 4.0), choices.number(4.0, 7.0)),
        2 | 3 => {
            let prep =
                choices.of(&["square", "single-v", "double-v", "single-bevel", "single-u", "double-j"]);
            let mut joint = format!("joint butt thickness={} prep={prep}", choices.number(4.0, 80.0));
            for (key, low, high) in [
                ("bevel", 0.0, 50.0),
                ("gap", 0.0, 5.0),
                ("land", 0.0, 5.0),
                ("cap", 2.0, 60.0),
                ("crown", 0.0, 4.0),
                ("bead", 2.0, 12.0),
                ("excess", 0.0, 4.0),
                ("haz", 0.0, 20.0),
            ] {
                if !choices.byte().is_multiple_of(3) {
                    let _ = write!(joint, " {key}={}", choices.number(low, high));
                }
            }
            joint
                + choices.of(&[
                    "",
                    "",
                    " curvature=around od=300",
                    " curvature=along od=300",
                    " counterbore=30x2",
                ])
        }
        4 | 5 => {
            let angle = choices.of(&["45", "60", "70", "1", "89"]);
            let more = choices.of(&["", " front=10", " wedge=2.73", " wedge=2.73 front=8 wedge-path=9"]);
            format!("probe {probe} angle={angle} frequency={} element=8x9{more}", choices.number(1.0, 6.0))
        }
        6 => format!("timebase {probe} path=25,100 time=17,{}", choices.number(50.0, 80.0)),
        7 => format!(
            "angle {probe} depth={} distance={}",
            choices.number(5.0, 50.0),
            choices.number(5.0, 150.0)
        ),
        8 | 9 => format!(
            "dac {probe} path={} height={} gain={}",
            choices.number(5.0, 200.0),
            choices.number(20.0, 100.0),
            choices.number(20.0, 80.0)
        ),
        10 => format!("dac {probe} beyond={}", choices.of(&["hold", "slope"])),
        11 => format!("transfer {probe} gain={}", choices.number(-5.0, 10.0)),
        12 => format!("screen max={} noise={}", choices.number(60.0, 120.0), choices.number(0.0, 20.0)),
        13 => format!(
            "check {probe} path=100 shown={} height=80 gain={}",
            choices.number(95.0, 105.0),
            choices.number(30.0, 60.0)
        ),
        14 => "criteria kept.toml".to_string(),
        15 => format!("void {} reason=\"drawn\"", u32::from(choices.byte()) % last.max(1) + 1),
        _ => {
            let travel = if choices.byte().is_multiple_of(4) {
                format!("time={}", choices.number(5.0, 90.0))
            } else {
                format!("path={}", choices.number(5.0, 200.0))
            };
            let height = match choices.byte() % 8 {
                0 => "over".to_string(),
                1 => "under".to_string(),
                _ => choices.number(5.0, 110.0),
            };
            format!(
                "reading {} probe={probe} side={} x={} standoff={} {travel} height={height} gain={}{}{}{}",
                choices.of(&["1", "2", "3"]),
                choices.of(&["a", "b"]),
                choices.number(0.0, 300.0),
                choices.number(0.0, 150.0),
                choices.number(20.0, 80.0),
                choices.of(&["", "", " sweep=along", " sweep=across", " sweep=swivel skew=5"]),
                choices.of(&["", "", " point=corner", " point=upper-tip", " point=lower-tip"]),
                choices.of(&["", "", " together=1", " face=far", " thickness=12"]),
            )
        }
    }
}

/// The examination that a fuzzer's bytes stand for.
#[must_use]
pub fn lines(data: &[u8]) -> Vec<String> {
    let mut choices = Choices(data);
    let mut lines = Vec::new();
    while !choices.0.is_empty() && lines.len() < 60 {
        lines.push(line(&mut choices, lines.len() as u32));
    }
    lines
}

/// A whole examination: every line recorded is listed, the findings are finite, they are the same after the job was kept
/// and read again and after a way through frames, `accept` has a row and determined inputs, and when everything is voided
/// nothing is left.
///
/// # Panics
/// When one of them does not hold.
pub fn examination(data: &[u8]) {
    let mut shell: Box<Kept> = Box::new(Shell::new(kept()));
    for line in lines(data) {
        let before = told(&shell, "list");
        match shell.line(line.as_bytes(), &mut String::new()) {
            Outcome::Recorded(number) => {
                let list = told(&shell, "list");
                assert!(
                    list.lines().any(|entry| entry.trim_start().starts_with(&format!("{number} "))),
                    "{list}"
                );
            }
            _ => assert_eq!(before, told(&shell, "list"), "refused, and something changed: {line}"),
        }
    }
    the_same_when_kept(&shell);
    sound(&shell);
    voided(&mut shell);
}

fn told(shell: &Kept, question: &str) -> String {
    let mut answer = String::new();
    shell.ask(question.as_bytes(), &mut answer);
    answer
}

fn figured(shell: &Kept) -> String {
    let mut all = String::new();
    let written = shell.evaluated(|findings| figures::write(findings, &mut all));
    written.expect("nobody evaluates it").expect("a string takes it");
    all
}

fn all_told(shell: &Kept) -> String {
    let mut all = figured(shell);
    for question in ["findings", "locate", "list", "coverage", "plan", "section"] {
        all += &told(shell, question);
    }
    all
}

/// What is recorded says the same after a way through the job's text, and through frames.
pub(super) fn the_same_when_kept(shell: &Kept) {
    let (mut by_text, mut by_frame): (Box<Kept>, Box<Kept>) =
        (Box::new(Shell::new(kept())), Box::new(Shell::new(kept())));
    let (mut buffer, mut text) = ([0; frame::MAX_FRAME], String::new());
    for (number, _, entry) in shell.examination().entries() {
        text.clear();
        halfskip_console::commands::write::entry(&mut text, &entry).expect("a string takes it");
        let outcome = by_text.line(text.as_bytes(), &mut String::new());
        assert_eq!(outcome, Outcome::Recorded(number), "{text}");
        let bytes = frame::encode(&entry, &mut buffer).expect("an entry has room");
        let Ok(Frame::Fact(entry)) = frame::decode(bytes) else { panic!("{text}: {bytes:?}") };
        assert_eq!(by_frame.record(entry, &mut String::new()), Outcome::Recorded(number), "{text}");
    }
    let all = all_told(shell);
    assert_eq!(all, all_told(&by_text), "kept as text");
    assert_eq!(all, all_told(&by_frame), "kept as frames");
}

fn sound(shell: &Kept) {
    let facts = shell.examination().facts();
    let all = figured(shell);
    for word in all.split(|c: char| !c.is_ascii_alphanumeric() && c != '-') {
        assert!(!matches!(word, "NaN" | "-NaN" | "inf" | "-inf"), "{all}");
    }
    for (indication, name) in (0u8..).zip(facts.indications()) {
        let said = told(shell, &format!("rate {name}"));
        if said.lines().next().is_some_and(|line| line.contains(": accept")) {
            assert!(shell.sheet().is_some(), "{said}");
            for reading in facts.readings_of(indication) {
                let found = halfskip::findings::evaluate(&facts, reading);
                assert!(
                    found.level.is_ok() && found.place.is_ok(),
                    "accepted without a level or a place: {said}"
                );
                assert_eq!(halfskip::findings::suspicion(&facts, reading), None, "{said}");
            }
        }
    }
}

fn voided(shell: &mut Kept) {
    let void: Vec<u32> = shell
        .examination()
        .entries()
        .filter(|(_, voided, entry)| !voided && !matches!(entry, halfskip::record::entry::Entry::Void { .. }))
        .map(|(number, ..)| number)
        .collect();
    for number in void {
        let outcome = shell.line(format!("void {number} reason=\"all\"").as_bytes(), &mut String::new());
        // A full log keeps what it has.
        if !matches!(outcome, Outcome::Recorded(_)) {
            return;
        }
    }
    let empty: Box<Kept> = Box::new(Shell::new(kept()));
    // The cautions name what was voided; nothing else is left of it.
    let findings = |shell: &Kept| told(shell, "findings").split("Cautions").next().map(str::to_string);
    assert_eq!(findings(shell), findings(&empty), "all is voided");
}
