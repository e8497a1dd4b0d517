// Below the chart: what comes, switches and locks, tracks with their lengths, people at work, lamps, house notes.
// In: the crew's page, and the notes as a template. Out: a template.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {guard} from '/lib/lit-html/directives/guard.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {coming} from './coming.js';
import {lengthWords} from './crewdock.js';
import {kindProtected, protectionWords, stateOf} from './words.js';

const TIMES_MS = 2000;

export const crewLedgers = (page, notes) => html`
  ${ledger('What is near, and what comes', seldom(page, ['section', 'train', 'signal', 'spot'], comes))}
  ${ledger('Switches and locks', seldom(page, ['switch', 'lock', 'protection'], switches))}
  ${ledger('People at work', seldom(page, ['protection'], protections))}
  ${ledger('Tracks', seldom(page, ['section', 'protection'], tracks))}
  ${ledger('Beside the track', seldom(page, ['lamp', 'opening', 'crossing', 'spot', 'district'], lineside))}
  ${page.notes ? ledger(`House notes for ${page.place.name}`, html`<div class="notes">${notes}</div>`) : nothing}`;

// Written anew only when something of these kinds has changed; where times are told, every other second.
const seldom = (page, kinds, write) => guard([page.placeId, page.carMetres, ...kinds.map(kind => page.live.kind(kind)),
  kinds.some(kind => kind === 'spot' || kind === 'lock') && Math.floor(page.live.now() / TIMES_MS)], () => write(page));

const ledger = (title, body) => html`<section class="ledger" aria-label=${title}><h2>${title}</h2>${body}</section>`;
const empty = words => html`<p class="empty">${words}</p>`;
const list = rows => html`<ul>${repeat(rows, ({key}) => key, ({row}) => html`<li>${row}</li>`)}</ul>`;

const SIDES = {west: '← west of here', east: 'east of here →', spot: 'spot'};

function comes({plan, live, place, devices}) {
  const all = coming(plan, live, place.sections, devices.spots);
  return all.length ? list(all.map(({key, side, words, more, lined}) => ({key, row: html`
    <span>${lined ? html`<b>${words}</b>` : words}${more ? html`<br><small>${more}</small>` : nothing}</span><small>${SIDES[side]}</small>`})))
    : empty('nothing is near');
}

const device = (page, kind, id, words) => html`<button class="plain row-button" @click=${() => page.choose(kind, id)}>
  <span>${page.plan.nameOf(kind, id)}</span><span class="state">${words}</span></button>`;

function switches(page) {
  const {plan, live, devices} = page;
  return devices.switches.length ? list(devices.switches.map(id => ({key: id, row: device(page, 'switch', id, stateOf(plan, live, 'switch', id))})))
    : empty('no switch here');
}

function protections(page) {
  const {live, devices, plan} = page;
  const here = new Set([...devices.sections, ...devices.switches, ...devices.signals]);
  const standing = live.all('protection').filter(([, {on}]) => on.some(id => here.has(id)));
  return standing.length ? list(standing.map(([key, facts]) => ({key, row: html`<span><b>${protectionWords(facts)}</b> on ${facts.on
    .map(id => plan.nameOf(kindProtected(facts.by), id)).join(', ')}${facts.reason ? html`<br><small>${facts.reason}</small>` : nothing}</span>`})))
    : empty('nobody has a permit, a blocking or a blue flag here');
}

function tracks(page) {
  const {plan, live, devices, carMetres} = page;
  const known = devices.sections.some(id => plan.sections[id].cars !== undefined);
  const measure = event => { page.carMetres = Math.min(2, Math.max(0, Number(event.target.value) / 1000)); };
  return html`${list(devices.sections.map(id => ({key: id, row: device(page, 'section', id,
    `${lengthWords(plan.sections[id], carMetres)} · ${stateOf(plan, live, 'section', id)}`)})))}
    ${known ? nothing : html`<label class="car">One car is <input type="number" inputmode="numeric" min="0" max="2000" .value=${carMetres ? String(Math.round(carMetres * 1000)) : ''} @change=${measure} aria-label="Length of one car over couplers, in millimetres"> mm long: then tracks are told in cars too.</label>`}`;
}

function lineside(page) {
  const {plan, live, devices} = page;
  const rows = [['lamp', devices.lamps], ['opening', devices.openings], ['crossing', devices.crossings], ['spot', devices.spots], ['district', devices.districts]]
    .flatMap(([kind, ids]) => ids.map(id => ({key: `${kind} ${id}`, row: kind === 'lamp'
      ? html`<span>${plan.nameOf('lamp', id)}</span><span class="lamp ${live.of('lamp', id).is === 'lit' ? 'lit' : ''}">${live.of('lamp', id).is === 'lit' ? '☀ lit' : '○ dark'}</span>`
      : kind === 'district' ? html`<span>Power, ${plan.nameOf(kind, id)}</span><span class="state">${stateOf(plan, live, kind, id)}</span>`
        : device(page, kind, id, stateOf(plan, live, kind, id))})));
  return rows.length ? list(rows) : empty('no lamps or crossings here');
}
