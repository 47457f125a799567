// Characters of the page that the fonts of their places have no glyph for, each as 'U+... in FONT'.
(() => {
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = 48;
  const pen = canvas.getContext('2d', {willReadFrequently: true});
  const drawn = (font, text) => {
    pen.clearRect(0, 0, 48, 48);
    pen.font = font;
    pen.fillText(text, 8, 34);
    return pen.getImageData(0, 0, 48, 48).data.join();
  };
  const used = new Map();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const style = getComputedStyle(walker.currentNode.parentElement);
    const font = `${style.fontStyle} ${style.fontWeight} 24px ${style.fontFamily}`;
    if (!used.has(font)) used.set(font, new Set());
    for (const char of walker.currentNode.data) if (char.trim()) used.get(font).add(char);
  }
  const missing = [];
  for (const [font, chars] of used) {
    // No font has a glyph for a code point that stands for no character.
    const none = drawn(font, '\u{0378}');
    for (const char of chars) {
      if (drawn(font, char) === none) missing.push(`U+${char.codePointAt(0).toString(16)} in ${font}`);
    }
  }
  return {fonts: used.size, missing};
})()
