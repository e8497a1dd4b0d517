// The ledgers under the chart: trains, asks of crews, protections, the lineside, what happened last.
// In: the desk. Out: templates. Each row can be followed to its place on the chart.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {guard} from '/lib/lit-html/directives/guard.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {trainCommands, returnOf} from './commands.js';
import {quoted} from './sentence.js';
import {nameOf, stateOf, kindProtected, protectionWords, since} from './words.js';

export const ledgers = desk => html`
  ${ledger('Crews ask', seldom(desk, ['ask'], asks))}
  ${ledger('Trains', seldom(desk, ['train'], trains))}
  ${ledger('Protections', seldom(desk, ['protection', 'alarm'], protections))}
  ${ledger('Lineside', seldom(desk, ['opening', 'crossing', 'traffic', 'lamp', 'district', 'board', 'connection'], lineside))}
  ${ledger('News', guard([desk.live.news], () => news(desk)))}`;

export const alarms = desk => seldom(desk, ['alarm'], standingAlarms);

// Written anew only when something of these kinds has changed, or who may order.
const seldom = (desk, kinds, write) =>
  guard([...kinds.map(kind => desk.live.kind(kind)), desk.commands, desk.carried], () => write(desk));

function standingAlarms(desk) {
  const standing = desk.live.all('alarm')
    .sort(([, one], [, other]) => Boolean(one.acknowledged) - Boolean(other.acknowledged) || other.since - one.since);
  return standing.length ? html`<ul>${repeat(standing, ([words]) => words, ([words, facts]) => html`
    <li class=${facts.acknowledged ? 'known' : ''}><strong>${words}</strong>
      <small>since ${since(facts.since)}${facts.acknowledged ? `, acknowledged by ${facts.acknowledged}` : ''}</small>
      ${facts.acknowledged || !desk.commands ? nothing
        : html`<button aria-label=${`Acknowledge: ${words}`} @click=${() => desk.tell(`acknowledge ${quotedWhole(words)}`)}>Acknowledge</button>`}</li>`)}</ul>` : nothing;
}

// Words of an alarm may hold quotes of the other kind.
const quotedWhole = words => words.includes("'") ? `"${words}"` : `'${words}'`;

const sinceWhen = words => words.startsWith('since') ? words : `since ${words}`;

const ledger = (title, body) => html`<section class="ledger" aria-label=${title}><h2>${title}</h2>${body}</section>`;
const empty = words => html`<p class="empty">${words}</p>`;

const order = (desk, {words, sentence}, label) =>
  desk.commands ? html`<button aria-label=${`${words}: ${label}`} @click=${() => desk.tell(sentence)}>${words}</button>` : nothing;

function asks(desk) {
  const waiting = desk.live.all('ask');
  if (!waiting.length) return empty('nobody asks for anything');
  return html`<ul>${repeat(waiting, ([id]) => id, ([id, {who, place, sentence, since: asked}]) => html`
    <li><span><b>${who}</b>${place ? ` at ${desk.plan.nameOf('place', place)}` : ''} <small>${since(asked)}</small><br>${sentence}</span>
      ${desk.commands ? html`<button class="chief" aria-label=${`Grant: ${who}, ${sentence}`} @click=${() => desk.tell(sentence)}>Grant</button>
        <button aria-label=${`Refuse: ${who}, ${sentence}`} @click=${() => desk.tell(`withdraw ask ${quoted(id)}`)}>Refuse</button>` : nothing}</li>`)}</ul>`;
}

function trains(desk) {
  const known = desk.live.all('train');
  const move = event => {
    event.preventDefault();
    const {train, section} = Object.fromEntries(new FormData(event.target));
    desk.tell(`name ${quoted(train)} on ${quoted(section)}`).then(({answer}) => answer === 'done' && event.target.reset());
  };
  return html`${known.length ? html`<ul>${repeat(known, ([name]) => name, ([name, {on = [], lost}]) => html`
    <li><span><b>${name}</b> ${lost ? 'lost, last' : ''} on ${on.map((section, index) => html`${index ? ', ' : ''}${where(desk, 'section', section)}`)}</span>
      ${trainCommands(name).filter(({words}) => words === 'Run' || words === 'Halt').map(command => order(desk, command, name))}
      ${desk.commands ? html`<button aria-pressed=${desk.carried === name} aria-label=${`Move ${name}: point at its section next`} @click=${() => desk.carry(name)}>Move</button>` : nothing}
      ${order(desk, {words: 'Drop', sentence: `drop name ${quoted(name)}`}, name)}</li>`)}</ul>` : empty('no train is known by name')}
    ${desk.commands ? html`<form @submit=${move}>
      <input name="train" required maxlength="40" placeholder="train" aria-label="Name of a train, new or moved" list="trains">
      <input name="section" required placeholder="section" aria-label="Section it stands on" list="sections">
      <button>Name it there</button>
      <datalist id="trains">${known.map(([name]) => html`<option value=${name}></option>`)}</datalist>
      <datalist id="sections">${Object.entries(desk.plan.sections).map(([id, {name}]) => html`<option value=${id}>${name}</option>`)}</datalist>
    </form>` : nothing}`;
}

function protections(desk) {
  const standing = desk.live.all('protection');
  if (!standing.length) return html`${empty('nobody is protected')}${confirm(desk)}`;
  return html`<ul>${repeat(standing, ([key]) => key, ([key, facts]) => html`
    <li><span>${protectionWords(facts)} on ${facts.on.map((id, index) => html`${index ? ', ' : ''}${where(desk, kindProtected(facts.by), id)}`)}
      <small>${sinceWhen(facts.since)}${facts.reason ? `; ${facts.reason}` : ''}</small></span>
      ${order(desk, returnOf(facts), key)}</li>`)}</ul>${confirm(desk)}`;
}

// Where it is in doubt who is protected, nothing is lined until somebody has made sure.
function confirm(desk) {
  const doubt = desk.live.all('alarm').some(([words]) => words.includes('confirm protections'));
  return order(desk, {words: doubt ? 'I have made sure: confirm protections' : 'Confirm protections', sentence: 'confirm protections'}, 'these are all');
}

function lineside(desk) {
  const shown = [['opening', 'openings'], ['crossing', 'crossings'], ['traffic', 'lines'], ['lamp', 'lamps'], ['district', 'districts']]
    .flatMap(([kind, of]) => Object.keys(desk.plan[of]).map(id => [kind, id]));
  const silent = desk.live.all('board').filter(([, {is}]) => is !== 'answers');
  const down = desk.live.all('connection').filter(([, {is}]) => is !== 'up');
  return html`<ul>
    ${silent.map(([id]) => html`<li><b>${nameOf(desk.plan, 'board', id)}</b> silent</li>`)}
    ${down.map(([id, {is}]) => html`<li><b>connection ${id}</b> ${is}</li>`)}
    ${shown.map(([kind, id]) => html`<li>${where(desk, kind, id)} <span>${stateOf(desk.plan, desk.live, kind, id)}</span></li>`)}</ul>`;
}

const news = desk => desk.live.news.length
  ? html`<div class="news" tabindex="0" role="group" aria-label="Last events"><ul>${repeat(desk.live.news, line => line, ({at, text}) => html`<li><time>${since(at)}</time>${text}</li>`)}</ul></div>`
  : empty('nothing has happened since this page was opened');

const where = (desk, kind, id) => html`<button class="plain" @click=${() => desk.show(kind, id)}>${desk.plan.nameOf(kind, id)}</button>`;
