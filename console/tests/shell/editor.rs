//! The editor as a terminal sees it, and as a plain line of bytes.

use halfskip_console::editor::{Editor, Event, Mode};

const PROMPT: &str = "> ";

/// One row of a terminal: what stands in it, and where its cursor is.
#[derive(Default)]
struct Row {
    cells: Vec<char>,
    cursor: usize,
    bells: usize,
    rows: Vec<String>,
}

impl Row {
    fn show(&mut self, text: &str) {
        let mut characters = text.chars();
        while let Some(character) = characters.next() {
            match character {
                '\r' => self.cursor = 0,
                '\n' => {
                    self.rows.push(self.text());
                    self.cells.clear();
                }
                '\x08' => self.cursor = self.cursor.checked_sub(1).expect("left of the row"),
                '\x07' => self.bells += 1,
                '\x1b' => {
                    assert_eq!(characters.next(), Some('['));
                    assert_eq!(characters.next(), Some('K'));
                    self.cells.truncate(self.cursor);
                }
                character => {
                    assert!(!character.is_control(), "{character:?}");
                    self.cells.resize(self.cells.len().max(self.cursor + 1), ' ');
                    self.cells[self.cursor] = character;
                    self.cursor += 1;
                }
            }
        }
    }

    fn text(&self) -> String {
        self.cells.iter().collect::<String>().trim_end().to_owned()
    }
}

/// Feeds bytes; the events as text, and the terminal.
fn typed<const LINE: usize, const HISTORY: usize>(
    editor: &mut Editor<LINE, HISTORY>,
    row: &mut Row,
    bytes: &[u8],
) -> Vec<String> {
    let mut events = Vec::new();
    for &byte in bytes {
        let mut echoed = Vec::new();
        let event = editor.push(byte, |bytes| echoed.extend_from_slice(bytes));
        let done = event.is_some();
        match event {
            Some(Event::Line(line)) => events.push(line.to_owned()),
            Some(Event::Refused(fault)) => events.push(match fault.column() {
                Some(column) => format!("{column}: {fault}"),
                None => fault.to_string(),
            }),
            Some(event) => events.push(format!("{event:?}")),
            None => {}
        }
        if done {
            editor.prompt(|bytes| echoed.extend_from_slice(bytes));
        }
        row.show(core::str::from_utf8(&echoed).expect("whole characters"));
    }
    events
}

fn terminal() -> (Editor<24, 3>, Row) {
    let (mut editor, mut row) = (Editor::new(Mode::Terminal, PROMPT), Row::default());
    editor.prompt(|bytes| row.show(core::str::from_utf8(bytes).unwrap()));
    (editor, row)
}

#[test]
fn a_line_is_mended_in_its_middle() {
    let (mut editor, mut row) = terminal();
    assert!(typed(&mut editor, &mut row, b"readng 1\x1b[D\x1b[D\x1b[D\x1b[Di").is_empty());
    assert_eq!((row.text().as_str(), row.cursor), ("> readi ng 1".replace("i ", "i").as_str(), 7));
    assert_eq!(typed(&mut editor, &mut row, b"\r"), ["reading 1"]);
}

#[test]
fn every_line_end_ends_one_line() {
    let (mut editor, mut row) = terminal();
    let events = typed(&mut editor, &mut row, b"a\rb\nc\r\n\r\nd\n");
    assert_eq!(events, ["a", "b", "c", "", "d"]);
}

#[test]
fn a_line_too_long_is_refused_whole_and_once() {
    for mode in [Mode::Terminal, Mode::Plain] {
        let mut editor: Editor<24, 3> = Editor::new(mode, PROMPT);
        let mut row = Row::default();
        let long = [b'x'; 1000];
        assert!(typed(&mut editor, &mut row, &long).is_empty());
        assert_eq!(typed(&mut editor, &mut row, b"\r"), ["line is longer than 24 bytes"]);
        assert_eq!(typed(&mut editor, &mut row, &[b'y'; 24]), [""; 0]);
        assert_eq!(typed(&mut editor, &mut row, b"\r"), ["y".repeat(24)]);
    }
}

#[test]
fn what_is_no_text_spoils_its_line_and_no_other() {
    for mode in [Mode::Terminal, Mode::Plain] {
        let mut editor: Editor<24, 3> = Editor::new(mode, PROMPT);
        let mut row = Row::default();
        let events = typed(&mut editor, &mut row, b"ab\0c\rgood\rab\xffc\r\xc3\rgood\r");
        assert_eq!(
            events,
            [
                "3: line holds a NUL byte",
                "good",
                "3: line is not UTF-8 text",
                "1: line is not UTF-8 text",
                "good"
            ]
        );
    }
}

