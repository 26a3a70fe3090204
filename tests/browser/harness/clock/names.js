// What a thing on the screen is and what it is called, by the rules for accessible names as far as
// the page needs them. A test holds both against what each browser itself makes of it.
(clock) => {
  const { eyes } = clock;
  const tags = {
    BUTTON: 'button',
    A: 'link',
    SELECT: 'combobox',
    TEXTAREA: 'textbox',
    MAIN: 'main',
    SUMMARY: 'summary',
    TD: 'cell',
  };
  const fields = {
    button: 'button',
    submit: 'button',
    checkbox: 'checkbox',
    radio: 'radio',
    range: 'slider',
    number: 'spinbutton',
    search: 'searchbox',
    file: 'button',
    date: 'Date',
    time: 'InputTime',
  };
  const things = 'button, a[href], select, textarea, main, summary, td, input, [role]';
  const role = (element) =>
    element.getAttribute('role') ??
    (element.tagName === 'INPUT' ? (fields[element.type] ?? 'textbox') : tags[element.tagName]);

  // A space that keeps words together is a letter.
  const joined = (text) => text.replace(/[ \t\r\n\f]+/g, ' ').replace(/^ | $/g, '');
  const hidden = (element, style) =>
    element.ariaHidden === 'true' || style.display === 'none' || style.visibility === 'hidden';
  const drawn = (element, where) => {
    const { content } = getComputedStyle(element, where);
    return /^".*"$/.test(content) ? JSON.parse(content) : '';
  };
  const turned = (text, { textTransform }) => {
    if (textTransform === 'uppercase') return text.toUpperCase();
    return textTransform === 'lowercase' ? text.toLowerCase() : text;
  };
  // What stands in an element, as it would be read aloud.
  const inside = (element) => {
    const style = getComputedStyle(element);
    const parts = [...element.childNodes].map((node) => {
      if (node.nodeType === Node.TEXT_NODE) return turned(node.data, style);
      if (node.nodeType !== Node.ELEMENT_NODE || hidden(node, getComputedStyle(node))) return '';
      return node.ariaLabel ?? node.alt ?? inside(node);
    });
    const all = [drawn(element, '::before'), ...parts, drawn(element, '::after')].join('');
    return style.display === 'inline' ? all : ` ${all} `;
  };
  const texts = (elements) => elements.map((one) => joined(inside(one))).join(' ');
  const byContent = ['button', 'link', 'checkbox', 'radio', 'switch', 'tab', 'menuitem', 'summary', 'cell'];
  eyes.nameOf = (element) => {
    const by = (element.getAttribute('aria-labelledby') ?? '').split(/\s+/).filter(Boolean);
    const labelled = by.map((id) => document.getElementById(id)).filter(Boolean);
    if (labelled.length > 0) return texts(labelled);
    if (element.ariaLabel) return joined(element.ariaLabel);
    if (element.labels?.length > 0) return texts([...element.labels]);
    const own = byContent.includes(role(element)) ? joined(inside(element)) : '';
    return own || (element.title ?? '') || (element.placeholder ?? '');
  };
  const box = ({ x, y, width, height }) => ({ x, y, width, height });
  const seen = (element) => eyes.visible(element) && !element.closest('[aria-hidden=true], [inert]');
  eyes.things = (roles) =>
    [...document.querySelectorAll(things)].filter((one) => roles.includes(role(one)) && seen(one));
  // Everything of these roles whose name begins with `name`. Capitals do not count.
  eyes.find = (roles, name) =>
    eyes
      .things(roles)
      .map((element) => ({ element, name: eyes.nameOf(element) }))
      .filter((one) => one.name.toLowerCase().startsWith(name.toLowerCase()))
      .map(({ element, name }) => {
        const rect = box(element.getBoundingClientRect());
        const disabled = element.matches(':disabled, [aria-disabled=true]');
        return { role: role(element), name, disabled, rect, away: eyes.isAway(rect.y + rect.height / 2) };
      });
}
