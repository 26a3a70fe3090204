// How large, how clear, how far apart: lengths in CSS pixels.
(clock) => {
  const { eyes } = clock;
  const measure = {};
  clock.measure = measure;
  const draw = new OffscreenCanvas(1, 1).getContext('2d', { willReadFrequently: true });
  // What was found out once, by what it was asked for.
  const once = (find) => {
    const found = new Map();
    return (key) => {
      if (!found.has(key)) found.set(key, find(key));
      return found.get(key);
    };
  };
  // Not `innerWidth`: on a phone that grows with what is too wide for it.
  const wide = () => document.documentElement.clientWidth;
  const high = () => document.documentElement.clientHeight;
  const box = ({ x, y, width, height }) => ({ x, y, width, height });

  // The height of the glyphs themselves: of the lowest digit or capital in `text`, and of an H,
  // by the browser's own measure of the very font, times what transforms do to the element.
  const glyphs = (element, text) => {
    const style = getComputedStyle(element);
    draw.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const { height } = element.getBoundingClientRect();
    // The height before any transform is told in whole pixels only.
    const isGrown = Math.abs(height - element.offsetHeight) > 0.5 && element.offsetHeight > 0;
    const scale = isGrown ? height / element.offsetHeight : 1;
    const tallest = (letters) => draw.measureText(letters).actualBoundingBoxAscent * scale;
    const tall = [...text].filter((letter) => /[0-9A-Z]/.test(letter));
    const whole = draw.measureText(text);
    return {
      glyph: tall.length ? Math.min(...tall.map(tallest)) : tallest('H'),
      capital: tallest('H'),
      font: parseFloat(style.fontSize) * scale,
      above: (whole.fontBoundingBoxAscent - whole.actualBoundingBoxAscent) * scale,
      below: (whole.fontBoundingBoxDescent - whole.actualBoundingBoxDescent) * scale,
    };
  };
  // Where a piece of text has ink: its lines, without what the font leaves empty above and below.
  const ink = (piece, { above, below }) => {
    const range = document.createRange();
    range.selectNodeContents(piece.node);
    const rects = [...range.getClientRects()].filter((rect) => rect.width > 0);
    return rects.map((rect) => ({
      x: rect.x,
      y: rect.y + above,
      width: rect.width,
      height: Math.max(1, rect.height - above - below),
    }));
  };

  // Contrast, by WCAG's relative luminance. Canvas turns any colour into red, green, blue, alpha.
  const rgba = once((colour) => {
    draw.clearRect(0, 0, 1, 1);
    draw.fillStyle = colour;
    draw.fillRect(0, 0, 1, 1);
    const [r, g, b, a] = draw.getImageData(0, 0, 1, 1).data;
    return { r, g, b, a: a / 255 };
  });
  const over = (top, below) => {
    const mix = (key) => top[key] * top.a + below[key] * (1 - top.a);
    return { r: mix('r'), g: mix('g'), b: mix('b'), a: 1 };
  };
  const luminance = ({ r, g, b }) => {
    const linear = (part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
    return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  };
  measure.ratio = (one, other) => {
    const [low, high] = [luminance(one), luminance(other)].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  };
  // The ground under a point of an element: what is painted below it there, else what holds it.
  const ground = (element, x, y) => {
    const stack = document.elementsFromPoint(x, y);
    const from = stack.indexOf(element);
    const holders = [];
    for (let one = element; one; one = one.parentElement) holders.push(one);
    const layers = [];
    let picture = false;
    for (const one of from >= 0 ? stack.slice(from) : holders) {
      const style = getComputedStyle(one);
      picture ||= style.backgroundImage !== 'none';
      const colour = rgba(style.backgroundColor);
      if (colour.a > 0) layers.push(colour);
      if (colour.a === 1) break;
    }
    const canvas = { r: 255, g: 255, b: 255, a: 1 };
    return { colour: layers.reduceRight((below, top) => over(top, below), canvas), picture };
  };
  const hex = ({ r, g, b }) => `#${[r, g, b].map((part) => Math.round(part).toString(16).padStart(2, '0')).join('')}`;

  // Every visible piece of text with its size, its place and its contrast.
  measure.texts = () =>
    eyes.pieces().flatMap((piece) => {
      const { element, text } = piece;
      const size = glyphs(element, text);
      const lines = ink(piece, size);
      if (lines.length === 0) return [];
      const first = lines[0];
      const under = ground(element, first.x + first.width / 2, first.y + first.height / 2);
      const ratio = measure.ratio(over(rgba(getComputedStyle(element).color), under.colour), under.colour);
      const { glyph, capital, font } = size;
      const role = element.closest('[role=timer]') ? 'timer' : element.closest('button') ? 'button' : '';
      const clear = { ratio, ground: hex(under.colour), picture: under.picture };
      return [{ text, role, glyph, capital, font, ...clear, lines }];
    });
  measure.ground = () => hex(ground(document.body, wide() / 2, high() / 2).colour);

  // Words, or what stands before a hyphen of one, that begin on one line and end on another.
  const broken = ({ node }) =>
    [...node.data.matchAll(/[^\s\u00ad\u200b-]+/g)].filter((word) => {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const lines = [...range.getClientRects()].filter((rect) => rect.width > 0);
      return lines.some((line) => Math.abs(line.top - lines[0].top) > 2);
    });
  // Text that is cut: by the window, or by a box that hides what does not fit; and what is broken in two.
  measure.clipped = () => {
    const page = document.scrollingElement;
    const scrolls = page.scrollHeight > high() && getComputedStyle(document.body).overflowY !== 'hidden';
    const bottom = scrolls ? page.scrollHeight - scrollY : high();
    const cut = [];
    for (const piece of eyes.pieces()) {
      // A list beside its page is scrolled alone.
      const low = piece.element.closest('aside') ? Infinity : bottom;
      const lines = ink(piece, glyphs(piece.element, piece.text));
      if (lines.length > 1) cut.push(...broken(piece).map((word) => `broken inside a word: ${word}`));
      for (const line of lines) {
        const right = line.x + line.width;
        const foot = line.y + line.height;
        const outside = line.x < -1 || right > wide() + 1 || line.y + scrollY < -1 || foot > low + 1;
        if (outside) cut.push(`outside the window: ${piece.text}`);
        for (let one = piece.element; one && one !== document.body; one = one.parentElement) {
          const style = getComputedStyle(one);
          const hides = (axis) => /hidden|clip/.test(style[axis]);
          const edge = one.getBoundingClientRect();
          const across = hides('overflowX') && (line.x < edge.left - 1 || right > edge.right + 1);
          const down = hides('overflowY') && (line.y < edge.top - 1 || foot > edge.bottom + 1);
          if (across || down) cut.push(`cut by its box: ${piece.text}`);
        }
      }
    }
    return [...new Set(cut)];
  };

  const controls = 'button, a[href], input, select, textarea, [role=button], [role=link]';
  measure.controls = () =>
    [...document.querySelectorAll(controls)]
      .filter(eyes.visible)
      .map((element) => ({ element, text: element.innerText || element.ariaLabel || element.tagName }));
  // Pairs that lie on one another: two controls, or two texts, or a control and a text not its own.
  measure.overlaps = () => {
    const things = measure.controls().map(({ element, text }) => {
      return { element, text: `the key ${text}`, rects: [box(element.getBoundingClientRect())] };
    });
    for (const piece of eyes.pieces()) {
      things.push({ ...piece, rects: ink(piece, glyphs(piece.element, piece.text)) });
    }
    for (const element of document.querySelectorAll('svg')) {
      const rect = box(element.getBoundingClientRect());
      if (eyes.visible(element) && !element.closest(controls)) things.push({ element, text: 'the drawing', rects: [rect] });
    }
    const meet = (a, b) =>
      Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x) > 1 &&
      Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y) > 1;
    const found = [];
    things.forEach((one, index) => {
      for (const other of things.slice(index + 1)) {
        const nested = one.element.contains(other.element) || other.element.contains(one.element);
        if (nested) continue;
        if (one.rects.some((a) => other.rects.some((b) => meet(a, b)))) {
          found.push(`${one.text} / ${other.text}`.replace(/\s+/g, ' '));
        }
      }
    });
    return found;
  };
  measure.scrolls = () => {
    const page = document.scrollingElement;
    return { across: page.scrollWidth - wide(), down: page.scrollHeight - high() };
  };
}
