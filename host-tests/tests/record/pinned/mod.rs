//! No figure moves unseen: digests of every figure and every answer of sessions, jobs and drawn examinations.
//!
//! A digest says nothing of right or wrong; that the other tests do. It says that an instrument which is built from these
//! sources tomorrow tells what it told today, to the last bit. When it should tell something else, `HALFSKIP_BLESS=1`
//! writes the new digests, and what changed is seen in `host-tests/pinned`.

mod drawn;

use std::fs;
use std::path::{Path, PathBuf};

use crc::{CRC_32_ISCSI, Crc};
use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet};
use halfskip::acceptance::technique::Technique;
use halfskip_console::sheets::Sheets;
use halfskip_console::sheets::criteria as sheet;
use halfskip_console::shell::{Outcome, Shell};
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::figures;
use halfskip_host_tests::folders::Folders;
use halfskip_host_tests::fuzzed;
use halfskip_host_tests::hunt::{self, Case, Fault, SHEETS};
use halfskip_host_tests::long;
use halfskip_host_tests::synthetic::{Kind, SetUp, draw, job};

const CRC: Crc<u32> = Crc::<u32>::new(&CRC_32_ISCSI);

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The sheets of the hunt, and those in files.
struct AnySheet(Folders);

impl AnySheet {
    fn new() -> Self {
        Self(Folders(
            ["examples/criteria", "host-tests/transcripts"].map(|folder| root().join(folder)).to_vec(),
        ))
    }
}

impl Sheets<DEFAULT_ROWS> for AnySheet {
    type Error = String;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, String> {
        match SHEETS.iter().find(|(known, _)| *known == name) {
            Some((_, text)) => sheet::read(text).map_err(|error| error.to_string()),
            None => self.0.sheet(name),
        }
    }

    fn technique(&mut self, name: &str) -> Result<Option<Technique>, String> {
        match hunt::TECHNIQUES.iter().any(|(known, _)| *known == name) {
            true => Ok(hunt::technique(Some(name)).cloned()),
            false => self.0.technique(name),
        }
    }
}

/// Room for all that is drawn.
type Roomy = Shell<AnySheet, 8, 32, 8_192, 65_536, 1_024>;

/// What is asked of every examination, and of each of its indications and probes.
const ASKED: [&str; 9] = [
    "findings",
    "locate",
    "list",
    "status",
    "along",
    "plan legs=3 pulse-rate=1000",
    "coverage legs=3",
    "section legs=1",
    "section",
];
const ASKED_OF_EACH: [&str; 7] = ["size", "sides", "rate", "margin", "nature", "why", "dynamic"];
const ASKED_OF_A_PROBE: [&str; 5] =
    ["beam @", "curve @", "expect @ side=a", "expect @ side=b legs=3", "section probe=@ side=a standoff=21"];

/// The digests of one examination: of its figures, of what its lines were answered, of what was asked of it.
fn digests<'a>(lines: impl Iterator<Item = &'a str>) -> String {
    let mut shell: Box<Roomy> = Box::new(Shell::new(AnySheet::new()));
    let (mut figures, mut lines_told, mut told) = (String::new(), String::new(), String::new());
    for line in lines {
        let _: Outcome = shell.line(line.as_bytes(), &mut lines_told);
    }
    let facts = shell.examination().facts();
    shell.evaluated(|findings| figures::write(findings, &mut figures)).unwrap().unwrap();
    let mut ask = |question: &str| assert!(shell.ask(question.as_bytes(), &mut told), "{question}");
    ASKED.iter().for_each(|question| ask(question));
    for name in facts.indications() {
        ASKED_OF_EACH.iter().for_each(|verb| ask(&format!("{verb} {name}")));
    }
    for probe in facts.probes() {
        ASKED_OF_A_PROBE.iter().for_each(|question| ask(&question.replace('@', probe.name())));
    }
    [figures, lines_told, told].map(|text| format!("{:08x}", CRC.checksum(text.as_bytes()))).join(" ")
}

