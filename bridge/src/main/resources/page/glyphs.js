// The signs of the chart, each drawn around (0, 0).
// In: facts. Out: lit-html svg templates, and the key that explains them. No sign tells anything by tone alone.

import {html, svg, nothing} from '/lib/lit-html/lit-html.js';
import {lettersOf} from './drawing.js';

/** Patterns and arrow heads that lines refer to; once on each page. */
export const definitions = () => svg`<defs>
  <marker id="chevron" class="chevron" orient="auto" markerUnits="userSpaceOnUse" markerWidth="9" markerHeight="9" refX="4.5" refY="4.5" viewBox="0 0 9 9">
    <path d="M2 1L7 4.5L2 8"/></marker>
  <marker id="hollow" class="hollow" orient="auto" markerUnits="userSpaceOnUse" markerWidth="10" markerHeight="10" refX="5" refY="5" viewBox="0 0 10 10">
    <path d="M1.5 1L8.5 5L1.5 9Z"/></marker>
  <pattern id="hatch" class="hatch" patternUnits="userSpaceOnUse" width="6" height="6" patternTransform="rotate(45)">
    <path d="M0 0V6"/></pattern>
  <pattern id="sparse" class="hatch" patternUnits="userSpaceOnUse" width="14" height="14" patternTransform="rotate(45)">
    <path d="M0 0V5"/></pattern>
</defs>`;

/** What an aspect asks of a train, told by the front of its plate and by the blade. */
export function meaningOf(aspect = '') {
  const words = aspect.toLowerCase().split(/[-\s]+/);
  const first = words[0] === 'diverging' || words[0] === 'slow' || words[0] === 'medium' || words[0] === 'limited';
  const rest = first && words.length > 1 ? words.slice(1) : words;
  if (!aspect) return {front: 'unknown', aside: false};
  if (rest.includes('stop')) return {front: 'stop', aside: first};
  if (rest[0] === 'restricting' || rest[0] === 'restricted') return {front: 'restricting', aside: first};
  if (rest[0] === 'clear' || rest[0] === 'proceed') return {front: 'clear', aside: first};
  return {front: 'approach', aside: first};
}

// Fronts point along +x; the back slants where the train is turned aside.
function plateOutline(front, aside, width, height) {
  const left = -width / 2, right = width / 2, top = -height / 2, bottom = height / 2;
  const nose = {
    stop: `L${right} ${top}L${right} ${bottom}`,
    unknown: `L${right} ${top}L${right} ${bottom}`,
    approach: `L${right} ${top}L${right - 5} 0L${right} ${bottom}`,
    restricting: `L${right - 6} ${top}Q${right + 4} 0 ${right - 6} ${bottom}`,
    clear: `L${right - 5} ${top}L${right + 2} 0L${right - 5} ${bottom}`,
  }[front];
  const back = aside ? `M${left + 5} ${top}${nose}L${left - 1} ${bottom}Z` : `M${left} ${top}${nose}L${left} ${bottom}Z`;
  return back;
}

// The blade is a gate: across the rails at stop, half open for caution, along the track to proceed.
const BLADES = {
  stop: side => `M0 0L0 ${-side * 17}`,
  unknown: side => `M0 0L0 ${-side * 17}`,
  restricting: side => `M0 0L7 ${-side * 11}`,
  approach: side => `M0 0L10.5 ${-side * 8}`,
  clear: () => 'M0 0L15 0',
};

