// The card at the top of the crew page: where am I, may I move, what next.
// In: the crew's page. Out: a template. The signal beside the track counts; this only repeats it.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {signalSign} from './glyphs.js';
import {lettersOf} from './drawing.js';
import {headingOf, signalsBefore} from './place.js';
import {indication} from './indication.js';
import {protectionsOf} from './words.js';

export function card(page) {
  const train = page.crew && page.train;
  const may = mayMove(page, train);
  const wrong = alarmsOf(page);
  return html`
    ${wrong.length ? html`<ul class="wrongs">${wrong.map(words => html`<li>${words}</li>`)}</ul>` : nothing}
    <dl>
      <dt>Where am I?</dt><dd>${where(page, train)}</dd>
      <dt>May I move?</dt><dd class="verdict ${may.kind}"><strong>${may.words}</strong>${may.more ? html`<span>${may.more}</span>` : nothing}</dd>
      ${may.signals?.length ? html`<dd class="signs"><ul>${may.signals.map(signal => sign(page, signal))}</ul></dd>` : nothing}
      <dt>What next?</dt><dd>${next(page, train, may)}</dd>
    </dl>`;
}

// An alarm names its devices by their ids.
function alarmsOf({live, devices}) {
  const here = new Set(Object.values(devices).flat());
  return live.all('alarm').map(([words]) => words).filter(words => words.split(/[^A-Za-z0-9-]+/).some(word => here.has(word)));
}

const names = (plan, sections) => sections.map(id => plan.nameOf('section', id)).join(' and ');

function where({plan, me, place, crew}, train) {
  if (!crew) return html`At <b>${place.name}</b>, as a guest.`;
  if (!train) return html`At <b>${place.name}</b>. No train is known as <b>${me.name}</b>.`;
  const {on, lost} = train;
  return html`<b>${me.name}</b> ${lost ? 'was last seen on' : 'is on'} <b>${names(plan, on)}</b>.`;
}

// The strictest that is known comes first.
function mayMove(page, train) {
  if (!page.live.alive) return {kind: 'no', words: 'Not known.', more: 'The daemon is not heard. Stay where you are.'};
  if (train) return forbidden(page, train) ?? byPermit(page, train) ?? bySignals(page, train);
  if (page.permits.length) return inside(page.plan, page.permits.flatMap(({on}) => on));
  return {kind: 'ask', words: 'As the signal before you shows.', more: page.crew ? '' : 'Stop where it is not known.'};
}

function forbidden({plan, live}, {on, lost}) {
  const held = on.flatMap(section => protectionsOf(live, 'section', section));
  const flag = held.find(({by}) => by === 'flag');
  if (flag) return {kind: 'no', words: 'No: blue flag.', more: `${flag.holder} works at the cars on ${names(plan, on)}. Nothing there is moved or coupled to.`};
  const block = held.find(({by}) => by === 'section');
  if (block) return {kind: 'no', words: 'No: blocked.', more: `The track is blocked for ${block.holder}.`};
  return lost ? {kind: 'no', words: 'Stay where you are.', more: 'Your train was lost from sight. Tell the dispatcher where it is.'} : undefined;
}

// Whoever stands with a part of the train outside is not inside. Signals are those at which the permit ends.
function byPermit({plan, live, me, permits}, {on}) {
  const own = new Set(permits.flatMap(permit => permit.on));
  if (on.every(section => own.has(section))) {
    return {...inside(plan, [...own]), signals: signalsBefore(plan, live, on).filter(signal => !own.has(plan.signals[signal].into))};
  }
  const other = on.flatMap(section => protectionsOf(live, 'section', section)).find(({by, holder}) => by === 'permit' && holder !== me.name);
  return other && {kind: 'no', words: 'No: another’s permit.', more: `Only ${other.holder} moves there.`};
}

const inside = (plan, sections) => ({kind: 'yes', words: 'Yes, inside your permit.', more: `Both ways on ${names(plan, sections)}, and not beyond.`});

function bySignals({plan, live}, {on}) {
  const signals = signalsBefore(plan, live, on);
  const ways = new Set(signals.filter(signal => indication(live, signal).may).map(signal => headingOf(plan, signal)));
  if (ways.size) return {kind: 'yes', words: `Yes, ${[...ways].join(' or ')}, as the signal shows.`, signals};
  if (signals.length) return {kind: 'no', words: 'No. Wait at the signal.', signals};
  return {kind: 'ask', words: 'As the last signal allowed.', more: 'No signal stands between here and the next section.'};
}

function sign(page, signal) {
  const {plan, live} = page;
  const {shows, dark} = live.of('signal', signal);
  const {short, words} = indication(live, signal);
  const heading = headingOf(plan, signal);
  const width = 11 + (shows ? lettersOf(shows).length : 1) * 8.5;
  const turn = heading === 'west' ? 180 : 0;
  return html`<li><button class="plain sign-button" @click=${() => page.choose('signal', signal)}>
    <svg viewBox=${turn ? '-46 -31 92 44' : '-46 -13 92 44'} aria-hidden="true"><g class="section clear"><path class="rail" d="M-42 0H42"/><path class="bed" d="M-43 0H43"/></g>
      <g transform=${`translate(${turn ? -22 : 22} 0) rotate(${turn})`}>${signalSign({aspect: live.alive ? shows : undefined, dark, width, angle: turn})}</g></svg>
    <span><b>${heading === 'west' ? '← ' : ''}${plan.nameOf('signal', signal)}${heading === 'east' ? ' →' : ''}</b> ${short}<br><small>${words}</small></span></button></li>`;
}

// One thing at a time, the most binding first.
function next(page, train, may) {
  const {plan, live, me, crew} = page;
  if (!live.alive) return 'Wait until this page hears the daemon again, or call the dispatcher.';
  if (!crew) return 'Look around. To ask for anything, enter as a crew: the button is below.';
  const lock = Object.keys(plan.switches).find(id => live.of('lock', id).holder === me.name);
  if (lock) {
    const name = plan.nameOf('switch', lock);
    return live.of('lock', lock).is === 'released' ? `Throw ${name} by hand. When you are in the clear, put it normal and secure it.`
      : `Wait until the lock of ${name} lets go.`;
  }
  if (page.asks.some(({standing}) => standing === 'waits')) return 'Wait: the dispatcher has what you asked for.';
  const mine = page.permits.length > 0;
  if (mine) return 'Do your work. When you are in the clear, return your permit.';
  if (page.flags.length) return 'When nobody is at the cars any more, take your flag down.';
  if (!train) return 'Point at the track your train stands on, and say that it is yours.';
  if (may.kind === 'yes') return 'Go as the signal beside the track shows: it counts, not this page.';
  return 'Wait for the signal, or ask the dispatcher: for a signal, a permit to switch, or a release.';
}
