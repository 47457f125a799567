// A boot ROM of our own for the emulated RP2040: no code of the real one, only its interface as the RP2040 datasheet
// (2.8) describes it. Each function is `bkpt N; bx lr`; what it does is done here.
//
// The flash is guarded: while it is not mapped, a read of it ends the run, as it would end the program on a real chip.
// Programming clears bits and never sets one; a write that would have to is counted.

const FLASH = 0x10000000, FLASH_MIRRORS = 0x14000000, SECOND_STAGE = 0x20041f00;
const SSI_ENABLE = 0x18000008;

// crc32 as the boot ROM takes it over the first 252 bytes (datasheet 2.8.1.3.1).
function crc(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte << 24;
    for (let bit = 0; bit < 8; bit++) sum = sum & 0x80000000 ? (sum << 1) ^ 0x04c11db7 : sum << 1;
  }
  return sum >>> 0;
}

/** Power has failed; what the flash holds then is what it holds. */
export class PowerCut extends Error {}

export class Rom {
  constructor(mcu) {
    this.mcu = mcu;
    this.mapped = false;
    this.size = 2 * 1024 * 1024;
    this.erased = 0;
    this.programmed = 0;
    // Called before each byte that is programmed and each sector erased; true when power fails there.
    this.cut = () => false;
    this.failed = null;
    this.#write();
    this.#guard();
    mcu.onBreak = (code) => this.#call(code);
  }

  #functions = [];
  codes = {};

  #write() {
    const bytes = new Uint8Array(16 * 1024);
    const view = new DataView(bytes.buffer);
    let free = 0x100;
    const add = (act) => {
      const at = free, code = this.#functions.push(act) - 1;
      view.setUint16(at, 0xbe00 | code, true); // bkpt #code
      view.setUint16(at + 2, 0x4770, true); // bx lr
      free += 4;
      return at | 1;
    };
    const fault = add(() => { throw new Error('a fault before the program has vectors'); });
    view.setUint32(0x00, SECOND_STAGE, true);
    view.setUint32(0x04, add(() => this.boot()), true);
    view.setUint32(0x08, fault, true);
    view.setUint32(0x0c, fault, true);
    view.setUint32(0x10, 0x0301754d, true); // 'M', 'u', 1, version 3
    const { mcu } = this;
    const arg = (n) => mcu.core.registers[n];
    const functions = {
      IF: () => {},
      EX: () => { this.mapped = false; },
      RE: () => this.#erase(arg(0), arg(1)),
      RP: () => this.#program(arg(0), arg(1), arg(2)),
      FC: () => {},
      CX: () => { this.mapped = true; },
      P3: () => { let n = 0; for (let v = arg(0); v; v &= v - 1) n++; mcu.core.registers[0] = n; },
      UB: () => this.#end('restarted into the boot loader'),
    };
    const table = 0x40;
    let at = table;
    for (const [name, act] of Object.entries(functions)) {
      view.setUint16(at, name.charCodeAt(0) | (name.charCodeAt(1) << 8), true);
      view.setUint16(at + 2, add(act), true);
      this.codes[name] = this.#functions.length - 1;
      at += 4;
    }
    const empty = at; // The end of the one table is the whole of the other.
    view.setUint16(0x14, table, true);
    view.setUint16(0x16, empty, true);
    view.setUint16(0x18, add(() => this.#look_up(view)), true);
    mcu.loadBootrom(new Uint32Array(bytes.buffer));
  }

  #look_up(view) {
    const { registers } = this.mcu.core;
    let at = registers[0];
    const tag = registers[1] & 0xffff;
    for (; view.getUint16(at, true) !== 0; at += 4) {
      if (view.getUint16(at, true) === tag) {
        registers[0] = view.getUint16(at + 2, true);
        return;
      }
    }
    this.#end(`the boot ROM is asked for ${String.fromCharCode(tag & 255, tag >> 8)}, which it has not`);
    registers[0] = 0;
  }

  boot() {
    const { mcu } = this;
    const stage = mcu.flash.slice(0, 256);
    const sum = new DataView(stage.buffer).getUint32(252, true);
    if (crc(stage.subarray(0, 252)) !== sum) throw new Error('no second stage: its checksum is wrong');
    mcu.sram.set(stage, SECOND_STAGE - 0x20000000);
    mcu.core.SP = SECOND_STAGE;
    mcu.core.LR = 0;
    mcu.core.PC = SECOND_STAGE;
  }

  #erase(at, count) {
    if (at % 4096 || count % 4096 || at + count > this.size) return this.#end(`erase of ${count} at ${at}`);
    for (let sector = at; sector < at + count; sector += 4096) {
      const cut = this.cut();
      this.mcu.flash.fill(0xff, sector, sector + (cut ? 2048 : 4096));
      if (cut) throw new PowerCut();
      this.erased++;
      this.#busy(45e6);
    }
  }

  #program(at, from, count) {
    if (at % 256 || count % 256 || at + count > this.size) return this.#end(`programming of ${count} at ${at}`);
    for (let place = 0; place < count; place++) {
      const byte = this.mcu.readUint8(from + place);
      if (byte !== 0xff && this.cut()) throw new PowerCut();
      this.mcu.flash[at + place] &= byte;
    }
    this.programmed++;
    this.#busy(400e3);
  }

  // What the chip takes, by the data sheet of a W25Q16JV: typically 45 ms a sector, 0.4 ms a page.
  #busy(nanos) {
    this.mcu.clock.tick(nanos);
  }

  #call(code) {
    const { core } = this.mcu;
    // Below 16 KiB it is the ROM; elsewhere a breakpoint of the program.
    if (core.PC - 2 < 0x4000 && this.#functions[code]) return this.#functions[code]();
    this.#end(`breakpoint at ${(core.PC - 2).toString(16)}, LR ${core.LR.toString(16)}, IPSR ${core.IPSR}`);
  }

  #end(why) {
    this.failed ??= why;
  }

  #guard() {
    const { mcu } = this;
    for (const read of ['readUint32', 'readUint16', 'readUint8']) {
      const plain = mcu[read].bind(mcu);
      mcu[read] = (address) => {
        if (!this.mapped && address >= FLASH && address < FLASH_MIRRORS) {
          this.#end(`the flash is read at ${address.toString(16)} while it is not mapped, PC ${mcu.core.PC.toString(16)}`);
        }
        return plain(address);
      };
    }
    // The second stage ends with the interface switched on again, in its last setting.
    const ssi = mcu.peripherals[0x18000];
    const plain = ssi.writeUint32.bind(ssi);
    ssi.writeUint32 = (offset, value) => {
      plain(offset, value);
      if (offset === (SSI_ENABLE & 0xfff)) this.mapped = value === 1;
    };
  }
}
