// How long the board takes for each question when its examination is full: times.mjs UF2 COMMITTED. The table is printed and
// compared with what is committed; with HALFSKIP_BLESS=1 it is written there.
//
// From Enter to the prompt, as the emulator counts instructions and cycles of a Cortex-M0+; what the flash's cache costs
// on a chip is not counted.
import { readFileSync, writeFileSync } from 'node:fs';
import { Board } from './board.mjs';
import { ask, check, end } from './tried.mjs';

const [program, committed] = process.argv.slice(2);
const JOB = new URL('../../jobs/butt-weld-20mm.job', import.meta.url);
const SPOKEN = /^(title|examiner|procedure|equipment|detail|note|reading|observe)\b/;
const READING = /^(reading|observe)\b/;
const QUESTIONS = ['locate', 'size 5', 'sides 1', 'rate 5', 'nature 5', 'why 5', 'margin 5', 'grounds 5',
  'findings', 'grounds', 'beam p60', 'curve p60', 'along', 'dynamic 5', 'plan', 'coverage', 'expect p60 side=a', 'section', 'list',
  'status', 'help'];
const GROWTH = 1.1;

/** What a line costs from Enter on. */
function timed(board, line) {
  const from = board.received.length;
  board.type(line);
  board.run(() => board.queue.length === 0 && board.received.length >= from + line.length, 5);
  board.rest(5000);
  const [cycles, instructions, micros] = [board.cycles, board.instructions, board.micros];
  const typed = board.received.length;
  board.type('\r');
  board.run(() => board.received.length > typed && board.received.endsWith('\n> '), 600);
  const said = board.received.slice(typed);
  return { line, said, cycles: board.cycles - cycles, instructions: board.instructions - instructions, millis: (board.micros - micros) / 1000 };
}

const lines = readFileSync(JOB, 'utf8').split('\n').map((line) => line.replace(/\s+#.*|^#.*/, '').replace('../criteria/', ''));
const board = new Board(program);
board.prompted(5);
for (const line of lines.filter((line) => line && !SPOKEN.test(line))) {
  const said = ask(board, line);
  if (!/^\d+: /.test(said)) check(line, false, said);
}
const wrong = lines.filter((line) => READING.test(line)).map((line) => [line, ask(board, line)]).filter(([, said]) => !/^\d+: /.test(said));
check('the example job is taken', wrong.length === 0, wrong);
// The rest are invented: a long indication of as many readings as a series holds, then eleven shorter ones.
const shape = (n, count) => Math.round(12 + 60 * Math.sin(Math.PI * (n + 0.5) / count));
const reading = (id, n, count) => `reading ${id} probe=p60 side=a x=${600 + id * 200 + n} standoff=34.2 path=41.3 height=${shape(n, count)} gain=42 sweep=along`;
const more = Array.from({ length: 128 }, (_, n) => reading(5, n, 128))
  .concat(...Array.from({ length: 11 }, (_, k) => Array.from({ length: 40 }, (_, n) => reading(6 + k, n, 40))));
let last;
for (const line of more) {
  const now = timed(board, line);
  if (now.said.includes('not recorded')) break;
  last = now;
}
const status = ask(board, 'status');
check('the examination is full', /512 of 512 readings/.test(status.replace(/\s+/g, ' ')), status);
const found = [{ ...last, line: 'the last of 512 readings' }, ...QUESTIONS.map((line) => timed(board, line))];
const refused = found.filter(({ said }) => /column \d|not recorded/.test(said));
check('every question is answered', refused.length === 0, refused);

// Switched off and on: the record is read from flash and evaluated anew.
const again = new Board(program, board.record);
again.prompted(60);
found.push({ line: 'switched on, up to the prompt', cycles: again.cycles, instructions: again.instructions, millis: again.micros / 1000 });
check('switched on again it holds the same', ask(again, 'status') === status);

const row = ({ line, instructions, cycles, millis }) => `${line.padEnd(30)} ${instructions.toLocaleString('en').padStart(13)} ${cycles.toLocaleString('en').padStart(13)} ${millis.toFixed(1).padStart(9)}`;
const head = `${''.padEnd(30)} ${'instructions'.padStart(13)} ${'cycles'.padStart(13)} ${'ms'.padStart(9)}`;
const table = [head, ...found.map(row)].join('\n') + '\n';
console.log(table);
if (process.env.HALFSKIP_BLESS) {
  writeFileSync(committed, table);
} else {
  const before = new Map(readFileSync(committed, 'utf8').split('\n').slice(1).filter(Boolean)
    .map((line) => [line.slice(0, 30).trim(), Number(line.slice(30).split(/\s+/).at(-1))]));
  for (const { line, millis } of found) {
    const was = before.get(line);
    if (!(millis <= was * GROWTH)) check(`${line} takes longer than it did`, false, { was, millis });
  }
}
end();
