// Where everything stands on the sheet.
// In: a Plan and the sections to draw. Out: a drawing: shapes and places that do not change while the plan
// stays: pieces of track, captions that collide with nothing, on which side signals stand, the ruler.

import {ACROSS, UP} from './plan.js';

const JOINT_GAP = 2.5;      // rails end this far from an insulated joint
const SWITCH_GAP = 17;      // a leg that the switch does not lie for starts this far from the points
const MARGIN = {x: 46, top: 46, bottom: 40};
const LETTER = 6.3;         // a small capital of a caption, in paper units
const FLAG = 78;            // a flag with a train's name is about so wide
const PLATE = {depth: 12, height: 15, letter: 8.5};

/** `leading`: signals that lead out of these sections are drawn too. */
export function layOut(plan, sections = Object.keys(plan.sections), {leading = true} = {}) {
  const sheet = new Sheet(plan, new Set(sections), leading);
  return {    // in the order in which they choose their places
    pieces: sheet.pieces,
    staging: sheet.staging(),
    signals: sheet.signals(),
    switches: sheet.switches(),
    crossings: sheet.crossings(),
    openings: sheet.openings(),
    lines: sheet.lines(),
    spots: sheet.spots(),
    sections: sheet.sections(),
    joints: sheet.joints(),
    ends: sheet.routeEnds(),
    boundaries: sheet.boundaries(),
    districts: sheet.districts(),
    ruler: sheet.ruler(),
    box: sheet.box(),
  };
}

/** A place on a piece of track, its length and its angle in degrees. */
export function middleOf({from, to}, share = 0.5) {
  return {
    x: from.x + (to.x - from.x) * share,
    y: from.y + (to.y - from.y) * share,
    angle: Math.atan2(to.y - from.y, to.x - from.x) * 180 / Math.PI,
    length: Math.hypot(to.x - from.x, to.y - from.y),
  };
}

/** A line beside pieces of track, with a corner every `step` units for a mark to sit on. */
export function beside(pieces, offset, step) {
  return pieces.map(({from, to}) => {
    const {length} = middleOf({from, to});
    const across = {x: -(to.y - from.y) / length * offset, y: (to.x - from.x) / length * offset};
    const count = Math.max(1, Math.floor((length - 14) / step));
    const corners = Array.from({length: count}, (_, index) => (index + 0.5) / count * (length - 14) / length + 7 / length)
      .map(share => middleOf({from, to}, share));
    return [middleOf({from, to}, 0.02), ...corners, middleOf({from, to}, 0.98)]
      .map((corner, index) => `${index ? 'L' : 'M'}${round(corner.x + across.x)} ${round(corner.y + across.y)}`)
      .join('');
  }).join('');
}

export const round = number => Math.round(number * 10) / 10;

class Sheet {
  #plan;
  #set;
  #leading;
  #taken = [];      // by signs and captions, so that no two stand in one spot
  #far = [];        // besides: what the sheet has to be large enough for

  constructor(plan, set, leading) {
    this.#leading = leading;
    this.#plan = plan;
    this.#set = set;
    this.pieces = plan.pieces.filter(({section}) => set.has(section)).map(piece => this.#piece(piece));
  }

  #piece({section, a, b, leg}) {
    const [near, far] = leg && leg.points === b ? [b, a] : [a, b];
    const from = this.#plan.point(near);
    const to = this.#plan.point(far);
    const gapAt = joint => this.#isBoundary(joint) ? JOINT_GAP : 0;
    const line = (start, end) => {
      const {length} = middleOf({from, to});
      const one = middleOf({from, to}, start / length);
      const other = middleOf({from, to}, 1 - end / length);
      return `M${round(one.x)} ${round(one.y)}L${round(other.x)} ${round(other.y)}`;
    };
    return {
      section, leg, near, far, from, to,
      joined: line(gapAt(near), gapAt(far)),
      gapped: leg && line(SWITCH_GAP, gapAt(far)),
    };
  }

