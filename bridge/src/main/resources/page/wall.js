// The wall: what cannot be seen from the aisle, readable from 5 m. It orders nothing, and has nothing to press.
// In, by its address:
//   ?place=fallow,tilling   whose signals are repeated, and which places the chart shows (the hidden ones if left out)
//   ?show=clock,hidden,…    panels in this order: clock, hidden, signals, districts, calls, alarms, chart
//   ?light=day or night     whatever the machine prefers
//   ?speak=yes              announcements aloud

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {begin, beginAnew, FIRST_MS} from './begin.js';
import {Live} from './live.js';
import {Chart} from './chart.js';
import {Announcer, Voice} from './announcer.js';
import {signalSign} from './glyphs.js';
import {lettersOf} from './drawing.js';
import {indication} from './indication.js';
import {devicesOf, headingOf, placesOf} from './place.js';
import {clockTime, clockWords, protectionsOf, protectionWords} from './words.js';
import {showWhetherLost} from './lost.js';

const CALLS_SHOWN = 4;
const FRESH_MS = 20_000;
const CHART_GAP = 30;
const AGAIN_MS = 5000;
const LETTERS_LEAST = 0.5;
const ALARMS_SHOWN = 3;
const STRIPS = ['alarms', 'chart'];      // as wide as the wall, and never pushed off it

const at = selector => document.querySelector(selector);

class Wall {
  #drawn = false;
  #charts = new Map();
  #fitted;
  #letters = 1;

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
    this.live.addEventListener('restart', () => beginAnew());
    this.announcer.addEventListener('said', ({detail}) => {
      at('[role=status]').textContent = detail;
      this.voice?.say(detail);
    });
    this.live.start();
    setTimeout(() => this.#drawn || this.draw(), FIRST_MS + 100);
    setInterval(() => this.#growAgain(), AGAIN_MS);     // what was called grows old, and gives room
  }

  draw() {
    if (!this.live.alive && performance.now() < FIRST_MS) return;
    this.#drawn = true;
    this.announcer.follow();
    showWhetherLost(this.live);
    const above = this.panels.filter(panel => !STRIPS.includes(panel));
    render(html`<h1 class="unseen">${this.plan.name}: wall</h1>
      ${above.length ? html`<div class="above">${repeat(above, panel => panel, panel => this.#panel(panel))}</div>` : nothing}
      ${STRIPS.filter(panel => this.panels.includes(panel)).map(panel => this.#panel(panel))}`, at('main'));
    this.#fitLetters();
    this.#drawCharts();
  }

  // Nothing may run off the screen unseen: rather than that, letters become smaller.
  #fitLetters() {
    const above = at('.above');
    while (above && this.#letters > LETTERS_LEAST && above.scrollHeight > above.clientHeight + 1) {
      this.#letters -= 0.08;
      document.body.style.setProperty('--letters', this.#letters);
    }
  }

  #growAgain() {
    this.#letters = 1;
    document.body.style.setProperty('--letters', 1);
    this.draw();
  }

  #panel(panel) {
    const {title, heading, draw} = PANELS[panel];
    return html`<section class=${`panel ${panel}`} aria-label=${title}>${heading ? html`<h2>${heading(this)}</h2>` : nothing}${draw(this)}</section>`;
  }

  #drawCharts() {
    const panel = at('.panel.chart');
    if (!panel) return;
    for (const {id, sections} of this.places) {
      if (!this.#charts.has(id)) this.#charts.set(id, new Chart(at(`[data-chart="${CSS.escape(id)}"]`), this.plan, this.live, {sections, still: true}));
      this.#charts.get(id).draw();
    }
    const size = `${panel.clientWidth} ${panel.clientHeight}`;
    if (size !== this.#fitted && panel.querySelector('svg.sheet')) this.#fit(panel);
    this.#fitted = size;
  }

  // As many charts side by side as make all of them largest.
  #fit(panel) {
    const boxes = [...panel.querySelectorAll('svg.sheet')].map(sheet => sheet.viewBox.baseVal);
    const scales = columns => boxes.map(({width, height}) => Math.min(
      (panel.clientWidth / columns - CHART_GAP) / width, (panel.clientHeight / Math.ceil(boxes.length / columns) - CHART_GAP) / height));
    const smallest = columns => Math.min(...scales(columns));
    const [columns] = boxes.map((_, index) => index + 1).sort((one, other) => smallest(other) - smallest(one));
    panel.style.setProperty('--columns', columns);
    [...this.#charts.values()].forEach((chart, index) => {
      chart.zoom = {mode: 'line'};
      chart.draw();
      chart.zoom = {mode: 'line', times: scales(columns)[index] / chart.scale};
      chart.draw();
    });
  }
}

const known = (wall, words) => wall.live.alive ? words : 'not known';

const PANELS = {
  clock: {title: 'Fast clock', draw(wall) {
    const words = clockWords(wall.live);
    return html`<p class="time">${clockTime(wall.live)}</p>
      <p class="under"><b>${wall.plan.name}</b> <span>${words === 'not known' ? words : `the clock ${words}`}</span></p>`;
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
    return standing.length ? html`<ul>${repeat(standing.slice(0, ALARMS_SHOWN), ([words]) => words, ([words, {acknowledged}]) => html`
      <li class=${acknowledged ? 'known' : ''}><span>${words}</span></li>`)}${standing.length > ALARMS_SHOWN
        ? html`<li><span>and ${standing.length - ALARMS_SHOWN} more</span></li>` : nothing}</ul>` : html`<p class="none">${known(wall, 'no alarm')}</p>`;
  }},

  chart: {title: 'Track chart', draw: wall => wall.places.map(({id}) => html`<div class="chart-room" data-chart=${id}></div>`)},
};

const POWER = {restored: ['●', 'on'], tripped: ['✗', 'tripped'], unknown: ['?', 'not known']};

function hiddenTrack(wall, id, longest) {
  const {plan, live} = wall;
  const facts = live.of('section', id);
  const is = live.alive ? facts.is ?? 'unknown' : 'unknown';
  const train = live.all('train').find(([, {on, lost}]) => lost && on?.includes(id));
  const words = is === 'occupied' ? facts.train ?? 'occupied' : is === 'unknown' ? 'not known' : facts.route ? 'free, train due' : 'free';
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

begin('wall', plan => {
  const asked = new URLSearchParams(location.search);
  if (['day', 'night'].includes(asked.get('light'))) document.documentElement.dataset.light = asked.get('light');
  return new Wall(plan, asked);
});
