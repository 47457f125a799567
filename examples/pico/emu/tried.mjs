// What the trials share: a question asked, a wheel turned, and what was seen told.

let failed = 0;

export function check(what, right, seen = '') {
  console.log(`${right ? 'ok  ' : 'FAIL'} ${what}${right ? '' : `: ${JSON.stringify(seen)}`}`);
  if (!right) failed++;
}

/** Ends a trial: with 1 when anything was not as it should be. */
export function end() {
  process.exit(failed ? 1 : 0);
}

/** Types a line; what is answered to it. */
export function ask(board, line, seconds = 60) {
  const from = board.received.length;
  board.type(line + '\r');
  board.run(() => board.received.length > from && board.received.endsWith('\n> ') && board.queue.length === 0, seconds);
  const said = board.received.slice(from).replaceAll('\r', '');
  return said.slice(said.indexOf('\n') + 1, -2);
}

const FORWARD = [[false, false], [true, false], [true, true], [false, true]];

/** The encoder's wheel: edges come by the clock, whatever the board is busy with. */
export class Wheel {
  constructor(board) {
    this.board = board;
    this.at = this.left = 0;
    this.alarm = board.mcu.clock.createAlarm(() => {
      this.at += Math.sign(this.left);
      this.left -= Math.sign(this.left);
      board.tracks(FORWARD[((this.at % 4) + 4) % 4]);
      this.step = Math.max(this.least, this.step * 0.99);
      if (this.left) this.alarm.schedule(this.step);
    });
  }

  /** @param least the time between edges that it gathers speed to, each a hundredth sooner than the one before */
  start(counts, micros, least = micros) {
    this.left = counts;
    this.step = micros * 1000;
    this.least = least * 1000;
    this.alarm.schedule(this.step);
  }

  /** Lets it turn to its end. */
  stop() {
    while (this.left) this.board.rest(this.step / 1000);
    this.board.rest(1000);
  }

  turn(counts, micros, least) {
    this.start(counts, micros, least);
    this.stop();
  }
}
