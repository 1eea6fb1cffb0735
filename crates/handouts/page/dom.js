// @ts-check
// Making elements; text is always set as text.

/**
 * @param {string} tag
 * @param {Object<string, any>} props class, text, key, on, and attributes
 * @param {(Node | null)[]=} children
 * @returns {HTMLElement}
 */
export function h(tag, props, children) {
  const element = document.createElement(tag);
  Object.keys(props).forEach((name) => {
    const value = props[name];
    if (value === null || value === undefined || value === false) return;
    if (name === 'text') element.textContent = value;
    else if (name === 'click') element.addEventListener('click', value);
    else if (name === 'submit') element.addEventListener('submit', value);
    else if (name === 'key') element.setAttribute('data-key', value);
    else element.setAttribute(name, value === true ? '' : String(value));
  });
  (children || []).forEach((child) => {
    if (child) element.appendChild(child);
  });
  return element;
}

/**
 * @param {string} text
 * @param {string=} name class
 */
export function para(text, name) {
  return h('p', { text, class: name || null });
}

/**
 * @param {string} label
 * @param {string} key
 * @param {() => void} click
 * @param {string=} name class beside "b"
 * @param {Object<string, any>=} more
 */
export function button(label, key, click, name, more) {
  return h('button', Object.assign({ type: 'button', class: name ? `b ${name}` : 'b', text: label, key, click }, more || {}));
}

/**
 * A link that dials.
 * @param {string} label
 * @param {string} tel
 * @param {string} name class
 */
export function dial(label, tel, name) {
  return h('a', { href: `tel:${tel}`, class: name, text: label, key: `tel-${tel}` });
}

/**
 * @param {string[]} lines
 * @param {string} tag ul or ol
 * @param {string} name class
 */
export function listOf(lines, tag, name) {
  return h(tag, { class: name }, lines.map((line) => h('li', { text: line })));
}
