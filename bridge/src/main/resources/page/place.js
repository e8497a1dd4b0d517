// What belongs to a place, and what lies around it.
// In: a Plan, the sections of a place, a Live where switches matter. Out: its devices, in the order along the line, and its neighbours.

/** A place as the owner names it; the whole railroad where none is named. */
export function placesOf(plan) {
  const named = Object.entries(plan.places);
  return named.length ? new Map(named) : new Map([['', {name: plan.name, sections: Object.keys(plan.sections)}]]);
}

export function devicesOf(plan, {name, sections}) {
  const inside = new Set(sections);
  const joints = new Set(plan.pieces.filter(({section}) => inside.has(section)).flatMap(({a, b}) => [a, b]));
  const having = (kind, of) => Object.keys(plan[kind]).filter(id => of(plan[kind][id]));
  const along = (ids, joint) => ids.sort((one, other) => plan.point(joint(one)).x - plan.point(joint(other)).x);
  const switches = along(having('switches', ({section}) => inside.has(section)), id => plan.switches[id].points);
  return {
    sections, switches,
    signals: along(having('signals', ({at}) => joints.has(at)), id => plan.signals[id].at),
    openings: having('openings', opening => opening.sections.some(section => inside.has(section))),
    crossings: having('crossings', ({island}) => inside.has(island)),
    spots: having('spots', ({at}) => joints.has(at)),
    lamps: lampsOf(plan, [name, ...sections.map(id => plan.nameOf('section', id)), ...switches.map(id => plan.nameOf('switch', id))]),
    districts: [...new Set(sections.map(id => plan.sections[id].district).filter(Boolean))],
  };
}

// The plan does not tell where a lamp is: its name begins with what it is about.
function lampsOf(plan, names) {
  const known = new Set(names.flatMap(name => name.toLowerCase().split(/\s+/)));
  return Object.keys(plan.lamps).filter(id => known.has(plan.nameOf('lamp', id).toLowerCase().split(/\s+/)[0]));
}

/** The sections from which a train can come: {section, side: 'west' or 'east', steps: 1 is next to the place}. */
export function around(plan, sections, far = 4) {
  const seen = new Set(sections);
  const middle = middleOf(plan, sections);
  const found = [];
  let edge = sections.map(section => ({section}));
  for (let steps = 1; steps <= far; steps++) {
    edge = edge.flatMap(({section, side}) => onward(plan, section, seen)
      .map(({joint, section: next}) => ({section: next, steps, side: side ?? (plan.point(joint).x < middle ? 'west' : 'east')})));
    found.push(...edge);
  }
  return found;
}

function onward(plan, section, seen) {
  const joints = new Set(plan.piecesOf(section).flatMap(({a, b}) => [a, b]));
  return [...joints].flatMap(joint => [...plan.sectionsAt(joint)]
    .filter(next => !seen.has(next) && seen.add(next))
    .map(next => ({joint, section: next})));
}

function middleOf(plan, sections) {
  const xs = sections.flatMap(section => plan.piecesOf(section)).flatMap(({a, b}) => [plan.point(a).x, plan.point(b).x]);
  return (Math.min(...xs) + Math.max(...xs)) / 2;
}

/** The signals that a train on these sections faces when it is to leave them, by the legs that switches lie for. */
export function signalsBefore(plan, live, sections) {
  const here = new Set(sections);
  const leads = ({leg}) => !leg || live.of('switch', leg.switch).is === leg.position;
  const joints = new Set(plan.pieces.filter(piece => here.has(piece.section) && leads(piece)).flatMap(({a, b}) => [a, b]));
  return Object.keys(plan.signals).filter(id => joints.has(plan.signals[id].at) && !here.has(plan.signals[id].into));
}

/** The way that a signal sends trains: 'east' or 'west'. */
export function headingOf(plan, signal) {
  const {at, toward} = plan.signals[signal];
  return (toward ?? plan.joints[at])[0] < plan.joints[at][0] ? 'west' : 'east';
}
