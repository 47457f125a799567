//! Bytes of a terminal as keys: UTF-8 characters, control codes and the escape sequences of the editing keys.

use heapless::Vec;

/// What one or more bytes mean.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Key {
    Character(char),
    Enter,
    Backspace,
    Delete,
    Left,
    Right,
    Up,
    Down,
    Home,
    End,
    /// Ctrl-U.
    Clear,
    /// Ctrl-C.
    Interrupt,
    /// Ctrl-D.
    EndOfInput,
    Nul,
    /// A control code or sequence without a meaning here.
    Other,
    /// Bytes that are no UTF-8.
    NotUtf8,
}

/// Where in an escape sequence the bytes are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Sequence {
    None,
    Escape,
    /// Behind ESC \[ or ESC O, with the number read so far.
    Control(u8),
}

/// The bytes of a key that is not complete yet.
#[derive(Clone, Debug)]
pub(super) struct Keys {
    sequence: Sequence,
    character: Vec<u8, 4>,
    after_return: bool,
}

impl Keys {
    pub(super) const fn new() -> Self {
        Self { sequence: Sequence::None, character: Vec::new(), after_return: false }
    }

    /// Takes one byte: whether it cuts a character short, and the key it completes.
    pub(super) fn push(&mut self, byte: u8) -> (bool, Option<Key>) {
        let continues = byte & 0xc0 == 0x80;
        if continues {
            return (false, self.continued(byte));
        }
        let cut = !self.character.is_empty();
        self.character.clear();
        (cut, self.started(byte))
    }

    /// A byte that continues a character.
    fn continued(&mut self, byte: u8) -> Option<Key> {
        self.sequence = Sequence::None;
        let length = match self.character.first() {
            Some(0xc2..=0xdf) => 2,
            Some(0xe0..=0xef) => 3,
            Some(_) => 4,
            None => return Some(Key::NotUtf8),
        };
        if self.character.push(byte).is_ok() && self.character.len() < length {
            return None;
        }
        let character = core::str::from_utf8(&self.character).ok().and_then(|text| text.chars().next());
        self.character.clear();
        Some(match character {
            // U+0080 to U+009F are control codes to a terminal.
            Some(character) if character.is_control() => Key::Other,
            Some(character) => Key::Character(character),
            None => Key::NotUtf8,
        })
    }

    fn started(&mut self, byte: u8) -> Option<Key> {
        let after_return = core::mem::replace(&mut self.after_return, byte == b'\r');
        let sequence = core::mem::replace(&mut self.sequence, Sequence::None);
        match (sequence, byte) {
            (Sequence::Escape, b'[' | b'O') => {
                self.sequence = Sequence::Control(0);
                None
            }
            (Sequence::Control(number), b'0'..=b'9') => {
                let number = number.saturating_mul(10).saturating_add(byte - b'0');
                self.sequence = Sequence::Control(number);
                None
            }
            (Sequence::Control(_), b';') => {
                self.sequence = Sequence::Control(0);
                None
            }
            (Sequence::Control(number), 0x40..=0x7e) => Some(named(number, byte)),
            (_, b'\n') if after_return => None,
            (_, 0x1b) => {
                self.sequence = Sequence::Escape;
                None
            }
            (_, 0xc2..=0xf4) => self.character.push(byte).err().map(|_| Key::NotUtf8),
            _ => Some(single(byte)),
        }
    }
}

/// The key of a byte that stands alone.
fn single(byte: u8) -> Key {
    match byte {
        b'\r' | b'\n' => Key::Enter,
        0x08 | 0x7f => Key::Backspace,
        b'\t' | b' '..=b'~' => Key::Character(char::from(byte)),
        0x00 => Key::Nul,
        0x01 => Key::Home,
        0x03 => Key::Interrupt,
        0x04 => Key::EndOfInput,
        0x05 => Key::End,
        0x15 => Key::Clear,
        0x80.. => Key::NotUtf8,
        _ => Key::Other,
    }
}

/// The key of a control sequence (ECMA-48) with its number and its last byte.
fn named(number: u8, last: u8) -> Key {
    match (last, number) {
        (b'A', _) => Key::Up,
        (b'B', _) => Key::Down,
        (b'C', _) => Key::Right,
        (b'D', _) => Key::Left,
        (b'H', _) | (b'~', 1 | 7) => Key::Home,
        (b'F', _) | (b'~', 4 | 8) => Key::End,
        (b'~', 3) => Key::Delete,
        _ => Key::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::vec::Vec as List;

    fn keys(bytes: &[u8]) -> List<Key> {
        let mut keys = Keys::new();
        let mut found = List::new();
        for byte in bytes {
            let (cut, key) = keys.push(*byte);
            found.extend(cut.then_some(Key::NotUtf8));
            found.extend(key);
        }
        found
    }

    #[test]
    fn every_line_end_is_one_enter() {
        for end in ["\r", "\n", "\r\n"] {
            assert_eq!(keys(end.as_bytes()), [Key::Enter]);
        }
        assert_eq!(keys(b"\n\r"), [Key::Enter, Key::Enter]);
        assert_eq!(keys(b"\r\n\r\n"), [Key::Enter, Key::Enter]);
    }

    #[test]
    fn a_character_is_whole_or_refused() {
        assert_eq!(keys("ä€𝄞".as_bytes()), ['ä', '€', '𝄞'].map(Key::Character));
        assert_eq!(keys(b"\xe2\x82a"), [Key::NotUtf8, Key::Character('a')]);
        assert_eq!(keys(b"\xc3\r"), [Key::NotUtf8, Key::Enter]);
        for bytes in [&b"\xc0\xaf"[..], b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"\xff", b"\x80"] {
            assert!(keys(bytes).contains(&Key::NotUtf8), "{bytes:x?}");
        }
    }

    #[test]
    fn editing_keys_come_in_either_spelling() {
        assert_eq!(
            keys(b"\x1b[A\x1bOB\x1b[3~\x1b[1;5C\x1b[7~\x1b[200~"),
            [Key::Up, Key::Down, Key::Delete, Key::Right, Key::Home, Key::Other]
        );
    }

    #[test]
    fn an_escape_alone_swallows_no_line_end() {
        assert_eq!(keys(b"\x1b\r"), [Key::Enter]);
        assert_eq!(keys(b"\x1b[\r"), [Key::Enter]);
    }
}
