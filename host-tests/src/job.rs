//! A job's lines taken as the shell takes them, for checks of what they amount to.

use halfskip_console::sheets::NoSheets;
use halfskip_console::shell::{Outcome, Shell};

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
