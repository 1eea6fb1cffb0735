// @ts-check
// Keys: everything can be done without a finger or a mouse, and no letter is a command.

/**
 * Keys: Escape is always "I feel unwell"; space rests and goes on; arrow down eases off; other arrows move between buttons.
 * @param {KeyboardEvent} event
 * @param {{state: import('./state.js').State}} page
 * @param {(event: any) => void} send
 * @param {HTMLElement} app
 */
export function onKey(event, page, send, app) {
  if (app.hidden || event.altKey || event.ctrlKey || event.metaKey) return;
  const target = event.target;
  const inField = target instanceof HTMLInputElement;
  const onButton = target instanceof HTMLButtonElement || target instanceof HTMLAnchorElement;
  const screen = page.state.screen;
  if (event.key === 'Escape') {
    event.preventDefault();
    send({ type: 'unwell' });
  } else if (event.key === ' ' && !onButton && !inField) {
    const type = screen === 'session' ? 'rest' : screen === 'rest' || screen === 'away' ? 'go-on' : '';
    if (type !== '') {
      event.preventDefault();
      send({ type });
    }
  } else if (event.key === 'ArrowDown' && screen === 'session') {
    event.preventDefault();
    send({ type: 'ease' });
  } else if (event.key.indexOf('Arrow') === 0 && !inField) {
    event.preventDefault();
    moveFocus(app, event.key === 'ArrowLeft' || event.key === 'ArrowUp' ? -1 : 1);
  }
}

/**
 * @param {HTMLElement} app
 * @param {number} by
 */
function moveFocus(app, by) {
  const all = Array.prototype.slice.call(app.querySelectorAll('button:not([disabled]), a[href], input'));
  const at = all.indexOf(document.activeElement);
  const next = all[at < 0 ? (by > 0 ? 0 : all.length - 1) : (at + by + all.length) % all.length];
  if (next) next.focus();
}
