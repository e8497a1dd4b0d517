// The pen: draws one sheet as things are now, and only what has changed since it drew last.
// In: a Plan, a Live, whether devices can be pointed at; then a drawing, and how it is looked at:
// {marked, scale, focused, name}. Out: a lit-html template.

import {html, svg, nothing} from '/lib/lit-html/lit-html.js';
import {guard} from '/lib/lit-html/directives/guard.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import * as glyph from './glyphs.js';
import {beside, middleOf, round} from './drawing.js';
import {me} from './tell.js';
import {described, protectionsOf, secondsLeft} from './words.js';

const SIGNAL_ROOM = 62;      // paper units that a signal may take at each end of a section
const BRACKET_LEAST = 26;
const JUST_NOW_MS = 30_000;
const LETTERS = {hand: 'H', local: 'L', released: 'E', sprung: 'S'};

export class Pen {
  #plan;
  #live;
  #still;
  #chevrons = new Map();     // a line beside the track, for each section of each route
  #fullTimes = new Map();    // how long the time of a cancelled signal was when it was first seen
  #protections;              // all of them, and by the device that they are on
  #protected = new Map();

  constructor(plan, live, still = false) {
    this.#plan = plan;
    this.#live = live;
    this.#still = still;
  }

  draw(sheet, {marked, scale, focused, name}) {
    Object.assign(this, {marked, scale, focused});
    const {x, y, width, height} = sheet.box;
    return html`<svg class="sheet" role="group" aria-label=${name}
        viewBox=${`${x} ${y} ${width} ${height}`} width=${Math.floor(width * this.scale)} height=${Math.floor(height * this.scale)}>
      ${guard([sheet], () => this.#ground(sheet))}
      ${repeat(sheet.districts, ({id}) => id, district => this.#district(district))}
      ${repeat(sheet.sections, ({id}) => id, section => this.#section(section))}
      ${guard([sheet], () => sheet.joints.map(joint => this.#joint(joint)))}
      ${repeat(sheet.sections, ({id}) => id, section => this.#lined(section))}
      ${this.#candidate(sheet)}
      ${guard([sheet, me.territory], () => sheet.boundaries.map(boundary => this.#boundary(boundary)))}
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

  #joint({x, y, angle, kind, onward, words}) {
    const place = `translate(${x} ${y}) rotate(${round(angle)})`;
    if (kind === 'joint') return svg`<path class="joint" aria-hidden="true" transform=${place} d="M0 -8V8M-2 -8H2M-2 8H2"/>`;
    if (kind === 'end') return svg`<path class="buffer" aria-hidden="true" transform=${place} d="M1 -7V7M1 -7H-4M1 7H-4M5 -7V7"/>`;
    return svg`<g class="cut" aria-hidden="true">
      <g transform=${place}><path d="M2 -13Q7 -6 2 0T2 13"/><path d="M6 -13Q11 -6 6 0T6 13"/></g>
      <text transform=${`translate(${round(words.x)} ${round(words.y)}) rotate(${words.turned})`}>to ${onward}</text></g>`;
  }

  // Devices

  #device(kind, place, facts, more, draw) {
    const {id} = place;
    const key = `${kind}:${id}`;
    const {chosen, entrance, exits} = this.marked;
    const classes = ['device', key === chosen && 'chosen', key === entrance && 'entrance', exits.has(key) && 'exit'].filter(Boolean).join(' ');
    const focusable = key === this.focused ? '0' : '-1';
    const still = this.#still;
    return guard([place, facts, classes, focusable, ...more], () => still
      ? svg`<g class=${classes} role="img" aria-label=${described(this.#plan, this.#live, kind, id)}>${draw()}</g>`
      : svg`<g class=${classes} role="button" tabindex=${focusable} data-kind=${kind} data-id=${id}
          aria-label=${described(this.#plan, this.#live, kind, id)}>${draw()}</g>`);
  }

  #district(district) {
    const {id, track} = district;
    const {is} = this.#live.of('district', id);
    return guard([district, is], () => is === 'restored' ? nothing
      : svg`<path class=${`district ${is === 'tripped' ? 'tripped' : 'unknown'}`} role="img" aria-label=${described(this.#plan, this.#live, 'district', id)} d=${track}/>`);
  }

