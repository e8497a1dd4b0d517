// What is called out on the wall: trains that come to a place, spots that are passed, new alarms.
// In: a Plan, a Live. Out: lines {at, words} as things change; the state at the start is no news.

const KEPT = 12;

export class Announcer extends EventTarget {
  #plan;
  #live;
  #before;

  lines = [];

  constructor(plan, live) {
    super();
    this.#plan = plan;
    this.#live = live;
  }

  /** To be called whenever something may have changed. Dispatches 'said' (detail: the words). */
  follow() {
    if (!this.#live.alive) {
      this.#before = undefined;      // what happened meanwhile is not known
      return;
    }
    const now = {trains: this.#trains(), spots: this.#spots(), alarms: new Set(this.#live.all('alarm').map(([words]) => words))};
    const before = this.#before;
    this.#before = now;
    if (!before) return;
    for (const [spot, passed] of now.spots) if (before.spots.get(spot) !== passed) this.#say(this.#atSpot(spot));
    for (const [train, place] of now.trains) this.#moved(train, place, before.trains.get(train));
    for (const words of now.alarms) if (!before.alarms.has(words)) this.#say(`Alarm: ${words.split(';')[0]}`);
  }

  #trains() {
    return new Map(this.#live.all('train').filter(([, {lost, on}]) => !lost && on?.length).map(([train, {on}]) => [train, on.map(section => this.#plan.placeOf(section))]));
  }

  #spots() {
    return new Map(this.#live.all('spot').filter(([, {passed}]) => passed !== undefined).map(([id, {passed}]) => [id, passed]));
  }

  // A train of some length is at two places for a while; it comes to the new one once.
  #moved(train, places, before) {
    if (!before) return this.#say(`${train} is at ${places[0]}`);
    const come = places.find(place => !before.includes(place));
    if (come) this.#say(`${train} arrives at ${come}`);
  }

  #atSpot(spot) {
    const sections = [...this.#plan.sectionsAt(this.#plan.spots[spot].at)];
    const train = sections.map(section => this.#live.of('section', section).train).find(Boolean);
    return `${train ?? 'A train'} passes ${this.#plan.nameOf('spot', spot)}`;
  }

  #say(words) {
    if (this.lines[0]?.words === words && this.#live.now() - this.lines[0].at < 5000) return;
    this.lines = [{at: this.#live.now(), words}, ...this.lines].slice(0, KEPT);
    this.dispatchEvent(new CustomEvent('said', {detail: words}));
  }
}

/** Says things aloud with the browser's own voice, one after the other. Out: whether it is allowed to. */
export class Voice {
  #waiting = 0;
  muted = false;

  get words() {
    if (!('speechSynthesis' in window)) return 'this browser has no voice';
    return this.muted ? 'touch the screen once to let it speak' : '';
  }

  say(words) {
    if (!('speechSynthesis' in window) || this.#waiting > 3) return;
    const spoken = new SpeechSynthesisUtterance(words);
    spoken.lang = document.documentElement.lang;
    this.#waiting++;
    const over = () => { this.#waiting--; };
    spoken.onstart = () => { this.muted = false; };
    spoken.onend = over;
    spoken.onerror = ({error}) => {
      over();
      if (error === 'not-allowed') this.muted = true;
    };
    speechSynthesis.speak(spoken);
  }
}