  #isBoundary(joint) {
    return this.#plan.sectionsAt(joint).size > 1;
  }

  // Signals come first: where they stand matters most. Each looks for the first place that is free.
  signals() {
    return Object.entries(this.#plan.signals)
      .filter(([, {at, into}]) => this.#set.has(into) || (this.#leading && this.#touches(at)))
      .map(([id, signal]) => this.#signal(id, signal));
  }

  #touches(joint) {
    return this.pieces.some(({near, far}) => near === joint || far === joint);
  }

  #signal(id, {name, at, into, toward, aspects = []}) {
    const point = this.#plan.point(at);
    const ahead = this.#plan.paper(toward ?? this.#plan.joints[at]);
    const behind = this.#plan.piecesAt(at).find(({section}) => section !== into);
    const before = behind && this.#plan.point(behind.a === at ? behind.b : behind.a);
    const forward = before
      ? {x: point.x - before.x, y: point.y - before.y}
      : {x: ahead.x - point.x, y: ahead.y - point.y};
    const angle = Math.atan2(forward.y, forward.x) * 180 / Math.PI;
    const label = shortName(name ?? id);
    const letters = Math.max(1, ...aspects.map(aspect => lettersOf(aspect).length));
    const width = 11 + letters * PLATE.letter;
    const reach = width + 10 + label.length * 7;
    const places = [[1, false], [1, true], [-1, false], [-1, true]]
      .map(([side, beyond]) => ({side, beyond, bounds: signalBounds(point, angle, side, beyond, reach)}));
    const {side, beyond, bounds} = places.find(place => this.#isFree(place.bounds)) ?? places[0];
    this.#taken.push(bounds);
    return {id, x: point.x, y: point.y, angle: round(angle), side, beyond, label, width, reach, bounds};
  }

  switches() {
    return Object.entries(this.#plan.switches)
      .filter(([, {section}]) => this.#set.has(section))
      .map(([id, turnout]) => this.#switch(id, turnout));
  }

  #switch(id, {points, normal, reverse, number, name}) {
    const {x, y} = this.#plan.point(points);
    const legs = [normal, reverse].filter(Boolean).map(joint => this.#plan.point(joint));
    const onward = Math.sign(legs[0].x - x) || 1;
    const branch = this.#plan.point(reverse);
    const straight = normal ? this.#plan.point(normal) : {x: branch.x, y};
    const away = branch.y >= straight.y ? -1 : 1;
    const label = String(number ?? shortName(name ?? id));
    const spots = [[20, away * 21], [34, away * 21], [20, away * 32], [-20, away * 21], [-20, away * -21], [26, away * -36]]
      .map(([along, aside]) => ({x: x + onward * along, y: y + aside}));
    const bounds = spot => ({left: spot.x - 20, right: spot.x + 20, top: spot.y - 9, bottom: spot.y + 9});
    const badge = spots.find(spot => this.#isFree(bounds(spot))) ?? spots[0];
    this.#taken.push(bounds(badge));
    return {id, x, y, onward, badge, label};
  }

  crossings() {
    return Object.entries(this.#plan.crossings)
      .filter(([, {island}]) => this.#set.has(island))
      .map(([id, {island}]) => {
        const spot = middleOf(this.#longest(island));
        this.#taken.push(around(spot, 14, 26));
        return {id, ...spot};
      });
  }

  openings() {
    return Object.entries(this.#plan.openings)
      .filter(([, {sections = []}]) => sections.some(section => this.#set.has(section)))
      .map(([id, {sections}]) => {
        const spot = middleOf(this.#longest(sections.find(section => this.#set.has(section))), 0.25);
        this.#taken.push(around(spot, 24, 22));
        return {id, ...spot};
      });
  }

  // The traffic of a line is an arrow along the middle of it, clear of everything else.
  lines() {
    return Object.entries(this.#plan.lines)
      .filter(([, {sections}]) => sections.some(section => this.#set.has(section)))
      .map(([id, {sections}]) => {
        const on = this.pieces.filter(piece => sections.includes(piece.section) && !branches(piece));
        const xs = on.flatMap(({from, to}) => [from.x, to.x]);
        const ys = on.flatMap(({from, to}) => [from.y, to.y]);
        const middle = (Math.min(...xs) + Math.max(...xs)) / 2;
        const spots = [-46, 46, -62, 62, 78].flatMap(aside => [0, -70, 70].map(along =>
          ({x: middle + along, y: (aside < 0 ? Math.min(...ys) : Math.max(...ys)) + aside})));
        const spot = spots.find(place => this.#isFree(around(place, 74, 12))) ?? spots[0];
        this.#taken.push(around(spot, 74, 12));
        return {id, ...spot};
      });
  }

  spots() {
    return Object.entries(this.#plan.spots)
      .filter(([, {at}]) => this.#touches(at))
      .map(([id, {at}]) => {
        const point = this.#plan.point(at);
        const places = [17, -17, 32, -32].map(aside => ({x: point.x, y: point.y + aside}));
        const spot = places.find(place => this.#isFree(around(place, 11, 9))) ?? places[0];
        this.#taken.push(around(spot, 11, 9));
        return {id, ...spot, joint: point};
      });
  }

  sections() {
    const drawn = [...this.#set].filter(id => this.#longest(id)).map(id => this.#section(id));
    const captioned = drawn.map(section => ({...section, caption: this.#caption(section)}));
    return captioned.map(section => ({...section, flag: this.#flag(section.longest)}));
  }

  #section(id) {
    const pieces = this.pieces.filter(piece => piece.section === id);
    const longest = this.#longest(id);
    const {name = id, metres, cars} = this.#plan.sections[id];
    const middle = middleOf(longest);
    return {
      id, name, metres, cars, pieces, middle, longest,
      switches: this.#plan.switchesIn(id),
      track: pieces.map(({joined}) => joined).join(''),
    };
  }

  // A flag with a train's name must hide no sign: where there is no room its staff grows.
  #flag(piece) {
    const spots = [0, 18, 34, 50].flatMap(rise => [0.5, 0.36, 0.64, 0.25, 0.75].map(share => ({...middleOf(piece, share), rise})));
    const bounds = ({x, y, rise}) => ({left: x - FLAG / 2, right: x + FLAG / 2, top: y - 30 - rise, bottom: y - 12 - rise});
    const spot = spots.find(place => this.#isFree(bounds(place))) ?? spots[0];
    this.#taken.push(bounds(spot));
    return {x: spot.x, y: spot.y, rise: spot.rise};
  }

  #caption({name, metres, pieces}) {
    const figures = metres === undefined ? '' : `${metres.toFixed(1)} m`;
    const level = pieces.filter(({from, to}) => Math.abs(to.y - from.y) < 4)
      .sort((one, other) => middleOf(other).length - middleOf(one).length);
    for (const text of [[name, figures], [name, '']]) {
      const half = (text.join('').length * LETTER + 8) / 2;
      const spots = [18, 32, -22, -34, 46].flatMap(aside => level.flatMap(piece =>
        [0.5, 0.36, 0.64, 0.25, 0.75].map(share => ({...middleOf(piece, share), aside}))));
      const bounds = ({x, y, aside}) => ({left: x - half, right: x + half, top: y + aside - 8, bottom: y + aside + 6});
      const spot = spots.find(place => this.#isFree(bounds(place)));
      if (!spot) continue;
      this.#taken.push(bounds(spot));
      return {x: spot.x, y: spot.y + spot.aside + 3.5, name: text[0], figures: text[1]};
    }
    return null;
  }

  joints() {
    const ends = this.pieces.flatMap(piece => [
      {joint: piece.near, at: piece.from, other: piece.to, section: piece.section},
      {joint: piece.far, at: piece.to, other: piece.from, section: piece.section},
    ]);
    const level = ({at, other}) => Math.abs(at.y - other.y) < 4;
    ends.sort((one, other) => level(one) - level(other));
    return [...new Map(ends.map(end => [end.joint, end])).values()].flatMap(end => this.#joint(end));
  }

  #joint({joint, at, other}) {
    const angle = Math.atan2(at.y - other.y, at.x - other.x) * 180 / Math.PI;
    const onward = [...this.#plan.sectionsAt(joint)].find(section => !this.#set.has(section));
    if (onward) {
      return [this.#cut(joint, at, angle, onward)];
    }
    if (this.#plan.isEnd(joint)) return [{joint, ...at, angle, kind: 'end'}];
    return this.#isBoundary(joint) ? [{joint, ...at, angle, kind: 'joint'}] : [];
  }

  // Where the next sheet goes on; its name is written upward, clear of what stands there already.
  #cut(joint, at, angle, section) {
    const onward = this.#plan.placeOf(section);
    const outward = Math.cos(angle * Math.PI / 180) < 0 ? -1 : 1;
    const deep = (onward.length + 3) * LETTER / 2;
    const spots = [24, 44, 64, 84, 104].flatMap(along => [0, deep, -deep].map(aside => ({x: at.x + outward * along, y: at.y + aside})));
    const words = spots.find(spot => this.#isFree(around(spot, 8, deep))) ?? spots[0];
    this.#taken.push(around(words, 8, deep));
    return {joint, ...at, angle, kind: 'cut', words: {...words, turned: outward * -90}, onward};
  }

  /** Joints, not signals, at which some route ends. */
  routeEnds() {
    const ends = new Set(Object.values(this.#plan.routes).map(({to}) => to)
      .filter(to => !this.#plan.signals[to] && this.#plan.joints[to] && this.#touches(to)));
    return [...ends].map(joint => {
      const piece = this.pieces.find(({near, far}) => near === joint || far === joint);
      return {joint, ...this.#plan.point(joint), name: `end of ${this.#plan.sections[piece.section].name ?? piece.section}`};
    });
  }

  /** Joints at which the territory of one dispatcher meets another's, with room for both names. */
  boundaries() {
    const joints = new Set(this.pieces.flatMap(({near, far}) => [near, far]));
    return [...joints].flatMap(joint => {
      const ends = this.#plan.piecesAt(joint).map(({section, a, b}) => ({section, x: this.#plan.point(a === joint ? b : a).x}));
      const next = ends.find(({section}) => section !== ends[0].section);
      return next ? this.#boundary(joint, [ends[0], next].sort((one, other) => one.x - other.x)) : [];
    });
  }

  #boundary(joint, ends) {
    const [left, right] = ends.map(({section}) => this.#plan.territoryOf(section));
    if (left === right) return [];
    const half = 10 + LETTER * Math.max(...[left, right].map(id => `${this.#plan.nameOf('territory', id) ?? ''} (yours)`.length));
    const {x, y} = this.#plan.point(joint);
    const up = [-38, 38, -54, 54, -70, 70].find(aside => this.#isFree(around({x, y: y + aside}, half, 8))) ?? -38;
    this.#taken.push(around({x, y: y + up}, half, 8));
    return [{joint, x, y, up, left, right}];
  }

  districts() {
    return Object.keys(this.#plan.districts).map(id => ({
      id,
      track: this.pieces.filter(({section}) => this.#plan.sections[section].district === id)
        .map(({from, to}) => `M${from.x} ${from.y}L${to.x} ${to.y}`).join(''),
    })).filter(({track}) => track);
  }

  staging() {
    const hidden = this.pieces.filter(({section}) => this.#plan.sections[section].hidden);
    const clusters = [];
    for (const {from, to} of hidden) {
      const bounds = {
        left: Math.min(from.x, to.x) - 14, right: Math.max(from.x, to.x) + 12,
        top: Math.min(from.y, to.y) - 38, bottom: Math.max(from.y, to.y) + 34,
      };
      const near = clusters.find(cluster => overlap(cluster, bounds));
      if (near) Object.assign(near, union(near, bounds));
      else clusters.push(bounds);
    }
    this.#far.push(...clusters.map(cluster => ({...cluster, top: cluster.top - 12})));
    return clusters;
  }

  // The ruler follows the straightest way from the west end to the east end.
  ruler() {
    const ordered = [...this.pieces].sort((one, other) => Math.min(one.from.x, one.to.x) - Math.min(other.from.x, other.to.x));
    if (!ordered.length) return null;
    const start = ordered[0].from.x <= ordered[0].to.x ? ordered[0].near : ordered[0].far;
    const chain = this.#eastward(start);
    const ticks = [];
    let metres = 0;
    for (const section of new Set(chain.map(step => step.section))) {
      const along = chain.filter(step => step.section === section);
      const length = this.#plan.sections[section].metres;
      if (length === undefined) return null;
      const from = along[0].from.x;
      const to = along.at(-1).to.x;
      ticks.push({from, to, start: metres, metres: length});
      metres += length;
    }
    const lowest = Math.max(...this.pieces.flatMap(({from, to}) => [from.y + 30, to.y + 30]), ...[...this.#taken, ...this.#far].map(({bottom}) => bottom));
    return {ticks, total: metres, y: lowest + 28};
  }

  #eastward(joint, chain = []) {
    const here = this.#plan.point(joint);
    const next = this.pieces
      .map(piece => piece.near === joint ? piece : piece.far === joint
        ? {...piece, near: piece.far, far: piece.near, from: piece.to, to: piece.from} : null)
      .filter(piece => piece && piece.to.x > here.x)
      .sort((one, other) => branches(one) - branches(other) || Math.abs(one.to.y - here.y) - Math.abs(other.to.y - here.y))[0];
    return next ? this.#eastward(next.far, [...chain, next]) : chain;
  }

  box() {
    const xs = this.pieces.flatMap(({from, to}) => [from.x, to.x]);
    const ys = this.pieces.flatMap(({from, to}) => [from.y, to.y]);
    const bounds = [...this.#taken, ...this.#far].reduce(union, {
      left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys),
    });
    const left = Math.min(bounds.left - 14, Math.min(...xs) - MARGIN.x);
    const right = Math.max(bounds.right + 14, Math.max(...xs) + MARGIN.x);
    const top = Math.min(bounds.top - 12, Math.min(...ys) - MARGIN.top);
    const bottom = Math.max(bounds.bottom, Math.max(...ys) + 30) + 28 + MARGIN.bottom;
    return {x: round(left), y: round(top), width: round(right - left), height: round(bottom - top)};
  }

  #longest(section) {
    return this.pieces.filter(piece => piece.section === section)
      .sort((one, other) => branches(one) - branches(other) || middleOf(other).length - middleOf(one).length)[0];
  }

  #isFree(bounds) {
    return !this.#taken.some(other => overlap(other, bounds))
      && !this.pieces.some(({from, to}) => crosses(from, to, bounds));
  }
}

/** The last word of a name where that tells it apart on the spot: '2E' of 'Tilling 2E'. */
export function shortName(name) {
  const last = name.split(' ').at(-1);
  return last.length <= 5 ? last : name;
}

/** The letters of an aspect: S of stop, DA of diverging-approach. */
export function lettersOf(aspect) {
  return aspect.split(/[-\s]+/).map(word => word[0].toUpperCase()).join('');
}

const branches = ({leg}) => leg?.position === 'reverse' ? 1 : 0;

function signalBounds({x, y}, angle, side, beyond, reach) {
  const [near, far] = beyond ? [-8, reach + 6] : [-reach - 10, -2];
  const corners = [[near, side * PLATE.depth], [far, side * PLATE.depth],
    [near, side * (PLATE.depth + PLATE.height + 1)], [far, side * (PLATE.depth + PLATE.height + 1)]];
  const turn = angle * Math.PI / 180;
  const xs = corners.map(([along, aside]) => x + along * Math.cos(turn) - aside * Math.sin(turn));
  const ys = corners.map(([along, aside]) => y + along * Math.sin(turn) + aside * Math.cos(turn));
  return {left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys)};
}

const around = ({x, y}, half, deep) => ({left: x - half, right: x + half, top: y - deep, bottom: y + deep});

const overlap = (one, other) => one.left < other.right && other.left < one.right
  && one.top < other.bottom && other.top < one.bottom;

const union = (one, other) => ({
  left: Math.min(one.left, other.left), right: Math.max(one.right, other.right),
  top: Math.min(one.top, other.top), bottom: Math.max(one.bottom, other.bottom),
});

// A track is as wide as its rails; eight samples a grid step are fine enough for captions.
function crosses(from, to, {left, right, top, bottom}) {
  const count = Math.ceil(middleOf({from, to}).length / (Math.min(ACROSS, UP) / 8));
  for (let index = 0; index <= count; index++) {
    const {x, y} = middleOf({from, to}, index / count);
    if (x > left - 5 && x < right + 5 && y > top - 5 && y < bottom + 5) return true;
  }
  return false;
}
