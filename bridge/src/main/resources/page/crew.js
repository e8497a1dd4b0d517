// The crew's page, in one hand: one place, what it does now, and what can be asked or done there.

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {unsafeHTML} from '/lib/lit-html/directives/unsafe-html.js';
import {begin, beginAnew, FIRST_MS} from './begin.js';
import {Live} from './live.js';
import {Chart} from './chart.js';
import {Entrance} from './enter.js';
import {Asks} from './asks.js';
import {card} from './card.js';
import {crewLedgers} from './crewledgers.js';
import {dock} from './crewdock.js';
import {devicesOf, placesOf} from './place.js';
import {openKey} from './keysheet.js';
import {showWhetherLost} from './lost.js';
import * as daemon from './tell.js';
import {lightWords, turnLight} from './daynight.js';
import {clockTime, clockWords} from './words.js';

const AGAIN_MS = 2000;    // asks and spots grow old while nothing changes
const PLACE = 'tappet-place';
const CAR = 'tappet-car-mm';

const at = selector => document.querySelector(selector);

class Crew {
  chosen = null;     // {kind, id}
  sheet = null;      // 'permit' or 'release': what is being asked for
  because = null;    // the answer to why
  answer = null;
  notes = '';
  #asks;
  #drawn = false;
  #told = '';

  constructor(plan) {
    this.plan = plan;
    this.live = new Live();
    this.#asks = new Asks(this.live);
    this.places = placesOf(plan);
    this.chart = new Chart(at('#chart'), plan, this.live, {
      least: 0.7,
      onPoint: (kind, id) => this.choose(kind, id),
      onOpen: (kind, id) => this.open(kind, id),
      onLeave: () => this.leave(),
      onTick: () => this.draw(),
    });
    this.entering = new Entrance(at('.enter-dialog'), plan, () => this.#entered(), {roles: ['crew'], title: 'Enter as a crew', named: 'Crew or train'});
    const asked = new URLSearchParams(location.search).get('place') ?? localStorage.getItem(PLACE);
    this.goTo(this.places.has(asked) ? asked : [...this.places.keys()][0]);
  }

  start() {
    this.live.addEventListener('change', () => this.draw());
    this.live.addEventListener('restart', () => beginAnew());
    this.live.start();
    document.addEventListener('keydown', event => event.key === 'Escape' && !event.defaultPrevented && !at('dialog[open]') && this.leave());
    setTimeout(() => this.#drawn || this.draw(), FIRST_MS + 100);
    setInterval(() => document.hidden || this.draw(), AGAIN_MS);
  }

  // Who and where

  get me() {
    return daemon.me;
  }

  /** Somebody with a name, who may ask and do what crews do. */
  get crew() {
    return this.me.role !== 'viewer';
  }

  get place() {
    return this.places.get(this.placeId);
  }

  /** The train of this name, if it is known where it is. */
  get train() {
    const facts = this.live.of('train', this.me.name);
    return facts.on?.length ? facts : null;
  }

  get #mine() {
    return this.live.all('protection').map(([key, facts]) => ({key, ...facts})).filter(({holder}) => this.crew && holder === this.me.name);
  }

  get permits() {
    return this.#mine.filter(({by}) => by === 'permit');
  }

  get flags() {
    return this.#mine.filter(({by}) => by === 'flag');
  }

  get asks() {
    return this.crew ? this.#asks.of(this.me.name) : [];
  }

  async goTo(id) {
    localStorage.setItem(PLACE, id);
    this.placeId = id;
    this.devices = devicesOf(this.plan, this.place);
    this.chart.zoom = {mode: 'place', place: id};
    Object.assign(this, {chosen: null, sheet: null, because: null, notes: ''});
    this.chart.mark({chosen: null, marks: []});
    this.draw();
    this.#scrollToTrain();
    if (!this.place.notes) return;
    const {html: told} = await daemon.notes(id);
    if (this.placeId !== id) return;
    this.notes = told ?? '';
    this.draw();
  }

  #scrollToTrain() {
    const [section] = this.train?.on.filter(on => this.place.sections.includes(on)) ?? [];
    const drawn = section && at(`#chart [data-kind=section][data-id="${CSS.escape(section)}"]`);
    if (drawn) at('#chart').scrollLeft += drawn.getBoundingClientRect().left - at('#chart').clientWidth / 4;
  }

  get carMetres() {
    return Number(localStorage.getItem(CAR)) / 1000 || 0;
  }

