// The head of the sheet: who has the desk, the title in its cartouche, the fast clock.
// In: the desk. Out: a template.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import * as daemon from './tell.js';
import {clockTime, clockWords} from './words.js';

const RATES = [1, 2, 3, 4, 6, 8, 12];

export function masthead(desk) {
  const {role, name, territory} = daemon.me;
  const rules = desk.live.of('daemon', 'daemon');
  return html`
    <div class="desk">${role === 'viewer'
      ? html`<button class="chief" @click=${() => desk.entering.open()}>Take the desk</button><span class="soft">you see all, and order nothing</span>`
      : html`<span>${role} <b>${name}</b></span>${role === 'dispatcher' ? territories(desk, territory) : nothing}
        <button @click=${() => desk.leaveDesk()}>Leave the desk</button>`}</div>
    <div class="cartouche"><h1>${desk.plan.name}</h1><svg class="rule" viewBox="0 0 120 6" aria-hidden="true"><path d="M0 3Q42 2.4 52 1L60 3L52 5Q42 3.6 0 3ZM120 3Q78 2.4 68 1L60 3L68 5Q78 3.6 120 3Z"/></svg>
      <p>track chart${rules.rules ? ` · rules ${rules.rules}` : ''}</p></div>
    ${clock(desk)}`;
}

// Giving a territory back hands it over: whoever wants it takes it then.
function territories(desk, own = '') {
  const all = Object.entries(desk.plan.territories);
  const take = async event => {
    const answer = await daemon.takeTerritory(event.target.value);
    desk.say(answer.role ? 'done' : answer.answer, answer.text ?? `yours is ${desk.plan.nameOf('territory', answer.territory) ?? 'the whole railroad'}`);
    event.target.value = daemon.me.territory ?? '';
  };
  return all.length ? html`<select aria-label="Your territory" @change=${take}>
    <option value="" .selected=${own === ''}>the whole railroad</option>
    ${all.map(([id, {name}]) => html`<option value=${id} .selected=${own === id}>${name ?? id}</option>`)}</select>` : nothing;
}

function clock(desk) {
  const {runs, rate} = desk.live.of('clock', 'clock');
  const [time, words] = [clockTime(desk.live), clockWords(desk.live)];
  const set = event => {
    event.preventDefault();
    desk.tell(`set clock to ${new FormData(event.target).get('time')}`);
  };
  return html`<details class="clock"><summary aria-label=${`Fast clock ${time}, ${words}`}>
      <small>${words}</small><span class="time">${time}</span></summary>
    <div class="set">${desk.commands ? html`
      <button @click=${() => desk.tell(runs ? 'stop clock' : 'start clock')}>${runs ? 'Stop the clock' : 'Start the clock'}</button>
      <form @submit=${set}><input type="time" name="time" required aria-label="Time to set"><button>Set</button></form>
      <label>rate <select aria-label="Rate of the clock" @change=${event => desk.tell(`set clock rate to ${event.target.value}`)}>
        ${[...new Set([...RATES, rate ?? 1])].map(value => html`<option .selected=${value === rate}>${value}</option>`)}</select></label>`
      : html`<span class="soft">Take the desk to set the clock.</span>`}</div></details>`;
}
