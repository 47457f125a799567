// Plays the session that the chapter shows, on the board: session.mjs UF2 CHAPTER. What the hands do is in parentheses:
// `(... 300 mm ...)` rolls the probe, `(... button ...)` presses it. With HALFSKIP_BLESS=1 what is answered is written.
import { readFileSync, writeFileSync } from 'node:fs';
import { Board } from './board.mjs';
import { Wheel, ask, check, end } from './tried.mjs';

const COUNTS_A_MM = 8; // The chapter's wheel.
const [program, chapter] = process.argv.slice(2);
const text = readFileSync(chapter, 'utf8');
const [before, rest] = text.split('```text session\n');
const shown = rest.slice(0, rest.indexOf('```'));
const board = new Board(program);
const wheel = new Wheel(board);
board.prompted(5);
let played = '';
for (const line of shown.split('\n')) {
  if (line.startsWith('> ')) {
    played += `${line}\n${ask(board, line.slice(2))}`;
  } else if (line.startsWith('(')) {
    played += `${line}\n`;
    const [, millimetres] = /(-?\d+(?:\.\d+)?) mm/.exec(line) ?? [];
    if (millimetres) wheel.turn(Math.round(millimetres * COUNTS_A_MM), 200);
    if (line.includes('button')) board.press();
  }
}
if (process.env.HALFSKIP_BLESS) {
  writeFileSync(chapter, `${before}\`\`\`text session\n${played}${rest.slice(shown.length)}`);
} else {
  const [want, have] = [shown.split('\n'), played.split('\n')];
  const at = want.findIndex((line, n) => line !== have[n]);
  check(`the session of the chapter, ${want.filter((line) => line.startsWith('> ')).length} lines`, shown === played, { shown: want[at], answered: have[at] });
}
end();