  set carMetres(metres) {
    localStorage.setItem(CAR, Math.round(metres * 1000));
    this.draw();
  }

  // Choosing

  choose(kind, id) {
    Object.assign(this, {chosen: {kind, id}, sheet: null, because: null, answer: null});
    this.mark([]);
  }

  /** By key: chooses it, and goes on to what can be done with it. */
  open(kind, id) {
    this.choose(kind, id);
    (at('.dock .big button') ?? at('.dock button'))?.focus();
  }

  ask(sheet) {
    Object.assign(this, {sheet, chosen: null, because: null, answer: null});
    this.mark([]);
    at('.dock .sheet input, .dock .sheet button')?.focus();
  }

  leave() {
    const back = this.chosen;
    Object.assign(this, {chosen: null, sheet: null, because: null});
    this.mark([]);
    if (back) this.chart.focus(back.kind, back.id);
  }

  async why(name) {
    this.because = await daemon.why(name);
    this.mark(this.because.marks ?? []);
  }

  /** Shows on the chart what is chosen, and what an answer is about. */
  mark(marks) {
    this.chart.mark({chosen: this.chosen && `${this.chosen.kind}:${this.chosen.id}`, marks});
    this.draw();
  }

  /** The page itself has something to say. */
  answerHere(text) {
    this.answer = {answer: 'not yet', text};
    this.draw();
  }

  // Telling

  async tell(sentence) {
    const answer = await daemon.tell(sentence);
    if (answer.answer === 'not allowed') await daemon.recall();
    this.answer = answer;
    this.sheet = answer.answer === 'done' ? null : this.sheet;
    this.mark(answer.marks ?? []);
    if (document.activeElement === document.body) at('.dock').focus({preventScroll: true});
    return answer;
  }

  /** Asks the dispatcher. */
  async askFor(ask) {
    const answer = await this.tell(Asks.sentence(ask, this.me.name));
    if (answer.answer === 'done') {
      this.#asks.made(ask, this.me.name);
      this.answer = null;     // the ask itself is shown
    }
    this.draw();
  }

  async withdraw({id, sentence}) {
    const {answer} = await this.tell(`withdraw ask ${id}`);
    if (answer === 'done') {
      this.#asks.forget(sentence);
      this.answer = null;
    }
    this.draw();
  }

  forget({sentence}) {
    this.#asks.forget(sentence);
    this.draw();
  }

  #entered() {
    this.draw();
    this.#scrollToTrain();
    at('.dock').focus({preventScroll: true});
  }

  async away() {
    await daemon.leave();
    this.leave();
  }

  // The page

  draw() {
    if (!this.live.alive && performance.now() < FIRST_MS) return;
    this.#drawn = true;
    showWhetherLost(this.live);
    render(this.#masthead(), at('.masthead'));
    render(card(this), at('.card'));
    render(crewLedgers(this, unsafeHTML(this.notes)), at('.ledgers'));
    render(dock(this), at('.dock'));
    this.chart.draw();
    this.#sayAloud();
  }

  // For those who hear the page: answers, and what becomes of asks.
  #sayAloud() {
    const words = [this.answer?.text, ...this.asks.map(({words: what, standing}) => `${what}: ${STANDINGS[standing]}`)].filter(Boolean).join('. ');
    if (words !== this.#told) at('[role=status]').textContent = words;
    this.#told = words;
  }

  #masthead() {
    return html`
      <div class="cartouche"><h1><label><span class="unseen">Place</span><select @change=${event => this.goTo(event.target.value)}>
        ${[...this.places].map(([id, {name}]) => html`<option value=${id} .selected=${id === this.placeId}>${name ?? id}</option>`)}</select></label></h1>
        <p>${this.plan.name}</p></div>
      <div class="clock"><small>clock ${clockWords(this.live)}</small>
        <span class="time">${clockTime(this.live)}</span></div>
      <div class="who">${this.crew ? html`<span>${this.me.role === 'crew' ? 'crew' : this.me.role} <b>${this.me.name}</b></span><button class="plain" @click=${() => this.away()}>Leave</button>`
        : html`<span class="soft">guest</span>`}
        <button class="plain" @click=${() => openKey(at('.key-dialog'), false)}>Key</button>
        <button class="plain" @click=${() => { turnLight(); this.draw(); }}>${lightWords()}</button></div>`;
  }
}

const STANDINGS = {waits: 'the dispatcher has it', granted: 'granted', refused: 'refused'};

begin('crew', plan => new Crew(plan));
