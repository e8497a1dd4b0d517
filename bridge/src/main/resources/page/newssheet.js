// What has happened, to be searched: the whole journal for the owner, the last lines for others.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {found, journal} from './tell.js';
import {since} from './words.js';

const SHOWN = 300;
const KINDS = ['orders', 'alarms', 'aspects', 'switches', 'lineside', 'changes', 'protections', 'connections', 'daemon', 'frames'];

export class NewsSheet {
  freshMs = 3000;
  #page;
  #find = '';
  #kind = '';
  #before = [];
  #told = {};

  constructor(page) {
    this.#page = page;
  }

  async freshen() {
    const asked = this.#asked();
    const key = JSON.stringify(asked);
    const told = this.#page.owner ? await journal(asked) : await found(this.#find);
    if (key === JSON.stringify(this.#asked())) this.#told = told;
  }

  #asked() {
    const wanted = {find: this.#find, kind: this.#kind, before: this.#before.at(-1) ?? ''};
    return Object.fromEntries(Object.entries(wanted).filter(([, value]) => value !== ''));
  }

  draw() {
    const {lines, news, more, text} = this.#told;
    const said = lines ?? news?.toSorted((one, other) => other.at - one.at).map(({at, text: words}) => ({at, words}));
    const search = change => async event => {
      change(event.target);
      this.#before = [];
      await this.freshen();
      this.#page.draw();
    };
    return html`<div class="finder"><label>Find <input type="search" .value=${this.#find} @input=${search(({value}) => { this.#find = value.trim(); })} placeholder="t2e, Extra 41, refused …"></label>
        ${this.#page.owner ? this.#drawKinds(search) : nothing}</div>
      ${said ? html`<p class="soft">${said.length} ${said.length === 1 ? 'line' : 'lines'}${said.length > SHOWN ? `, the last ${SHOWN} shown` : ''}</p>
        <div class="scroll" tabindex="0" role="group" aria-label="What happened"><table><tbody>${repeat(said.slice(0, SHOWN), ({seq, at, words}, index) => seq ?? `${at} ${words} ${index}`, ({at, layoutTime, kind, words}) => html`
          <tr><td class="time">${since(at)}</td>${kind ? html`<td class="time">${layoutTime ?? '–'}</td><td>${kind}</td>` : nothing}<td>${words}</td></tr>`)}</tbody></table></div>` : html`<p class="empty">${text ?? 'asking…'}</p>`}
      ${said && !said.length ? html`<p class="empty">nothing of the kind</p>` : nothing}
      ${lines ? this.#drawPages(lines, more) : nothing}`;
  }

  #drawKinds(search) {
    return html`<label>Kind <select @change=${search(({value}) => { this.#kind = value; })}>
      <option value="" ?selected=${!this.#kind}>all but frames</option>
      ${KINDS.map(kind => html`<option value=${kind} ?selected=${this.#kind === kind}>${kind}</option>`)}</select></label>`;
  }

  #drawPages(lines, more) {
    const turn = change => async () => {
      change();
      await this.freshen();
      this.#page.draw();
    };
    const taken = as => '/api/journal?' + new URLSearchParams({...this.#asked(), as});
    return html`<p class="finder">
      <button ?disabled=${!this.#before.length} @click=${turn(() => this.#before.pop())}>Later</button>
      <button ?disabled=${!more} @click=${turn(() => this.#before.push(lines.at(-1).seq))}>Earlier</button>
      <a href=${taken('csv')} download="journal.csv">These as CSV</a>
      <a href=${taken('json-lines')} download="journal.jsonl">as JSON lines</a>
      <span class="soft">up to 5,000 lines</span></p>`;
  }
}
