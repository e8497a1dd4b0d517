// Draws the chart of any set of sections, and lets devices be pointed at.
// In: an element, a Plan, a Live, and options:
//   sections   the sections to draw (all of the plan if left out)
//   still      true: nothing can be pointed at or reached with keys
//   onPoint    (kind, id) a device was pointed at, or Space was pressed on it
//   onOpen     (kind, id) Enter was pressed on it
//   onLeave    () Escape was pressed
//   onHover    (kind, id) it is looked at, by a pointer or by the keyboard; nothing at all: (undefined)
//   onUndo     (kind, id) Delete was pressed on it
//   onTick     () some time runs: draw all that shows it (the chart alone if left out)
// Out: draw() puts it on the page; mark({…}) tells what else to draw; zoom tells how large.

import {html, svg, render, nothing} from '/lib/lit-html/lit-html.js';
import {guard} from '/lib/lit-html/directives/guard.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import * as glyph from './glyphs.js';
import {layOut, beside, middleOf, round} from './drawing.js';
import {described, protectionsOf, secondsLeft} from './words.js';

const READABLE = 0.82;       // pixels a paper unit; a smaller chart is no longer read, and is cut or scrolled instead
const LARGEST = {line: 2.4, strips: 1.3, place: 1.6};
const PADDING = 10;          // about the chart, so that a sheet that fits is never scrolled
const EDGES = 130;            // paper units beside the track of a strip
const EVEN_STEPS = 8;
const COUNTDOWN_MS = 500;
const JUST_NOW_MS = 30_000;

export class Chart {
  #element;
  #plan;
  #live;
  #options;
  #sheets = [];
  #laidOut = '';
  #ticking;
  #fullTimes = new Map();
  #chevrons = new Map();
  #focused;

  /** {mode: 'fit'} the whole, in strips if need be; 'line' in one strip; 'place' with place; times as large as fits. */
  zoom = {mode: 'fit'};
  scale = 1;
  marked = {chosen: null, entrance: null, exits: new Set(), candidate: null, marks: []};

