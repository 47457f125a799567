//! The hunt for a false accept: invented examinations that would be accepted, then spoiled in what the verdict rests on.
//!
//! A sound case ([`Case::sound`]) has everything its sheets ask for, and is accepted. Each [`Fault`] takes away or
//! contradicts something that is needed, so a spoiled case must never be accepted, nor be allowed as one to record.

mod case;
mod fault;
mod part;
mod set_up;
mod sheets;
mod sound;
mod spoil;
mod spoiled;
mod work;

pub use case::Case;
pub use fault::Fault;
pub use sheets::{SHEETS, TECHNIQUES, technique};
pub use spoiled::{Plan, Spoiled};

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet};
use halfskip::acceptance::technique::Technique;
use halfskip::findings::Findings;
use halfskip_console::sheets::Sheets;
use halfskip_console::sheets::criteria as sheet;
use halfskip_console::shell::{Outcome, Shell};

/// The sheets of the hunt, by name.
pub struct Kept(Vec<(&'static str, Sheet<DEFAULT_ROWS>)>);

impl Kept {
    /// All of them, read.
    ///
    /// # Panics
    /// When one is no sheet.
    #[must_use]
    pub fn new() -> Self {
        Self(SHEETS.iter().map(|(name, text)| (*name, sheet::read(text).unwrap())).collect())
    }
}

impl Default for Kept {
    fn default() -> Self {
        Self::new()
    }
}

impl Sheets<DEFAULT_ROWS> for &Kept {
    type Error = &'static str;

    fn sheet(&mut self, name: &str) -> Result<Sheet<DEFAULT_ROWS>, Self::Error> {
        self.0.iter().find(|(known, _)| *known == name).map(|(_, sheet)| sheet.clone()).ok_or("no such sheet")
    }

    fn technique(&mut self, name: &str) -> Result<Option<Technique>, Self::Error> {
        technique(Some(name)).cloned().map(Some).ok_or("no such technique sheet")
    }
}

/// Room for all that is drawn.
type Roomy<'k> = Shell<&'k Kept, 4, 8, 1024, 6144, 128>;

/// What the console says of indication 1.
pub struct Said {
    /// The first line of `rate 1`, and that of the indication in `findings`, which must say the same.
    pub verdict: String,
    /// What an accept or a record failed by: a ground that is not met, or another reason.
    pub by: &'static str,
    /// The first line that was refused, and why: a fault that is refused is none.
    pub refused: Option<String>,
}

/// What the console says of indication 1 after these lines; a line that is refused is as if it were not there.
///
/// # Panics
/// When `rate` and `findings` differ.
#[must_use]
pub fn told(kept: &Kept, lines: &[String]) -> Said {
    let mut shell: Box<Roomy<'_>> = Box::new(Shell::new(kept));
    let (mut answer, mut refused) = (String::new(), None);
    for line in lines {
        answer.clear();
        if !matches!(shell.line(line.as_bytes(), &mut answer), Outcome::Recorded(_)) {
            refused = refused.or_else(|| Some(format!("{line}: {answer}")));
        }
    }
    let ask = |question: &str| {
        let mut answer = String::new();
        shell.ask(question.as_bytes(), &mut answer);
        answer
    };
    let first = |answer: &str| {
        answer.lines().find(|line| line.starts_with("Indication 1: ")).unwrap_or("").to_string()
    };
    let (rated, found) = (ask("rate 1"), first(&ask("findings")));
    let verdict = first(&rated);
    // Findings leave out an indication whose every reading is voided.
    let same = verdict == found || found.is_empty() && !passes(&verdict);
    assert!(same, "rate says {verdict:?}, findings {found:?}:\n{}", lines.join("\n"));
    let because = rated.lines().skip(1).flat_map(str::split_whitespace).collect::<Vec<_>>().join(" ");
    let unmet = || {
        let ground = |findings: &Findings<'_>| Some(findings.named("1")?.first_unmet()?.ground.name());
        shell.evaluated(ground)?
    };
    let by = if because.contains("would be ") {
        unmet().unwrap_or("neighbour")
    } else {
        reason(&verdict, &because)
    };
    Said { verdict, by, refused }
}

/// The reasons other than grounds, by a piece of their words.
const REASONS: [(&str, &str); 16] = [
    ("is suspect", "suspect"),
    ("has no level", "no level"),
    ("has no place", "no place"),
    ("views disagree", "views disagree"),
    ("lies elsewhere", "lies elsewhere"),
    ("no thickness", "no joint"),
    ("no reading of it", "no reading"),
    ("no echo of it", "never seen"),
    ("rises again", "rises again"),
    ("groups neighbours", "neighbour"),
    ("another sweep", "longer sweep"),
    ("lies beyond them", "echo beyond"),
    ("too little gain", "may be stronger"),
    ("no one point", "no one point"),
    ("no criteria sheet", "no sheet"),
    ("no row", "no row"),
];

fn reason(verdict: &str, because: &str) -> &'static str {
    if verdict.is_empty() {
        "nothing said"
    } else if verdict.contains("reject") {
        "reject"
    } else if passes(verdict) {
        "passed"
    } else {
        REASONS.iter().find(|(words, _)| because.contains(words)).map_or("a row is open", |(_, name)| name)
    }
}

/// Whether that is an accept.
#[must_use]
pub fn accepts(told: &str) -> bool {
    told.contains("accept")
}

/// Whether that lets the indication pass: an accept, or a record, which the sheet allows as well.
#[must_use]
pub fn passes(told: &str) -> bool {
    accepts(told) || told.contains(": record")
}

/// Whether that lets a case pass which these faults have spoiled, and nothing bears it.
#[must_use]
pub fn falsely_passes(told: &str, case: &Case, faults: &[Fault]) -> bool {
    if Fault::bear_a_record(faults, case) { accepts(told) } else { passes(told) }
}
