// Draws the chart of any set of sections, and lets devices be pointed at.
// In: an element, a Plan, a Live, and options:
//   sections   the sections to draw (all of the plan if left out)
//   least      pixels a paper unit down to which a place is made smaller rather than scrolled
//   still      true: nothing can be pointed at or reached with keys
//   deep       () the pixels down that it should keep within, as far as it stays readable
//   onPoint    (kind, id) a device was pointed at, or Space was pressed on it
//   onOpen     (kind, id) Enter was pressed on it
//   onLeave    () Escape was pressed
//   onHover    (kind, id) it is looked at, by a pointer or by the keyboard; nothing at all: (undefined)
//   onUndo     (kind, id) Delete was pressed on it
//   onTick     () some time runs: draw all that shows it (the chart alone if left out)
// Out: draw() puts it on the page; mark({…}) tells what else to draw; zoom tells how large.

import {html, render} from '/lib/lit-html/lit-html.js';
import {layOut} from './drawing.js';
import {definitions} from './glyphs.js';
import {Pen} from './pen.js';

const READABLE = 0.88;       // pixels a paper unit; a smaller chart is no longer read, and is cut or scrolled instead
const LARGEST = {line: 2.4, strips: 1.3, place: 1.6};
const PADDING = 10;          // about the chart, so that a sheet that fits is never scrolled
const EDGES = 130;            // paper units beside the track of a strip
const EVEN_STEPS = 8;
const COUNTDOWN_MS = 500;

export class Chart {
  #element;
  #plan;
  #live;
  #options;
  #sheets = [];
  #laidOut = '';
  #ticking;
  #pen;
  #focused;
  #wide = 0;    // the element, in pixels; asking the browser at each drawing would be slow

  /** {mode: 'fit'} the whole, in strips if need be; 'line' in one strip; 'place' with place; times as large as fits. */
  zoom = {mode: 'fit'};
  scale = 1;
  marked = {chosen: null, entrance: null, exits: new Set(), candidate: null, marks: []};

  constructor(element, plan, live, options = {}) {
    this.#element = element;
    this.#plan = plan;
    this.#live = live;
    this.#options = options;
    this.#pen = new Pen(plan, live, options.still);
    new ResizeObserver(() => {
      this.#wide = element.clientWidth;
      this.draw();
    }).observe(element);
    if (!options.still) this.#listen();
  }

  /** chosen and entrance are keys 'signal:t2e', exits a Set of them, candidate {from, to, path, switches}, marks [{kind, id}]. */
  mark(changed) {
    Object.assign(this.marked, changed);
    this.draw();
  }

  /** Larger or smaller than fits, about the middle of what is seen. */
  magnify(factor) {
    const {scrollLeft, clientWidth} = this.#element;
    this.zoom = {...this.zoom, times: Math.min(6, Math.max(0.25, (this.zoom.times ?? 1) * factor))};
    this.draw();
    this.#element.scrollLeft = (scrollLeft + clientWidth / 2) * factor - clientWidth / 2;
  }

