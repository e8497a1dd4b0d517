// What this crew has asked of the dispatcher, and what has become of it.
// In: a Live, and asks as they are made. Out: each ask with its standing: waits, granted, refused.

import {quoted} from './sentence.js';

const SETTLING_MS = 2500;      // what was granted may be seen a moment after the ask is gone
const SHOWN_MS = 5 * 60_000;
const KEY = 'tappet-asks';

/** What crews ask for: words for people, the sentence the dispatcher would say, how to see that it was done. */
export const permit = (who, sections, reason, plan) => ({
  words: `permit on ${sections.map(id => plan.nameOf('section', id)).join(', ')}`,
  sentence: `grant permit to ${quoted(who)} on ${sections.map(quoted).join(', ')}${reason ? ` because ${quoted(unquoted(reason))}` : ''}`,
  sign: {permit: sections, who},
});

export const release = (who, lock, plan) => ({
  words: `release of ${plan.nameOf('switch', lock)}`, sentence: `release ${quoted(lock)} to ${quoted(who)}`, sign: {lock, who},
});

export const thrown = (toe, position, plan) => ({
  words: `${plan.nameOf('switch', toe)} ${position}`, sentence: `throw ${quoted(toe)} ${position}`, sign: {toe, position},
});

export const lined = (id, {from, to}, words) => ({words, sentence: `line ${quoted(from)} to ${quoted(to)}`, sign: {signal: from, route: id}});

export const bolt = (opening, verb, plan) => ({
  words: `${verb} ${plan.nameOf('opening', opening)}`, sentence: `${verb} ${quoted(opening)}`, sign: {opening, bolt: `${verb}ed`},
});

const unquoted = text => text.replaceAll(/['"]/g, '');

export class Asks {
  #live;
  #made = JSON.parse(sessionStorage.getItem(KEY) ?? '[]');

  constructor(live) {
    this.#live = live;
  }

  /** The sentence by which this crew asks. */
  static sentence(ask, who) {
    return `ask for "${ask.sentence}" by ${quoted(who)}`;
  }

  /** It has been asked. */
  made(ask, who) {
    this.#made = [{...ask, by: who, at: this.#live.now()}, ...this.#made.filter(({words}) => words !== ask.words)];
    this.#keep();
  }

  /** It is no longer to be shown. */
  forget(sentence) {
    this.#made = this.#made.filter(ask => ask.sentence !== sentence);
    this.#keep();
  }

  /** All of a crew, the newest first: those made here, and those made on another of its phones. */
  of(who) {
    const open = new Map(this.#live.all('ask').filter(([, ask]) => ask.who === who).map(([id, ask]) => [ask.sentence, {id, ...ask}]));
    const made = this.#made.filter(({by}) => by === who).map(ask => this.#follow(ask, open.get(ask.sentence)));
    const elsewhere = [...open.values()].filter(({sentence}) => !made.some(ask => ask.sentence === sentence))
      .map(({id, sentence, since}) => ({id, sentence, words: sentence, at: since, standing: 'waits'}));
    return [...made, ...elsewhere]
      .filter(({standing, gone}) => standing === 'waits' || (standing !== 'over' && this.#live.now() - gone < SHOWN_MS));
  }

  #follow(ask, open) {
    if (open) {
      ask.seen = true;
      delete ask.gone;
      return {...ask, id: open.id, standing: 'waits'};
    }
    const before = ask.standing ?? 'waits';
    if (!this.#live.alive || (!ask.seen && this.#live.now() - ask.at < SETTLING_MS)) return {...ask, standing: before};
    ask.gone ??= this.#live.now();
    ask.standing = this.#standing(ask);
    this.#keep();
    return {...ask};
  }

  // What was granted and is given back is over.
  #standing(ask) {
    if (this.#isDone(ask)) return 'granted';
    if (ask.standing === 'granted' || ask.standing === 'over') return 'over';
    return this.#live.now() - ask.gone < SETTLING_MS ? 'waits' : 'refused';
  }

  #isDone({sign}) {
    const live = this.#live;
    if (sign.permit) {
      return live.all('protection').some(([, {by, holder, on}]) =>
        by === 'permit' && holder === sign.who && sign.permit.every(section => on.includes(section)));
    }
    if (sign.lock) {
      const {is, holder} = live.of('lock', sign.lock);
      return holder === sign.who && (is === 'released' || is === 'releasing');
    }
    if (sign.toe) return live.of('switch', sign.toe).called === sign.position || live.of('switch', sign.toe).is === sign.position;
    if (sign.opening) return live.of('opening', sign.opening).bolt === sign.bolt;
    return live.of('signal', sign.signal).route === sign.route;
  }

  #keep() {
    sessionStorage.setItem(KEY, JSON.stringify(this.#made.slice(0, 20)));
  }
}
