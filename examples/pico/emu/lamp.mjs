// What the lamp tells, as it is lit and dark: lamp.mjs UF2.
import { Board } from './board.mjs';
import { ask, check, end } from './tried.mjs';

const program = process.argv[2];

/** The lengths, in milliseconds, of what the lamp does in a time: [lit, dark, lit, ...], those between two changes. */
function seen(board, millis) {
  const from = board.lit.length;
  board.rest(millis * 1000);
  const changes = board.lit.slice(from);
  return changes.slice(1).map(([at], n) => [changes[n][1], Math.round((at - changes[n][0]) / 1000)]);
}

const every = (pattern, on, off) => pattern.length > 3
  && pattern.every(([lit, millis]) => Math.abs(millis - (lit ? on : off)) <= 6);

const board = new Board(program);
board.prompted(5);
check('steady while it records', seen(board, 300).length === 0 && board.lit.at(-1)[1]);
ask(board, 'note "kept"');
const [wink] = seen(board, 300);
check('dark for an instant when a fact is kept', !wink || !wink[0] && wink[1] <= 105, wink);
board.press();
let pattern = seen(board, 2300);
check('two winks a second while the button holds a place', every(pattern, 450, 50), pattern);

// The record's flash holds something else.
const foreign = new Board(program, new Uint8Array(65536).fill(0x55));
foreign.prompted(5);
const refused = ask(foreign, 'note "not kept"');
check('a record that is none takes no facts', refused.startsWith('not recorded: sector 0 holds something other'), refused);
pattern = seen(foreign, 900);
check('fast when facts cannot be kept', every(pattern, 100, 100), pattern);
ask(foreign, 'record erase');
check('steady when it was erased', ask(foreign, 'note "kept"').includes('recorded') && (foreign.rest(200_000), seen(foreign, 300).length === 0));

// An examination without room for another line.
const full = new Board(program);
full.prompted(5);
while (/^\d+: /.test(ask(full, 'note "one of many"')));
full.rest(200_000); // The last note's instant of dark.
pattern = seen(full, 5000);
check('and the console says so', ask(full, 'record').startsWith('full: no room for more bytes of other entries; '), ask(full, 'record'));
check('slow when the examination is full', every(pattern, 1000, 1000), pattern);
end();
