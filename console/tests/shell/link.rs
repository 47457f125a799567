//! A program and a device over a pseudo-terminal: facts go over whole, once and in order, whatever the line does.

use std::fs;
use std::io::Cursor;
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::device::{Device, Line};
use halfskip::record::entry::Entry;
use halfskip::record::entry::frame::{MAX_FRAME, encode, encode_numbered};
use halfskip_console::commands::write;
use halfskip_console::desk::exit::{Exit, Stop};
use halfskip_console::desk::link::facts::{Fact, Facts};
use halfskip_console::desk::link::record::Record;
use halfskip_console::desk::link::{ingest, open, send, serial::Talk};
use halfskip_console::port::Station;

const PATIENCE: Duration = Duration::from_secs(20);
const NAMES: (&str, &str) = ("day.job", "port");

/// An invented job of many facts.
fn job() -> String {
    let mut lines = String::from(
        "title \"Invented\"\nunits in\nprobe p60 angle=60 frequency=4 element=8x9mm\nunits mm\n",
    );
    lines += "joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=24\n";
    for path in [30, 50, 80, 120] {
        lines += &format!("dac p60 path={path} height=80 gain={}\n", 30 + path / 10);
    }
    for reading in 0..40 {
        lines += &format!(
            "reading {} probe=p60 side=a x={}.5 standoff=31 path=36.9 height=76 gain=44\n",
            reading % 7,
            reading * 3
        );
    }
    lines + "void 5 reason=\"typed wrong\"\n"
}

fn facts(lines: &str) -> Vec<Fact> {
    let mut facts = Facts::default();
    for line in lines.lines() {
        facts.take(line.as_bytes(), &mut String::new());
    }
    facts.into_facts()
}

fn held(station: &impl Station) -> Vec<Entry> {
    (1..=station.last()).map(|number| station.entry(number).unwrap()).collect()
}

fn entries(lines: &str) -> Vec<Entry> {
    facts(lines).into_iter().map(|fact| fact.entry).collect()
}

/// The lines of entries as the program writes them.
fn written(entries: &[Entry]) -> String {
    let mut text = String::new();
    for entry in entries {
        write::entry(&mut text, entry).unwrap();
        text.push('\n');
    }
    text
}

fn sent(device: &Device, lines: &str, patience: Duration) -> Result<u32, Stop> {
    send::send(&facts(lines), NAMES, open(&device.path).unwrap(), patience)
}

