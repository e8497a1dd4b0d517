// The dispatcher's desk: the whole line, pointing from an entrance to an exit, and every order by hand or key.

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {Plan} from './plan.js';
import {beginAnew} from './begin.js';
import {Live} from './live.js';
import {Chart} from './chart.js';
import {Entrance} from './enter.js';
import {OrderLine} from './orderline.js';
import {slip} from './slip.js';
import {alarms, ledgers} from './ledgers.js';
import {masthead} from './masthead.js';
import {tools} from './tools.js';
import {openKey, singleKeys} from './keysheet.js';
import {showNotThere, showWhetherLost} from './lost.js';
import {quoted} from './sentence.js';
import * as daemon from './tell.js';
import {applyLight} from './daynight.js';
import {nameOfEnd} from './commands.js';
import {answerSign} from './words.js';

const UNDRAWN = new Set(['lamp', 'district', 'board']);
const CHART_SHARE = 0.55;   // of the window's height
const FIRST_MS = 1500;      // the daemon is not called lost before it had time to speak

const at = selector => document.querySelector(selector);

class Desk {
  chosen = null;      // {kind, id}: what the slip is about
  entrance = null;    // the signal a way may begin at
  offered = null;     // {from, to, way}: drawn, not yet asked for
  because = null;     // the last answer to why
  answer = null;
  carried = null;     // the name of a train that is put on the section pointed at next
  undo = null;        // the signal that was lined last from here
  #drawn = false;

  constructor(plan) {
    this.plan = plan;
    this.live = new Live();
    this.chart = new Chart(at('#chart'), plan, this.live, {
      deep: () => innerHeight * CHART_SHARE,
      onPoint: (kind, id) => this.point(kind, id),
      onOpen: (kind, id) => this.open(kind, id),
      onLeave: () => this.leave(),
      onUndo: (kind, id) => kind === 'signal' && this.commands && this.cancel(id),
      onTick: () => this.draw(),
      onHover: (kind, id) => this.#lookAt(kind, id),
    });
    this.orderLine = new OrderLine(at('.order form'), this);
    this.entering = new Entrance(at('.enter-dialog'), plan, () => this.#entered());
  }

  get commands() {
    return daemon.commands() && this.live.alive;
  }

  start() {
    this.live.addEventListener('change', () => {
      this.draw();
      this.#offerAnew();
    });
    this.live.addEventListener('restart', () => beginAnew());
    this.live.start();
    document.addEventListener('keydown', event => this.#shortcut(event));
    addEventListener('resize', () => this.chart.draw());
    setTimeout(() => this.#drawn || this.draw(), FIRST_MS);
  }

  // Pointing: an entrance, then one of its exits, and the exit once more to ask for it.

  point(kind, id) {
    if (this.carried && kind === 'section') return this.#put(id);
    const exit = this.entrance && this.#exits().has(`${kind}:${id}`);
    if (exit) return this.offered?.to === id ? this.#press() : this.offer(this.entrance, id);
    this.choose(kind, id);
    if (kind === 'signal' && daemon.commands()) this.#arm(id);
  }

  /** Enter: asks for what is offered, or opens the commands of a device. */
  open(kind, id) {
    if (this.offered?.to === id) return this.#press();
    if (this.entrance && this.#exits().has(`${kind}:${id}`)) return this.offer(this.entrance, id);
    this.point(kind, id);
    (at('.slip .rows button') ?? at('.slip button'))?.focus();
  }

  // What has not been seen yet is not asked for, however fast somebody presses.
  #press() {
    return this.offered.way ? this.line() : undefined;
  }

  #lookAt(kind, id) {
    this.looked = kind && {kind, id};
    render(tools(this), at('.tools'));
  }

  choose(kind, id) {
    Object.assign(this, {chosen: {kind, id}, entrance: null, offered: null, because: null});
    this.mark([]);
  }

  #arm(id) {
    this.entrance = this.#ways(id).length ? id : null;
    this.mark([]);
  }

  async offer(from, to) {
    const offered = {from, to, way: null};
    Object.assign(this, {entrance: from, offered, chosen: {kind: 'signal', id: from}, because: null});
    this.mark([]);
    const way = await daemon.way(from, to);
    if (this.offered !== offered) return;
    this.offered = {...offered, way, facts: this.#factsOf(way)};
    this.mark(way.can ? [] : way.marks ?? []);
    this.say(way.can ? 'offered' : 'cannot be lined', way.can
      ? `${this.plan.nameOf('signal', from)} to ${nameOfEnd(this.plan, to)}: point at the exit once more, or press Enter, to line it`
      : way.text);
  }

  // An offer is asked for again when anything on its way has changed: it is never old.
  async #offerAnew() {
    const {offered} = this;
    if (!offered?.way || !this.live.alive || this.#factsOf(offered.way) === offered.facts) return;
    offered.facts = this.#factsOf(offered.way);
    const way = await daemon.way(offered.from, offered.to);
    if (this.offered !== offered || !way.path) return;
    this.offered = {...offered, way};
    this.mark(way.can ? [] : way.marks ?? []);
  }

  #factsOf({path = [], switches = {}}) {
    return JSON.stringify([path.map(id => this.live.of('section', id)),
      Object.keys(switches).map(id => [this.live.of('switch', id), this.live.of('lock', id)])]);
  }

  async line() {
    const {from, to} = this.offered;
    const {answer} = await this.tell(`line ${quoted(from)} to ${quoted(to)}`);
    this.undo = answer === 'done' ? from : null;
    this.draw();
  }

  /** The undo of lining; its time is seen running at the signal. */
  cancel(signal) {
    this.undo = null;
    return this.tell(`cancel ${quoted(signal)}`);
  }

  /** One step back: the offer, then the entrance with its slip. */
  leave() {
    const back = this.chosen;
    if (this.carried) Object.assign(this, {carried: null});
    else if (this.offered) Object.assign(this, {offered: null});
    else Object.assign(this, {chosen: null, entrance: null, because: null});
    this.mark([]);
    if (back) this.chart.focus(back.kind, back.id);
  }

  /** A train's name is taken up, to be put down on a section. */
  carry(name) {
    this.carried = this.carried === name ? null : name;
    this.draw();
  }

  #put(section) {
    const name = this.carried;
    this.carried = null;
    return this.tell(`name ${quoted(name)} on ${quoted(section)}`);
  }