#[test]
fn a_program_gets_no_echo_and_no_editing() {
    let mut editor: Editor<24, 3> = Editor::new(Mode::Plain, PROMPT);
    let mut row = Row::default();
    let events = typed(&mut editor, &mut row, b"a\tb\r\nab\x7f\r\nab\x1b[A\r\nend\r\n\x04");
    let control = "3: line holds a control code";
    assert_eq!(events, ["a\tb", control, control, "end", "End"]);
    assert_eq!((row.text(), row.bells), (String::new(), 0));
}

#[test]
fn the_last_lines_come_back_and_so_does_the_draft() {
    let (mut editor, mut row) = terminal();
    typed(&mut editor, &mut row, b"one\rtwo\rtwo\r\rthree\rfour\rdra");
    let mut seen = Vec::new();
    for key in [b"\x1b[A", b"\x1b[A", b"\x1b[A", b"\x1b[A", b"\x1b[B", b"\x1b[B", b"\x1b[B", b"\x1b[B"] {
        typed(&mut editor, &mut row, key);
        seen.push(row.text());
    }
    let lines = ["four", "three", "two", "two", "three", "four", "dra", "dra"];
    assert_eq!(seen, lines.map(|line| format!("> {line}")));
    assert_eq!(row.bells, 2);
    assert_eq!(typed(&mut editor, &mut row, b"ft\r"), ["draft"]);
}

#[test]
fn control_keys_clear_drop_and_end() {
    let (mut editor, mut row) = terminal();
    let events = typed(&mut editor, &mut row, b"abc\x15d\rabc\x03\r\x04");
    assert_eq!(events, ["d", "Interrupted", "", "End"]);
    let (mut editor, mut row) = terminal();
    assert_eq!(typed(&mut editor, &mut row, b"abc\x01\x04\x05d\r"), ["bcd"]);
}

/// A naive line beside the editor: any keys, in a terminal too narrow for the line.
#[test]
fn the_terminal_always_shows_the_line_and_its_cursor() {
    const COLUMNS: usize = 14;
    let keys: [&[u8]; 12] = [
        b"a",
        "ä".as_bytes(),
        "€".as_bytes(),
        b"z",
        b" ",
        b"\x7f",
        b"\x1b[3~",
        b"\x1b[D",
        b"\x1b[D",
        b"\x1b[C",
        b"\x01",
        b"\x05",
    ];
    let mut chance = 7u64;
    for _ in 0..300 {
        let mut editor: Editor<24, 3> = Editor::new(Mode::Terminal, PROMPT);
        editor.set_columns(COLUMNS);
        let mut row = Row::default();
        editor.prompt(|bytes| row.show(core::str::from_utf8(bytes).unwrap()));
        let (mut line, mut cursor): (Vec<char>, usize) = (Vec::new(), 0);
        for _ in 0..60 {
            chance = chance.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let key = keys[(chance >> 33) as usize % keys.len()];
            let text = core::str::from_utf8(key).unwrap();
            match text {
                "\x7f" if cursor > 0 => {
                    cursor -= 1;
                    line.remove(cursor);
                }
                "\x1b[3~" if cursor < line.len() => drop(line.remove(cursor)),
                "\x1b[D" => cursor = cursor.saturating_sub(1),
                "\x1b[C" if cursor < line.len() => cursor += 1,
                "\x01" => cursor = 0,
                "\x05" => cursor = line.len(),
                _ if text.chars().all(char::is_control) || text.starts_with('\x1b') => {}
                _ if line.iter().collect::<String>().len() + text.len() > 24 => continue,
                _ => {
                    line.insert(cursor, text.chars().next().unwrap());
                    cursor += 1;
                }
            }
            typed(&mut editor, &mut row, key);
            assert!(row.cells.len() < COLUMNS && row.cursor < COLUMNS);
            let window = row.cells[PROMPT.len()..].iter().collect::<String>();
            let whole = line.iter().collect::<String>() + " ";
            let before = row.cells[PROMPT.len()..row.cursor].iter().collect::<String>();
            assert!(whole.contains(window.trim_end()), "{window:?} is no part of {whole:?}");
            assert!(line[..cursor].iter().collect::<String>().ends_with(&before), "{before:?} in {whole:?}");
        }
        let whole = line.iter().collect::<String>();
        assert_eq!(typed(&mut editor, &mut row, b"\r"), [whole]);
    }
}
