// The owner's page: what is on the bus, why things are as they are, the rules and their proof, and what has happened.
// One sheet at a time; only what is looked at is asked for.

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {begin, beginAnew, FIRST_MS} from './begin.js';
import {Live} from './live.js';
import {Entrance} from './enter.js';
import {showWhetherLost} from './lost.js';
import * as daemon from './tell.js';
import {lightWords, turnLight} from './daynight.js';
import {clockTime, clockWords} from './words.js';
import {AlarmSheet} from './alarmsheet.js';
import {BusSheet} from './bussheet.js';
import {DownloadSheet} from './downloadsheet.js';
import {EventSheet} from './eventsheet.js';
import {GraphSheet} from './graphsheet.js';
import {NewsSheet} from './newssheet.js';
import {ReloadSheet} from './reloadsheet.js';
import {RuleSheet} from './rulesheet.js';
import {WhySheet} from './whysheet.js';

const SHEETS = {
  bus: ['The bus', BusSheet], events: ['Events', EventSheet], alarms: ['Alarms', AlarmSheet], why: ['Why?', WhySheet],
  rules: ['Rules and proof', RuleSheet], reload: ['New files', ReloadSheet], happened: ['What happened', NewsSheet], graph: ['Train graph', GraphSheet], files: ['Files', DownloadSheet],
};

const at = selector => document.querySelector(selector);

class Owner {
  #drawn = false;
  #sheets = new Map();
  #name;
  #again;

  constructor(plan) {
    this.plan = plan;
    this.live = new Live();
    this.entering = new Entrance(at('.enter-dialog'), plan, () => this.#turnTo(this.#name), {roles: ['owner'], title: 'Enter as the owner', named: 'Name'});
  }

  get commands() {
    return daemon.commands() && this.live.alive;
  }

  get owner() {
    return daemon.me.role === 'owner';
  }

  start() {
    this.live.addEventListener('change', () => this.draw());
    this.live.addEventListener('restart', () => beginAnew());
    this.live.start();
    addEventListener('hashchange', () => this.#turn());
    new ResizeObserver(() => this.draw()).observe(at('main'));
    setTimeout(() => this.#drawn || this.draw(), FIRST_MS + 100);
    this.#turn();
  }

  /** The sheet that the address names: #why=t2e is the answer to why of t2e. */
  #turn() {
    const [name, rest] = decoded(location.hash.slice(1)).split('=');
    this.#turnTo(SHEETS[name] ? name : 'bus', rest);
  }

  async #turnTo(name, rest) {
    this.#name = name;
    if (!this.#sheets.has(name)) this.#sheets.set(name, new SHEETS[name][1](this));
    const sheet = this.#sheets.get(name);
    await (sheet.open ? sheet.open(rest) : sheet.freshen?.());
    this.draw();
    at('.leaves [aria-current]')?.scrollIntoView({block: 'nearest', inline: 'nearest'});
    this.#askAgain();
  }

  // A sheet says how often it grows old.
  #askAgain() {
    clearInterval(this.#again);
    const sheet = this.#sheets.get(this.#name);
    if (sheet.freshMs) this.#again = setInterval(() => !document.hidden && this.live.alive && sheet.freshen().then(() => this.draw()), sheet.freshMs);
  }

  async tell(sentence) {
    const answer = await daemon.tell(sentence);
    if (answer.answer === 'not allowed') await daemon.recall();
    this.say(answer.text);
    this.draw();
    return answer;
  }

  say(words) {
    at('[role=status]').textContent = words;
  }

  draw() {
    if (!this.live.alive && performance.now() < FIRST_MS) return;
    this.#drawn = true;
    showWhetherLost(this.live);
    render(this.#masthead(), at('.masthead'));
    render(html`<ul>${Object.entries(SHEETS).map(([name, [title]]) => html`<li><a href=${`#${name}`} aria-current=${name === this.#name ? 'page' : nothing}>${title}${name === 'alarms' ? this.#count() : nothing}</a></li>`)}</ul>`, at('.leaves'));
    const sheet = this.#sheets.get(this.#name);
    render(html`<h2>${SHEETS[this.#name][0]}</h2>${sheet.needsOwner && !this.owner ? this.#locked() : sheet.draw()}`, at('main'));
    sheet.drawn?.();
  }

  #count() {
    const count = this.live.all('alarm').filter(([, {acknowledged}]) => !acknowledged).length;
    return count ? html` <b class="count">${count}</b>` : nothing;
  }

  #locked() {
    return html`<p>This sheet is for the owner of the railroad.</p><p><button class="chief" @click=${() => this.entering.open()}>Enter as the owner</button></p>`;
  }

  #masthead() {
    const {role, name} = daemon.me;
    return html`
      <div class="desk">${role === 'viewer' ? html`<button @click=${() => this.entering.open()}>Enter as the owner</button>`
        : html`<span>${role} <b>${name}</b></span><button @click=${async () => { await daemon.leave(); this.draw(); }}>Leave</button>`}
        <button @click=${() => { turnLight(); this.draw(); }}>${lightWords()}</button></div>
      <div class="cartouche"><h1>${this.plan.name}</h1><p>the owner’s ledger</p></div>
      <div class="clock"><small>${clockWords(this.live)}</small> <span class="time">${clockTime(this.live)}</span></div>`;
  }
}

// Somebody may have written it by hand: '50%' is no code of any letter, and stands for itself.
function decoded(address) {
  try {
    return decodeURIComponent(address);
  } catch {
    return address;
  }
}

begin('owner', plan => new Owner(plan));