fn ingested(device: &Device) -> (Result<Exit, Stop>, String, String) {
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let exit = ingest::device("port".into(), open(&device.path).unwrap(), &mut out, &mut errors);
    (exit, String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
}

fn failure(stop: Result<u32, Stop>) -> String {
    match stop {
        Err(Stop::Failed(message)) => message,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_job_is_sent_and_comes_back_the_same() {
    let device = Device::plugged("", Line::default());
    assert_eq!(sent(&device, &job(), PATIENCE), Ok(50));
    // Sent again it changes nothing.
    assert_eq!(sent(&device, &job(), PATIENCE), Ok(0));
    let (exit, lines, errors) = ingested(&device);
    assert_eq!((exit, lines), (Ok(Exit::Done), written(&entries(&job()))));
    assert!(!errors.contains("skipped"), "{errors}");
    assert_eq!(held(&*device.unplug()), entries(&job()));
}

#[test]
fn noise_costs_time_and_no_fact() {
    let device = Device::plugged("", Line { noise: 200, ..Line::default() });
    // Patience is short, since every disturbed frame is waited for.
    let mut taken = 0;
    for _ in 0..20 {
        match sent(&device, &job(), Duration::from_millis(150)) {
            Ok(more) => {
                taken += more;
                break;
            }
            Err(Stop::Failed(why)) => assert!(why.contains("does not answer"), "{why}"),
            Err(other) => panic!("{other:?}"),
        }
    }
    assert!(taken > 0);
    let (exit, lines, _) = ingested(&device);
    assert_eq!(lines, written(&entries(&job())));
    assert!(matches!(exit, Ok(Exit::Done | Exit::BadInput)));
    assert_eq!(held(&*device.unplug()), entries(&job()));
}

#[test]
fn a_slow_device_is_waited_for() {
    let device = Device::plugged("", Line { pause: Duration::from_millis(2), ..Line::default() });
    let lines: String = job().lines().take(12).map(|line| format!("{line}\n")).collect();
    assert_eq!(sent(&device, &lines, PATIENCE), Ok(12));
    assert_eq!(held(&*device.unplug()), entries(&lines));
}

#[test]
fn a_device_that_holds_other_facts_is_left_as_it_is() {
    let device = Device::plugged("note \"of another job\"", Line::default());
    let why = failure(sent(&device, &job(), PATIENCE));
    assert!(why.starts_with("day.job:1: the device refuses: "), "{why}");
    assert!(why.contains("entry 1 is another fact"), "{why}");
    assert_eq!(held(&*device.unplug()).len(), 1);
}

#[test]
fn a_refusal_is_told_with_the_line_of_the_job() {
    let device = Device::plugged("", Line::default());
    let lines = "title \"Invented\"\n# a comment\nreading 1 probe=p9 side=a x=0 standoff=31 path=30 height=76 gain=44\n";
    let why = failure(sent(&device, lines, PATIENCE));
    assert!(why.starts_with("day.job:3: the device refuses: not recorded: probe p9"), "{why}");
}

#[test]
fn a_device_unplugged_in_mid_frame_is_told_and_what_came_before_is_kept() {
    let lines = job();
    let whole = Device::plugged(&lines, Line::default());
    let (_, all, _) = ingested(&whole);
    let frame =
        |(number, entry): (u32, &Entry)| encode_numbered(number, entry, &mut [0; MAX_FRAME]).unwrap().len();
    let total = "> ".len() + (1..).zip(&entries(&lines)).map(frame).sum::<usize>();
    for end in [1, total / 4, total / 2, total - 20, total - 1] {
        let device = Device::plugged(&lines, Line { unplugged_after: Some(end), ..Line::default() });
        let port = open(&device.path).unwrap();
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        drop(device.into_served());
        let exit = ingest::device("port".into(), port, &mut out, &mut errors);
        let out = String::from_utf8(out).unwrap();
        let errors = String::from_utf8(errors).unwrap();
        assert_eq!(exit, Ok(Exit::BadInput), "{errors}");
        assert!(!errors.contains("cut short"), "{errors}");
        assert!(all.starts_with(&out) && out.len() < all.len(), "{end}: {out}");
    }
    let device = Device::plugged("", Line { unplugged_after: Some(900), ..Line::default() });
    let port = open(&device.path).unwrap();
    drop(device.into_served());
    let why = failure(send::send(&facts(&lines), NAMES, port, PATIENCE));
    assert_eq!(why, "port: the device is gone");
}

struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("halfskip-link-{name}-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        Self(folder)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn talked(device: &Device, typed: &str, record: &Path) -> (Result<Exit, Stop>, String) {
    let mut shown = Vec::new();
    let record = Record::open(record, &mut Vec::new()).unwrap();
    let mut talk = Talk::new("port", open(&device.path).unwrap(), Some(record), &mut shown).unwrap();
    let exit = talk.feed(Cursor::new(typed), PATIENCE);
    drop(talk);
    (exit, String::from_utf8(shown).unwrap())
}

#[test]
fn what_is_typed_to_a_device_is_answered_and_recorded() {
    let folder = Folder::new("record");
    let file = folder.0.join("day.job");
    let device = Device::plugged("title \"Invented\"", Line::default());
    let (exit, shown) =
        talked(&device, "units mm\nprobe p60 angle=60 frequency=4 element=8x9\nnonsense\n", &file);
    assert_eq!(exit, Ok(Exit::Done));
    assert!(shown.contains("> units mm\r\n2: units recorded\r\n"), "{shown}");
    assert!(shown.contains("column 1: "), "{shown}");
    assert!(!shown.contains('\0'), "{shown:?}");
    let recorded = "title \"Invented\"\nunits mm\nprobe p60 angle=60deg frequency=4MHz element=8mmx9mm\n";
    assert_eq!(fs::read_to_string(&file).unwrap(), recorded);
    // A later session goes on where the file ends.
    let (exit, _) = talked(&device, "note \"later\"\n", &file);
    assert_eq!(exit, Ok(Exit::Done));
    assert_eq!(fs::read_to_string(&file).unwrap(), format!("{recorded}note \"later\"\n"));
}

#[test]
fn a_record_of_another_device_is_left_as_it_is() {
    let folder = Folder::new("other");
    let file = folder.0.join("day.job");
    fs::write(&file, "note \"mine\"\n").unwrap();
    let device = Device::plugged("note \"yours\"", Line::default());
    let (exit, _) = talked(&device, "units mm\n", &file);
    let Err(Stop::Failed(why)) = exit else { panic!("{exit:?}") };
    assert!(why.contains("fact 1 is not that of the device"), "{why}");
    assert_eq!(fs::read_to_string(&file).unwrap(), "note \"mine\"\n");
}

#[test]
fn a_file_of_frames_becomes_lines_and_what_is_none_is_told() {
    let entries = entries(&job());
    let mut buffer = [0; MAX_FRAME];
    let mut bytes = b"boot\r\n".to_vec();
    bytes.extend(encode(&entries[0], &mut buffer).unwrap());
    bytes.extend(encode_numbered(1, &entries[1], &mut buffer).unwrap());
    bytes.extend(encode_numbered(4, &entries[2], &mut buffer).unwrap());
    // A fact that comes again is none; another under its number is told.
    bytes.extend(encode_numbered(4, &entries[2], &mut buffer).unwrap());
    bytes.extend(encode_numbered(1, &entries[4], &mut buffer).unwrap());
    let cut = encode(&entries[3], &mut buffer).unwrap();
    bytes.extend(&cut[..cut.len() - 3]);
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let exit = ingest::file("frames".into(), bytes.as_slice(), &mut out, &mut errors);
    assert_eq!(exit, Ok(Exit::BadInput));
    assert_eq!(String::from_utf8(out).unwrap(), written(&entries[..3]));
    let errors = String::from_utf8(errors).unwrap();
    assert!(errors.contains("6 bytes of text"), "{errors}");
    assert!(errors.contains("entries 2 to 3 are missing"), "{errors}");
    assert!(errors.contains("entry 1 comes late or as another fact"), "{errors}");
    assert!(errors.contains("the frame is cut short"), "{errors}");
    assert_eq!(errors.lines().count(), 4, "{errors}");
}
