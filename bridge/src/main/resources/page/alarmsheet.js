// Every alarm that stands, to be acknowledged, and each with its why.

import {html} from '/lib/lit-html/lit-html.js';
import {alarms} from './ledgers.js';
import {devicesNamed} from './mentions.js';

export class AlarmSheet {
  #page;

  constructor(page) {
    this.#page = page;
  }

  draw() {
    const {plan, live} = this.#page;
    const standing = live.all('alarm');
    if (!standing.length) return html`<p class="empty">No alarm stands.</p>`;
    return html`<section class="alarms" aria-label="Alarms">${alarms(this.#page)}</section>
      <p>Ask why: ${standing.flatMap(([words]) => devicesNamed(plan, words))
        .map(({kind, id}) => html`<a href=${`#why=${id}`}>${plan.nameOf(kind, id)}</a> `)}</p>`;
  }
}
