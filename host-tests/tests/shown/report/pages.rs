//! The pages that the tests read.

use std::fs;
use std::path::{Path, PathBuf};

use halfskip_console::desk::Lines;
use halfskip_console::desk::console::Desk;
use halfskip_console::desk::seal::Seals;
use halfskip_console::desk::{json, report};

/// A job that holds whatever a text can hold, readings that are only bounds, voided entries, and next to nothing else.
pub const ODD: &str = r##"
title "</title><script>alert(1)</script> & \"x\" 'y' ünïcode 漢"
detail couplant is="<b>water</b> & \"gel\""
joint butt thickness=15 prep=square gap=2
probe "p & <60>" angle=60 frequency=4 element=10
dac "p & <60>" path=30 height=80 gain=40
reading "a\"<b" probe="p & <60>" side=a x=-3 standoff=20 path=25 height=over gain=40
reading "a\"<b" probe="p & <60>" side=b x=-3 standoff=20 path=25 height=under gain=60
reading "a\"<b" probe="p & <60>" side=b x=-3 standoff=20 path=26 height=12 gain=60
void 8 reason="<i>mistyped</i>"
reading 2 probe="p & <60>" side=b x=40 standoff=20 path=26 height=12 gain=60 sweep=along
"##;

/// A high cap that one probe from one side cannot see below.
pub const HOLES: &str = "
joint butt thickness=20 prep=single-v bevel=30 gap=3 land=2 cap=28 crown=3 bead=6 excess=1 haz=8 reach=a
probe p70 angle=70 frequency=4 element=8x9 front=12
dac p70 path=30 height=80 gain=40
dac p70 path=80 height=80 gain=45
detail not-covered is=\"stiffener at x 300 to 330\"
";

/// Runs a test with the room that a desk's examination takes while it is made.
pub fn roomy(test: impl FnOnce() + Send + 'static) {
    let thread = std::thread::Builder::new().stack_size(64 << 20).spawn(test).unwrap();
    if let Err(panic) = thread.join() {
        std::panic::resume_unwind(panic);
    }
}

/// A job as a desk that has taken it.
pub fn desk(lines: &str, beside: Option<&Path>) -> Desk {
    let mut desk = Desk::new(beside);
    for line in lines.lines() {
        let mut answer = String::new();
        let outcome = desk.line(line.as_bytes(), &mut answer);
        assert!(!matches!(outcome, halfskip_console::desk::Outcome::Refused { .. }), "{line}\n{answer}");
    }
    desk
}

/// Every example job, the odd one and an empty one, by name.
pub fn jobs() -> Vec<(String, Desk)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/jobs");
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let jobs = files.iter().filter(|path| path.extension().is_some_and(|extension| extension == "job"));
    let mut jobs: Vec<(String, Desk)> = jobs
        .map(|path| (path.display().to_string(), desk(&fs::read_to_string(path).unwrap(), Some(path))))
        .collect();
    assert!(jobs.len() >= 2);
    jobs.push(("odd".into(), desk(ODD, None)));
    jobs.push(("holes".into(), desk(HOLES, None)));
    jobs.push(("empty".into(), desk("", None)));
    jobs
}

pub fn page(desk: &Desk) -> String {
    report::html::page(&report::document(desk.shell(), Some(&Seals::default())).unwrap())
}

pub fn json(desk: &Desk) -> serde_json::Value {
    let mut out = Vec::new();
    json::write("page".to_string(), desk.shell(), &mut out).unwrap();
    serde_json::from_slice(&out).unwrap()
}

/// The page as a strict parser reads it.
pub fn parsed(page: &str) -> roxmltree::Document<'_> {
    let options = roxmltree::ParsingOptions { allow_dtd: true, ..Default::default() };
    roxmltree::Document::parse_with_options(page, options).unwrap()
}

/// The text of a node and of all within it.
pub fn text(node: roxmltree::Node<'_, '_>) -> String {
    node.descendants().filter(roxmltree::Node::is_text).filter_map(|node| node.text()).collect()
}
