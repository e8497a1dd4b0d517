// The wall: what cannot be seen from the aisle, readable from 5 m. It orders nothing, and has nothing to press.
// In, by its address:
//   ?place=fallow,tilling   whose signals are repeated, and which places the chart shows (the hidden ones if left out)
//   ?show=clock,hidden,…    panels in this order: clock, hidden, signals, districts, calls, alarms, chart
//   ?light=day or night     whatever the machine prefers
//   ?speak=yes              announcements aloud

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {Plan} from './plan.js';
import {Live} from './live.js';
import {Chart} from './chart.js';
import {Announcer, Voice} from './announcer.js';
import {signalSign} from './glyphs.js';
import {lettersOf} from './drawing.js';
import {indication} from './indication.js';
import {devicesOf, headingOf, placesOf} from './place.js';
import {protectionsOf, protectionWords} from './words.js';
import {showNotThere, showWhetherLost} from './lost.js';
import {applyLight} from './daynight.js';
import * as daemon from './tell.js';

const FIRST_MS = 1500;
const CALLS_SHOWN = 4;
const FRESH_MS = 20_000;

const at = selector => document.querySelector(selector);

class Wall {
  #drawn = false;
  #charts = [];

  constructor(plan, asked) {
    this.plan = plan;
    this.live = new Live();
    this.announcer = new Announcer(plan, this.live);
    this.voice = asked.get('speak') === 'yes' ? new Voice() : null;
    this.places = this.#placesAsked(asked.get('place'));
    this.panels = (asked.get('show') ?? 'clock,hidden,signals,districts,calls,alarms').split(',').filter(panel => PANELS[panel]);
  }

  #placesAsked(list) {
    const all = placesOf(this.plan);
    const wanted = list?.split(',').filter(id => all.has(id)) ?? [...all.keys()].filter(id => all.get(id).hidden);
    return (wanted.length ? wanted : [...all.keys()]).map(id => ({id, ...all.get(id)}));
  }

  start() {
    this.live.addEventListener('change', () => this.draw());
    this.live.addEventListener('restart', () => location.reload());
    this.announcer.addEventListener('said', ({detail}) => {
      at('[role=status]').textContent = detail;
      this.voice?.say(detail);
    });
    this.live.start();
    setTimeout(() => this.#drawn || this.draw(), FIRST_MS);
    setInterval(() => this.draw(), 5000);     // what was called grows old
  }

  draw() {
    this.#drawn = true;
    this.announcer.follow();
    showWhetherLost(this.live);
    render(html`${repeat(this.panels, panel => panel, panel => html`
      <section class=${`panel ${panel}`} aria-label=${PANELS[panel].title}>${PANELS[panel].heading ? html`<h2>${PANELS[panel].heading(this)}</h2>` : nothing}${PANELS[panel].draw(this)}</section>`)}`, at('main'));
    this.#drawCharts();
  }

  // Each chart is as large as its panel lets it be.
  #drawCharts() {
    for (const [index, {id, sections}] of this.places.entries()) {
      const element = at(`[data-chart="${CSS.escape(id)}"]`);
      if (!element) continue;
      const chart = this.#charts[index] ??= new Chart(element, this.plan, this.live, {sections, still: true});
      chart.zoom = {mode: 'line', times: 1};
      chart.draw();
      const sheet = element.querySelector('svg.sheet');
      if (!sheet) continue;
      const room = Math.min(element.clientWidth / sheet.clientWidth, element.clientHeight / sheet.clientHeight);
      chart.zoom = {mode: 'line', times: room * 0.985};
      chart.draw();
    }
  }
}

const known = (wall, words) => wall.live.alive ? words : 'not known';

