// The slip: what has been chosen on the chart, how it is, and what can be done with it.
// In: the desk, which knows what is chosen or offered. Out: a template for the dock.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {keyed} from '/lib/lit-html/directives/keyed.js';
import {commandsOf, nameOfEnd} from './commands.js';
import {quoted} from './sentence.js';
import {nameOf, stateOf} from './words.js';

export function slip(desk) {
  if (desk.offered) return offer(desk);
  if (!desk.chosen) return nothing;
  const {kind, id} = desk.chosen;
  return keyed(`${kind}:${id}`, device(desk, desk.chosen));    // no name typed for one device stays for the next
}

function device(desk, {kind, id}) {
  const {plan, live} = desk;
  const title = kind === 'joint' ? nameOfEnd(plan, id) : nameOf(plan, kind, id);
  const commands = desk.commands ? commandsOf(plan, live, kind, id) : [];
  return html`<section class="slip" aria-label=${title} @keydown=${event => escape(event, desk)}>
    <header><h2>${title}</h2><small>${id}</small><p>${stateOf(plan, live, kind, id)}</p>
      ${kind === 'joint' ? nothing : html`<button class="plain" @click=${() => desk.ask(id)}>Why?</button>`}
      <button class="plain" @click=${() => desk.leave()}>Close</button></header>
    <div class="rows">${commands.map(row => html`<div class="row" role="group" aria-label=${row.title || 'This signal'}>
      ${row.title ? html`<span>${row.title}</span>` : nothing}
      ${row.commands.map(command => button(desk, command, id, row.title))}</div>`)}
      ${commands.some(({commands: of}) => of.some(({needs}) => needs)) ? fields(kind, desk) : nothing}</div>
    ${desk.commands || !desk.live.alive ? nothing : html`<p class="soft">Take the desk to give orders.</p>`}
    ${desk.because ? html`<div class="because">${reasons(desk.because, marks => desk.mark(marks))}</div>` : nothing}
  </section>`;
}

function fields(kind, desk) {
  return html`<div class="row fields">
    <label>${kind === 'section' ? 'Crew or train' : 'For'} <input name="who" maxlength="40" list="people" aria-label="crew, holder or train"></label>
    <label>because <input name="reason" maxlength="80" aria-label="reason, may be left empty"></label>
    ${kind === 'section' ? html`<label>and on <input name="more" maxlength="200" list="more-sections" aria-label="further sections of a permit, with commas"></label>
      <datalist id="more-sections">${Object.keys(desk.plan.sections).map(id => html`<option value=${id}></option>`)}</datalist>` : nothing}
    <datalist id="people">${desk.people().map(name => html`<option value=${name}></option>`)}</datalist></div>`;
}

function button(desk, command, id, title) {
  const {words, sentence, needs, offer: to, chief} = command;
  const press = event => {
    if (to) return desk.offer(id, to);
    if (!needs) return desk.tell(sentence);
    const slipped = event.target.closest('.slip');
    const who = slipped.querySelector('[name=who]');
    if (!who.value.trim()) {
      desk.say('refused', `Say first which ${needs} it is for.`);
      return who.focus();
    }
    const said = name => slipped.querySelector(`[name=${name}]`)?.value.trim() ?? '';
    return desk.tell(sentence({who: who.value, reason: said('reason'), more: said('more').split(/[\s,]+/).filter(Boolean)}));
  };
  return html`<button class=${chief ? 'chief' : ''} aria-label=${title ? `${title}: ${words}` : words} @click=${press}>${words}</button>`;
}

function offer(desk) {
  const {plan, offered} = desk;
  const {from, to, way} = offered;
  const title = `${plan.nameOf('signal', from)} to ${nameOfEnd(plan, to)}`;
  const pair = `${quoted(from)} to ${quoted(to)}`;
  const callOn = plan.routes[way?.route]?.callOn;
  return html`<section class="slip" aria-label=${`Offered: ${title}`} @keydown=${event => escape(event, desk)}>
    <header><h2>${title}</h2><p>${!way ? 'asking…' : way.can ? 'can be lined' : 'cannot be lined now'}</p>
      <button class="plain" @click=${() => desk.leave()}>Give up</button></header>
    ${way ? html`<p class="told">${way.text}</p>${lies(desk, way.switches)}
      <div class="row">
        <button class="chief" ?disabled=${!way.route} @click=${() => desk.line()}>${way.can ? 'Line it' : 'Ask all the same'}</button>
        <button ?disabled=${!way.route} @click=${() => desk.tell(`fleet ${pair}`)}>Fleet it</button>
        <button ?disabled=${!way.route} @click=${() => desk.tell(`stack ${pair}`)}>Stack it</button>
        ${callOn ? html`<button @click=${() => desk.tell(`call on ${pair}`)}>Call on</button>` : nothing}
      </div>` : nothing}
  </section>`;
}

function lies({plan, live}, switches = {}) {
  const throws = Object.entries(switches);
  if (!throws.length) return nothing;
  return html`<p class="soft">${throws.map(([id, position], index) => html`${index ? ' · ' : ''}${plan.nameOf('switch', id)} ${position}${live.of('switch', id).is === position ? '' : ', to be thrown'}`)}</p>`;
}

/** The reasons of an answer to why, each to be opened, and to be seen on the chart. */
export function reasons({text, tree}, show) {
  return tree ? html`<ul>${branch(tree, show)}</ul>` : html`<p class="told">${text}</p>`;
}

function branch({clause, because = [], marks = []}, show) {
  const see = marks.length && show
    ? html` <button class="plain" aria-label=${`Mark on the chart: ${clause}`} @click=${() => show(marks)}>mark</button>` : nothing;
  return html`<li>${because.length
    ? html`<details open><summary>${clause}</summary>${see}<ul class="because">${because.map(reason => branch(reason, show))}</ul></details>`
    : html`${clause}${see}`}</li>`;
}

function escape(event, desk) {
  if (event.key !== 'Escape') return;
  event.preventDefault();
  event.stopPropagation();
  desk.leave();
}