  constructor(element, plan, live, options = {}) {
    this.#element = element;
    this.#plan = plan;
    this.#live = live;
    this.#options = options;
    new ResizeObserver(() => this.draw()).observe(element);
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
    const sheets = this.#sheets.map((sheet, index) => this.#sheet(sheet, index));
    render(html`<svg class="definitions" aria-hidden="true" width="0" height="0">${glyph.definitions()}</svg>${sheets}`, this.#element);
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
    const width = this.#element.clientWidth - PADDING;
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
    const largest = this.#sheets.length > 1 ? LARGEST.strips : LARGEST[mode] ?? LARGEST.line;
    const fitting = Math.min(largest, width / Math.max(...this.#sheets.map(({box}) => box.width)));
    return mode === 'line' ? fitting : Math.max(READABLE, fitting);
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

  #sheet(sheet, index) {
    const {x, y, width, height} = sheet.box;
    const words = this.#sheets.length > 1 ? `chart, strip ${index + 1} of ${this.#sheets.length}` : 'chart';
    return html`<svg class="sheet" role="group" aria-label=${`${this.#plan.name}: ${words}`}
        viewBox=${`${x} ${y} ${width} ${height}`} width=${Math.floor(width * this.scale)} height=${Math.floor(height * this.scale)}>
      ${guard([sheet], () => this.#ground(sheet))}
      ${repeat(sheet.districts, ({id}) => id, district => this.#district(district))}
      ${repeat(sheet.sections, ({id}) => id, section => this.#section(section))}
      ${guard([sheet], () => sheet.joints.map(joint => this.#joint(joint)))}
      ${repeat(sheet.sections, ({id}) => id, section => this.#lined(section))}
      ${this.#candidate(sheet)}
      ${repeat(sheet.lines, ({id}) => id, line => this.#line(line))}
      ${repeat(sheet.crossings, ({id}) => id, crossing => this.#crossing(crossing))}
      ${repeat(sheet.openings, ({id}) => id, opening => this.#opening(opening))}
      ${repeat(sheet.spots, ({id}) => id, spot => this.#spot(spot))}
      ${repeat(sheet.ends, ({joint}) => joint, end => this.#routeEnd(end))}
      ${repeat(sheet.sections, ({id}) => id, section => this.#over(section))}
      ${repeat(sheet.switches, ({id}) => id, turnout => this.#switch(turnout))}
      ${repeat(sheet.signals, ({id}) => id, signal => this.#signal(signal))}
      ${this.#rings(sheet)}
    </svg>`;
  }

  #ground({staging, ruler, start, sections}) {
    return svg`
      ${staging.map(({left, right, top, bottom}) => svg`<g class="staging" aria-hidden="true">
        <rect x=${left} y=${top} width=${right - left} height=${bottom - top} rx="3"/>
        <text x=${left + 8} y=${top - 5}>hidden staging</text></g>`)}
      ${ruler ? this.#ruler(ruler, start) : nothing}
      ${sections.map(({caption}) => caption && svg`<text class="caption" aria-hidden="true" x=${round(caption.x)} y=${caption.y}>${caption.name}${caption.figures
        ? svg`<tspan class="figures" dx="6">${caption.figures}</tspan>` : nothing}</text>`)}`;
  }

  #ruler({ticks, total, y}, begin) {
    return svg`<g class="ruler" aria-hidden="true">
      <text class="compass" x=${ticks[0].from - 20} y=${y + 6}>W</text><text class="compass" x=${ticks.at(-1).to + 20} y=${y + 6}>E</text>
      ${ticks.map(({from, to, start, metres}, index) => svg`
        <rect class=${index % 2 ? 'light' : 'full'} x=${from} y=${y} width=${to - from} height="5"/>
        <path d=${`M${from} ${y - 5}V${y + 10}`}/>
        <text x=${from} y=${y + 20}>${(begin + start).toFixed(1)}</text>
        ${to - from > 34 ? svg`<text class="length" x=${(from + to) / 2} y=${y - 6}>${metres.toFixed(1)}</text>` : nothing}`)}
      <path d=${`M${ticks.at(-1).to} ${y - 5}V${y + 10}`}/>
      <text x=${ticks.at(-1).to} y=${y + 20}>${(begin + total).toFixed(1)} m</text></g>`;
  }

  #joint({x, y, angle, kind, onward, clear}) {
    const place = `translate(${x} ${y}) rotate(${round(angle)})`;
    if (kind === 'joint') return svg`<path class="joint" aria-hidden="true" transform=${place} d="M0 -8V8M-2 -8H2M-2 8H2"/>`;
    if (kind === 'end') return svg`<path class="buffer" aria-hidden="true" transform=${place} d="M1 -7V7M1 -7H-4M1 7H-4M5 -7V7"/>`;
    return svg`<g class="cut" aria-hidden="true" transform=${place}>
      <path d="M2 -13Q7 -6 2 0T2 13"/><path d="M6 -13Q11 -6 6 0T6 13"/>
      <text transform=${`translate(${clear} 0) rotate(${Math.abs(angle) > 90 ? 90 : -90})`}>to ${onward}</text></g>`;
  }

  // Devices

  #device(kind, id, facts, more, draw) {
    const key = `${kind}:${id}`;
    const {chosen, entrance, exits} = this.marked;
    const classes = ['device', key === chosen && 'chosen', key === entrance && 'entrance', exits.has(key) && 'exit'].filter(Boolean).join(' ');
    const focusable = key === this.#focused ? '0' : '-1';
    const still = this.#options.still;
    return guard([facts, classes, focusable, ...more], () => still
      ? svg`<g class=${classes} role="img" aria-label=${described(this.#plan, this.#live, kind, id)}>${draw()}</g>`
      : svg`<g class=${classes} role="button" tabindex=${focusable} data-kind=${kind} data-id=${id}
          aria-label=${described(this.#plan, this.#live, kind, id)}>${draw()}</g>`);
  }

  #district({id, track}) {
    const {is} = this.#live.of('district', id);
    return guard([is], () => is === 'restored' ? nothing
      : svg`<path class=${`district ${is === 'tripped' ? 'tripped' : 'unknown'}`} role="img" aria-label=${described(this.#plan, this.#live, 'district', id)} d=${track}/>`);
  }

  #section({id, track, pieces, middle, switches}) {
    const facts = this.#live.of('section', id);
    const lies = switches.map(turnout => this.#live.of('switch', turnout));
    const protections = this.#protections('section', id);
    return this.#device('section', id, facts, [...lies, protections], () => {
      const joined = pieces.map(piece => this.#pieceOf(piece)).join('');
      const is = facts.is ?? 'unknown';
      return svg`<path class="halo outer" d=${track}/><path class="halo inner" d=${track}/>
        <g class=${`section ${is}`}>
          <path class="rail" d=${joined}/><path class="bed" d=${joined}/>
          ${facts.route && is !== 'occupied' ? svg`<path class="wash" d=${this.#washOf(facts.route, pieces)}/>` : nothing}
          ${is === 'unknown' ? queries(pieces).map(({x, y}) => glyph.query(x, y)) : nothing}
        </g>
        <path class="hit" d=${track}/>${middle.length < 30 ? svg`<circle class="hit" cx=${middle.x} cy=${middle.y} r="13"/>` : nothing}`;
    });
  }

  // A leg that its switch is not known to lie for has a gap at the points.
  #pieceOf({leg, joined, gapped}) {
    if (!leg) return joined;
    const {is, moving, trouble} = this.#live.of('switch', leg.switch);
    return is === leg.position && !moving && !trouble ? joined : gapped;
  }

  // Only the legs that a route runs over are washed.
  #washOf(route, pieces) {
    const way = this.#plan.wayOfRoute(route);
    const runs = ({near, far}) => way.some(({a, b}) => (a === near && b === far) || (a === far && b === near));
    return (way.length ? pieces.filter(runs) : pieces).map(piece => this.#pieceOf(piece)).join('');
  }

  #lined({id}) {
    const {route} = this.#live.of('section', id);
    return guard([route], () => route
      ? svg`<path class="lined" aria-hidden="true" d=${this.#chevronsOf(route, id)}/>` : nothing);
  }

  #chevronsOf(route, section) {
    const key = `${route} ${section}`;
    if (!this.#chevrons.has(key)) {
      const way = this.#plan.wayOfRoute(route).filter(step => step.section === section);
      this.#chevrons.set(key, beside(way.map(step => this.#stretch(step)), -9.5, 15));
    }
    return this.#chevrons.get(key);
  }

  #stretch({a, b}) {
    return {from: this.#plan.point(a), to: this.#plan.point(b)};
  }

  #candidate(sheet) {
    const {candidate} = this.marked;
    return guard([sheet, candidate], () => {
      if (!candidate) return nothing;
      const drawn = new Set(sheet.sections.map(({id}) => id));
      const way = this.#plan.way(candidate.from, candidate.to, candidate.path, candidate.switches)
        .filter(({section}) => drawn.has(section)).map(step => this.#stretch(step));
      return svg`<path class=${candidate.can ? 'candidate' : 'candidate barred'} aria-hidden="true" d=${beside(way, -9.5, 20)}/>
        <path class="candidate rule" aria-hidden="true" d=${beside(way, 9.5, 1000)}/>`;
    });
  }

  #switch({id, x, y, onward, badge, label}) {
    const facts = this.#live.of('switch', id);
    const lock = this.#live.of('lock', id);
    const protections = this.#protections('switch', id);
    const {control} = this.#plan.switches[id];
    return this.#device('switch', id, facts, [lock, lock.is === 'releasing' && secondsLeft(this.#live, lock.until), protections, this.scale], () => {
      const signs = [
        this.#plan.switches[id].derail && (at => glyph.boxedLetter(at, 0, 'D')),
        control in LETTERS && (at => glyph.boxedLetter(at, 0, LETTERS[control])),
        (facts.locked || lock.is === 'secured') && (at => glyph.padlock(at, 0, false)),
        (lock.is === 'released' || lock.is === 'releasing') && (at => glyph.padlock(at, 0, true)),
        facts.moving && (at => glyph.turning(at, 0)),
        facts.trouble && (at => glyph.lozenge(at, 0)),
        !facts.moving && !facts.trouble && (facts.is ?? 'unknown') === 'unknown' && (at => glyph.query(at, 0)),
      ].filter(Boolean);
      const wide = label.length * 6.5;
      const start = -(wide + signs.length * 15) / 2;
      return svg`<rect class="outline" x=${round(badge.x + start - 5)} y=${badge.y - 12} width=${wide + signs.length * 15 + 10} height="24" rx="3"/>
        <circle class="outline" cx=${x + onward * 6} cy=${y} r="12"/>
        <circle class="hit" cx=${x + onward * 6} cy=${y} r="12"/>
        <rect class="hit" x=${round(badge.x - this.#reach(15))} y=${round(badge.y - this.#reach(12))} width=${2 * this.#reach(15)} height=${2 * this.#reach(12)}/>
        <g class="badge" transform=${`translate(${badge.x} ${badge.y})`}>
          <text x=${round(start + wide / 2)} y="4">${label}</text>
          ${signs.map((draw, index) => draw(round(start + wide + 9 + index * 15)))}</g>
        ${protections.map(({holder}) => svg`<g transform=${`translate(${x} ${y})`}>${glyph.crossedBar(holder)}</g>`)}`;
    });
  }

  // Whoever points with a thumb needs 24 pixels, however small the chart is.
  #reach(half) {
    return Math.max(half, 12 / this.scale);
  }

  #signal(place) {
    const {id, x, y, angle, bounds} = place;
    const facts = this.#live.of('signal', id);
    const protections = this.#protections('signal', id);
    const left = facts.cancelling && facts.until ? secondsLeft(this.#live, facts.until) : undefined;
    return this.#device('signal', id, facts, [left, protections, this.scale], () => {
      const above = bounds.bottom <= y;
      const middle = (bounds.left + bounds.right) / 2;
      const tags = [facts.fleeted && 'F', facts.stacked && 'K'].filter(Boolean).join(' ');
      const tagged = above ? bounds.top - 5 : bounds.bottom + 12;
      const high = Math.max(bounds.bottom - bounds.top, 24 / this.scale);
      return svg`<rect class="outline" x=${round(bounds.left)} y=${round(bounds.top - 4)} width=${round(bounds.right - bounds.left)} height=${round(bounds.bottom - bounds.top + 8)} rx="3"/>
        <rect class="hit" x=${round(bounds.left)} y=${round((bounds.top + bounds.bottom - high) / 2)} width=${round(bounds.right - bounds.left)} height=${round(high)}/>
        <g transform=${`translate(${x} ${y}) rotate(${angle})`}>${glyph.signalSign({...place, aspect: facts.shows, dark: facts.dark})}</g>
        ${tags ? svg`<text class="tag" x=${round(middle)} y=${round(tagged)}>${tags}</text>` : nothing}
        ${left === undefined ? nothing : glyph.wedge(round(middle - 8), round(tagged + (above ? -6 : 2)), left, this.#fullTime(id, facts.until, left))}
        ${protections.map(({holder}) => svg`<g transform=${`translate(${round(middle)} ${round((bounds.top + bounds.bottom) / 2)})`}>${glyph.crossedBar(holder, !above)}</g>`)}`;
    });
  }

  #fullTime(id, until, left) {
    const key = `${id} ${until}`;
    if (!this.#fullTimes.has(key)) this.#fullTimes.set(key, left);
    return this.#fullTimes.get(key);
  }

  #opening({id, x, y, angle}) {
    const facts = this.#live.of('opening', id);
    return this.#device('opening', id, facts, [], () => svg`
      <rect class="outline" x=${x - 25} y=${y - 22} width="50" height="44" rx="3"/><rect class="hit" x=${x - 24} y=${y - 13} width="48" height="38"/>
      <g transform=${`translate(${x} ${y}) rotate(${round(angle)})`}>${glyph.jaws(facts.is ?? 'unknown', facts.bolt)}</g>`);
  }

  #crossing({id, x, y, angle}) {
    const facts = this.#live.of('crossing', id);
    return this.#device('crossing', id, facts, [], () => svg`
      <rect class="outline" x=${x - 13} y=${y - 27} width="26" height="54" rx="3"/><rect class="hit" x=${x - 13} y=${y - 27} width="26" height="54"/>
      <g transform=${`translate(${x} ${y}) rotate(${round(angle)})`}>${glyph.road(facts.is)}</g>`);
  }

  #spot({id, x, y, joint}) {
    const facts = this.#live.of('spot', id);
    const passed = facts.passed !== undefined && this.#live.now() - facts.passed < JUST_NOW_MS;
    return this.#device('spot', id, facts, [passed], () => svg`
      <rect class="outline" x=${x - 13} y=${y - 12} width="26" height="24" rx="3"/><rect class="hit" x=${x - 13} y=${y - 12} width="26" height="24"/>
      <path class="lead" d=${`M${joint.x} ${joint.y + Math.sign(y - joint.y) * 5}V${y - Math.sign(y - joint.y) * 5}`}/>
      <g transform=${`translate(${x} ${y})`}>${glyph.eye(passed)}</g>`);
  }

  #line({id, x, y}) {
    const facts = this.#live.of('traffic', id);
    return this.#device('traffic', id, facts, [], () => svg`
      <rect class="outline" x=${x - 76} y=${y - 12} width="152" height="24" rx="3"/><rect class="hit" x=${x - 76} y=${y - 12} width="152" height="24"/>
      <g transform=${`translate(${x} ${y})`}>${glyph.trafficArrow(facts.is)}</g>`);
  }

  #routeEnd({joint, x, y, name}) {
    const key = `joint:${joint}`;
    const {exits, chosen} = this.marked;
    const classes = `device joint-end${exits.has(key) ? ' exit' : ''}${key === chosen ? ' chosen' : ''}`;
    const focusable = key === this.#focused ? '0' : '-1';
    if (this.#options.still) return nothing;
    return guard([classes, focusable], () => svg`<g class=${classes} role="button" tabindex=${focusable} data-kind="joint" data-id=${joint} aria-label=${name}>
      <rect class="outline" x=${x - 13} y=${y - 13} width="26" height="26" rx="3"/><rect class="hit" x=${x - 13} y=${y - 13} width="26" height="26"/></g>`);
  }

  // Flags and brackets stand over the track, in the hand of whoever put them there.
  #over({id, longest, middle, flag, switches}) {
    const {train} = this.#live.of('section', id);
    const protections = this.#protections('section', id);
    const lost = this.#live.all('train').filter(([, facts]) => facts.lost && facts.on?.includes(id)).map(([name]) => name).join(', ');
    return guard([train, lost, protections], () => {
      const raised = train || lost ? -18 - flag.rise : switches.length ? -18 : 0;
      const half = Math.max(26, Math.min(70, middle.length / 2 - 8));
      return svg`<g class="over" aria-hidden="true">
        ${train || lost ? svg`<g transform=${`translate(${round(flag.x)} ${round(flag.y)})`}>
          ${glyph.trainFlag(train ?? `${lost}?`, {lost: !train, rise: flag.rise})}</g>` : nothing}
        ${protections.map(({by, holder}) => {
          const share = by === 'permit' ? 0.5 : by === 'flag' ? 0.4 : 0.66;
          const {x, y} = middleOf(longest, share);
          const drawn = by === 'permit' ? glyph.bracket(half, holder) : by === 'flag' ? glyph.pennant(holder) : glyph.crossedBar(holder);
          return svg`<g transform=${`translate(${round(x)} ${round(y + (by === 'permit' ? raised : 0))})`}>${drawn}</g>`;
        })}</g>`;
    });
  }

  // The same array until something about it changes, so that guard can compare it.
  #protections(kind, id) {
    const now = protectionsOf(this.#live, kind, id);
    const key = `${kind}:${id}`;
    const before = this.#kept.get(key) ?? NONE;
    if (JSON.stringify(now) === JSON.stringify(before)) return before;
    this.#kept.set(key, now);
    return now;
  }

  #kept = new Map();

  #rings(sheet) {
    return this.marked.marks.map(mark => this.#standsAt(mark)).map(({kind, id}) => {
      const place = sheet.places.get(`${kind}:${id}`);
      const signal = kind === 'signal' && sheet.signals.find(other => other.id === id)?.bounds;
      if (!place) return nothing;
      const x = signal ? (signal.left + signal.right) / 2 : place.x;
      const y = signal ? (signal.top + signal.bottom) / 2 : place.y;
      return svg`<g aria-hidden="true" transform=${`translate(${round(x)} ${round(y)})`}>${glyph.ringed(kind === 'section' ? 48 : 32, 19)}</g>`;
    });
  }

  // A lock is seen at its switch, a line at its arrow, a route at its entrance.
  #standsAt({kind, id}) {
    if (kind === 'lock') return {kind: 'switch', id};
    if (kind === 'line') return {kind: 'traffic', id};
    return kind === 'route' ? {kind: 'signal', id: this.#plan.routes[id]?.from} : {kind, id};
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
      if (event.key === 'Escape') return this.#options.onLeave?.();
      if (!device || event.ctrlKey || event.metaKey || event.altKey) return;
      const next = this.#next(event.key, `${device.kind}:${device.id}`);
      if (event.key === 'Enter') this.#options.onOpen?.(device.kind, device.id);
      else if (event.key === ' ') this.#options.onPoint?.(device.kind, device.id);
      else if (event.key === 'Delete') this.#options.onUndo?.(device.kind, device.id);
      else if (next) this.focus(next.kind, next.id);
      else return;
      event.preventDefault();
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

const LETTERS = {hand: 'H', local: 'L', released: 'E', sprung: 'S'};
const NONE = [];

const pick = ({x, y}) => ({x, y});

/** Where the marks of an unknown section stand: along its longer pieces. */
function queries(pieces) {
  const long = pieces.filter(piece => middleOf(piece).length > 60);
  return (long.length ? long : pieces.slice(0, 1)).flatMap(piece =>
    middleOf(piece).length > 150 ? [middleOf(piece, 0.3), middleOf(piece, 0.7)] : [middleOf(piece)]);
}
