// What went wrong on the page, and what was pressed.
(clock) => {
  // Not every engine says in the stack what was said.
  const words = (value) => {
    const said = String(value?.message ?? value);
    return value?.stack?.includes(said) ? value.stack : `${said} ${value?.stack ?? ''}`.trim();
  };
  // What did not load says so to itself only: a style that a browser refuses leaves no other trace.
  const missing = ({ target }) => {
    if (target instanceof Element) clock.record('fault', { what: `not loaded: ${target.outerHTML}` });
  };
  window.addEventListener('error', missing, true);
  window.addEventListener('error', (event) => {
    // A file that failed to load has no message: the page has its own words for that.
    const message = event.error ? words(event.error) : event.message;
    if (message) clock.record('fault', { what: `uncaught: ${message}` });
  });
  window.addEventListener('unhandledrejection', (event) => {
    clock.record('fault', { what: `unhandled rejection: ${words(event.reason)}` });
  });
  document.addEventListener('securitypolicyviolation', (event) => {
    const { violatedDirective, blockedURI } = event;
    clock.record('fault', { what: `against the policy: ${violatedDirective} ${blockedURI}` });
  });
  const log = console.error;
  console.error = (...given) => {
    clock.record('fault', { what: `console: ${given.map(words).join(' ')}` });
    log.apply(console, given);
  };
  // Presses, at the time the browser gave them. Capturing: the page may stop them later.
  for (const kind of ['pointerdown', 'pointerup', 'click', 'keydown']) {
    window.addEventListener(
      kind,
      (event) => {
        if (!event.isTrusted) return;
        const key = event.key ?? event.pointerType ?? '';
        clock.record('press', { what: kind, by: key, stamp: event.timeStamp });
      },
      { capture: true, passive: true },
    );
  }
}
