// The train graph of the session: place against time, one line a train, permits and outages as bands.
// In: a Plan, a diary as GET /api/diary tells it, from when to when, how wide. Out: a template.

import {html, svg, nothing} from '/lib/lit-html/lit-html.js';
import {Distances} from './distances.js';

const EDGE = {left: 118, right: 16, top: 34, bottom: 34};
const METRE = {least: 15, most: 34};
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 240];
const USUAL_MS = 5000;       // for a metre, of a train that was not seen to run
const STANDS_MS = 8000;
const LABEL_PX = 78;
const NAME_PX = 7.2;

/** Each train with its stays on sections, in the order in which it came there. */
export function trainsOf(diary) {
  const trains = new Map();
  for (const {what, on: [section], from, to} of diary.trains.toSorted((one, other) => one.from - other.from)) {
    if (!trains.has(what)) trains.set(what, []);
    trains.get(what).push({section, from, to});
  }
  return [...trains].map(([train, stays]) => ({train, stays}));
}

// The lines of one train: each a list of {at, metres}; a new one where it was lost from sight.
function linesOf({stays}, distances, now) {
  const pace = paceOf(stays, distances);
  const lines = [];
  let line;
  stays.forEach((stay, index) => {
    const border = other => other && distances.between(other.section, stay.section);
    const {middle} = distances.stretch(stay.section);
    const [came, goes] = [border(stays[index - 1]), border(stays[index + 1])];
    if (came === undefined) lines.push(line = [{at: stay.from, metres: middle}]);
    else line.push({at: stay.from, metres: came});
    const left = goes === undefined ? stay.to ?? now : stays[index + 1].from;
    line.push(...standing({...stay, came: came ?? middle, middle, goes: goes ?? middle, left}, pace));
    if (goes === undefined) line.push({at: left, metres: middle});
  });
  return lines;
}

// How long a train takes for a metre where it runs: the middle of what it took from border to border.
function paceOf(stays, distances) {
  const all = stays.slice(1, -1).flatMap((stay, index) => {
    const [before, after] = [stays[index], stays[index + 2]];
    const metres = Math.abs(distances.between(before.section, stay.section) - distances.between(stay.section, after.section));
    return metres > 0 ? [(after.from - stay.from) / metres] : [];
  }).sort((one, other) => one - other);
  return all[Math.floor(all.length / 2)] ?? USUAL_MS;
}

// Whoever takes much longer for a section than that stands in it; where, nobody knows: it is drawn in the middle.
function standing({from, came, middle, goes, left}, pace) {
  const [arrives, starts] = [from + pace * Math.abs(middle - came), left - pace * Math.abs(goes - middle)];
  return starts - arrives > STANDS_MS ? [{at: arrives, metres: middle}, {at: starts, metres: middle}] : [];
}

export function trainGraph(plan, diary, {from, to, width, height}) {
  const distances = new Distances(plan);
  const metre = Math.min(METRE.most, Math.max(METRE.least, (height - EDGE.top - EDGE.bottom) / Math.max(distances.total, 1)));
  const frame = {
    from, to, distances, plan,
    left: EDGE.left, right: width - EDGE.right, top: EDGE.top, bottom: EDGE.top + distances.total * metre,
    x: at => EDGE.left + (Math.min(to, Math.max(from, at)) - from) / (to - from) * (width - EDGE.left - EDGE.right),
    y: metres => EDGE.top + metres * metre,
  };
  const shown = stay => (stay.to ?? to) > from && stay.from < to;
  return html`<svg class="graph" role="img" aria-label=${`Train graph from ${clock(from)} to ${clock(to)}; the same in figures below`}
      viewBox=${`0 0 ${width} ${frame.bottom + EDGE.bottom}`} width=${width} height=${frame.bottom + EDGE.bottom}>
    <defs>
      <pattern id="permit-hatch" patternUnits="userSpaceOnUse" width="7" height="7" patternTransform="rotate(45)"><path class="permit-line" d="M0 0V7"/></pattern>
      <pattern id="outage-hatch" patternUnits="userSpaceOnUse" width="6" height="6"><path class="outage-line" d="M0 0L6 6M6 0L0 6"/></pattern>
      <clipPath id="graph-frame"><rect x=${frame.left} y=${frame.top - 2} width=${Math.max(0, frame.right - frame.left)} height=${frame.bottom - frame.top + 4}/></clipPath>
    </defs>
    ${places(frame)}
    ${times(frame)}
    <g clip-path="url(#graph-frame)">
      ${diary.occupied.filter(shown).map(seen => band(frame, 'seen', seen))}
      ${diary.outages.filter(shown).map(outage => band(frame, 'outage', outage, outage.what))}
      ${diary.protections.filter(shown).map(held => band(frame, 'protected', held, held.what))}
      ${trainsOf(diary).map(train => line(frame, train))}
    </g>
    <rect class="frame" x=${frame.left} y=${frame.top} width=${Math.max(0, frame.right - frame.left)} height=${frame.bottom - frame.top}/>
  </svg>`;
}

