//! A flash memory that loses power, byte by byte, at a moment of one's choosing, and has a cell that is stuck.

use halfskip::record::store::nor_flash::{
    ErrorType, NorFlash, NorFlashError, NorFlashErrorKind, ReadNorFlash,
};

use crate::drawn::Drawn;

/// Power failed, or has not come back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PowerLost;

impl std::fmt::Display for PowerLost {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("power lost")
    }
}

impl NorFlashError for PowerLost {
    fn kind(&self) -> NorFlashErrorKind {
        NorFlashErrorKind::Other
    }
}

/// What the step does during which power fails.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Cut {
    /// Nothing.
    Clean,
    /// Half of its work: bits of the rest of a word at random, or part of a sector, in one of [`TORN_ERASURES`] ways.
    Torn,
}

/// The ways in which erasing may be cut: the lower or the upper part erased; bits all over it erased; the lower part
/// programmed to zeros, as is done before erasing; all of it so, and bits erased; any bits at all.
pub const TORN_ERASURES: u64 = 6;

/// The memory. Programming one byte is a step, erasing a sector is a step.
#[derive(Clone, Debug)]
pub struct Nor<const SECTOR: usize, const WORD: usize> {
    cells: Vec<u8>,
    programmed: Vec<bool>,
    drawn: Drawn,
    torn_erasure: u64,
    /// Steps taken since power came.
    pub steps: u64,
    /// Calls to program since the memory was made.
    pub calls: u64,
    /// The place, the bit and the value of a cell that reads the same whatever is done to it.
    pub stuck: Option<(usize, u8, bool)>,
    /// The step in which power fails.
    pub cut: Option<(u64, Cut)>,
    /// The steps since power came in which a sector was erased, or begun to be.
    pub erasures: Vec<u64>,
    lost: bool,
}

impl<const SECTOR: usize, const WORD: usize> Nor<SECTOR, WORD> {
    /// A blank memory; torn steps draw their bits from the seed.
    #[must_use]
    pub fn blank(sectors: usize, seed: u64) -> Self {
        Self {
            cells: vec![0xFF; SECTOR * sectors],
            programmed: vec![false; SECTOR * sectors / WORD],
            drawn: Drawn::seeded(seed),
            torn_erasure: seed % TORN_ERASURES,
            steps: 0,
            calls: 0,
            stuck: None,
            cut: None,
            erasures: Vec::new(),
            lost: false,
        }
    }

    /// Power comes back, and will fail again as told.
    pub fn power(&mut self, cut: Option<(u64, Cut)>) {
        (self.steps, self.cut, self.lost) = (0, cut, false);
        self.erasures.clear();
    }

    /// Draws the bits of torn steps from another seed, and tears erasures in that way.
    pub const fn reseed(&mut self, seed: u64, torn_erasure: u64) {
        self.drawn = Drawn::seeded(seed);
        self.torn_erasure = torn_erasure;
    }

    /// Whether power has failed.
    #[must_use]
    pub const fn is_lost(&self) -> bool {
        self.lost
    }

    /// Every byte.
    pub fn cells(&mut self) -> &mut [u8] {
        &mut self.cells
    }

    /// Counts a step; how it is cut, when it is.
    fn step(&mut self) -> Option<Cut> {
        let now = self.steps;
        self.steps += 1;
        let how = self.cut.and_then(|(at, how)| (at == now).then_some(how));
        self.lost |= how.is_some();
        how
    }

    fn on(&self) -> Result<(), PowerLost> {
        if self.lost { Err(PowerLost) } else { Ok(()) }
    }
}

impl<const SECTOR: usize, const WORD: usize> ErrorType for Nor<SECTOR, WORD> {
    type Error = PowerLost;
}

impl<const SECTOR: usize, const WORD: usize> ReadNorFlash for Nor<SECTOR, WORD> {
    const READ_SIZE: usize = if WORD < 32 { WORD } else { 32 };

    fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), PowerLost> {
        self.on()?;
        let start = offset as usize;
        let whole = |length: usize| length.is_multiple_of(Self::READ_SIZE);
        assert!(whole(start) && whole(bytes.len()), "part of a word read");
        assert!(start % SECTOR + bytes.len() <= SECTOR, "read beyond the sector");
        bytes.copy_from_slice(&self.cells[start..][..bytes.len()]);
        if let Some((place, bit, value)) = self.stuck
            && let Some(byte) = place.checked_sub(start).and_then(|place| bytes.get_mut(place))
        {
            *byte = *byte & !(1 << bit) | u8::from(value) << bit;
        }
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.cells.len()
    }
}

impl<const SECTOR: usize, const WORD: usize> NorFlash for Nor<SECTOR, WORD> {
    const WRITE_SIZE: usize = WORD;
    const ERASE_SIZE: usize = SECTOR;

    fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), PowerLost> {
        self.on()?;
        self.calls += 1;
        let start = offset as usize;
        assert!(start % SECTOR + bytes.len() <= SECTOR, "programmed beyond the sector");
        assert!(start.is_multiple_of(WORD) && bytes.len().is_multiple_of(WORD), "part of a word programmed");
        for (word, bytes) in bytes.chunks(WORD).enumerate() {
            let begin = start + word * WORD;
            assert!(!self.programmed[begin / WORD], "a word programmed twice without erasing");
            self.programmed[begin / WORD] = true;
            for (place, byte) in bytes.iter().enumerate() {
                match self.step() {
                    None => self.cells[begin + place] &= byte,
                    Some(Cut::Clean) => {}
                    Some(Cut::Torn) => {
                        for (cell, byte) in self.cells[begin..begin + WORD].iter_mut().zip(bytes).skip(place)
                        {
                            *cell &= byte | self.drawn.bits() as u8;
                        }
                    }
                }
                if self.lost {
                    // A word in which nothing shows cannot be told from a blank one.
                    self.programmed[begin / WORD] =
                        self.cells[begin..begin + WORD].iter().any(|cell| *cell != 0xFF);
                    return Err(PowerLost);
                }
            }
        }
        Ok(())
    }

    fn erase(&mut self, from: u32, to: u32) -> Result<(), PowerLost> {
        self.on()?;
        let (from, to) = (from as usize, to as usize);
        assert!(from.is_multiple_of(SECTOR) && to == from + SECTOR, "not one sector erased");
        self.erasures.push(self.steps);
        let cut = self.step();
        let part = (self.drawn.bits() % SECTOR as u64) as usize;
        let cells = &mut self.cells[from..to];
        let mut each = |change: fn(u8, u8) -> u8| {
            for cell in &mut *cells {
                *cell = change(*cell, self.drawn.bits() as u8);
            }
        };
        match (cut, self.torn_erasure) {
            (None, _) => cells.fill(0xFF),
            (Some(Cut::Clean), _) => {}
            (Some(Cut::Torn), 0) => cells[..part].fill(0xFF),
            (Some(Cut::Torn), 1) => cells[part..].fill(0xFF),
            (Some(Cut::Torn), 2) => each(|cell, bits| cell | bits),
            (Some(Cut::Torn), 3) => cells[..part].fill(0),
            (Some(Cut::Torn), 4) => each(|_, bits| bits),
            (Some(Cut::Torn), _) => {
                each(|cell, bits| cell & bits.rotate_left(3) | !bits & bits.rotate_left(5))
            }
        }
        if cut.is_some() {
            return Err(PowerLost);
        }
        self.programmed[from / WORD..to / WORD].fill(false);
        Ok(())
    }
}
