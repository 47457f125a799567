//! What a job costs as it grows: its text taken line by line, answers, voids, frames through `ingest`, coverage; and
//! each answer of a full examination.
//!
//! `cargo bench -p halfskip-host-tests --bench growth`. Best of three; the exponent is that from the smallest size to
//! the largest: 1 is in proportion.

use std::fmt::Write as _;
use std::hint::black_box;
use std::time::{Duration, Instant};

use halfskip::record::entry::frame::{MAX_FRAME, encode_numbered};
use halfskip_console::desk::console::Desk;
use halfskip_console::desk::link::ingest;
use halfskip_console::desk::{Lines, Outcome};
use halfskip_host_tests::frames::fact;

const SETTINGS: [&str; 6] = [
    "material steel",
    "joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24 haz=5",
    "probe p60 angle=60 frequency=4 element=8x9 front=11",
    "dac p60 path=20 height=80 gain=34",
    "dac p60 path=60 height=80 gain=42",
    "dac p60 path=130 height=80 gain=50",
];
const READINGS: [usize; 4] = [8_192, 16_384, 32_768, 65_536];
const INDICATIONS: [usize; 4] = [32, 64, 128, 256];
const SEEN: [usize; 4] = [4_096, 8_192, 16_384, 32_768];
const SET: [usize; 4] = [1_000, 2_000, 4_000, 8_000];
const CHECK: &str = "check p60 path=40 shown=40 height=80 gain=38";
const FULL: (usize, usize) = (65_536, 256);
const SECTION: &str = "section probe=p60 side=a";

fn main() {
    // `cargo test` builds benches and runs them with this argument.
    if std::env::args().any(|argument| argument == "--test") {
        return;
    }
    println!("{:<48}{:>9}{:>9}{:>9}{:>9}  exponent", "", "1x", "2x", "4x", "8x");
    row("lines split, 8 192 to 65 536 readings", READINGS, |count| {
        let text = lines(count, 256).join("\n");
        timed(|| text.lines().filter(|line| !line.is_empty()).count())
    });
    row("lines taken", READINGS, |count| {
        let lines = lines(count, 256);
        timed(|| desk(&lines))
    });
    row("half as many voids taken", READINGS, |count| {
        let voids = voids(count / 2);
        (0..3).map(|_| taken(&mut desk(&lines(count, 256)), &voids)).min().unwrap_or_default()
    });
    for (what, line, again) in [
        ("notes, all voided", "note \"invented\"", true),
        ("tolerances, all voided", "tolerance range=1", true),
        ("tolerances after a check", "tolerance range=1", false),
        ("what holds beyond the gain line after a check", "dac p60 beyond=hold", false),
        ("checks", CHECK, false),
    ] {
        row(&format!("1 000 to 8 000 {what}"), SET, |count| timed(|| desk(&settings(line, count, again))));
    }
    row("findings, of 256 indications", READINGS, |count| answer(&mut desk(&lines(count, 256)), "findings"));
    row("findings, 32 to 256 indications of 16 384", INDICATIONS, |count| {
        answer(&mut desk(&lines(16_384, count)), "findings")
    });
    row("findings, 32 to 256 indications of 64 each", INDICATIONS, |count| {
        answer(&mut desk(&lines(64 * count, count)), "findings")
    });
    row("the same, read one after the other", INDICATIONS, |count| {
        answer(&mut desk(&one_by_one(64 * count, count)), "findings")
    });
    row("findings by a sheet, all swept", READINGS, |count| {
        answer(&mut judged(&swept(count, 256)), "findings")
    });
    row("the same, 32 to 256 indications of 64 each", INDICATIONS, |count| {
        answer(&mut judged(&swept(64 * count, count)), "findings")
    });
    row("findings, 4 096 to 32 768 lines of what was seen", SEEN, |count| {
        answer(&mut desk(&observed(count)), "findings")
    });
    row("section, of 256 indications", READINGS, |count| answer(&mut desk(&lines(count, 256)), SECTION));
    row("why, one indication of 256", READINGS, |count| answer(&mut desk(&lines(count, 256)), "why 3"));
    row("list", READINGS, |count| answer(&mut desk(&lines(count, 256)), "list"));
    row("list, half of it voided", READINGS, |count| {
        let mut desk = desk(&lines(count, 256));
        taken(&mut desk, &voids(count / 2));
        answer(&mut desk, "list")
    });
    row("frames split at their ends", READINGS, |count| {
        let bytes = frames(count);
        timed(|| bytes.split(|byte| *byte == 0).filter(|frame| !frame.is_empty()).count())
    });
    row("frames through ingest", READINGS, |count| {
        let bytes = frames(count);
        timed(|| {
            let mut out = Vec::new();
            let done = ingest::file("frames".to_string(), bytes.as_slice(), &mut out, &mut std::io::sink());
            assert!(done.is_ok());
            out
        })
    });
    row("coverage, 1 to 8 probes", [1, 2, 4, 8], |count| {
        let mut lines: Vec<_> = SETTINGS[..2].iter().map(ToString::to_string).collect();
        for probe in 0..count {
            let (name, angle) = (format!("p{probe}"), 45.0 + 3.0 * probe as f64);
            lines.push(format!("probe {name} angle={angle} frequency=4 element=8x9 front=11"));
        }
        answer(&mut desk(&lines), "coverage")
    });
    full();
}

