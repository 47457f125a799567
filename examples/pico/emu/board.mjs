// An emulated Pico with a program in its flash, and the host's end of its USB cable.
import { readFileSync } from 'node:fs';
import {
  RP2040, USBCDC, ConsoleLogger, GPIOPinState, LogLevel, createSetupPacket, DataDirection, SetupRecipient, SetupType,
} from 'rp2040js';
import { Rom } from './rom.mjs';

const MEGAHERTZ = 133; // As `board.rs` sets the clock.
const NANOS_A_CYCLE = 1000 / MEGAHERTZ;
const FLASH = 0x10000000;
const RECORD = 0x1f0000; // As `memory.x` has it.
const FLASH_SIZE = 0x200000;
const LAMP = 25, BUTTON = 4;
const TRACKS = [2, 3];

/** Puts a program into the flash, from the file that is dragged to a board. */
function load(mcu, path) {
  const file = readFileSync(path);
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  for (let at = 0; at < file.length; at += 512) {
    const [first, second, , address, length, , , family] = Array.from({ length: 8 }, (_, n) => view.getUint32(at + 4 * n, true));
    const right = first === 0x0a324655 && second === 0x9e5d5157 && family === 0xe48bff56;
    if (!right || address < FLASH || address + length > FLASH + RECORD) throw new Error(`no block of this chip at ${at}`);
    mcu.flash.set(file.subarray(at + 32, at + 32 + length), address - FLASH);
  }
}

export class Board {
  /** @param program a UF2 file  @param record what the flash holds from an earlier life */
  constructor(program, record = null) {
    this.mcu = new RP2040();
    this.mcu.clkSys = MEGAHERTZ * 1e6;
    this.mcu.logger = new ConsoleLogger(LogLevel.Error, false);
    this.rom = new Rom(this.mcu);
    load(this.mcu, program);
    if (record) this.mcu.flash.set(record, RECORD);
    this.cycles = this.instructions = 0;
    this.lit = [];
    this.mcu.gpio[LAMP].addListener((state) => this.lit.push([this.micros, state === GPIOPinState.High]));
    this.mcu.gpio[BUTTON].setInputValue(true);
    for (const track of TRACKS) this.mcu.gpio[track].setInputValue(false);
    this.received = '';
    this.queue = [];
    this.asked = new Map();
    this.connected = false;
    const { usbCtrl } = this.mcu;
    const cdc = (this.cdc = new USBCDC(usbCtrl));
    cdc.onDeviceConnected = () => { this.connected = true; };
    cdc.onSerialData = (bytes) => { for (const byte of bytes) this.received += String.fromCharCode(byte); };
    // CDC (PSTN 1.2, 6.3.12) speaks to the interface; the packaged host speaks to the device, which usbd-serial refuses.
    cdc.cdcSetControlLineState = (value = 3) => {
      usbCtrl.sendSetupPacket(createSetupPacket({
        dataDirection: DataDirection.HostToDevice, type: SetupType.Class, recipient: SetupRecipient.Interface,
        bRequest: 0x22, wValue: value, wIndex: 0, wLength: 0,
      }));
      cdc.initialized = true;
    };
    // A packet that the device waits for stays unanswered while there is nothing to send. rp2040-hal opens its endpoints
    // at the bus reset, before the host knows their numbers: the packaged host would forget those that wait already.
    usbCtrl.onEndpointRead = (endpoint, size) => {
      if (endpoint !== 0) this.asked.set(endpoint, size);
      this.give();
    };
    // The package lets state machines run beside the clock; here they step with it, as their divider says.
    for (const pio of this.mcu.pio) {
      const alarm = this.mcu.clock.createAlarm(() => {
        pio.step();
        alarm.schedule(pio.machines[0].clockDivInt * NANOS_A_CYCLE);
      });
      pio.run = () => alarm.schedule(NANOS_A_CYCLE);
    }
    this.mcu.reset = () => {};
    this.mcu.core.reset();
    this.masked = Infinity;
  }

  give() {
    const endpoint = this.cdc.outEndpoint;
    if (!this.asked.has(endpoint) || this.queue.length === 0) return;
    const packet = Uint8Array.from(this.queue.splice(0, Math.min(this.asked.get(endpoint), 64)));
    this.asked.delete(endpoint);
    this.mcu.usbCtrl.endpointReadDone(endpoint, packet);
  }

  type(text) {
    for (const char of text) this.queue.push(char.charCodeAt(0));
    this.give();
  }

  tracks(levels) {
    TRACKS.forEach((track, n) => this.mcu.gpio[track].setInputValue(levels[n]));
  }

  /** Presses the button, for 50 ms. */
  press() {
    this.mcu.gpio[BUTTON].setInputValue(false);
    this.rest(50_000);
    this.mcu.gpio[BUTTON].setInputValue(true);
    this.rest(50_000);
  }

  /** What the flash holds of the record. */
  get record() {
    return this.mcu.flash.slice(RECORD, FLASH_SIZE);
  }

  get micros() {
    return this.mcu.clock.micros;
  }

  /** Runs until `done`, for at most so many emulated seconds. */
  run(done, seconds = 60) {
    const { mcu } = this;
    const { core, clock } = mcu;
    const end = clock.nanos + seconds * 1e9;
    for (let n = 0; ; n++) {
      if ((n & 0xff) === 0) this.#alive();
      if (core.waiting) {
        this.#sleep(end);
      } else {
        this.#step();
      }
      if ((n & 0xff) === 0 || core.waiting) {
        if (done()) return;
        if (clock.nanos > end) throw new Error(`not done in ${seconds} s; PC ${core.PC.toString(16)}`);
      }
    }
  }

  /** Lets so much time pass. */
  rest(micros) {
    const { core, clock } = this.mcu;
    const end = clock.nanos + micros * 1000;
    for (let n = 0; clock.nanos < end; n++) {
      if ((n & 0xff) === 0) this.#alive();
      if (core.waiting) {
        this.#sleep(end);
      } else {
        this.#step();
      }
    }
  }

  /** A program that cannot run on ends in a loop with its interrupts off. */
  #alive() {
    const { core, clock } = this.mcu;
    if (this.rom.failed) throw new Error(this.rom.failed);
    this.masked = core.PM ? Math.min(this.masked, clock.nanos) : Infinity;
    if (clock.nanos - this.masked > 5e8) throw new Error(`the program has failed; PC ${core.PC.toString(16)}`);
  }

  /** Lets time pass up to the next event; a tick of the processor's own timer wakes it, which the package leaves out. */
  #sleep(end) {
    const { core, clock } = this.mcu;
    const next = clock.nanosToNextAlarm;
    clock.tick(next > 0 ? Math.min(next, end - clock.nanos) : end - clock.nanos);
    if (core.pendingSystick) core.waiting = false;
  }

  #step() {
    const cycles = this.mcu.core.executeInstruction();
    this.cycles += cycles;
    this.instructions++;
    this.mcu.clock.tick(cycles * NANOS_A_CYCLE);
  }

  /** Waits for the prompt; what was said since. */
  prompted(seconds) {
    this.run(() => this.received.endsWith('> ') && this.queue.length === 0, seconds);
    return this.received;
  }
}