  // Orders

  async tell(sentence) {
    const answer = await daemon.tell(sentence);
    if (answer.answer === 'not allowed') await daemon.recall();
    this.undo = null;
    this.answer = {sentence, ...answer};
    if (answer.answer === 'done') Object.assign(this, {offered: null, entrance: null});
    this.mark(answer.answer === 'done' ? [] : answer.marks ?? []);
    this.#keepFocus();
    return answer;
  }

  // A button that has done its work may be gone; the keyboard goes back to its device.
  #keepFocus() {
    if (this.chosen && document.activeElement === document.body) this.chart.focus(this.chosen.kind, this.chosen.id);
  }

  async ask(name) {
    this.because = await daemon.why(name);
    this.mark(this.because.marks ?? []);
  }

  say(answer, text) {
    this.answer = {answer, text};
    this.draw();
  }

  /** Follows a name in a ledger to its place on the chart. */
  show(kind, id) {
    this.choose(kind, id);
    if (this.chart.focus(kind, id) || this.chart.zoom.mode !== 'place' || UNDRAWN.has(kind)) return;
    this.chart.zoom = {mode: 'fit'};
    this.draw();
    this.chart.focus(kind, id);
  }

  /** Names that somebody may be meant by. */
  people() {
    const holders = this.live.all('protection').map(([, {holder}]) => holder);
    return [...new Set([...this.live.all('train').map(([name]) => name), ...holders])];
  }

  #ways(signal) {
    return this.plan.routesFrom(signal).filter(({automatic}) => !automatic);
  }

  #exits() {
    const kindOf = to => this.plan.signals[to] ? 'signal' : 'joint';
    return new Set(this.entrance ? this.#ways(this.entrance).map(({to}) => `${kindOf(to)}:${to}`) : []);
  }

  /** What is chosen and offered is drawn, and these devices ringed. */
  mark(marks) {
    const {chosen, entrance, offered} = this;
    this.chart.mark({
      chosen: chosen && `${chosen.kind}:${chosen.id}`,
      entrance: entrance && `signal:${entrance}`,
      exits: this.#exits(),
      candidate: offered?.way?.path?.length ? {...offered.way, from: offered.from, to: offered.to} : null,
      marks,
    });
    this.draw();
  }

  #shortcut(event) {
    const typing = event.target.closest?.('input, select, dialog');
    if (typing || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Escape') this.leave();
    else if (event.key === '/' && singleKeys()) this.orderLine.focus();
    else if (event.key === '?' && singleKeys()) this.openKey();
    else return;
    event.preventDefault();
  }

  // The page

  draw() {
    this.#drawn = true;
    showWhetherLost(this.live);
    render(masthead(this), at('.masthead'));
    render(tools(this), at('.tools'));
    render(alarms(this), at('.alarms'));
    render(ledgers(this), at('.ledgers'));
    render(slip(this), at('.slip-place'));
    render(this.#answered(), at('.answer'));
    this.orderLine.draw();
    this.chart.draw();
  }

  #answered() {
    if (!this.answer) return html`<span class="soft">Answers appear here. Press / for the order line, ? for the key.</span>`;
    const {answer, text, sentence} = this.answer;
    const sign = answerSign(answer);
    return html`<b class=${sign && 'refused'}>${sign} ${answer}</b>${sentence ? html` <small>${sentence}</small>` : nothing} ${text}${this.undo && this.commands
      ? html` <button @click=${() => this.cancel(this.undo)}>Undo: cancel ${this.plan.nameOf('signal', this.undo)}</button>` : nothing}`;
  }

  openKey() {
    openKey(at('.key-dialog'), true);
  }

  #entered() {
    this.say('done', `the desk is yours, ${daemon.me.name}`);
    at('#chart [tabindex="0"]')?.focus({preventScroll: true});
  }

  async leaveDesk() {
    await daemon.leave();
    Object.assign(this, {entrance: null, offered: null, carried: null});
    this.mark([]);
    at('.desk button').focus();
  }
}

async function begin() {
  applyLight();
  const [told] = await Promise.all([daemon.plan(), daemon.recall()]);
  if (!told.sections) {
    showNotThere(told.text);
    return void setTimeout(begin, 2000);
  }
  document.title = `${told.name}: dispatcher`;
  new Desk(new Plan(told)).start();
}

begin();
