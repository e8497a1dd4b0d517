// The track plan, with places on paper.
// In: what GET /api/plan tells. Out: a Plan, which knows where joints lie, which pieces of track make up a
// section, what meets where, and the way that a route takes.

/** Paper units for one step across and one step up of the layout file's drawn plan. */
export const ACROSS = 40;
export const UP = 66;

const KINDS = [
  'joints', 'sections', 'switches', 'signals', 'openings', 'crossings', 'spots', 'lamps', 'buttons',
  'districts', 'lines', 'boards', 'routes', 'places', 'territories',
];

export class Plan {
  constructor(told) {
    this.name = told.name;
    for (const kind of KINDS) this[kind] = told[kind] ?? {};
    this.pieces = Object.entries(this.sections).flatMap(([section, {tracks = []}]) =>
      tracks.map(([a, b]) => ({section, a, b, leg: this.#legOf(section, a, b)})));
    this.ways = new Map();
  }

  /** Where a joint lies on paper; up is up. */
  point(joint) {
    return this.paper(this.joints[joint]);
  }

  paper([across, up]) {
    return {x: across * ACROSS, y: -up * UP};
  }

  nameOf(kind, id) {
    return this[KIND_OF[kind]]?.[id]?.name ?? id;
  }

  piecesOf(section) {
    return this.pieces.filter(piece => piece.section === section);
  }

  piecesAt(joint) {
    return this.pieces.filter(piece => piece.a === joint || piece.b === joint);
  }

  sectionsAt(joint) {
    return new Set(this.piecesAt(joint).map(piece => piece.section));
  }

  /** A joint to which one piece of track leads: the track ends there. */
  isEnd(joint) {
    return this.piecesAt(joint).length === 1;
  }

  /** The place that a section belongs to, or the section itself where the owner names none. */
  placeOf(section) {
    const place = Object.values(this.places).find(({sections}) => sections.includes(section));
    return place?.name ?? this.nameOf('section', section);
  }

  /** The territory that a section lies in; undefined where it lies in none. */
  territoryOf(section) {
    return Object.keys(this.territories).find(id =>
      this.territories[id].places.some(place => this.places[place].sections.includes(section)));
  }

  /** How far pieces of track reach across, in paper units. */
  spreadOf(sections) {
    const set = new Set(sections);
    const xs = this.pieces.filter(({section}) => set.has(section)).flatMap(({a, b}) => [this.point(a).x, this.point(b).x]);
    return Math.max(...xs) - Math.min(...xs);
  }

  switchesIn(section) {
    return Object.keys(this.switches).filter(id => this.switches[id].section === section);
  }

  routesFrom(signal) {
    return Object.entries(this.routes).filter(([, route]) => route.from === signal)
      .map(([id, route]) => ({id, ...route}));
  }

  /** The pieces of track that a route runs over, each in the direction of the train. */
  wayOfRoute(id) {
    if (!this.ways.has(id)) {
      const route = this.routes[id];
      this.ways.set(id, route ? this.way(route.from, route.to, route.path, route.switches) : []);
    }
    return this.ways.get(id);
  }

  /** The same for any signal, the joint or signal beyond, the sections between and how switches lie. */
  way(from, to, path, switches = {}) {
    const start = this.signals[from];
    const goal = this.signals[to]?.at ?? to;
    const allowed = new Set(path);
    const walk = (joint, passed) => {
      if (joint === goal && passed.length) return passed;
      for (const piece of this.#onward(joint, allowed, switches)) {
        const next = piece.a === joint ? piece.b : piece.a;
        const first = passed.length === 0 && piece.section !== start.into;
        const again = passed.some(step => step.a === next || step.b === next);
        if (first || again) continue;
        const found = walk(next, [...passed, {section: piece.section, a: joint, b: next}]);
        if (found) return found;
      }
      return null;
    };
    return (start && walk(start.at, [])) ?? [];
  }

  #onward(joint, allowed, switches) {
    const lies = ({leg}) => !leg || (switches[leg.switch] ?? leg.position) === leg.position;
    const normalFirst = (one, other) => (one.leg?.position === 'reverse') - (other.leg?.position === 'reverse');
    return this.piecesAt(joint).filter(piece => allowed.has(piece.section) && lies(piece)).sort(normalFirst);
  }

  #legOf(section, a, b) {
    for (const [id, {section: of, points, normal, reverse}] of Object.entries(this.switches)) {
      if (of !== section || (points !== a && points !== b)) continue;
      const end = points === a ? b : a;
      if (end === normal) return {switch: id, position: 'normal', points};
      if (end === reverse) return {switch: id, position: 'reverse', points};
    }
    return undefined;
  }
}

/** Where the plan keeps each kind of thing that the daemon tells the state of. */
const KIND_OF = {
  section: 'sections', switch: 'switches', lock: 'switches', signal: 'signals', opening: 'openings',
  crossing: 'crossings', spot: 'spots', lamp: 'lamps', district: 'districts', traffic: 'lines',
  board: 'boards', place: 'places', territory: 'territories',
};
