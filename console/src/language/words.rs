//! A line's words: blanks between, quotes around texts, a comment at the end. Constant memory, one pass.
//!
//! ```text
//! line   := word { blank word } [ blank '#' anything ]
//! word   := bare | text | key '=' ( bare | text )
//! text   := '"' { any but '"' and '\' | '\"' | '\\' } '"'
//! blank  := space | tab
//! ```
//!
//! A `#` right behind a word is refused: whether it belongs to a name or begins a comment would be a guess.

use crate::language::refusal::{Fault, RefusalKind};
use crate::language::text;

/// The longest line that is read, in bytes; longer than any that an entry is written as.
pub const MAX_LINE: usize = 1024;

const END: u8 = 0;
const OTHER: u8 = 1;
const BLANK: u8 = 2;
const COMMENT: u8 = 4;
const EQUALS: u8 = 8;
const QUOTE: u8 = 16;
/// The class of each byte; any byte has a place in the table.
const CLASSES: [u8; 256] = {
    let mut classes = [OTHER; 256];
    classes[b' ' as usize] = BLANK;
    classes[b'\t' as usize] = BLANK;
    classes[b'#' as usize] = COMMENT;
    classes[b'=' as usize] = EQUALS;
    classes[b'"' as usize] = QUOTE;
    classes
};

/// A value with its place in the line.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Value<'a> {
    /// Offset of its first byte, that of the text inside the quotes for a quoted one.
    pub at: usize,
    /// The value; escapes inside quotes are still in it.
    pub text: &'a str,
    /// It stood in quotes.
    pub quoted: bool,
}

/// One word of a line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Word<'a> {
    /// Without a key.
    Plain(Value<'a>),
    /// `key=value`.
    Keyed {
        /// Offset of the key.
        at: usize,
        /// The key.
        key: &'a str,
        /// The value, which may be empty.
        value: Value<'a>,
    },
}

/// The words of a line, one after another.
#[derive(Clone, Debug)]
pub struct Words<'a> {
    line: &'a str,
    at: usize,
}

impl<'a> Words<'a> {
    /// Takes a line with or without its end; refuses what no line may hold.
    pub fn new(bytes: &'a [u8]) -> Result<Self, Fault<'a>> {
        let bytes = bytes.strip_suffix(b"\n").unwrap_or(bytes);
        let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
        if bytes.len() > MAX_LINE {
            return Err(refused(text::Fault::TooLong { limit: MAX_LINE }));
        }
        // Printable ASCII, told in one pass without a branch, needs no second look.
        let plain = bytes.iter().fold(true, |plain, byte| plain & (b' '..=b'~').contains(byte));
        let line = match core::str::from_utf8(bytes) {
            Ok(line) if plain => line,
            _ => text::checked(bytes).map_err(refused)?,
        };
        Ok(Self { line, at: 0 })
    }

    /// The next word, or none at the end or before a comment.
    pub fn next(&mut self) -> Result<Option<Word<'a>>, Fault<'a>> {
        while self.class() == BLANK {
            self.step();
        }
        let at = self.at;
        let word = match self.class() {
            END | COMMENT => return Ok(None),
            QUOTE => Word::Plain(self.quoted()?),
            _ => match self.until(BLANK | COMMENT | EQUALS | QUOTE) {
                "" if self.class() == EQUALS => return Err(Fault { at, kind: RefusalKind::NoKey }),
                key if self.class() == EQUALS => {
                    self.step();
                    Word::Keyed { at, key, value: self.value()? }
                }
                text => Word::Plain(Value { at, text, quoted: false }),
            },
        };
        let kind = match self.class() {
            END | BLANK => return Ok(Some(word)),
            COMMENT => RefusalKind::Comment,
            _ => RefusalKind::Quote,
        };
        Err(Fault { at: self.at, kind })
    }

    /// Offset behind the words read so far.
    pub const fn at(&self) -> usize {
        self.at
    }

    fn value(&mut self) -> Result<Value<'a>, Fault<'a>> {
        if self.class() == QUOTE {
            return self.quoted();
        }
        let at = self.at;
        let text = self.until(BLANK | COMMENT | QUOTE);
        Ok(Value { at, text, quoted: false })
    }

    fn quoted(&mut self) -> Result<Value<'a>, Fault<'a>> {
        let open = self.at;
        self.step();
        let at = self.at;
        let mut escaped = false;
        let text = self.take(|byte| {
            let close = byte == b'"' && !escaped;
            escaped = byte == b'\\' && !escaped;
            close
        });
        if self.class() == END {
            return Err(Fault { at: open, kind: RefusalKind::OpenQuote });
        }
        self.step();
        Ok(Value { at, text, quoted: true })
    }

    /// The class of the byte at hand.
    fn class(&self) -> u8 {
        self.line.as_bytes().get(self.at).map_or(END, |byte| CLASSES[usize::from(*byte)])
    }

    const fn step(&mut self) {
        self.at = self.at.saturating_add(1);
    }

    fn until(&mut self, classes: u8) -> &'a str {
        self.take(|byte| CLASSES[usize::from(byte)] & classes != 0)
    }