/// Holds the digests of cases against those that are kept under a name.
fn held(name: &str, cases: impl Iterator<Item = (String, String)>) {
    let path = root().join(format!("host-tests/pinned/{name}.txt"));
    let now = cases.map(|(case, lines)| format!("{} {case}", digests(lines.lines())));
    if std::env::var_os("HALFSKIP_BLESS").is_some() {
        return fs::write(path, now.map(|line| line + "\n").collect::<String>()).unwrap();
    }
    // The first cases alone, for who has no time for more.
    let cases = std::env::var("HALFSKIP_CASES").ok();
    let cases = cases.map_or(long::cases(4, usize::MAX), |cases| cases.parse().unwrap());
    let kept = fs::read_to_string(path).unwrap();
    let mut kept = kept.lines().take(cases);
    for now in now.take(cases) {
        let told = "figures, answers to lines, answers to questions; see the head of this file";
        assert_eq!(Some(now.as_str()), kept.next(), "{told}");
    }
    assert_eq!(kept.next(), None, "a case is gone");
}

#[test]
fn sessions_and_jobs_tell_what_they_told() {
    let mut files = Vec::new();
    for (folder, end) in [
        ("host-tests/transcripts", "txt"),
        ("host-tests/simulated", "job"),
        ("examples/jobs", "job"),
        ("examples/logger", "job"),
    ] {
        let listed = fs::read_dir(root().join(folder)).unwrap().map(|file| file.unwrap().path());
        files.extend(listed.filter(|file| file.extension().is_some_and(|found| found == end)));
    }
    files.sort();
    held(
        "sessions",
        files.iter().map(|file| {
            let text = fs::read_to_string(file).unwrap();
            // Of a session, what was typed; of a job, all of it.
            let typed: Vec<&str> = match file.extension().and_then(|end| end.to_str()) {
                Some("txt") => text.lines().filter_map(|line| line.strip_prefix("> ")).collect(),
                _ => text.lines().collect(),
            };
            (file.file_name().unwrap().to_string_lossy().into_owned(), typed.join("\n"))
        }),
    );
}

#[test]
fn examinations_drawn_over_all_joints_and_parts_tell_what_they_told() {
    held("drawn", (0..96).map(|seed| (seed.to_string(), drawn::examination(seed))));
}

#[test]
fn lines_drawn_without_order_tell_what_they_told() {
    let lines = |seed| {
        let mut drawn = Drawn::seeded(seed);
        let data: Vec<u8> = (0..700).map(|_| drawn.bits() as u8).collect();
        fuzzed::lines(&data).join("\n")
    };
    held("disordered", (0..100).map(|seed| (seed.to_string(), lines(seed))));
}

#[test]
fn sound_and_spoiled_examinations_tell_what_they_told() {
    let sound = (0..16).map(|seed| (format!("sound {seed}"), Case::sound(seed)));
    let spoiled = Fault::ALL.iter().zip(1_000..).filter_map(|(fault, seed)| {
        let mut case = Case::sound(seed);
        let spoiled = fault.spoil(&mut case, &mut Drawn::seeded(seed));
        spoiled.then(|| (format!("{fault:?}"), case))
    });
    held("spoiled", sound.chain(spoiled).map(|(name, case)| (name, case.lines().join("\n"))));
}

#[test]
fn reflectors_of_every_kind_tell_what_they_told() {
    let cases =
        Kind::ALL.into_iter().flat_map(|kind| SetUp::ALL.into_iter().map(move |set_up| (kind, set_up)));
    held(
        "reflectors",
        cases.zip(1u64..).map(|((kind, set_up), seed)| {
            let drawing = draw(kind, set_up, seed);
            (format!("{kind:?} {set_up:?}"), job(&drawing.sweeps, &drawing.reflectors, seed))
        }),
    );
}