  draw() {
    this.#layOut();
    const {marked, scale} = this;
    const view = {marked, scale, focused: this.#focused};
    const sheets = this.#sheets.map((sheet, index) => this.#pen.draw(sheet, {...view, name: this.#nameOf(index)}));
    render(html`<svg class="definitions" aria-hidden="true" width="0" height="0">${definitions()}</svg>${sheets}`, this.#element);
    this.#tickWhileTimeRuns();
  }

  /** Puts the keyboard on a device; false if it is not on the sheets. */
  focus(kind, id) {
    const key = `${kind}:${id}`;
    if (!this.order.some(device => device.key === key)) return false;
    this.#focused = key;
    this.draw();
    const device = this.#element.querySelector(`[data-kind="${kind}"][data-id="${CSS.escape(id)}"]`);
    device.focus({preventScroll: true});
    device.scrollIntoView({block: 'nearest', inline: 'nearest'});
    return true;
  }

  /** Every device in the order along the line, west to east. */
  get order() {
    return this.#sheets.flatMap(({order}) => order);
  }

  // Sheets

  #layOut() {
    this.#wide ||= this.#element.clientWidth;
    const width = this.#wide - PADDING;
    if (width <= 0) return;
    const {mode, place, times = 1} = this.zoom;
    const asked = JSON.stringify([mode, place, width]);
    if (asked !== this.#laidOut) {
      this.#laidOut = asked;
      this.#sheets = this.#drawings(this.#groups(width));
      if (!this.order.some(({key}) => key === this.#focused)) this.#focused = this.order[0]?.key;
    }
    this.scale = this.#fitting(width) * times;
  }

  #fitting(width) {
    const {mode} = this.zoom;
    const largest = Math.min(this.#asDeep(), this.#sheets.length > 1 ? LARGEST.strips : LARGEST[mode] ?? LARGEST.line);
    const fitting = Math.min(largest, width / Math.max(...this.#sheets.map(({box}) => box.width)));
    return mode === 'line' || fitting >= (this.#options.least ?? READABLE) ? fitting : READABLE;
  }

  #asDeep() {
    const {deep} = this.#options;
    return deep ? deep() / this.#sheets.reduce((sum, {box}) => sum + box.height, 0) : Infinity;
  }

  #groups(width) {
    const asked = this.#options.sections ?? Object.keys(this.#plan.sections);
    if (this.zoom.mode === 'place') {
      const wanted = new Set(this.#plan.places[this.zoom.place]?.sections ?? asked);
      return [asked.filter(section => wanted.has(section))];
    }
    return this.zoom.mode === 'fit' ? this.#strips(asked, width / READABLE - EDGES) : [asked];
  }

  // As many strips as it takes to be readable, cut between places, and as even as that allows.
  #strips(asked, widest) {
    const places = this.#placesOf(asked);
    const fewest = this.#filled(places, widest);
    let [narrow, wide] = [0, widest];
    for (let step = 0; step < EVEN_STEPS; step++) {
      const middle = (narrow + wide) / 2;
      if (this.#filled(places, middle).length === fewest.length) wide = middle;
      else narrow = middle;
    }
    return this.#filled(places, wide);
  }

  #filled(places, widest) {
    const strips = [];
    for (const place of places) {
      const joined = [...strips.at(-1) ?? [], ...place];
      if (strips.length && this.#plan.spreadOf(joined) <= widest) strips[strips.length - 1] = joined;
      else strips.push(place);
    }
    return strips;
  }

  #placesOf(asked) {
    const left = new Set(asked);
    const take = sections => sections.filter(section => left.delete(section));
    const places = Object.values(this.#plan.places).map(({sections}) => take(sections)).filter(place => place.length);
    return left.size ? [...places, [...left]] : places;
  }

  #drawings(groups) {
    const sheets = groups.map(sections => this.#drawing(sections, groups.length === 1));
    sheets.reduce((metres, sheet) => {
      sheet.start = metres;
      return metres + (sheet.ruler?.total ?? 0);
    }, 0);
    return sheets;
  }

  #drawing(sections, leading) {
    const drawing = layOut(this.#plan, sections, {leading});
    const keys = (kind, devices, at = device => device) =>
      devices.map(device => ({key: `${kind}:${device.id ?? device.joint}`, kind, id: device.id ?? device.joint, ...pick(at(device))}));
    drawing.order = [
      ...keys('section', drawing.sections, ({middle}) => middle),
      ...keys('switch', drawing.switches), ...keys('signal', drawing.signals),
      ...keys('opening', drawing.openings), ...keys('crossing', drawing.crossings),
      ...keys('spot', drawing.spots), ...keys('traffic', drawing.lines), ...keys('joint', drawing.ends),
    ].sort((one, other) => one.x - other.x || one.y - other.y);
    drawing.places = new Map(drawing.order.map(device => [device.key, device]));
    return drawing;
  }

  #nameOf(index) {
    const {length} = this.#sheets;
    return `${this.#plan.name}: chart${length > 1 ? `, strip ${index + 1} of ${length}` : ''}`;
  }

  #tickWhileTimeRuns() {
    const runs = this.#live.alive && (this.#live.all('signal').some(([, {cancelling}]) => cancelling)
      || this.#live.all('lock').some(([, {is}]) => is === 'releasing'));
    if (runs) this.#ticking ??= setInterval(() => this.#options.onTick ? this.#options.onTick() : this.draw(), COUNTDOWN_MS);
    else this.#ticking = clearInterval(this.#ticking);
  }

  // Pointing and keys

  #listen() {
    const deviceOf = event => event.target.closest?.('[data-kind]')?.dataset;
    this.#element.addEventListener('click', event => {
      const device = deviceOf(event);
      if (!device) return;
      this.#focused = `${device.kind}:${device.id}`;
      this.#options.onPoint?.(device.kind, device.id);
    });
    let over = '';
    this.#element.addEventListener('pointerover', event => {
      const device = deviceOf(event);
      const key = device ? `${device.kind}:${device.id}` : '';
      if (key !== over) this.#options.onHover?.(device?.kind, device?.id);
      over = key;
    });
    this.#element.addEventListener('focusin', event => {
      const device = deviceOf(event);
      if (device) this.#options.onHover?.(device.kind, device.id);
      if (!device || this.#focused === `${device.kind}:${device.id}`) return;
      this.#focused = `${device.kind}:${device.id}`;
      this.draw();
    });
    this.#element.addEventListener('keydown', event => {
      const device = deviceOf(event);
      if (!device || event.ctrlKey || event.metaKey || event.altKey) return;
      const next = this.#next(event.key, `${device.kind}:${device.id}`);
      if (event.key === 'Enter') this.#options.onOpen?.(device.kind, device.id);
      else if (event.key === 'Escape') this.#options.onLeave?.();
      else if (event.key === ' ') this.#options.onPoint?.(device.kind, device.id);
      else if (event.key === 'Delete') this.#options.onUndo?.(device.kind, device.id);
      else if (next) this.focus(next.kind, next.id);
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
  }

  // Left and right reach every device, west to east; up and down the nearest above or below.
  #next(pressed, key) {
    const order = this.order;
    const index = order.findIndex(device => device.key === key);
    switch (pressed) {
      case 'ArrowRight': return order[Math.min(index + 1, order.length - 1)];
      case 'ArrowLeft': return order[Math.max(index - 1, 0)];
      case 'Home': return order[0];
      case 'End': return order.at(-1);
      case 'ArrowUp': return this.#nearest(order[index], -1);
      case 'ArrowDown': return this.#nearest(order[index], 1);
      default: return undefined;
    }
  }

  #nearest(here, way) {
    const sheet = this.#sheets.find(({order}) => order.includes(here));
    const far = ({x, y}) => Math.abs(y - here.y) + 2 * Math.abs(x - here.x);
    return sheet.order.filter(({y}) => (y - here.y) * way > 4).sort((one, other) => far(one) - far(other))[0] ?? here;
  }
}

const pick = ({x, y}) => ({x, y});