    /// Takes what stands before the first byte that ends it. That byte is ASCII, so the text is whole characters.
    fn take(&mut self, mut ends: impl FnMut(u8) -> bool) -> &'a str {
        let start = self.at;
        let rest = self.line.as_bytes().get(start..).unwrap_or_default();
        let length = rest.iter().position(|byte| ends(*byte)).unwrap_or(rest.len());
        self.at = start.saturating_add(length);
        self.line.get(start..self.at).unwrap_or_default()
    }
}

/// The fault's own column is kept.
const fn refused<'a>(fault: text::Fault) -> Fault<'a> {
    Fault { at: 0, kind: RefusalKind::Text(fault) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec;

    fn words(line: &str) -> Result<Vec<Word<'_>>, Fault<'_>> {
        let mut words = Words::new(line.as_bytes())?;
        let mut all = Vec::new();
        while let Some(word) = words.next()? {
            all.push(word);
        }
        Ok(all)
    }

    #[test]
    fn words_carry_their_place() {
        let found = words("dac\tp60 path=30 # path=40\r\n").unwrap();
        assert_eq!(found.len(), 3);
        assert_eq!(found[1], Word::Plain(Value { at: 4, text: "p60", quoted: false }));
        let value = Value { at: 13, text: "30", quoted: false };
        assert_eq!(found[2], Word::Keyed { at: 8, key: "path", value });
    }

    #[test]
    fn quotes_hide_blanks_comments_and_escaped_quotes() {
        let found = words(r#"note "a \"b\" # \\" c="d e""#).unwrap();
        assert_eq!(found[1], Word::Plain(Value { at: 6, text: r#"a \"b\" # \\"#, quoted: true }));
        assert_eq!(found.len(), 3);
    }

    #[test]
    fn what_no_line_may_hold_is_refused_with_its_place() {
        let refused = |bytes| {
            let mut words = Words::new(bytes)?;
            while words.next()?.is_some() {}
            Ok(())
        };
        let told =
            |bytes| refused(bytes).map_err(|fault: Fault<'_>| (fault.located(bytes).column, fault.kind));
        let text = |fault: text::Fault| RefusalKind::Text(fault);
        assert_eq!(told(b"note a\0"), Err((7, text(text::Fault::Nul { column: 7 }))));
        assert_eq!(told(b"note \xff"), Err((6, text(text::Fault::NotUtf8 { column: 6 }))));
        assert_eq!(told(&[b'a'; MAX_LINE + 1]), Err((1, text(text::Fault::TooLong { limit: MAX_LINE }))));
        assert_eq!(told(b"note \"a"), Err((6, RefusalKind::OpenQuote)));
        assert_eq!(told("note \"\u{fc}\"b".as_bytes()), Err((9, RefusalKind::Quote)));
        assert_eq!(told(b"note a\"b\""), Err((7, RefusalKind::Quote)));
        assert_eq!(told(b"note =1"), Err((6, RefusalKind::NoKey)));
        for glued in ["title BW#12", "title \"BW\"#12", "title a=b#12", "title ab#=12"] {
            let column = glued.find('#').unwrap() + 1;
            assert_eq!(told(glued.as_bytes()), Err((column as u16, RefusalKind::Comment)), "{glued}");
        }
        assert_eq!(told(b"title \"BW#12\" a=b\t#12"), Ok(()));
        assert_eq!(told("# no word: na\u{ef}ve".as_bytes()), Ok(()));
    }
}
