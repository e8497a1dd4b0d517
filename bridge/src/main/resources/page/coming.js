// What comes to a place, as far as it can be known.
// In: a Plan, a Live, the place's sections and spots. Out: lines {key, side, lined, words, more}, the nearest first.

import {around, signalsBefore} from './place.js';
import {nameOfEnd} from './commands.js';

const JUST_NOW_MS = 60_000;

export function coming(plan, live, sections, spots) {
  return [...onTheWay(plan, live, sections), ...seenAtSpots(plan, live, spots)];
}

function onTheWay(plan, live, sections) {
  const inside = new Set(sections);
  return around(plan, sections).flatMap(({section, side, steps}) => {
    const {is = 'unknown', train} = live.of('section', section);
    if (is === 'clear') return [];
    const lined = linedInto(plan, live, section, inside);
    const where = `${plan.nameOf('section', section)}${steps === 1 ? ', next to here' : `, ${steps} sections away`}`;
    const what = is === 'unknown' ? 'Not known' : train ?? 'A train without a name';
    return [{key: section, side, lined: Boolean(lined), words: `${what}: ${where}`, more: lined ? `comes: lined to ${nameOfEnd(plan, lined.to)}` : ''}];
  });
}

// A route that begins before a signal at this section and runs into the place.
function linedInto(plan, live, section, inside) {
  return signalsBefore(plan, live, [section])
    .map(signal => plan.routes[live.of('signal', signal).route])
    .find(route => route?.path.some(part => inside.has(part)));
}

function seenAtSpots(plan, live, spots) {
  return spots.flatMap(spot => {
    const {passed} = live.of('spot', spot);
    const ago = passed === undefined ? Infinity : live.now() - passed;
    return ago > JUST_NOW_MS ? [] : [{key: spot, side: 'spot', lined: false,
      words: `${plan.nameOf('spot', spot)}: a train passed`, more: `${Math.max(0, Math.round(ago / 1000))} s ago`}];
  });
}
