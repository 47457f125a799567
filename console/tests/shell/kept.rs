//! An examination whose facts are kept on flash memory: what was acknowledged is there after a cut, and what cannot be
//! kept is not taken.

use std::cell::Cell;
use std::fmt;
use std::rc::Rc;

use halfskip::record::store::nor_flash::{ErrorType, NorFlash, NorFlashErrorKind, ReadNorFlash};
use halfskip::record::store::{Policy, Store, StoreError};
use halfskip_console::editor::{Editor, Mode};
use halfskip_console::port::{Fault, Kept, Station, serve};
use halfskip_console::sheets::NoSheets;
use halfskip_console::shell::recorder::Recorder;
use halfskip_console::shell::{Outcome, Shell};

const SECTOR: usize = 1024;

/// A memory of some sectors, which power can leave.
#[derive(Clone)]
struct Memory {
    cells: Vec<u8>,
    /// Bytes that are still programmed before it fails.
    left: Rc<Cell<usize>>,
    programmed: Rc<Cell<usize>>,
}

impl Memory {
    fn blank(sectors: usize) -> Self {
        Self {
            cells: vec![0xFF; sectors * SECTOR],
            left: Rc::new(Cell::new(usize::MAX)),
            programmed: Rc::new(Cell::new(0)),
        }
    }
}

impl ErrorType for Memory {
    type Error = NorFlashErrorKind;
}

impl ReadNorFlash for Memory {
    const READ_SIZE: usize = 1;

    fn read(&mut self, at: u32, into: &mut [u8]) -> Result<(), NorFlashErrorKind> {
        into.copy_from_slice(&self.cells[at as usize..][..into.len()]);
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.cells.len()
    }
}

impl NorFlash for Memory {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = SECTOR;

    fn write(&mut self, at: u32, bytes: &[u8]) -> Result<(), NorFlashErrorKind> {
        for (cell, byte) in self.cells[at as usize..].iter_mut().zip(bytes) {
            let left = self.left.get().checked_sub(1).ok_or(NorFlashErrorKind::Other)?;
            self.left.set(left);
            self.programmed.set(self.programmed.get() + 1);
            *cell &= byte;
        }
        Ok(())
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), NorFlashErrorKind> {
        self.cells[from as usize..to as usize].fill(0xFF);
        Ok(())
    }
}

fn shell() -> Box<Shell<NoSheets>> {
    Box::new(Shell::new(NoSheets))
}

fn typed(station: &mut impl Station, line: &str) -> (Outcome, String) {
    let mut answer = String::new();
    let outcome = station.line(line.as_bytes(), &mut answer);
    (outcome, answer)
}

const FACTS: [&str; 4] = [
    "title \"Kept (INVENTED)\"",
    "probe p60 angle=60 frequency=4 element=8x9",
    "joint butt thickness=20 prep=square gap=2",
    "reading 1 probe=p60 side=a x=100 standoff=34 path=40 height=80 gain=44",
];

#[test]
fn a_station_that_is_switched_on_again_holds_what_it_held() {
    let mut flash = Memory::blank(4);
    let (mut before, mut again) = (shell(), shell());
    let mut kept = Kept::open(&mut *before, &mut flash);
    for (number, fact) in FACTS.iter().enumerate() {
        assert_eq!(typed(&mut kept, fact).0, Outcome::Recorded(number as u32 + 1));
    }
    let listed = typed(&mut kept, "list").1;
    let mut kept = Kept::open(&mut *again, &mut flash);
    assert_eq!(typed(&mut kept, "list").1, listed);
    assert_eq!(typed(&mut kept, "void 4 reason=\"typed twice\"").0, Outcome::Recorded(5));
    assert_eq!(kept.entry(4), before.examination().entry(4).map(|(entry, _)| entry));
}

/// Writes down how much was programmed when the first word of an answer came.
struct First(Rc<Cell<usize>>, Option<usize>);

impl fmt::Write for First {
    fn write_str(&mut self, _: &str) -> fmt::Result {
        self.1.get_or_insert(self.0.get());
        Ok(())
    }
}

#[test]
fn a_fact_is_on_the_memory_before_it_is_acknowledged() {
    let mut flash = Memory::blank(4);
    let programmed = flash.programmed.clone();
    let mut shell = shell();
    let mut kept = Kept::open(&mut *shell, &mut flash);
    for fact in FACTS {
        let mut first = First(programmed.clone(), None);
        let before = programmed.get();
        assert!(matches!(kept.line(fact.as_bytes(), &mut first), Outcome::Recorded(_)));
        assert!(first.1.unwrap() > before && first.1 == Some(programmed.get()), "{fact}");
    }
}