/** A signal, pointing along +x; side 1 is to the right of the track. */
export function signalSign({aspect, dark, side = 1, beyond = false, angle = 0, label = '', width = 20}) {
  const {front, aside} = meaningOf(aspect);
  const upright = Math.abs(angle) > 90 ? 180 : 0;
  const middle = beyond ? 2 + width / 2 : -8 - width / 2;
  const named = beyond ? middle + width / 2 + 6 + label.length * 3.5 : middle - width / 2 - 5 - label.length * 3.5;
  const y = side * 19.5;
  const letters = aspect ? lettersOf(aspect) : '?';
  return svg`<g class=${`sign ${front}${dark ? ' dark' : ''}`}>
    <path class="mast" d=${`M-4 ${side * 9}V${side * 12}M${beyond ? -7.5 : -4} ${side * 12}H${beyond ? 2 : -8}M-7.5 ${side * 9}H-0.5`}/>
    <g transform=${`translate(-4 ${side * 9})`}><path class="blade" d=${BLADES[front](side)}/>${aside
      ? svg`<path class="crook" d=${`M5 ${side * 4}h7`}/>` : nothing}</g>
    <g transform=${`translate(${middle} ${y})`}>
      <path class="plate" d=${plateOutline(front, aside, width, 15)}/>
      <text class="letters" y="4" transform=${`rotate(${upright})`}>${letters}</text></g>
    <text class="name" x=${named} y=${y + 4} transform=${`rotate(${upright} ${named} ${y})`}>${label}</text>
  </g>`;
}

export const padlock = (x, y, open) => svg`<g class="padlock" transform=${`translate(${x} ${y})`}>
  <path d=${open ? 'M-2.4 -1V-4.2A2.4 2.4 0 0 1 2.4 -4.6' : 'M-2.4 -1V-3.4A2.4 2.4 0 0 1 2.4 -3.4V-1'}/>
  <rect x="-3.6" y="-1" width="7.2" height="5.6"/></g>`;

export const lozenge = (x, y) => svg`<g class="lozenge" transform=${`translate(${x} ${y})`}>
  <path d="M0 -9L8 0L0 9L-8 0Z"/><text y="4.5">!</text></g>`;

export const turning = (x, y) => svg`<g class="turning" transform=${`translate(${x} ${y})`}>
  <path d="M5 -3A6 6 0 1 0 6 2"/><path class="head" d="M7.5 -6.5L5.6 -1.6L1.4 -4.6Z"/></g>`;

/** Across the beginning of an offered route that cannot be lined now. */
export const noWay = () => svg`<path class="no-way" d="M-4 -13L4 13M-4 13L4 -13M-8 -13H8M-8 13H8"/>`;

/** Round the points of a switch that an offered route will throw. */
export const toBeThrown = () => svg`<circle class="to-be-thrown" r="13"/>`;

export const boxedLetter = (x, y, letter) => svg`<g class="boxed" transform=${`translate(${x} ${y})`}>
  <rect x="-5.5" y="-5.5" width="11" height="11"/><text y="3.4">${letter}</text></g>`;

export const query = (x, y) => svg`<g class="query" transform=${`translate(${x} ${y})`}>
  <circle r="7"/><text y="4">?</text></g>`;

/** The time that still runs: a wedge of a clock and the seconds in figures. */
export function wedge(x, y, seconds, full) {
  const share = Math.min(0.999, Math.max(0, seconds / Math.max(full, 1)));
  const angle = share * 2 * Math.PI;
  const end = `${(7 * Math.sin(angle)).toFixed(2)} ${(-7 * Math.cos(angle)).toFixed(2)}`;
  return svg`<g class="wedge" transform=${`translate(${x} ${y})`}><circle r="7"/>
    <path d=${`M0 0V-7A7 7 0 ${share > 0.5 ? 1 : 0} 1 ${end}Z`}/>
    <text x="11" y="4">${Math.ceil(seconds)} s</text></g>`;
}

/** A train's name on a flag whose staff stands on the track, longer by `rise`. */
export function trainFlag(name, {lost = false, rise = 0} = {}) {
  const width = flagWidth(name);
  return svg`<g class=${lost ? 'train astray' : 'train'}>
    <path class="staff" d=${`M0 0V${-13 - rise}`}/>
    <g transform=${`translate(0 ${-rise})`}><path class="cloth" d=${`M${-width / 2} -28H${width / 2}L${width / 2 - 5} -20.5L${width / 2} -13H${-width / 2}Z`}/>
    <text y="-16.5" x="-2">${name}</text></g></g>`;
}

/** How wide the flag of a train is. */
export const flagWidth = name => Math.max(30, name.length * 7 + 16);

