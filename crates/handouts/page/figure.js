// The moving figure: draws hulls of discs from the points of the body, straight from moment to moment. No kinematics here.

const FIGURE_SIGNS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_';
const FIGURE_HEAD = 10;

/** Numbers of two signs each. */
function figureNumbers(text) {
  const numbers = [];
  for (let i = 0; i < text.length; i += 2) {
    numbers.push(64 * FIGURE_SIGNS.indexOf(text[i]) + FIGURE_SIGNS.indexOf(text[i + 1]));
  }
  return numbers;
}

/** The moments of a movement with all points of each, ready to be drawn. */
export function readFigure(movement) {
  const all = (numbers) => numbers.map((number) => number - 2048);
  const first = all(figureNumbers(movement.q));
  const moving = [...movement.m].map((sign) => FIGURE_SIGNS.indexOf(sign));
  const rest = all(figureNumbers(movement.f));
  const times = figureNumbers(movement.t).map((frame) => (40 * frame) / movement.p);
  const frames = times.map((_, place) => {
    const points = first.slice();
    if (place > 0) {
      moving.forEach((point, i) => {
        const from = 2 * ((place - 1) * moving.length + i);
        points[2 * point] = rest[from];
        points[2 * point + 1] = rest[from + 1];
      });
    }
    return points;
  });
  const orders = [];
  for (const [count, pieces] of movement.o) {
    for (let i = 0; i < count; i++) orders.push(pieces);
  }
  return { times, frames, orders };
}

/** The points at a share of the repetition, and which moment they follow. */
export function figureAt(figure, share) {
  const { times, frames } = figure;
  let place = times.length - 1;
  while (place > 0 && times[place] > share) place--;
  const next = (place + 1) % times.length;
  const end = next === 0 ? 1 : times[next];
  const part = (share - times[place]) / (end - times[place]);
  const points = frames[place].map((from, i) => from + (frames[next][i] - from) * part);
  return { points, place };
}

/** Where a disc of a hull is: x, y and radius. */
function figureDisc(spot, points) {
  if (spot.length === 5) {
    const at = (axis) => {
      const middle = points[2 * FIGURE_HEAD + axis];
      const along = (i) => (spot[i] / 100) * (points[2 * (FIGURE_HEAD + 1 + i) + axis] - middle);
      return middle + along(0) + along(1) + along(2);
    };
    return [at(0), at(1), spot[3]];
  }
  const [from, to, share, radius] = spot;
  const at = (axis) => {
    const start = points[2 * from + axis];
    return start + ((points[2 * to + axis] - start) * share) / 100;
  };
  return [at(0), at(1), radius];
}

const FIGURE_DIRECTIONS = Array.from({ length: 28 }, (_, step) => {
  const angle = (2 * Math.PI * step) / 28;
  return [Math.cos(angle), Math.sin(angle)];
});

/** The outline of a hull: its outermost point in every direction. */
function figureHull(discs) {
  let data = '';
  for (const [x, y] of FIGURE_DIRECTIONS) {
    let best = discs[0];
    let most = -Infinity;
    for (const disc of discs) {
      const reach = disc[0] * x + disc[1] * y + disc[2];
      if (reach > most) [most, best] = [reach, disc];
    }
    data += `${data ? 'L' : 'M'}${(best[0] + best[2] * x).toFixed(1)} ${(best[1] + best[2] * y).toFixed(1)}`;
  }
  return data + 'z';
}

function figurePath(part, points) {
  const line = (discs) => 'M' + discs.map((disc) => `${disc[0].toFixed(1)} ${disc[1].toFixed(1)}`).join('L');
  const outline = part[2] === 2 ? line : figureHull;
  return part[4].map((hull) => outline(hull.map((spot) => figureDisc(spot, points)))).join('');
}

/** Draws a movement into an empty svg element; hands back what draws it at a share of the repetition. */
export function figureIn(svg, movement, blueprint) {
  const figure = readFigure(movement);
  svg.setAttribute('viewBox', movement.v.join(' '));
  const made = (name, attributes) => {
    const element = document.createElementNS('http://www.w3.org/2000/svg', name);
    Object.entries(attributes).forEach(([key, value]) => element.setAttribute(key, value));
    return element;
  };
  const pieces = new Map();
  for (const [sign, paths] of Object.entries(movement.s)) {
    const group = made('g', {});
    paths.forEach(([name, d]) => group.append(made('path', { class: name, d })));
    pieces.set(sign, group);
  }
  blueprint.forEach(([near, far, kind, side], number) => {
    const name = side >= 0 && side === movement.l ? far : near;
    pieces.set(FIGURE_SIGNS[number], made('path', { class: kind === 0 ? `${name} fg-in` : name }));
  });
  const shadows = Object.keys(movement.s).slice(0, 2);
  let shown = null;
  return (share) => {
    const { points, place } = figureAt(figure, share);
    const order = figure.orders[place];
    if (order !== shown) {
      svg.replaceChildren(...shadows.map((sign) => pieces.get(sign)), ...[...order].map((sign) => pieces.get(sign)));
      shown = order;
    }
    for (const sign of order) {
      const part = blueprint[FIGURE_SIGNS.indexOf(sign)];
      if (part) pieces.get(sign).setAttribute('d', figurePath(part, points));
    }
  };
}
