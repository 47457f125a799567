//! A million reading lines through `halfskip run --stream -`: time and memory, beside a pass that only splits the lines.
//!
//! `cargo build --release`, then `cargo bench -p halfskip-host-tests --bench stream`.

use std::fmt::Write as _;
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const LINES: usize = 1_000_000;

const SETTINGS: &str = "\
material steel
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24
probe p60 angle=60 frequency=4 element=8x9 front=11
dac p60 path=20 height=80 gain=34
dac p60 path=60 height=80 gain=42
dac p60 path=130 height=80 gain=50
";

fn main() {
    let text = job(LINES);
    let began = Instant::now();
    let split =
        BufReader::new(text.as_bytes()).lines().map_while(Result::ok).filter(|line| !line.is_empty()).count();
    let splitting = began.elapsed();
    let program = program();
    let (few, _, few_peak) = streamed(&program, job(LINES / 10));
    let (all, answers, peak) = streamed(&program, text);
    assert_eq!(answers, LINES);
    let memory = |peak: Option<u64>| peak.map_or("not told".to_string(), |kib| format!("{kib} KiB"));
    println!("  lines  work                    seconds  peak memory");
    println!("{split:>7}  split into lines only   {:>7.3}", splitting.as_secs_f64());
    println!("{:>7}  run --stream -          {:>7.3}  {}", LINES / 10, few.as_secs_f64(), memory(few_peak));
    println!("{LINES:>7}  run --stream -          {:>7.3}  {}", all.as_secs_f64(), memory(peak));
}

/// Invented readings of a 20 mm plate, legs 1 to 3.
fn job(lines: usize) -> String {
    let mut text = String::from(SETTINGS);
    for i in 0..lines {
        let side = if i % 2 == 0 { 'a' } else { 'b' };
        let (standoff, path) = (20.0 + (i * 7 % 800) as f64 / 10.0, 21.0 + (i * 31 % 990) as f64 / 10.0);
        let (id, x, height, gain) = (i % 20, i % 3000, 10 + i * 13 % 80, 40 + i % 5);
        let _ = write!(text, "reading {id} probe=p60 side={side} x={x} standoff={standoff:.1} ");
        let _ = writeln!(text, "path={path:.2} height={height} gain={gain}");
    }
    text
}

/// The release build that lies beside this benchmark.
fn program() -> PathBuf {
    let own = std::env::current_exe().expect("this benchmark has a path");
    let release = own.ancestors().find(|folder| folder.ends_with("release")).expect("a release folder");
    release.join("halfskip")
}

/// Peak memory of a process in KiB, where the system tells it.
fn peak_memory(process: u32) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

/// Seconds, answered lines and peak memory of one run.
fn streamed(program: &Path, text: String) -> (Duration, usize, Option<u64>) {
    let began = Instant::now();
    let mut child = Command::new(program)
        .args(["run", "--stream", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program was built with --release");
    let mut input = child.stdin.take().expect("a pipe");
    let writer = std::thread::spawn(move || input.write_all(text.as_bytes()).expect("it reads its input"));
    let mut output = child.stdout.take().expect("a pipe");
    let (mut block, mut blocks, mut answers, mut peak) = (vec![0u8; 1 << 16], 0usize, 0, None);
    loop {
        let count = output.read(&mut block).expect("it writes");
        if count == 0 {
            break;
        }
        answers += block.iter().take(count).filter(|byte| **byte == b'\n').count();
        blocks += 1;
        if blocks.is_multiple_of(256) {
            peak = peak_memory(child.id()).or(peak);
        }
    }
    writer.join().expect("the writer ends");
    assert!(child.wait().expect("it ends").success());
    (began.elapsed(), answers, peak)
}