/// Every kind of answer, everything there being full: the indications read in turn; one after the other; and swept, by a
/// sheet that takes neighbours together, where all of them are neighbours.
fn full() {
    let (count, indications) = FULL;
    let mut desks = [
        desk(&lines(count, indications)),
        desk(&one_by_one(count, indications)),
        judged(&swept(count, indications)),
    ];
    println!(
        "\n{count} readings of {indications} indications: milliseconds to an answer, read in turn, one by one, and swept by a \
         sheet"
    );
    for question in [
        "status", "plan", "coverage", SECTION, "along", "beam p60", "sides 3", "size 3", "nature 3",
        "rate 3", "margin 3", "why 3", "list", "findings",
    ] {
        let times = desks.each_mut().map(|desk| answer(desk, question).as_secs_f64() * 1e3);
        let cells: String = times.iter().map(|time| format!("{time:>9.2}")).collect();
        println!("{question:<48}{cells}");
    }
}

/// The same one after the other, each indication in a sweep of its own along the weld.
fn swept(count: usize, indications: usize) -> Vec<String> {
    let one = |line: String| if line.starts_with("reading") { line + " sweep=along" } else { line };
    one_by_one(count, indications).into_iter().map(one).collect()
}

/// Lines of what was seen of 256 indications, in turn.
fn observed(count: usize) -> Vec<String> {
    let seen = (0..count).map(|i| format!("observe {} tip=not-seen damped=no", i % 256));
    lines(4_096, 256).into_iter().chain(seen).collect()
}

/// One line again and again behind a check, and each of them voided where that is asked.
fn settings(line: &str, count: usize, voided: bool) -> Vec<String> {
    let first = SETTINGS.len() + 2;
    let voids = (first..first + if voided { count } else { 0 }).map(|at| format!("void {at} reason=twice"));
    let before = SETTINGS.iter().copied().chain([CHECK]);
    let lines = before.chain(std::iter::repeat_n(line, count)).map(ToString::to_string);
    lines.chain(voids).collect()
}

fn voids(count: usize) -> Vec<String> {
    (0..count).map(|at| format!("void {} reason=\"twice\"", at + 7)).collect()
}

/// The readings of [`lines`], those of an indication one after the other, as examinations go.
fn one_by_one(count: usize, indications: usize) -> Vec<String> {
    let each = count / indications;
    readings((0..count).map(|i| i % each * indications + i / each), indications)
}

/// Invented readings of a 20 mm plate: each indication is seen from both sides, within a few millimetres of a place.
fn lines(count: usize, indications: usize) -> Vec<String> {
    readings(0..count, indications)
}

fn readings(order: impl Iterator<Item = usize>, indications: usize) -> Vec<String> {
    let mut lines: Vec<_> = SETTINGS.iter().map(ToString::to_string).collect();
    for i in order {
        let (id, step) = (i % indications, i / indications);
        let side = if step.is_multiple_of(2) { 'a' } else { 'b' };
        let standoff = 30.0 + (id * 7 % 300) as f64 / 10.0 + (step % 16) as f64 / 2.0;
        let path = 40.0 + (id * 31 % 300) as f64 / 10.0 + (step % 16) as f64 * 0.3;
        let (x, height, gain) = (id * 40 + step % 64, 10 + i * 13 % 80, 40 + i % 5);
        let mut line = format!("reading {id} probe=p60 side={side} x={x} standoff={standoff:.1} ");
        let _ = write!(line, "path={path:.1} height={height} gain={gain}");
        lines.push(line);
    }
    lines
}

fn frames(count: usize) -> Vec<u8> {
    let mut bytes = Vec::new();
    for (number, line) in (1..).zip(lines(count, 256)) {
        let mut frame = [0; MAX_FRAME];
        bytes.extend_from_slice(encode_numbered(number, &fact(&line), &mut frame).expect("a frame"));
    }
    bytes
}

fn desk(lines: &[String]) -> Desk {
    let mut desk = Desk::new(None);
    taken(&mut desk, lines);
    desk
}

/// By the demonstration's sheet.
fn judged(lines: &[String]) -> Desk {
    let mut desk = Desk::with_sheet(("sheet", include_str!("../../examples/criteria/demonstration.toml")));
    taken(&mut desk, &["criteria sheet".to_string()]);
    taken(&mut desk, lines);
    desk
}

/// The time in which lines are taken; none is refused.
fn taken(desk: &mut Desk, lines: &[String]) -> Duration {
    let began = Instant::now();
    for line in lines {
        let mut said = String::new();
        let outcome = desk.line(line.as_bytes(), &mut said);
        assert!(matches!(outcome, Outcome::Recorded), "{line}: {said}");
    }
    began.elapsed()
}

fn answer(desk: &mut Desk, question: &str) -> Duration {
    timed(|| {
        let mut said = String::new();
        let outcome = desk.line(question.as_bytes(), &mut said);
        assert!(matches!(outcome, Outcome::Answered), "{question}: {said}");
        said
    })
}

fn timed<T>(mut work: impl FnMut() -> T) -> Duration {
    let one = |_| {
        let began = Instant::now();
        black_box(work());
        began.elapsed()
    };
    (0..3).map(one).min().unwrap_or_default()
}

fn row(what: &str, sizes: [usize; 4], time: impl Fn(usize) -> Duration) {
    let seconds = sizes.map(|size| time(size).as_secs_f64());
    let exponent = (seconds[3] / seconds[0]).log2() / 3.0;
    let cells: String = seconds.iter().map(|one| format!("{:>9.2}", one * 1e3)).collect();
    println!("{what:<48}{cells}  {exponent:.2}");
}
