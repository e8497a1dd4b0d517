// What a thumb can reach: what is chosen and what can be done with it, what is asked for, and the answers.
// In: the crew's page. Out: a template for the dock.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {keyed} from '/lib/lit-html/directives/keyed.js';
import {bolt, lined, permit, release, thrown} from './asks.js';
import {indication} from './indication.js';
import {nameOfEnd} from './commands.js';
import {quoted} from './sentence.js';
import {reasons} from './slip.js';
import {answerSign, nameOf, protectionsOf, stateOf} from './words.js';

export function dock(page) {
  return html`
    ${said(page)}
    ${page.asks.map(ask => asked(page, ask))}
    ${page.chosen ? keyed(`${page.chosen.kind}:${page.chosen.id}`, device(page, page.chosen))
      : page.sheet ? sheet(page) : standing(page)}`;
}

// Answers and asks

function said(page) {
  if (!page.answer) return nothing;
  const {answer, text} = page.answer;
  return html`<p class="said ${answer === 'done' ? 'good' : 'bad'}"><b>${answer === 'done' ? '✓' : answerSign(answer)} ${answer}</b> <span>${text}</span></p>`;
}

const STANDINGS = {
  waits: ['…', 'the dispatcher has it; wait'],
  granted: ['✓', 'granted'],
  refused: ['✗', 'refused: do not count on it'],
};

function asked(page, ask) {
  const [sign, words] = STANDINGS[ask.standing];
  return html`<p class="asked ${ask.standing}"><b>${sign}</b><span>Asked: ${ask.words}<br><small>${words}</small></span>
    ${ask.standing === 'waits'
      ? ask.id ? html`<button aria-label=${`Take back: ${ask.words}`} @click=${() => page.withdraw(ask)}>Take back</button>` : nothing
      : html`<button aria-label=${`Put away: ${ask.words}`} @click=${() => page.forget(ask)}>Put away</button>`}</p>`;
}

// Nothing is chosen: what a crew does most

function standing(page) {
  if (!page.crew) {
    return html`<p class="soft">You see all of it. To ask for anything, enter with your crew’s name and the PIN that your host tells you.</p>
      <div class="big"><button class="chief" @click=${() => page.entering.open()}>Enter as a crew</button></div>`;
  }
  const locks = page.devices.switches.filter(id => page.plan.switches[id].lock);
  return html`<div class="big">
    ${page.permits.map(held => html`<button class="chief" @click=${() => page.tell(`return permit of ${quoted(held.holder)}`)}>
      Return my permit <small>${held.on.map(id => page.plan.nameOf('section', id)).join(', ')}</small></button>`)}
    ${heldLocks(page).map(id => secure(page, id, true))}
    ${page.permits.length ? nothing : html`<button @click=${() => page.ask('permit')}>Ask for a permit</button>`}
    ${locks.length ? html`<button @click=${() => page.ask('release')}>Ask for a release</button>` : nothing}
  </div>
  <p class="soft hint">Point at a track, a switch or a signal to be told of it and to do more.</p>`;
}

const heldLocks = ({plan, live, me}) => Object.keys(plan.switches).filter(id => live.of('lock', id).holder === me.name);

const secure = (page, id, named) => html`<button class="chief" @click=${() => page.tell(`secure ${quoted(id)}`)}>Secure ${named ? page.plan.nameOf('switch', id) : 'it'}</button>`;

// What is asked for

function sheet(page) {
  return page.sheet === 'permit' ? permitSheet(page) : releaseSheet(page);
}

function permitSheet(page) {
  const {plan, place, train, me} = page;
  const submit = event => {
    event.preventDefault();
    const form = new FormData(event.target);
    const sections = form.getAll('on');
    if (!sections.length) return page.answerHere('Choose the tracks first.');
    return page.askFor(permit(me.name, sections, form.get('reason').trim(), plan));
  };
  return html`<form class="sheet" @submit=${submit} aria-label="Ask for a permit">
    <h2>A permit: these tracks are yours alone</h2>
    <div class="choices">${place.sections.map(id => html`<label><input type="checkbox" name="on" value=${id} ?checked=${train?.on.includes(id)}>${plan.nameOf('section', id)}</label>`)}</div>
    <label class="why">Why, if you like <input name="reason" maxlength="60" placeholder="switching"></label>
    <div class="big"><button type="button" @click=${() => page.leave()}>Leave it</button><button class="chief">Ask the dispatcher</button></div></form>`;
}

function releaseSheet(page) {
  const {plan, live, devices, me} = page;
  return html`<div class="sheet"><h2>A release: the switch is yours to throw by hand</h2>
    <div class="big">${devices.switches.filter(id => plan.switches[id].lock).map(id => html`
      <button class="chief" @click=${() => page.askFor(release(me.name, id, plan))}>${plan.nameOf('switch', id)}<small>${stateOf(plan, live, 'lock', id)}</small></button>`)}
      <button @click=${() => page.leave()}>Leave it</button></div></div>`;
}

// One device

