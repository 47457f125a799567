// Power that fails at each byte of an entry, and a cable that is pulled out: cuts.mjs UF2.
import { Board } from './board.mjs';
import { PowerCut } from './rom.mjs';
import { ask, check, end } from './tried.mjs';

const program = process.argv[2];
const FACTS = ['title "Kept (INVENTED)"', 'probe p60 angle=60 frequency=4 element=8x9',
  'joint butt thickness=20 prep=square gap=2', 'reading 1 probe=p60 side=a x=100 standoff=34 path=40 height=80 gain=44'];

function started(record) {
  const board = new Board(program, record);
  board.prompted(5);
  return board;
}

/** Asks a board whose power fails before its n-th byte; whether it had acknowledged. */
function cut(board, line, n) {
  board.rom.cut = () => n-- <= 0;
  try {
    return [true, ask(board, line, 5)];
  } catch (error) {
    if (!(error instanceof PowerCut)) throw error;
    return [false, board.received];
  }
}

// A power cycle.
const first = started(null);
FACTS.forEach((fact) => ask(first, fact));
const [kept, listed] = [first.record, ask(first, 'list')];
const again = ask(started(kept), 'list');
check('after a power cycle the record is the same', again === listed && listed.includes('4  reading'), again);

// Each byte of the fifth entry.
const NOTE = 'note "the last one"';
let bytes = 0;
const counting = started(kept);
counting.rom.cut = () => { bytes++; return false; };
ask(counting, NOTE);
const wrong = [];
let whole = 0, gone = 0;
for (let at = 0; at <= bytes; at++) {
  const board = started(kept);
  const [through, said] = cut(board, NOTE, at);
  const acknowledged = said.includes('5: note recorded');
  const after = started(board.record);
  const now = ask(after, 'list');
  if (now === listed && !acknowledged) gone++;
  else if (now.startsWith(listed) && now.includes('5  note "the last one"')) whole++;
  else wrong.push([at, acknowledged, now]);
  if (through !== acknowledged || !ask(after, 'note "after it"').includes('recorded')) wrong.push([at, 'it takes no more']);
}
check(`power cut before each of ${bytes} bytes: ${gone} times gone and not acknowledged, ${whole} times whole`,
  wrong.length === 0 && bytes > 20 && whole > 0 && gone > 20, wrong);

// Erasing that is cut: the record may be lost, and the board says so; erased again, it takes facts.
for (const at of [0, 1, 15]) {
  const board = started(kept);
  const [through] = cut(board, 'record erase', at);
  const after = started(board.record);
  const said = ask(after, 'record');
  const right = !through && /^(recording; [04] facts are kept|not recording: .*)\n$/.test(said);
  ask(after, 'record erase');
  check(`erasing cut at sector ${at}: ${said.trim()}`, right && ask(after, FACTS[0]).startsWith('1: '), said);
}

// Nobody listens: the device does not wait.
const board = started(kept);
board.cdc.cdcSetControlLineState(0);
board.rest(1000);
board.type('help\r');
board.rest(100_000);
board.cdc.cdcSetControlLineState(3);
board.rest(1000);
check('after the program at the other end was away it answers', ask(board, 'list') === listed);
end();
