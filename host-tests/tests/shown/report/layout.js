// What of the page that is shown lies where it must not, or cannot be read: a list of sentences.
(printed => {
  const wrong = [];
  const edge = document.documentElement.clientWidth;
  const name = element => {
    const words = (element.textContent || '').trim().replace(/\s+/g, ' ').slice(0, 40);
    return `<${element.tagName.toLowerCase()}> "${words}"`;
  };
  if (document.documentElement.scrollWidth > edge) {
    wrong.push(`the page is ${document.documentElement.scrollWidth} wide in a window of ${edge}`);
  }
  for (const element of document.body.querySelectorAll('*')) {
    const box = element.getBoundingClientRect();
    // What scrolls within its own frame does not widen the page; on paper nothing scrolls.
    const scrolls = !printed && element.parentElement.closest('.wide');
    if (!scrolls && box.width > 0 && (box.right > edge + 1 || box.left < -1)) {
      wrong.push(`${name(element)} reaches from ${box.left} to ${box.right} in a window of ${edge}`);
    }
  }
  for (const cell of document.querySelectorAll('td, th, h1, h2, h3, p, li, dt, dd, figcaption')) {
    if (cell.scrollWidth > cell.clientWidth + 1 && getComputedStyle(cell).display !== 'inline') {
      wrong.push(`${name(cell)} is ${cell.scrollWidth} wide in a place of ${cell.clientWidth}`);
    }
  }
  for (const cell of document.querySelectorAll('td, th')) {
    const text = cell.firstChild;
    if (!text || text.nodeType !== Node.TEXT_NODE) continue;
    for (const word of text.data.matchAll(/\S+/g)) {
      if (word[0].length > 12) continue;
      const range = document.createRange();
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      // A hyphen or a slash may end a line.
      const lines = new Set([...range.getClientRects()].map(box => Math.round(box.top)));
      if (lines.size > 1 && !/[-\/]/.test(word[0])) wrong.push(`"${word[0]}" in ${name(cell)} is broken`);
    }
  }
  for (const drawing of document.querySelectorAll('svg')) {
    const frame = drawing.getBoundingClientRect();
    const labels = [...drawing.querySelectorAll('text')].map(text => [text, text.getBoundingClientRect()]);
    labels.forEach(([text, box], place) => {
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) {
        wrong.push(`${name(text)} is cut by its drawing`);
      }
      for (const [other, there] of labels.slice(place + 1)) {
        const across = Math.min(box.right, there.right) - Math.max(box.left, there.left);
        const down = Math.min(box.bottom, there.bottom) - Math.max(box.top, there.top);
        // Boxes are those of the lines, which are taller than their letters.
        if (across > 1 && down > 0.4 * Math.min(box.height, there.height)) {
          wrong.push(`${name(text)} lies on ${name(other)}`);
        }
      }
    });
  }
  return wrong;
})