function device(page, {kind, id}) {
  const {plan, live} = page;
  const doable = page.crew && live.alive ? (DOABLE[kind] ?? (() => []))(page, id) : [];
  const title = kind === 'joint' ? nameOfEnd(plan, id) : nameOf(plan, kind, id);
  return html`<section class="sheet" aria-label=${title}>
    <header><h2>${title}</h2>${kind === 'joint' ? nothing : html`<button class="plain" @click=${() => page.why(id)}>Why?</button>`}
      <button class="plain" @click=${() => page.leave()}>Close</button></header>
    <p>${stateOf(plan, live, kind, id)}${length(page, kind, id)}</p>
    ${(TOLD[kind] ?? (() => nothing))(page, id)}
    <div class="big">${doable}</div>
    ${page.because ? html`<div class="because" tabindex="0" role="group" aria-label="Why">${reasons(page.because, marks => page.mark(marks))}</div>` : nothing}
    ${page.crew ? nothing : html`<div class="big"><button class="chief" @click=${() => page.entering.open()}>Enter as a crew</button></div>`}
  </section>`;
}

function length({plan, carMetres}, kind, id) {
  return kind === 'section' ? `; ${lengthWords(plan.sections[id], carMetres)}` : '';
}

/** '2.6 m', with the cars that fit where it is known how long one is. */
export function lengthWords({metres, cars}, carMetres) {
  const count = cars ?? (carMetres ? Math.floor(metres / carMetres) : undefined);
  return `${metres.toFixed(1)} m${count === undefined ? '' : `, ${count} cars`}`;
}

const CONTROL = {
  dispatcher: 'The dispatcher throws it.',
  released: 'You throw it by hand, once its lock is released to you.',
  local: 'You throw it at the fascia beside it, while nothing holds it.',
  hand: 'You throw it by hand.',
  sprung: 'It springs back behind a train.',
};

const TOLD = {
  signal: ({live}, id) => html`<p><b>${indication(live, id).words}</b></p>`,
  switch: (page, id) => html`<p class="soft">${isMine(page, id) ? 'It lies inside your permit: you throw it from here.' : CONTROL[page.plan.switches[id].control]}</p>`,
};

// Motors inside a permit are its holder's to run.
function isMine({plan, live, me, crew}, id) {
  const {control, section} = plan.switches[id];
  return crew && (control === 'dispatcher' || control === 'local')
    && protectionsOf(live, 'section', section).some(({by, holder}) => by === 'permit' && holder === me.name);
}

const press = (page, words, sentence, chief) => html`<button class=${chief ? 'chief' : ''} @click=${() => page.tell(sentence)}>${words}</button>`;
const beg = (page, words, ask) => html`<button @click=${() => page.askFor(ask)}>${words}</button>`;

const DOABLE = {
  section(page, id) {
    const {plan, live, me} = page;
    const {is, train} = live.of('section', id);
    const held = protectionsOf(live, 'section', id);
    const mine = by => held.some(protection => protection.by === by && protection.holder === me.name);
    return [
      mine('permit') ? press(page, 'Return my permit', `return permit of ${quoted(me.name)}`, true)
        : beg(page, 'Ask for a permit here', permit(me.name, [id], '', plan)),
      mine('flag') ? press(page, 'Take my blue flag down', `unflag ${quoted(id)} by ${quoted(me.name)}`, true)
        : press(page, 'Put up my blue flag', `flag ${quoted(id)} by ${quoted(me.name)}`),
      is !== 'clear' && train !== me.name ? press(page, 'My train stands here', `name ${quoted(me.name)} on ${quoted(id)}`, !page.train) : nothing,
    ];
  },

  switch(page, id) {
    const {plan, live, me} = page;
    const {control, lock} = plan.switches[id];
    const {holder, is} = live.of('lock', id);
    const other = live.of('switch', id).is === 'normal' ? ['reverse'] : live.of('switch', id).is === 'reverse' ? ['normal'] : ['normal', 'reverse'];
    if (lock) {
      return [holder === me.name ? secure(page, id, false) : beg(page, 'Ask for a release', release(me.name, id, plan)),
        is === 'released' && holder !== me.name ? html`<p class="soft">It is released${holder ? ` to ${holder}` : ''}.</p>` : nothing];
    }
    if (control !== 'dispatcher' && control !== 'local') return [];
    return other.map(position => isMine(page, id)
      ? press(page, `Throw it ${position}`, `throw ${quoted(id)} ${position} for ${quoted(me.name)}`, true)
      : beg(page, `Ask for it ${position}`, thrown(id, position, plan)));
  },

  signal(page, id) {
    const {plan} = page;
    const routes = plan.routesFrom(id).filter(({automatic}) => !automatic);
    return routes.map(route => beg(page, `Ask for it, to ${nameOfEnd(plan, route.to)}`,
      lined(route.id, route, `${plan.nameOf('signal', id)} to ${nameOfEnd(plan, route.to)}`)));
  },

  opening: (page, id) => page.plan.openings[id].lock === false ? []
    : [page.live.of('opening', id).bolt === 'unlocked' ? 'lock' : 'unlock'].map(verb => beg(page, `Ask to ${verb} it`, bolt(id, verb, page.plan))),
};
