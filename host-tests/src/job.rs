//! A job's lines taken as the shell takes them, for checks of what they amount to.

use halfskip::criteria::Sheet;
use halfskip_console::host::sheet;
use halfskip_console::sheets::{NoSheets, OneSheet};
use halfskip_console::shell::{Outcome, Shell};

/// No sheet is in force.
pub const NO_SHEET: Option<&Sheet<1>> = None;

/// A shell at the capacities of a device.
pub type Job = Box<Shell<NoSheets>>;

/// The lines of a job, one after the other.
///
/// # Panics
/// When a line is refused; it says which and why.
#[must_use]
pub fn job(lines: &str) -> Job {
    let mut shell: Job = Box::new(Shell::new(NoSheets));
    for line in lines.lines() {
        let mut answer = String::new();
        let outcome = shell.line(line.as_bytes(), &mut answer);
        assert!(!matches!(outcome, Outcome::Refused { .. }), "{line}\n{answer}");
    }
    shell
}

/// Why a job's last line is refused, the others being taken.
///
/// # Panics
/// When an earlier line is refused, or the last one is not.
#[must_use]
pub fn refusal(lines: &str) -> String {
    let (earlier, last) = lines.trim().rsplit_once('\n').unwrap_or(("", lines.trim()));
    let (mut shell, mut answer) = (job(earlier), String::new());
    let outcome = shell.line(last.as_bytes(), &mut answer);
    assert!(matches!(outcome, Outcome::Refused { .. }), "{last}\n{answer}");
    answer
}

/// What `questions` are answered after lines that are all recorded, spaces and line ends each as one space. The sheet goes
/// by the name of `it`.
///
/// # Panics
/// When the sheet is none, or a line is not recorded; it says which and why.
#[must_use]
pub fn answers<'l, const N: usize>(
    sheet: &str,
    lines: impl IntoIterator<Item = &'l str>,
    questions: [&str; N],
) -> [String; N] {
    let sheet = sheet::read::<24>(sheet).unwrap();
    let mut shell: Box<Shell<OneSheet<24>>> = Box::new(Shell::new(OneSheet { name: "it", sheet }));
    for line in lines {
        let mut answer = String::new();
        assert!(matches!(shell.line(line.as_bytes(), &mut answer), Outcome::Recorded(_)), "{line}: {answer}");
    }
    questions.map(|question| {
        let mut answer = String::new();
        shell.ask(question.as_bytes(), &mut answer);
        answer.split_whitespace().collect::<Vec<_>>().join(" ")
    })
}

/// The form of a weighted rating whose limits are whole decibels, as a sheet has it.
pub const WEIGHTED: &str = "measure = 'weighted'\n[weighted]\nper = '0.08dB/mm'\nbeyond = '25mm'\nround = 'half-up'\n\
                            round-d = 'floor'\nshorter-path = 'zero'";
