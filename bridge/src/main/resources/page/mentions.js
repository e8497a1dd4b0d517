// Which devices a text speaks of: it names them by their ids, as the daemon does.
// In: a Plan, a text. Out: {kind, id} of each, once.

const KINDS = {section: 'sections', switch: 'switches', signal: 'signals', opening: 'openings', crossing: 'crossings', district: 'districts', spot: 'spots', lamp: 'lamps'};

const wordsOf = text => new Set(text.split(/[^A-Za-z0-9-]+/));

export function devicesNamed(plan, text) {
  const words = wordsOf(text);
  return Object.entries(KINDS).flatMap(([kind, of]) => Object.keys(plan[of]).filter(id => words.has(id)).map(id => ({kind, id})));
}

/** Routes are no devices, but have their reasons too. */
export function routesNamed(plan, text) {
  const words = wordsOf(text);
  return Object.keys(plan.routes).filter(id => words.has(id)).map(id => ({kind: 'route', id}));
}

/** Everything that why can be asked of. */
export const askable = plan => ['signals', 'switches', 'sections', 'routes', 'openings', 'crossings', 'lamps', 'districts', 'lines']
  .flatMap(of => Object.entries(plan[of]).map(([id, {name}]) => ({id, name: name ?? id})));
