// Plays transcripts to the board over its USB port; the answers have to be the same to the byte: transcripts.mjs UF2 FILE...
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { Board } from './board.mjs';
import { check, end } from './tried.mjs';

const RAM_END = 0x20040000, PAINT = 0xcccccccc, UNUSED = 256;
/** Bytes of stack that were ever used: the start-up code has painted it, from the last variable up. */
function stack(mcu) {
  let at = RAM_END, painted = 0;
  while (painted < UNUSED) {
    at -= 4;
    painted = mcu.readUint32(at) >>> 0 === PAINT ? painted + 1 : 0;
  }
  return RAM_END - at - 4 * UNUSED;
}

let deepest = 0;
const [program, ...transcripts] = process.argv.slice(2);
for (const path of transcripts) {
  const lines = readFileSync(path, 'utf8').split('\n');
  const from = lines.findIndex((line) => line.startsWith('> '));
  const typed = lines.slice(from).filter((line) => line.startsWith('> ')).map((line) => line.slice(2));
  const expected = lines.slice(from).join('\n') + '> ';
  const board = new Board(program);
  board.prompted(5);
  board.type(typed.map((line) => line + '\r').join(''));
  let seen = 0, prompts = 0;
  board.run(() => {
    if (board.received.length === seen) return false;
    seen = board.received.length;
    prompts = board.received.split('\n> ').length;
    return prompts > typed.length && board.received.endsWith('\n> ');
  }, 600);
  deepest = Math.max(deepest, stack(board.mcu));
  const answered = board.received.replaceAll('\r', '');
  const [want, have] = [expected.split('\n'), answered.split('\n')];
  const at = want.findIndex((line, n) => line !== have[n]);
  check(`${basename(path)}: ${typed.length} lines in ${(board.micros / 1e6).toFixed(2)} s on the board`, answered === expected,
    { line: at + 1, expected: want[at], answered: have[at] });
}
console.log(`     ${transcripts.length} sessions; the deepest stack was ${deepest} bytes`);
end();
