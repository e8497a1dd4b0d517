// The train graph, for as long as one wishes to look back, and the same in figures.

import {html} from '/lib/lit-html/lit-html.js';
import {diary} from './tell.js';
import {since} from './words.js';
import {trainGraph, trainsOf} from './traingraph.js';

const LEAST_PX = 320;
const EDGES_PX = 82;       // of the sheet and the frame round the graph
const LEAST_MS = 4 * 60_000;
const SPANS = [[10, '10 minutes'], [30, 'half an hour'], [60, 'an hour'], [240, 'four hours'], [1440, 'a day']];

export class GraphSheet {
  freshMs = 4000;
  #page;
  #minutes = 60;
  #told = {};

  constructor(page) {
    this.#page = page;
  }

  async freshen() {
    this.#told = await diary(this.#from());
  }

  #from() {
    return Math.round((this.#page.live.alive ? this.#page.live.now() : Date.now()) - this.#minutes * 60_000);
  }

  // No further back than the diary goes, which is not before the start.
  #begin(at) {
    const first = Math.min(at, ...['trains', 'occupied', 'protections', 'outages'].flatMap(kind => this.#told[kind].map(({from}) => from)));
    return Math.min(at - LEAST_MS, Math.max(at - this.#minutes * 60_000, first - LEAST_MS / 4));
  }

  draw() {
    const {trains, text, at} = this.#told;
    const {plan} = this.#page;
    if (!trains) return html`<p class="empty">${text ?? 'asking…'}</p>`;
    const look = async event => {
      this.#minutes = Number(event.target.value);
      await this.freshen();
      this.#page.draw();
    };
    const width = Math.max(LEAST_PX, (document.querySelector('main')?.clientWidth ?? 900) - EDGES_PX);
    const from = this.#begin(at);
    return html`<div class="finder"><label>Look back <select @change=${look}>${SPANS.map(([minutes, words]) => html`<option value=${minutes} .selected=${minutes === this.#minutes}>${words}</option>`)}</select></label>
        <button @click=${() => print()}>Print</button></div>
      <figure class="plate-frame">${trainGraph(plan, this.#told, {from, to: at, width, height: innerHeight * 0.68})}
        <figcaption>Place against time, ${plan.name}. One line a train, straight between the moments at which sections were entered; level where it stood. Tinted: occupied. Hatched: a permit, blocking or blue flag. Cross-hatched: an outage.</figcaption></figure>
      <details><summary>The same in figures</summary>
        <div class="scroll" tabindex="0" role="group" aria-label="The train graph in figures"><table><thead><tr><th scope="col">What</th><th scope="col">Where</th><th scope="col">From</th><th scope="col">To</th></tr></thead><tbody>
          ${trainsOf(this.#told).flatMap(({train, stays}) => stays.map(({section, from: begins, to}) => this.#row(train, [section], begins, to)))}
          ${[...this.#told.protections, ...this.#told.outages].map(({what, on, from: begins, to}) => this.#row(what, on, begins, to))}
        </tbody></table></div></details>`;
  }

  #row(what, on, from, to) {
    return html`<tr><th scope="row">${what}</th><td>${on.map(id => this.#page.plan.nameOf('section', id)).join(', ')}</td><td class="time">${since(from)}</td><td class="time">${to ? since(to) : 'now'}</td></tr>`;
  }
}