const PANELS = {
  clock: {title: 'Fast clock', draw(wall) {
    const {shows, runs, rate} = wall.live.of('clock', 'clock');
    return html`<p class="time">${wall.live.alive && shows ? shows : '––:––'}</p>
      <p class="under"><b>${wall.plan.name}</b> <span>${known(wall, runs ? `the clock runs ${rate} : 1` : 'the clock stands')}</span></p>`;
  }},

  hidden: {title: 'Hidden tracks', heading: () => 'Hidden tracks', draw(wall) {
    const {plan} = wall;
    const hidden = Object.keys(plan.sections).filter(id => plan.sections[id].hidden);
    const longest = Math.max(...hidden.map(id => plan.sections[id].metres));
    return hidden.length ? html`<ul>${hidden.map(id => hiddenTrack(wall, id, longest))}</ul>` : html`<p>no hidden track</p>`;
  }},

  signals: {title: 'Signals repeated', heading: wall => `Signals at ${wall.places.map(({name}) => name).join(', ')}`, draw(wall) {
    const signals = [...new Set(wall.places.flatMap(place => devicesOf(wall.plan, place).signals))];
    return html`<ul>${signals.map(id => repeated(wall, id))}</ul>`;
  }},

  districts: {title: 'Power districts', heading: () => 'Power', draw: wall => html`<ul>${Object.keys(wall.plan.districts).map(id => {
    const is = known(wall, wall.live.of('district', id).is ?? 'unknown');
    const [sign, words] = POWER[is] ?? ['?', 'not known'];
    return html`<li class=${is}><b class="mark">${sign}</b><span>${wall.plan.nameOf('district', id)}</span><strong>${words}</strong></li>`;
  })}</ul>`},

  calls: {title: 'Announcements', heading: () => 'Called out', draw(wall) {
    const lines = wall.announcer.lines.slice(0, CALLS_SHOWN);
    const voice = wall.voice?.words;
    return html`${lines.length ? html`<ul>${repeat(lines, ({at: when, words}) => `${when} ${words}`, ({at: when, words}) => html`
      <li class=${wall.live.now() - when < FRESH_MS ? 'fresh' : ''}>${words} <small>${ago(wall.live.now() - when)}</small></li>`)}</ul>` : html`<p class="soft">Nothing yet.</p>`}
      ${voice ? html`<p class="soft">${voice}</p>` : nothing}`;
  }},

  alarms: {title: 'Alarms', draw(wall) {
    const standing = wall.live.all('alarm').sort(([, one], [, other]) => Boolean(one.acknowledged) - Boolean(other.acknowledged) || other.since - one.since);
    return standing.length ? html`<ul>${repeat(standing, ([words]) => words, ([words, {acknowledged}]) => html`
      <li class=${acknowledged ? 'known' : ''}>${words}</li>`)}</ul>` : html`<p class="none">${known(wall, 'no alarm')}</p>`;
  }},

  chart: {title: 'Track chart', draw: wall => wall.places.map(({id}) => html`<div class="chart-room" data-chart=${id}></div>`)},
};

const POWER = {restored: ['●', 'on'], tripped: ['✗', 'tripped'], unknown: ['?', 'not known']};

function hiddenTrack(wall, id, longest) {
  const {plan, live} = wall;
  const facts = live.of('section', id);
  const is = live.alive ? facts.is ?? 'unknown' : 'unknown';
  const train = live.all('train').find(([, {on, lost}]) => lost && on?.includes(id));
  const words = is === 'occupied' ? facts.train ?? 'occupied' : is === 'unknown' ? 'not known' : facts.route ? 'free, a train may come' : 'free';
  const more = [train && `${train[0]}?`, ...protectionsOf(live, 'section', id).map(protectionWords)].filter(Boolean).join(', ');
  const width = Math.max(6, 100 * plan.sections[id].metres / longest);
  return html`<li class=${is}><span class="name">${plan.nameOf('section', id)}</span>
    <svg class="band" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><g class=${`section ${is}`}><path class="rail" d=${`M0 5H${width}`}/><path class="bed" d=${`M0 5H${width}`}/></g></svg>
    <strong>${words}${more ? html` <small>${more}</small>` : nothing}</strong></li>`;
}

function repeated(wall, id) {
  const {plan, live} = wall;
  const {shows, dark} = live.of('signal', id);
  const aspect = live.alive ? shows : undefined;
  const turn = headingOf(plan, id) === 'west' ? 180 : 0;
  const width = 11 + (aspect ? lettersOf(aspect).length : 1) * 8.5;
  return html`<li><svg viewBox=${turn ? '-32 -30 58 38' : '-26 -8 58 38'} aria-hidden="true"><g class="section clear"><path class="rail" d="M-42 0H42"/><path class="bed" d="M-43 0H43"/></g>
      <g transform=${`translate(${turn ? -16 : 16} 0) rotate(${turn})`}>${signalSign({aspect, dark, width, angle: turn})}</g></svg>
    <span><b>${turn ? '← ' : ''}${plan.nameOf('signal', id)}${turn ? '' : ' →'}</b><strong class=${indication(live, id).may ? 'may' : 'stays'}>${indication(live, id).short}</strong></span></li>`;
}

const ago = ms => ms < 60_000 ? 'now' : `${Math.round(ms / 60_000)} min ago`;

async function begin() {
  const asked = new URLSearchParams(location.search);
  applyLight();
  if (['day', 'night'].includes(asked.get('light'))) document.documentElement.dataset.light = asked.get('light');
  const told = await daemon.plan();
  if (!told.sections) {
    showNotThere(told.text);
    return void setTimeout(begin, 2000);
  }
  document.title = `${told.name}: wall`;
  new Wall(new Plan(told), asked).start();
}

begin();