  #section(place) {
    const {id, track, pieces, middle, switches} = place;
    const facts = this.#live.of('section', id);
    const lies = switches.map(turnout => this.#live.of('switch', turnout));
    const protections = this.#protecting('section', id);
    return this.#device('section', place, facts, [...lies, protections], () => {
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

  // Whose the track is on either side, and which side is the reader's own.
  #boundary({x, y, up, left, right}) {
    const words = id => id === undefined ? nothing : `${this.#plan.nameOf('territory', id)}${id === me.territory ? ' (yours)' : ''}`;
    const side = (id, turned, along) => svg`<text class=${id !== undefined && id === me.territory ? `own ${turned}` : turned} x=${along} y=${up + 3.5}>${words(id)}</text>`;
    return svg`<g class="boundary" aria-hidden="true" transform=${`translate(${x} ${y})`}>
      <path d=${`M0 ${up < 0 ? up - 8 : -18}V${up < 0 ? 18 : up + 8}`}/>${side(left, 'west', -6)}${side(right, 'east', 6)}</g>`;
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
    const throws = Object.entries(candidate?.switches ?? {}).filter(([id, position]) => this.#live.of('switch', id).is !== position)
      .map(([id]) => id).join();
    return guard([sheet, candidate, throws], () => {
      if (!candidate) return nothing;
      const drawn = new Set(sheet.sections.map(({id}) => id));
      const way = this.#plan.way(candidate.from, candidate.to, candidate.path, candidate.switches)
        .filter(({section}) => drawn.has(section)).map(step => this.#stretch(step));
      const barred = candidate.can ? '' : ' barred';
      return svg`<path class="candidate" aria-hidden="true" d=${beside(way, -9.5, 20)}/>
        <path class=${`candidate rule${barred}`} aria-hidden="true" d=${beside(way, 9.5, 1000)}/>
        ${barred && way.length ? this.#barAcross(way[0]) : nothing}
        ${sheet.switches.filter(({id}) => throws.split(',').includes(id)).map(({x, y, onward}) =>
          svg`<g aria-hidden="true" transform=${`translate(${x + onward * 9} ${y})`}>${glyph.toBeThrown()}</g>`)}`;
    });
  }

  #barAcross(stretch) {
    const {x, y, angle} = middleOf(stretch);
    return svg`<g aria-hidden="true" transform=${`translate(${round(x)} ${round(y)}) rotate(${round(angle)})`}>${glyph.noWay()}</g>`;
  }

  #switch(place) {
    const {id, x, y, onward, badge, label} = place;
    const facts = this.#live.of('switch', id);
    const lock = this.#live.of('lock', id);
    const protections = this.#protecting('switch', id);
    const {control} = this.#plan.switches[id];
    return this.#device('switch', place, facts, [lock, lock.is === 'releasing' && secondsLeft(this.#live, lock.until), protections, this.scale], () => {
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
    const protections = this.#protecting('signal', id);
    const left = facts.cancelling && facts.until ? secondsLeft(this.#live, facts.until) : undefined;
    return this.#device('signal', place, facts, [left, protections, this.scale], () => {
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

  #opening(place) {
    const {id, x, y, angle} = place;
    const facts = this.#live.of('opening', id);
    return this.#device('opening', place, facts, [], () => svg`
      <rect class="outline" x=${x - 25} y=${y - 22} width="50" height="44" rx="3"/><rect class="hit" x=${x - 24} y=${y - 13} width="48" height="38"/>
      <g transform=${`translate(${x} ${y}) rotate(${round(angle)})`}>${glyph.jaws(facts.is ?? 'unknown', facts.bolt)}</g>`);
  }

  #crossing(place) {
    const {id, x, y, angle} = place;
    const facts = this.#live.of('crossing', id);
    return this.#device('crossing', place, facts, [], () => svg`
      <rect class="outline" x=${x - 13} y=${y - 27} width="26" height="54" rx="3"/><rect class="hit" x=${x - 13} y=${y - 27} width="26" height="54"/>
      <g transform=${`translate(${x} ${y}) rotate(${round(angle)})`}>${glyph.road(facts.is)}</g>`);
  }

  #spot(place) {
    const {id, x, y, joint} = place;
    const facts = this.#live.of('spot', id);
    const passed = facts.passed !== undefined && this.#live.now() - facts.passed < JUST_NOW_MS;
    return this.#device('spot', place, facts, [passed], () => svg`
      <rect class="outline" x=${x - 13} y=${y - 12} width="26" height="24" rx="3"/><rect class="hit" x=${x - 13} y=${y - 12} width="26" height="24"/>
      <path class="lead" d=${`M${joint.x} ${joint.y + Math.sign(y - joint.y) * 5}V${y - Math.sign(y - joint.y) * 5}`}/>
      <g transform=${`translate(${x} ${y})`}>${glyph.eye(passed)}</g>`);
  }

  #line(place) {
    const {id, x, y} = place;
    const facts = this.#live.of('traffic', id);
    return this.#device('traffic', place, facts, [], () => svg`
      <rect class="outline" x=${x - 76} y=${y - 12} width="152" height="24" rx="3"/><rect class="hit" x=${x - 76} y=${y - 12} width="152" height="24"/>
      <g transform=${`translate(${x} ${y})`}>${glyph.trafficArrow(facts.is)}</g>`);
  }

  #routeEnd({joint, x, y, name}) {
    const key = `joint:${joint}`;
    const {exits, chosen} = this.marked;
    const classes = `device joint-end${exits.has(key) ? ' exit' : ''}${key === chosen ? ' chosen' : ''}`;
    const focusable = key === this.focused ? '0' : '-1';
    if (this.#still) return nothing;
    return guard([joint, x, y, classes, focusable], () => svg`<g class=${classes} role="button" tabindex=${focusable} data-kind="joint" data-id=${joint} aria-label=${name}>
      <rect class="outline" x=${x - 13} y=${y - 13} width="26" height="26" rx="3"/><rect class="hit" x=${x - 13} y=${y - 13} width="26" height="26"/></g>`);
  }

  // Flags and brackets stand over the track, in the hand of whoever put them there.
  #over(section) {
    const {id, flag} = section;
    const {train} = this.#live.of('section', id);
    const protections = this.#protecting('section', id);
    const lost = this.#lostOn(id);
    return guard([section, train, lost, protections], () => {
      const name = train ?? (lost ? `${lost}?` : undefined);
      return svg`<g class="over" aria-hidden="true">
        ${protections.map(protection => this.#written(protection, section, name))}
        ${name ? svg`<g transform=${`translate(${round(flag.x)} ${round(flag.y)})`}>${glyph.trainFlag(name, {lost: !train, rise: flag.rise})}</g>` : nothing}</g>`;
    });
  }

  #written({by, holder}, {longest, middle, flag, switches}, train) {
    const at = ({x, y}, drawn) => svg`<g transform=${`translate(${round(x)} ${round(y)})`}>${drawn}</g>`;
    if (by === 'flag') return at(middleOf(longest, 0.4), glyph.pennant(holder));
    if (by !== 'permit') return at(middleOf(longest, 0.66), glyph.crossedBar(holder));
    const half = Math.min(70, middle.length / 2 - SIGNAL_ROOM);
    const raised = !train && (switches.length || half < BRACKET_LEAST) ? -18 : 0;
    const aside = train ? flag.x - middle.x + glyph.flagWidth(train) / 2 + 8 : undefined;
    return at({x: middle.x, y: middle.y + raised}, glyph.bracket(Math.max(BRACKET_LEAST, half), holder, aside));
  }

  // What protects people on a device; the same array until some protection changes, so that guard can compare it.
  #protecting(kind, id) {
    const all = this.#live.kind('protection');
    if (all !== this.#protections) {
      this.#protections = all;
      this.#protected.clear();
    }
    const key = `${kind}:${id}`;
    if (!this.#protected.has(key)) this.#protected.set(key, protectionsOf(this.#live, kind, id));
    return this.#protected.get(key);
  }

  #lostOn(section) {
    return this.#live.all('train').filter(([, {lost, on}]) => lost && on?.includes(section)).map(([name]) => name).join(', ');
  }

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
}

/** Where the marks of an unknown section stand: along its longer pieces. */
function queries(pieces) {
  const long = pieces.filter(piece => middleOf(piece).length > 60);
  return (long.length ? long : pieces.slice(0, 1)).flatMap(piece =>
    middleOf(piece).length > 150 ? [middleOf(piece, 0.3), middleOf(piece, 0.7)] : [middleOf(piece)]);
}