/** In another hand: whose the track is; the words above it, or to the right of what stands there, `aside` from the middle. */
export const bracket = (half, words, aside) => svg`<g class="hand">
  <path d=${`M${-half} -9V-13Q${-half} -16 ${-half + 4} -16H-4L0 -20L4 -16H${half - 4}Q${half} -16 ${half} -13V-9`}/>
  ${aside === undefined
    ? svg`<text y="-24">${words}</text>` : svg`<text class="beside" x=${aside} y="-20">${words}</text>`}</g>`;

export const crossedBar = (words, below) => svg`<g class="hand bar">
  <path d="M-9 -9L9 9M9 -9L-9 9"/><path class="rule" d="M-13 -12H13M-13 12H13"/><text y=${below ? 26 : -17}>${words}</text></g>`;

export const pennant = words => svg`<g class="hand pennant">
  <path class="staff" d="M0 7V-30"/><path class="cloth" d="M0 -30L26 -24L0 -17Z"/><text x="30" y="-20">${words}</text></g>`;

/** The way that trains run over a line. */
export function trafficArrow(way) {
  const words = way === 'none' ? 'no traffic' : `traffic ${way}`;
  const shaft = 'M-70 0H-38M38 0H70';
  const east = svg`<path class="head" d="M62 -4L74 0L62 4Z"/><path d="M-66 -4L-70 0L-66 4M-62 -4L-66 0L-62 4"/>`;
  return svg`<g class=${`traffic ${way}`}><path d=${shaft}/>
    ${way === 'none' || !way ? svg`<path d="M-70 -4V4M70 -4V4"/>` : way === 'west' ? svg`<g transform="scale(-1 1)">${east}</g>` : east}
    <text y="4">${way ? words : 'traffic ?'}</text></g>`;
}

/** A lift-out, gate, drawbridge or turntable: jaws that meet, or do not. */
export const jaws = (is, bolt) => svg`<g class=${`jaws ${is}`}>
  ${is === 'open'
    ? svg`<path d="M-22 -10V10M22 -10V10"/><path class="leaf" d="M-20 -6L14 -19M-20 -3L16 -16"/>`
    : svg`<path d="M-16 -11H-20V11H-16M16 -11H20V11H16"/>`}
  ${is === 'unknown' ? query(0, -18) : nothing}
  ${bolt === 'locked' || bolt === 'unlocked' ? padlock(0, 17, bolt === 'unlocked') : nothing}</g>`;

/** A road across the track; its bells ring where it warns. */
export const road = is => svg`<g class=${`road ${is}`}>
  <path d="M-6 -24V24M6 -24V24"/><path class="middle" d="M0 -24V24"/>
  ${is === 'warns' ? svg`<path class="bell" d="M-7 -26Q-6 -36 0 -36Q6 -36 7 -26Z"/><path d="M-11 -34L-14 -37M11 -34L14 -37M-12 -29H-16M12 -29H16"/>` : nothing}</g>`;

/** A spot detector, and whether a train was there just now. */
export const eye = passed => svg`<g class=${passed ? 'eye passed' : 'eye'}>
  <path d="M-9 0Q0 -8 9 0Q0 8 -9 0Z"/><circle r=${passed ? 3.4 : 2}/></g>`;

/** A red pencil's ring round what stands in the way. */
export const ringed = (half, deep) => svg`<path class="ringed" d=${`M${-half} ${deep * 0.2}C${-half} ${-deep * 1.2} ${half} ${-deep * 1.3} ${half} 0C${half} ${deep * 1.25} ${-half * 0.9} ${deep * 1.2} ${-half * 1.02} ${-deep * 0.25}`}/>`;

const sample = (drawn, box = '-46 -30 92 60') => html`<svg viewBox=${box} aria-hidden="true">${drawn}</svg>`;

const rails = (bed, over = nothing) => svg`<g class=${`section ${bed}`}><path class="rail" d="M-42 0H42"/>
  <path class=${bed === 'held' ? 'wash' : 'bed'} d="M-42 0H42"/></g>${over}`;

const sign = aspect => sample(svg`${rails('clear')}<g transform="translate(22 0)">${signalSign({aspect, width: 28})}</g>`);

