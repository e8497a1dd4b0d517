// What has happened, to be searched.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {found} from './tell.js';
import {since} from './words.js';

const SHOWN = 300;

export class NewsSheet {
  freshMs = 3000;
  #page;
  #find = '';
  #told = {};

  constructor(page) {
    this.#page = page;
  }

  async freshen() {
    const asked = this.#find;
    const told = await found(asked);
    if (asked === this.#find) this.#told = told;
  }

  draw() {
    const {news, text} = this.#told;
    const lines = news?.toSorted((one, other) => other.at - one.at);
    const search = async event => {
      this.#find = event.target.value.trim();
      await this.freshen();
      this.#page.draw();
    };
    return html`<div class="finder"><label>Find <input type="search" .value=${this.#find} @input=${search} placeholder="t2e, Extra 41, refused …"></label></div>
      ${lines ? html`<p class="soft">${lines.length} ${lines.length === 1 ? 'line' : 'lines'}${lines.length > SHOWN ? `, the last ${SHOWN} shown` : ''}</p>
        <div class="scroll" tabindex="0" role="group" aria-label="What happened"><table><tbody>${repeat(lines.slice(0, SHOWN), ({at, text: said}, index) => `${at} ${said} ${index}`, ({at, text: said}) => html`
          <tr><td class="time">${since(at)}</td><td>${said}</td></tr>`)}</tbody></table></div>` : html`<p class="empty">${text ?? 'asking…'}</p>`}
      ${lines && !lines.length ? html`<p class="empty">nothing of the kind</p>` : nothing}`;
  }
}
