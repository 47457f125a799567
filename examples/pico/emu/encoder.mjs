// Encoder and button: counts, places, and what the board says of counts that were lost: encoder.mjs UF2 [edges].
import { Board } from './board.mjs';
import { Wheel, ask, check, end } from './tried.mjs';

const [program, by] = process.argv.slice(2);
const edges = by === 'edges';
const LOST = 'counts were missed; set the position again';
const board = new Board(program);
const wheel = new Wheel(board);
board.prompted(5);

check('nothing is known of the place before it is set', ask(board, 'encoder').startsWith('not set: '), ask(board, 'encoder'));
check('the datum', ask(board, 'encoder zero').startsWith('count 0; no scale'), ask(board, 'encoder'));
wheel.turn(2400, 100);
check('2400 edges are 2400 counts', ask(board, 'encoder').startsWith('count 2400; '), ask(board, 'encoder'));
let said = ask(board, 'encoder run 300 0.3');
check(`a run of 300 mm is a scale: ${said.trim()}`, /^count 2400; x 300(\.0+)? \+\/- 0\.\d+ mm\n$/.test(said), said);
wheel.turn(-1200, 100);
said = ask(board, 'encoder check 150 1');
check('a second run agrees', said.startsWith('count 1200; x 150'), said);
wheel.turn(-1240, 100);
check('backward past the datum', ask(board, 'encoder').startsWith('count -40; x -5'), ask(board, 'encoder'));
wheel.turn(840, 100);

for (const line of ['probe p60 angle=60 frequency=4 element=8x9', 'joint butt thickness=20 prep=square gap=2',
  'dac p60 path=50 height=80 gain=38']) ask(board, line);
const READING = 'reading 1 probe=p60 side=a standoff=34 path=40 height=80 gain=44';
// While the wheel stays still, edges lose nothing to a page that is programmed; a sector that is erased takes too long.
if (edges) ask(board, 'encoder zero'), wheel.turn(800, 100), board.rest(300_000);
said = ask(board, READING);
check('a reading takes its place from the encoder', said.startsWith('4: ') && ask(board, 'list').includes('x=100'), said);
board.press();
wheel.turn(80, 100);
check('the button holds a place', /held by the button/.test(ask(board, 'encoder')), ask(board, 'encoder'));
if (edges) board.rest(300_000);
ask(board, READING);
board.rest(300_000);
said = ask(board, READING);
const listed = ask(board, 'list').split('\n').filter((line) => line.includes('reading 1'));
check('one reading takes the place that is held, the next that of the encoder', listed.length === 3
  && listed[1].includes('x=100') && listed[2].includes('x=110'), listed);
check('a reading that says where is left as it is', ask(board, `${READING} x=7`).startsWith('7: ')
  && ask(board, 'list').includes('x=7mm '), ask(board, 'list'));

/** A count may be lost, and the board says so; it is never another one. */
function told(what, counts) {
  const said = ask(board, 'encoder').split('; x')[0].trim();
  check(`${what}: ${said}`, said === `count ${counts}` || said.startsWith(LOST), said);
  return !said.startsWith(LOST);
}

// The last three are two edges in a sample of 1.7 to 2.5 us, at times; three would look like one the other way.
const alone = [50, 20, 10, 5, 3, 2, 1.5, 1.3].map((micros) => {
  ask(board, 'encoder zero');
  wheel.turn(1000, micros);
  return told(`1000 edges, one every ${micros} us`, 1000);
});
check('edges every 50 and 20 us are counted', alone[0] && alone[1]);
if (!edges) check('and those down to 3 us; faster ones are missed, and told', alone.join() === [1, 1, 1, 1, 1, 0, 0, 0].map(Boolean).join(), alone);
// A wheel that comes to three edges in a sample has had two in one before.
for (const least of [1, 0.7, 0.5, 0.2]) {
  ask(board, 'encoder zero');
  wheel.turn(2000, 20, least);
  check(`2000 edges, from one every 20 us on to one every ${least} us, are told as missed`, !told('gathering speed', 2000));
}
// Facts go to flash while the wheel turns; then the whole record is erased. The wheel does not wait.
let counted = 0;
for (const [line, what] of [['note "while the wheel turns"', 'an entry is kept'], ['record erase', '16 sectors are erased']]) {
  for (const micros of [5000, 1000, 300, 100, 50, 20]) {
    ask(board, 'encoder zero');
    const turned = micros > 1000 ? 200 : 2000;
    wheel.start(turned, micros);
    board.rest(micros / 2);
    ask(board, line);
    wheel.stop();
    counted += told(`${turned} edges, one every ${micros} us, while ${what}`, turned);
  }
}
check(edges ? 'interrupts lose the place while flash is written, and say so' : 'a state machine counts all the same',
  counted === (edges ? 0 : 12), counted);
if (edges) {
  ask(board, 'encoder zero');
  ask(board, 'record erase');
  check('a reading without a place is refused', ask(board, READING).startsWith(`not recorded: ${LOST}`), ask(board, READING));
}
end();
