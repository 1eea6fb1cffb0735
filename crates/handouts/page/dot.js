// @ts-check
// The dot that walks along the line of hills. Widths of words are measured once, so that a step costs next to nothing.

import { pointOnWay } from './order.js';

/** @type {{svg: Element | null, parts: Object<string, Element | null>, ends: SVGTextElement[], endWidths: number[], place: string, half: number}} */
const drawn = { svg: null, parts: {}, ends: [], endWidths: [], place: '', half: 0 };

/** @param {Element} svg */
function takeUp(svg) {
  drawn.svg = svg;
  ['.pf-clip', '.pf-drop', '.pf-dot', '.pf-now'].forEach((part) => {
    drawn.parts[part] = svg.querySelector(part);
  });
  drawn.ends = Array.prototype.slice.call(svg.querySelectorAll('.pf-end'));
  drawn.endWidths = drawn.ends.map((end) => end.getComputedTextLength() + 10);
  drawn.place = '';
}

/**
 * @param {string} part
 * @param {Object<string, number>} values
 */
function setPart(part, values) {
  const element = drawn.parts[part];
  if (element) Object.keys(values).forEach((name) => element.setAttribute(name, String(Math.round(values[name] * 10) / 10)));
}

/**
 * @param {import('./order.js').Order} order
 * @param {number} doneMs
 * @param {string} place
 */
export function moveDot(order, doneMs, place) {
  const svg = document.querySelector('#app .pf-walking');
  if (svg === null) return;
  if (svg !== drawn.svg) takeUp(svg);
  const point = pointOnWay(order, doneMs);
  const way = order.way;
  setPart('.pf-clip', { width: Math.max(0, point.x) });
  setPart('.pf-drop', { x1: point.x, x2: point.x, y1: point.y, y2: way.ground });
  setPart('.pf-dot', { cx: point.x, cy: point.y });
  const label = /** @type {SVGTextElement | null} */ (drawn.parts['.pf-now']);
  if (label === null) return;
  if (place !== drawn.place) {
    label.textContent = place;
    drawn.place = place;
    drawn.half = label.getComputedTextLength() / 2;
  }
  const x = Math.min(Math.max(point.x, way.left + drawn.half), way.right - drawn.half);
  setPart('.pf-now', { x });
  // Begin and end give way to the name of the place.
  drawn.ends.forEach((end, i) => {
    const covered = i === 0 ? x - drawn.half < way.left + drawn.endWidths[i] : x + drawn.half > way.right - drawn.endWidths[i];
    end.setAttribute('visibility', covered ? 'hidden' : 'visible');
  });
}