/** The key to the chart: pairs of a sign and its words. */
export const key = () => [
  [sample(rails('clear')), 'track that is free: open rails'],
  [sample(svg`${rails('occupied')}${trainFlag('No. 7')}`), 'occupied: solid, with the train’s name where known'],
  [sample(rails('unknown', query(0, 0))), 'unknown, and so unsafe: broken rails'],
  [sample(rails('held', svg`<path class="lined" d="M-38 -9L-22 -9L-6 -9L10 -9L26 -9L40 -9"/>`)), 'held by a route: chevrons the way the train goes'],
  [sample(rails('clear', svg`<path class="candidate" d="M-38 -9L-20 -9L0 -9L20 -9L40 -9"/>`)), 'a route that is offered, not yet asked for'],
  [sample(svg`${rails('clear')}<path class="candidate rule barred" d="M-42 9H42"/>${noWay()}`), 'and one that cannot be lined now'],
  [sample(svg`<g class="section clear"><path class="rail" d="M-42 8H42M-8 1L30 -22"/><path class="bed" d="M-43 8H43M-9 1.5L31 -22.5"/></g>`), 'a switch: joined to the leg it lies for, a gap to the other'],
  [sample(turning(0, 0), '-16 -12 32 24'), 'a switch in motion'],
  [sample(toBeThrown(), '-16 -16 32 32'), 'a switch that an offered route will throw'],
  [sample(lozenge(0, 0), '-16 -12 32 24'), 'out of correspondence: called one way, detected otherwise'],
  [sample(svg`${padlock(-8, 0, false)}${padlock(8, 0, true)}`, '-16 -12 32 24'), 'locked; an electric lock or bolt that is released'],
  [sample(svg`${boxedLetter(-28, 0, 'H')}${boxedLetter(-14, 0, 'L')}${boxedLetter(0, 0, 'E')}${boxedLetter(14, 0, 'S')}${boxedLetter(28, 0, 'D')}`, '-36 -12 72 24'), 'H thrown by hand, L locally, E under an electric lock; S sprung; D a derail'],
  [sign('stop'), 'S: stop; the gate lies across the rails, the plate is square'],
  [sign('approach'), 'A: approach, next signal at stop; half open, forked plate'],
  [sign('clear'), 'C: clear; the gate lies along the track, pointed plate'],
  [sign('diverging-approach'), 'D before it: diverging; slanted plate, a crook beside the gate'],
  [sign('restricting'), 'R: restricting; rounded plate'],
  [sample(svg`${rails('clear')}<g transform="translate(22 0)">${signalSign({aspect: 'approach', dark: true, width: 28})}</g>`), 'hollow: dark while no train can see it'],
  [sample(wedge(-8, 0, 5, 8), '-24 -12 48 24'), 'being cancelled: the time that still runs'],
  [sample(svg`<text class="tag" x="-8" y="4">F</text><text class="tag" x="8" y="4">K</text>`, '-16 -12 32 24'), 'F: fleeted, lined again behind each train; K: kept waiting in the stack'],
  [sample(svg`${rails('clear')}${bracket(34, 'Yard job')}`, '-46 -40 92 52'), 'a permit: the crew has the track to itself'],
  [sample(svg`${rails('clear')}${crossedBar('Section crew')}`, '-46 -34 92 52'), 'a blocking: nothing is lined or moved there'],
  [sample(svg`${rails('clear')}${pennant('')}`, '-46 -36 92 52'), 'a blue flag: people on or under the cars'],
  [sample(trafficArrow('east'), '-76 -12 152 24'), 'the way that trains run over the line'],
  [sample(svg`${rails('clear')}${jaws('closed', 'locked')}`), 'an opening, closed and locked'],
  [sample(svg`${rails('clear')}${road('warns')}`, '-46 -40 92 70'), 'a road crossing that warns'],
  [sample(eye(true), '-16 -12 32 24'), 'a spot that a train passed just now'],
  [sample(svg`<path class="district tripped" d="M-42 0H42"/>${rails('unknown')}`), 'hatched: the breaker of the district has tripped'],
  [sample(ringed(24, 12)), 'ringed in pencil: what stands in the way'],
];
