// The events on the bus as they pass, in the owner's words.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {events} from './tell.js';
import {since} from './words.js';

const KEPT = 500;
const SHOWN = 200;

export class EventSheet {
  freshMs = 1500;
  needsOwner = true;
  #page;
  #all = [];
  #last = 0;
  #find = '';
  #held = false;
  #text = 'asking…';

  constructor(page) {
    this.#page = page;
  }

  async freshen() {
    if (!this.#page.owner || this.#held) return;
    const told = await events(this.#last);
    this.#text = told.events ? '' : told.text;
    if (!told.events) return;
    this.#last = told.last;
    this.#all = [...told.events.toReversed(), ...this.#all].slice(0, KEPT);
  }

  draw() {
    const wanted = this.#find.toLowerCase();
    const shown = this.#all.filter(({from, event, words}) => `${from} ${event} ${words ?? ''}`.toLowerCase().includes(wanted)).slice(0, SHOWN);
    const worded = this.#all.some(({words}) => words);
    const change = draw => event => { draw(event); this.#page.draw(); };
    return html`<div class="finder">
        <label>Only those with <input type="search" .value=${this.#find} @input=${change(({target}) => { this.#find = target.value; })} placeholder="words, node or event id"></label>
        <button aria-pressed=${this.#held} @click=${change(() => { this.#held = !this.#held; })}>${this.#held ? 'Go on' : 'Hold'}</button></div>
      ${this.#text ? html`<p class="empty">${this.#text}</p>` : nothing}
      <div class="scroll" tabindex="0" role="group" aria-label="Table of events"><table>
        <thead><tr><th scope="col">Time</th>${worded ? html`<th scope="col">What it says</th>` : nothing}<th scope="col">Event</th><th scope="col">From</th></tr></thead>
        <tbody>${repeat(shown, ({n}) => n, ({at, from, event, words}) => html`<tr><td class="time">${since(at)}</td>${worded ? html`<td>${words ?? '–'}</td>` : nothing}<td><code>${event}</code></td><td><code>${from}</code></td></tr>`)}</tbody></table></div>
      ${shown.length || this.#text ? nothing : html`<p class="empty">no such event</p>`}`;
  }
}
