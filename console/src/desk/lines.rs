//! Lines of any source, in memory that does not grow with them.

use std::io::{self, BufRead, Read};
use std::vec::Vec;

use crate::language::text::{Fault, checked};

/// The mark that some programs put before UTF-8 text.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// One line of a source.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Line<'a> {
    /// Its number, counted from 1.
    pub number: u64,
    /// Its text without the line end, or why it has none.
    pub text: Result<&'a str, Fault>,
    /// Whether it has a line end; only the last line of a source may lack it, and one too long is not asked.
    pub ended: bool,
}

/// Reads lines that end in LF or CR LF; longer ones than the limit are told and skipped, not held.
#[derive(Debug)]
pub struct LineReader<R> {
    reader: R,
    limit: usize,
    number: u64,
    line: Vec<u8>,
}

impl<R: BufRead> LineReader<R> {
    /// Lines of at most `limit` bytes.
    pub const fn new(reader: R, limit: usize) -> Self {
        Self { reader, limit, number: 0, line: Vec::new() }
    }

    /// The next line; none at the end of the source.
    ///
    /// # Errors
    /// That the source cannot be read.
    pub fn next_line(&mut self) -> io::Result<Option<Line<'_>>> {
        self.line.clear();
        // A line of the limit, and its CR LF.
        let most = self.limit as u64 + 2;
        let mut part = (&mut self.reader).take(most);
        let length = part.read_until(b'\n', &mut self.line)? as u64;
        if length == 0 {
            return Ok(None);
        }
        self.number = self.number.saturating_add(1);
        let mut ended = self.line.pop_if(|last| *last == b'\n').is_some();
        let limit = self.limit;
        let text = if length == most && !ended {
            self.reader.skip_until(b'\n')?;
            ended = true;
            Err(Fault::TooLong { limit })
        } else {
            self.text()
        };
        Ok(Some(Line { number: self.number, text, ended }))
    }

    /// The text of the line that is held.
    fn text(&self) -> Result<&str, Fault> {
        let whole = self.line.as_slice();
        let line = whole.strip_suffix(b"\r").unwrap_or(whole);
        if line.len() > self.limit {
            return Err(Fault::TooLong { limit: self.limit });
        }
        if self.number == 1 {
            return checked(line.strip_prefix(BYTE_ORDER_MARK).unwrap_or(line));
        }
        checked(line)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::BufReader;

    /// Number, text or fault, and whether the line ended.
    fn lines(bytes: &[u8], limit: usize) -> Vec<(u64, Result<std::string::String, Fault>, bool)> {
        // The smallest buffer there is, so that every line is read in parts.
        let mut reader = LineReader::new(BufReader::with_capacity(1, bytes), limit);
        let mut found = Vec::new();
        while let Some(line) = reader.next_line().unwrap() {
            found.push((line.number, line.text.map(Into::into), line.ended));
        }
        found
    }

    #[test]
    fn every_line_end_ends_a_line_and_the_last_may_lack_it() {
        let text = |text: &str| Ok(text.into());
        assert_eq!(lines(b"", 9), []);
        assert_eq!(lines(b"\n", 9), [(1, text(""), true)]);
        assert_eq!(
            lines(b"\xef\xbb\xbfa\r\n\r\nb\nc", 9),
            [(1, text("a"), true), (2, text(""), true), (3, text("b"), true), (4, text("c"), false)]
        );
    }

    #[test]
    fn the_limit_counts_bytes_without_the_line_end() {
        let long = Err(Fault::TooLong { limit: 3 });
        assert_eq!(lines(b"abc\r\nabcd\nabc\r", 3)[0], (1, Ok("abc".into()), true));
        assert_eq!(lines(b"abc\r\nabcd\nabc\r", 3)[1], (2, long.clone(), true));
        assert_eq!(lines(b"abcd\r\n", 3), [(1, long, true)]);
    }

    #[test]
    fn what_is_no_text_is_told_with_its_column() {
        assert_eq!(lines(b"ab\0\n", 9), [(1, Err(Fault::Nul { column: 3 }), true)]);
        assert_eq!(lines(b"\xc3\xa4\xff\n", 9), [(1, Err(Fault::NotUtf8 { column: 2 }), true)]);
        assert_eq!(lines(b"a\rb\n", 9), [(1, Err(Fault::Control { column: 2 }), true)]);
    }

    #[test]
    fn a_line_of_a_megabyte_is_not_held() {
        let source = io::repeat(b'x').take(1 << 20).chain(&b"\nnext\n"[..]);
        let mut reader = LineReader::new(BufReader::new(source), 4096);
        let long = reader.next_line().unwrap().unwrap();
        assert_eq!(long.text, Err(Fault::TooLong { limit: 4096 }));
        assert_eq!(reader.next_line().unwrap().unwrap().text, Ok("next"));
        assert!(reader.line.capacity() < 3 * 4096);
    }
}
