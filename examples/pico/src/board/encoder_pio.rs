//! An incremental encoder on two pins, counted by a state machine of the chip: it keeps counting while the flash is written, when
//! no interrupt can. Any two pins that follow each other will do.
//!
//! ```text
//! forward   AB 00 -> 10 -> 11 -> 01 -> 00      one count a step; A is the first pin, bit 0 of what is read
//! ```

use core::cell::RefCell;

use critical_section::Mutex;
use halfskip_logger::Missed;
use rp2040_hal::gpio::bank0::{Gpio2, Gpio3};
use rp2040_hal::gpio::{FunctionPio0, Pin, PullUp};
use rp2040_hal::pac;
use rp2040_hal::pio::{PIO, PIO0SM0, PIOBuilder, PIOExt, Rx, ShiftDirection};

type Track<P> = Pin<P, FunctionPio0, PullUp>;

/// A turn of the program takes 7 to 10 steps of a quarter of a microsecond, 1.7 to 2.5 us: edges may come every 2.5 us. At 8
/// counts a millimetre that is 50 m/s. Two edges in one turn count as missed; three look like one the other way, and nothing
/// tells. A wheel that gathers speed passes through the rates of two before it comes to those of three.
const STEPS_PER_TURN: u32 = 10;
const DIVISOR: u16 = 33;
/// How often an empty queue is looked at before the state machine counts as dead.
const PATIENCE: u32 = STEPS_PER_TURN * DIVISOR as u32;
/// Where the program tells the count: behind the table, two steps of `both` and three of `up`.
const TOLD: u8 = 16 + 2 + 3;
/// The flag that the program raises when both tracks changed at once.
const MISSED: u8 = 1;

struct Encoder {
    counts: Rx<PIO0SM0>,
    pio: PIO<pac::PIO0>,
    /// What the state machine had counted where the position was last set.
    origin: i32,
}

static ENCODER: Mutex<RefCell<Option<Encoder>>> = Mutex::new(RefCell::new(None));

/// Counts from here on.
pub fn start(_a: Track<Gpio2>, _b: Track<Gpio3>, pio: pac::PIO0, resets: &mut pac::RESETS) {
    // The first sixteen are jumped to by what the tracks were and are; the count is y.
    let program = pio::pio_asm!(
        ".origin 0",
        "jmp told",
        "jmp up",
        "jmp down",
        "jmp both",
        "jmp down",
        "jmp told",
        "jmp both",
        "jmp up",
        "jmp up",
        "jmp both",
        "jmp told",
        "jmp down",
        "jmp both",
        "jmp down",
        "jmp up",
        "jmp told",
        "both:",
        "irq nowait 0",
        "jmp told",
        "up:",
        "mov y, !y",
        "jmp y-- turned",
        "turned:",
        "mov y, !y",
        "told:",
        "mov isr, y",
        "push noblock",
        "out isr, 2",
        "in pins, 2",
        "mov osr, isr",
        "mov pc, isr",
        "down:",
        "jmp y-- told",
        "jmp told",
    );
    let (mut pio, machine, ..) = pio.split(resets);
    let Ok(installed) = pio.install(&program.program) else { return };
    let (mut machine, counts, _) = PIOBuilder::from_installed_program(installed)
        .in_pin_base(2)
        .in_shift_direction(ShiftDirection::Left)
        .out_shift_direction(ShiftDirection::Right)
        .clock_divisor_fixed_point(DIVISOR, 0)
        .build(machine);
    // It begins where it tells, with a count of 0.
    machine.exec_instruction(pio::Instruction {
        operands: pio::InstructionOperands::SET { destination: pio::SetDestination::Y, data: 0 },
        delay: 0,
        side_set: None,
    });
    machine.exec_instruction(pio::Instruction {
        operands: pio::InstructionOperands::JMP { condition: pio::JmpCondition::Always, address: TOLD },
        delay: 0,
        side_set: None,
    });
    let _running = machine.start();
    critical_section::with(|cs| ENCODER.borrow(cs).replace(Some(Encoder { counts, pio, origin: 0 })));
    set(0);
}

impl Encoder {
    /// What the state machine has counted; none when it does not answer.
    fn counted(&mut self) -> Option<i32> {
        // What waits in the queue is old, and full queues take nothing: emptied, the next one is of now.
        while self.counts.read().is_some() {}
        (0..PATIENCE).find_map(|_| self.counts.read()).map(|count| count as i32)
    }
}

/// The count; `Missed` when both tracks changed at once since it was set.
pub fn count() -> Result<i32, Missed> {
    critical_section::with(|cs| {
        let mut encoder = ENCODER.borrow(cs).borrow_mut();
        let encoder = encoder.as_mut().ok_or(Missed)?;
        let counted = encoder.counted().ok_or(Missed)?;
        if encoder.pio.get_irq_raw() & MISSED != 0 {
            Err(Missed)
        } else {
            Ok(counted.wrapping_sub(encoder.origin))
        }
    })
}

/// The probe is where the count is so.
pub fn set(count: i32) {
    critical_section::with(|cs| {
        if let Some(encoder) = ENCODER.borrow(cs).borrow_mut().as_mut() {
            encoder.pio.clear_irq(MISSED);
            if let Some(counted) = encoder.counted() {
                encoder.origin = counted.wrapping_sub(count);
            }
        }
    });
}

/// A state machine has no gaps: nothing to note when interrupts stop.
pub fn left_alone() {}

/// As [`left_alone`].
pub fn looked_at_again((): ()) {}
