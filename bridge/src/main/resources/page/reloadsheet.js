// New files for the daemon that runs: what has changed, what stands against it, and when they take over.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {reload, reloading} from './tell.js';

const WAIT_S = 600;

export class ReloadSheet {
  needsOwner = true;
  freshMs = 1000;
  #page;
  #told = {};
  #unproven = false;

  constructor(page) {
    this.#page = page;
  }

  async freshen() {
    if (this.#page.owner) this.#told = await reloading();
  }

  draw() {
    const {phase, words, busy, report = [], against = [], text} = this.#told;
    if (!phase) return html`<p class="empty">${text ?? 'asking…'}</p>`;
    return html`<p>Layout and rules are read again, proven, and compared with what runs. They take over where nothing that has changed is in use; no signal elsewhere is touched.</p>
      <p aria-live="polite"><b>${words}</b></p>
      <p><button ?disabled=${busy} @click=${() => this.#wish('try')}>Try</button>
        <button class="chief" ?disabled=${busy} @click=${() => this.#wish(`wait ${WAIT_S}`)}>Apply when free</button>
        <button ?disabled=${!busy} @click=${() => this.#wish('cancel')}>Call off</button></p>
      <p><label><input type="checkbox" .checked=${this.#unproven} @change=${({target}) => { this.#unproven = target.checked; }}> Do not prove the rules; an alarm says so for as long as they run</label></p>
      ${this.#lines('What stands against it', against)}
      ${this.#lines('What was found', report)}`;
  }

  #lines(title, lines) {
    return lines.length ? html`<h3>${title}</h3><ul>${lines.map(line => html`<li>${line}</li>`)}</ul>` : nothing;
  }

  async #wish(words) {
    const answer = await reload(this.#unproven && words !== 'cancel' ? `${words} unproven` : words);
    this.#page.say(answer.text);
    await this.freshen();
    this.#page.draw();
  }
}
