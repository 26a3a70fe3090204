// What is on the screen, found by role and by words.
(clock) => {
  const eyes = {};
  clock.eyes = eyes;
  const states = ['REST', 'AGITATE', 'POUR', 'OVER', 'WAIT'];

  eyes.visible = (element) => {
    if (!element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) return false;
    const box = element.getBoundingClientRect();
    return box.width > 1 && box.height > 1;
  };
  // Whether a place this far down has to be scrolled to.
  eyes.isAway = (y) => y < 0 || y >= innerHeight - 80;
  // Scrolls a place that is out of view into it, as a person would. Gives how far it moved.
  eyes.bring = (y) => {
    if (!eyes.isAway(y)) return 0;
    const before = scrollY;
    scrollBy({ top: y - innerHeight / 2, left: 0, behavior: 'instant' });
    return scrollY - before;
  };
  // Text cut down to a pixel is for screen readers only.
  const forReaders = (element) => {
    for (let one = element; one; one = one.parentElement) {
      const box = one.getBoundingClientRect();
      const style = getComputedStyle(one);
      if (style.overflow !== 'visible' && (box.width <= 1 || box.height <= 1)) return true;
      if (/inset\((50|100)%/.test(style.clipPath)) return true;
    }
    return false;
  };
  // As it is drawn: spaces joined, letters as the style turns them.
  eyes.words = (node) => {
    const text = node.textContent.replace(/\s+/g, ' ').trim();
    if (text === text.toUpperCase()) return text;
    const turned = getComputedStyle(node.parentElement).textTransform;
    return turned === 'uppercase' ? text.toUpperCase() : text;
  };
  // Every piece of text that can be seen, of those that `wanted` takes: to ask whether something is
  // seen costs more than all the rest.
  eyes.pieces = (wanted = () => true) => {
    if (!document.body) return [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const pieces = [];
    while (walker.nextNode()) {
      const node = walker.currentNode;
      const element = node.parentElement;
      if (!node.data.trim() || /^(SCRIPT|STYLE|NOSCRIPT|TEMPLATE)$/.test(element.tagName)) continue;
      if (!wanted(node)) continue;
      if (eyes.visible(element) && !forReaders(element)) pieces.push({ node, element, text: eyes.words(node) });
    }
    return pieces;
  };
  const size = (piece) => parseFloat(getComputedStyle(piece.element).fontSize);
  const isState = (node) =>
    states.includes(node.data.trim().toUpperCase()) && states.includes(eyes.words(node));
  // The largest where a state word stands in several places.
  eyes.statePiece = () => eyes.pieces(isState).sort((a, b) => size(b) - size(a))[0];
  eyes.stateWord = () => eyes.statePiece()?.text ?? null;
  const spoken = (element) => element.textContent.replace(/\s+/g, ' ').trim();
  const seen = (selector) => [...document.querySelectorAll(selector)].filter(eyes.visible);
  eyes.timers = () => seen('[role=timer]').map((element) => element.innerText.replace(/\s+/g, ' ').trim());
  eyes.status = () => [...document.querySelectorAll('[role=status]')].map(spoken).filter(Boolean);
  // A heading may be there for screen readers only.
  eyes.heading = () => {
    const all = [...document.querySelectorAll('h1')].filter((one) => one.checkVisibility());
    return all.map(spoken).join(' | ') || null;
  };
  eyes.fragment = () => location.hash;
  eyes.look = () => ({
    state: eyes.stateWord(),
    timer: eyes.timers().join(' | ') || null,
    status: eyes.status().join(' | '),
    heading: eyes.heading(),
  });

  // The screen's own timeline: whatever differs from before is written down, after every timer that
  // has changed the document or the window.
  let before = '';
  let sized = '';
  let changed = true;
  const changes = new MutationObserver(() => {
    changed = true;
  });
  const all = { subtree: true, childList: true, characterData: true, attributes: true };
  changes.observe(document, all);
  clock.settled.push(() => {
    const size = `${innerWidth} ${innerHeight}`;
    if (changes.takeRecords().length === 0 && !changed && size === sized) return;
    changed = false;
    sized = size;
    const now = eyes.look();
    const text = JSON.stringify(now);
    if (text === before) return;
    before = text;
    clock.record('screen', now);
  });
}