#[test]
fn a_full_memory_takes_no_more_facts_and_answers_all_the_same() {
    let mut flash = Memory::blank(2);
    let mut recorder: Box<Recorder> = Box::new(Recorder::new());
    let mut kept = Kept::open(&mut *recorder, &mut flash);
    let mut last = 0;
    let refused = loop {
        match typed(&mut kept, "note \"one of many notes that fill a memory to its end\"") {
            (Outcome::Recorded(number), _) => last = number,
            (Outcome::Refused { column: None }, said) => break said,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(refused, "not recorded: the memory is full; nothing recorded was overwritten\n");
    assert_eq!(kept.fault(), Some(Fault::Store(StoreError::Full)));
    assert!(last > 15 && kept.last() == last && kept.station().examination().last() == last);
    assert_eq!(typed(&mut kept, "status").0, Outcome::Answered);
    // A line that is none is refused for what it is.
    assert_eq!(typed(&mut kept, "nonsense").0, Outcome::Refused { column: Some(1) });
    let fact = kept.entry(1).unwrap();
    assert_eq!(kept.record(fact, &mut String::new()), Outcome::Refused { column: None });
    // Erased, it takes facts again, from the first number on.
    assert_eq!(kept.erase(), Ok(()));
    assert_eq!((kept.fault(), kept.last()), (None, 0));
    assert_eq!(typed(&mut kept, FACTS[0]).0, Outcome::Recorded(1));
}

#[test]
fn a_fact_that_the_memory_fails_at_is_not_acknowledged_and_none_follows() {
    let mut whole = 0;
    // At each byte of the last fact.
    for left in 0..60 {
        let mut flash = Memory::blank(4);
        let supply = flash.left.clone();
        let (mut before, mut after) = (shell(), shell());
        let mut kept = Kept::open(&mut *before, &mut flash);
        drop(typed(&mut kept, FACTS[0]));
        supply.set(left);
        let (outcome, said) = typed(&mut kept, "note \"a note of some length\"");
        supply.set(usize::MAX);
        if outcome != Outcome::Recorded(2) {
            assert!(said.starts_with("entry 2 is lost when the power goes: the memory failed"), "{said}");
            assert!(!said.contains("recorded"), "{said}");
            assert_eq!((kept.last(), kept.entry(2)), (1, None));
            let (outcome, said) = typed(&mut kept, FACTS[1]);
            assert_eq!(outcome, Outcome::Refused { column: None });
            assert!(said.starts_with("not recorded: "), "{said}");
        }
        whole += u32::from(outcome == Outcome::Recorded(2));
        let kept = Kept::open(&mut *after, &mut flash);
        assert_eq!(kept.fault(), None);
        // What lacks nothing but what fills up its last word is kept, though nobody was told.
        assert!(kept.last() == 2 || outcome != Outcome::Recorded(2) && kept.last() == 1, "{left}");
    }
    assert!((1..30).contains(&whole), "{whole}");
}

#[test]
fn what_cannot_be_read_again_ends_the_record_and_is_told() {
    let mut flash = Memory::blank(4);
    let mut first = shell();
    let mut kept = Kept::open(&mut *first, &mut flash);
    FACTS.iter().for_each(|fact| drop(typed(&mut kept, fact)));
    // Two bits of the second fact are lost: one alone is put right.
    let at = flash.cells.windows(3).position(|bytes| bytes == b"p60").unwrap();
    flash.cells[at] &= !0x60;
    let mut second = shell();
    let mut kept = Kept::open(&mut *second, &mut flash);
    assert_eq!(kept.last(), 1);
    assert_eq!(kept.fault(), Some(Fault::Store(StoreError::Damaged { first: 2, last: 2 })));
    let (outcome, said) = typed(&mut kept, FACTS[1]);
    assert_eq!(outcome, Outcome::Refused { column: None });
    assert_eq!(said, "not recorded: entries 2 to 2 can no longer be read\n");
}

#[test]
fn a_fact_that_this_program_does_not_take_is_told_by_its_number() {
    let mut flash = Memory::blank(4);
    let mut store = Store::open(&mut flash, Policy::Stop).unwrap();
    let mut other = shell();
    for fact in &FACTS[..2] {
        typed(&mut *other, fact);
    }
    // A reading's probe has no line of its own before it.
    store.append(&Station::entry(&*other, 1).unwrap()).unwrap();
    typed(&mut *other, FACTS[2]);
    typed(&mut *other, FACTS[3]);
    store.append(&Station::entry(&*other, 4).unwrap()).unwrap();
    let mut shell = shell();
    let kept = Kept::open(&mut *shell, &mut flash);
    assert_eq!((kept.last(), kept.fault()), (1, Some(Fault::NotTaken { number: 2 })));
}

#[test]
fn a_memory_of_something_else_takes_nothing_until_it_is_erased() {
    let mut flash = Memory::blank(2);
    flash.cells.fill(0x55);
    let mut shell = shell();
    let mut kept = Kept::open(&mut *shell, &mut flash);
    let (_, said) = typed(&mut kept, FACTS[0]);
    assert_eq!(said, "not recorded: sector 0 holds something other than entries; format it to use it\n");
    assert_eq!(kept.erase(), Ok(()));
    assert_eq!(typed(&mut kept, FACTS[0]).0, Outcome::Recorded(1));
}

/// A port of bytes that are all there.
struct Port<'a>(&'a [u8], Vec<u8>);

impl embedded_io::ErrorType for Port<'_> {
    type Error = std::convert::Infallible;
}

impl embedded_io::Read for Port<'_> {
    fn read(&mut self, into: &mut [u8]) -> Result<usize, Self::Error> {
        Ok(embedded_io::Read::read(&mut self.0, into).unwrap())
    }
}

impl embedded_io::Write for Port<'_> {
    fn write(&mut self, bytes: &[u8]) -> Result<usize, Self::Error> {
        self.1.extend(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> Result<(), Self::Error> {
        Ok(())
    }
}

#[test]
fn a_shell_with_links_and_a_memory_is_served_at_a_port() {
    type Linked = Shell<NoSheets, 2, 4, 64, 1024, 32, 8, 64>;
    let mut flash = Memory::blank(4);
    let mut linked: Box<Linked> = Box::new(Shell::new(NoSheets));
    let text = FACTS.map(|fact| format!("{fact}\n")).concat();
    let mut port = Port(text.as_bytes(), Vec::new());
    let mut editor: Editor = Editor::new(Mode::Plain, "");
    serve(&mut port, &mut editor, &mut Kept::open(&mut *linked, &mut flash)).unwrap();
    assert!(String::from_utf8(port.1).unwrap().contains("\n4: "));
    assert_eq!(Store::open(&mut flash, Policy::Stop).unwrap().last(), 4);
}