// A rule at each joint of the line, heavier where a place begins; its name beside its middle.
function places({plan, distances, left, right, y}) {
  const named = Object.values(plan.places).map(({name, sections}) => {
    const stretches = sections.map(section => distances.stretch(section));
    return {name, from: Math.min(...stretches.map(stretch => stretch.from)), to: Math.max(...stretches.map(stretch => stretch.to))};
  });
  const borders = new Set(named.flatMap(({from, to}) => [from, to]));
  const joints = [...new Set(Object.keys(plan.joints).map(joint => distances.of(joint)))].filter(metres => !borders.has(metres));
  const taken = [];
  const free = at => {
    while (taken.some(other => Math.abs(other - at) < 15)) at += 15;
    taken.push(at);
    return at;
  };
  return svg`
    ${joints.map(metres => svg`<path class="rule fine" d=${`M${left} ${y(metres)}H${right}`}/>`)}
    ${[...borders].map(metres => svg`<path class="rule" d=${`M${left - 8} ${y(metres)}H${right}`}/>`)}
    ${apart([...borders], y).map(metres => svg`<text class="metres" x=${left - 11} y=${y(metres) + 3.5}>${metres.toFixed(1)}</text>`)}
    ${named.sort((one, other) => one.from - other.from).map(({name, from, to}) => svg`<text class="place" x="4" y=${free(y((from + to) / 2) + 4)}>${name}</text>`)}`;
}

// Figures that are too near to the one before are left out.
function apart(all, y) {
  return all.sort((one, other) => one - other).reduce((kept, metres) => kept.length && y(metres) - y(kept.at(-1)) < 11 ? kept : [...kept, metres], []);
}

function times({from, to, left, right, top, bottom, x}) {
  const fits = minutes => (right - left) / ((to - from) / 60_000 / minutes) >= LABEL_PX;
  const step = (STEPS_MIN.find(fits) ?? 240) * 60_000;
  const fine = step / 5;
  const zone = new Date(from).getTimezoneOffset() * 60_000;
  const first = Math.ceil((from - zone) / fine) * fine + zone;
  const all = Array.from({length: Math.max(0, Math.floor((to - first) / fine) + 1)}, (_, index) => first + index * fine);
  const full = at => Math.round((at - zone) / fine) % 5 === 0;
  return svg`${all.map(at => full(at)
    ? svg`<path class="rule" d=${`M${x(at)} ${top - 5}V${bottom + 5}`}/><text x=${x(at)} y=${top - 11}>${clock(at)}</text><text x=${x(at)} y=${bottom + 19}>${clock(at)}</text>`
    : svg`<path class="rule fine" d=${`M${x(at)} ${top}V${bottom}`}/>`)}`;
}

function band({distances, plan, to, x, y}, kind, {on, from: begins, to: ends}, words) {
  const drawn = on.filter(section => plan.sections[section]);
  return drawn.map((section, index) => {
    const stretch = distances.stretch(section);
    const [left, right] = [x(begins), x(ends ?? to)];
    const room = Math.floor((right - left - 8) / 5.6);
    return svg`<rect class=${kind} x=${left} y=${y(stretch.from)} width=${Math.max(1, right - left)} height=${Math.max(2, y(stretch.to) - y(stretch.from))}><title>${words ?? plan.nameOf('section', section)}</title></rect>
      ${words && index === 0 && room > 4 ? svg`<text class=${`${kind}-words`} x=${left + 4} y=${y(stretch.from) + 11}>${words.length > room ? `${words.slice(0, room - 1)}…` : words}</text>` : nothing}`;
  });
}

function line({distances, from, to, x, y}, train) {
  const lines = linesOf(train, distances, to).map(points => points.filter(({at}, index) => at >= from || points[index + 1]?.at > from));
  return svg`${lines.filter(points => points.length > 1).map(points => {
    const drawn = points.map(({at, metres}) => ({x: x(at), y: y(metres)}));
    const name = nameOn(drawn, train.train);
    return svg`<g class="run"><path d=${`M${drawn.map(point => `${point.x.toFixed(1)} ${point.y.toFixed(1)}`).join('L')}`}><title>${train.train}</title></path>
      <text transform=${`translate(${name.x} ${name.y}) rotate(${name.angle})`} y="-5">${train.train}</text></g>`;
  })}`;
}

// The name stands on the longest piece of its line.
function nameOn(points, name) {
  const pieces = points.slice(1).map((point, index) => ({a: points[index], b: point, length: Math.hypot(point.x - points[index].x, point.y - points[index].y)}));
  const {a, b, length} = pieces.reduce((longest, piece) => piece.length > longest.length ? piece : longest);
  const enough = length > name.length * NAME_PX;
  return {x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, angle: enough ? Math.atan2(b.y - a.y, b.x - a.x) * 180 / Math.PI : 0};
}

export const clock = at => new Date(at).toLocaleTimeString([], {hour: '2-digit', minute: '2-digit', hour12: false});
