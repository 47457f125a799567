//! The seal of a job: a running digest at the end of its lines, so that a line changed, added or taken out later is told.
//!
//! Each digest is SHA-256 (FIPS 180-4) of the one before it and of the line without its own seal; the first one before it
//! is that of the words that name this layout. A sealed line ends in ` # seal=` and 64 hexadecimal digits: a comment to
//! whoever reads the job as such. Every line counts, comments too; once one is sealed, all that follow have to be.
//!
//! There is no secret in it. Whoever rewrites a whole job can seal it anew; what tells is a digest kept elsewhere, such as
//! the one that a report prints. Lines cut from the end leave a job that fits as far as it goes, and another digest.

use core::fmt;
use std::io::Write;
use std::string::{String, ToString};

use sha2::{Digest, Sha256};

/// What stands before the digits.
const MARK: &str = " # seal=";
/// Digits of a digest.
const DIGITS: usize = 64;
/// Bytes that a seal adds to a line.
pub const LENGTH: usize = MARK.len() + DIGITS;

/// The digest of the lines so far.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Seal([u8; 32]);

impl Default for Seal {
    fn default() -> Self {
        Self(Sha256::digest("halfskip job, running digest 1").into())
    }
}

impl Seal {
    /// Behind one more line, of which `text` is all but its own seal.
    #[must_use]
    pub fn then(self, text: &str) -> Self {
        Self(Sha256::new().chain_update(self.0).chain_update(text).finalize().into())
    }
}

impl fmt::Display for Seal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// Whether that can be a digest.
#[must_use]
pub fn is_digest(digits: &str) -> bool {
    digits.len() == DIGITS && digits.bytes().all(|byte| byte.is_ascii_hexdigit())
}

/// A line without its seal, and the seal's digits.
#[must_use]
pub fn split(line: &str) -> (&str, Option<&str>) {
    let found = line.rsplit_once(MARK).filter(|(_, digits)| is_digest(digits));
    found.map_or((line, None), |(text, digits)| (text, Some(digits)))
}

/// What the seals of a job say of it.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Seals {
    /// The digest behind the last line.
    pub digest: Seal,
    /// Lines.
    pub lines: u64,
    /// Lines with a seal.
    pub sealed: u64,
    /// The first line that does not fit, counted from 1.
    pub misfit: Option<u64>,
}

impl Seals {
    /// Takes a line; whether it fits: its seal is right, or no line up to it has one.
    pub fn take(&mut self, line: &str) -> bool {
        let (text, digits) = split(line);
        self.digest = self.digest.then(text);
        self.lines = self.lines.saturating_add(1);
        self.sealed = self.sealed.saturating_add(u64::from(digits.is_some()));
        let fits = match digits {
            Some(digits) => self.digest.to_string().eq_ignore_ascii_case(digits),
            None => self.sealed == 0,
        };
        if !fits && self.misfit.is_none() {
            self.misfit = Some(self.lines);
        }
        fits
    }

    /// Tells a caution of the first line that does not fit, when there is one. A standard error that is closed hears none.
    pub fn tell(&self, name: &dyn fmt::Display, errors: &mut dyn Write) {
        if let Some(line) = self.misfit {
            let _ =
                writeln!(errors, "{name}:{line}: caution: does not fit its seal; halfskip check tells more");
        }
    }

    /// A line with the seal that it gets behind those taken.
    #[must_use]
    pub fn sealed_line(&self, text: &str) -> String {
        std::format!("{text}{MARK}{}", self.digest.then(text))
    }
}

/// In one sentence without its end.
impl fmt::Display for Seals {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} line{}", self.lines, if self.lines == 1 { "" } else { "s" })?;
        match (self.sealed, self.misfit) {
            (0, _) => f.write_str(", none sealed"),
            (sealed, None) if sealed == self.lines => f.write_str(", all sealed, every seal fits"),
            (sealed, None) => write!(f, ", sealed from line {} on, every seal fits", self.lines - sealed + 1),
            (_, Some(line)) => write!(f, ", the first that does not fit its seal is line {line}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec;

    fn sealed(lines: &[&str]) -> Vec<String> {
        let mut seals = Seals::default();
        let seal = |line: &&str| {
            let line = seals.sealed_line(line);
            assert!(seals.take(&line));
            line
        };
        lines.iter().map(seal).collect()
    }

    fn misfit(lines: &[String]) -> Option<u64> {
        let mut seals = Seals::default();
        for line in lines {
            seals.take(line);
        }
        seals.misfit
    }

    /// The digest of "abc" that NIST gives beside FIPS 180-4 as an example of SHA-256; digits from memory.
    #[test]
    fn the_digest_is_sha_256() {
        let digest = Seal(Sha256::digest("abc").into()).to_string();
        assert_eq!(digest, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn the_first_line_that_was_touched_does_not_fit() {
        let whole = sealed(&["title \"a\"", "units mm", "units in", "date 2026-01-01"]);
        assert_eq!(misfit(&whole), None);
        let touched = |touch: fn(&mut Vec<String>)| {
            let mut lines = whole.clone();
            touch(&mut lines);
            misfit(&lines)
        };
        assert_eq!(touched(|lines| lines[1] = lines[1].replace("mm", "in")), Some(2));
        assert_eq!(touched(|lines| drop(lines.remove(1))), Some(2));
        assert_eq!(touched(|lines| lines.swap(2, 3)), Some(3));
        assert_eq!(touched(|lines| lines.insert(3, "units mm".into())), Some(4));
        assert_eq!(touched(|lines| lines.insert(0, "# before all".into())), Some(2));
        assert_eq!(touched(|lines| lines[3].truncate(15)), Some(4));
        // Lines cut from the end leave seals that fit, and another digest.
        assert_eq!(touched(|lines| lines.truncate(2)), None);
    }

    #[test]
    fn a_line_that_ends_like_a_seal_is_sealed_like_any_other() {
        let odd = sealed(&["units mm"]).remove(0);
        let twice = sealed(&[&odd]);
        assert_eq!(split(&twice[0]).0, odd);
        assert_eq!(misfit(&twice), None);
    }

    #[test]
    fn what_stood_there_before_the_first_seal_counts_too() {
        let mut seals = Seals::default();
        seals.take("# begun without");
        let line = seals.sealed_line("units mm");
        assert_eq!(misfit(&["# begun without".into(), line.clone()]), None);
        assert_eq!(misfit(&["# begun otherwise".into(), line]), Some(2));
    }
}
