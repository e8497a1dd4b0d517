// What is so now.
// In: the socket /api/live. Out: a Live, which holds the facts of every device, says when they change,
// resumes after a gap, and knows whether the daemon can still be heard.

const SILENCE_MS = 5000;   // the daemon speaks at least every 2 s
const AGAIN_MS = 1000;
const TICK_MS = 1000;
const DRAW_MS = 100;       // changes that come faster are drawn together
const NEWS_MAX = 40;

export class Live extends EventTarget {
  #facts = {};
  #socket;
  #run;
  #seq = 0;
  #heard = 0;
  #offset = 0;
  #drawn = 0;
  #drawing;
  #ticked = Date.now();
  #connecting;

  alive = false;
  news = [];

  /** Dispatches 'change' (draw again), 'news' (detail: the lines) and 'restart' (another run: read the plan again). */
  start() {
    this.#connect();
    setInterval(() => this.#tick(), TICK_MS);
    document.addEventListener('visibilitychange', () => document.hidden || this.#tick());
    return this;
  }

  /** The facts of one device, or an empty object: nothing is known. The same object until they change. */
  of(kind, id) {
    return this.#facts[kind]?.[id] ?? NOTHING;
  }

  all(kind) {
    return Object.entries(this.kind(kind));
  }

  /** All of a kind by id. The same object until something of that kind changes. */
  kind(kind) {
    return this.#facts[kind] ?? NOTHING;
  }

  /** The daemon's time, in epoch milliseconds. */
  now() {
    return Date.now() + this.#offset;
  }

  #connect() {
    const url = new URL('/api/live', location.href);
    url.protocol = url.protocol === 'https:' ? 'wss:' : 'ws:';
    if (this.#run) url.search = new URLSearchParams({run: this.#run, after: this.#seq});
    const socket = new WebSocket(url);
    this.#socket = socket;
    socket.onmessage = ({data}) => socket === this.#socket && this.#hear(JSON.parse(data));
    socket.onclose = () => {
      if (socket !== this.#socket) return;
      this.#lose();
      this.#connecting = setTimeout(() => this.#connect(), AGAIN_MS);
    };
  }

  #hear(message) {
    this.#heard = performance.now();
    this.#offset = message.at - Date.now();
    if (message.state) this.#begin(message);
    else if (!this.#follow(message)) return this.#resume();
    if (!this.alive) {
      this.alive = true;
      this.#drawSoon();
    }
  }

  #begin({run, seq, state}) {
    const another = this.#run && this.#run !== run;
    this.#run = run;
    this.#seq = seq;
    this.#facts = state;
    if (another) this.dispatchEvent(new Event('restart'));
    this.#drawSoon();
  }

  // False if something was missed. A message without changes or news only says that the daemon is there.
  #follow({run, seq, changed, news}) {
    if (run !== this.#run) return false;
    if (seq <= this.#seq) return true;
    if (seq > this.#seq + 1 || !(changed || news)) return false;
    this.#seq = seq;
    if (changed) this.#take(changed);
    if (news) this.#tellNews(news);
    this.#drawSoon();
    return true;
  }

  #take(changed) {
    for (const [kind, devices] of Object.entries(changed)) {
      const facts = (this.#facts[kind] = {...this.#facts[kind]});
      for (const [id, now] of Object.entries(devices)) {
        if (now === null) delete facts[id];
        else facts[id] = now;
      }
    }
  }

  #resume() {
    clearTimeout(this.#connecting);
    this.#socket.onclose = null;
    this.#socket.close();
    this.#connect();
  }

  #tellNews(lines) {
    this.news = [...lines.toReversed(), ...this.news].slice(0, NEWS_MAX);
    this.dispatchEvent(new CustomEvent('news', {detail: lines}));
    this.#drawSoon();
  }

  // While a machine sleeps performance.now() may stand still, and what was heard last looks new: the time of day tells.
  #tick() {
    const slept = Date.now() - this.#ticked > TICK_MS + SILENCE_MS;
    this.#ticked = Date.now();
    if (!slept) return this.#listenForSilence();
    this.#lose();
    this.#resume();
  }

  #listenForSilence() {
    if (this.alive && performance.now() - this.#heard > SILENCE_MS) this.#lose();
    const open = this.#socket.readyState === WebSocket.OPEN;
    if (!this.alive && open && performance.now() - this.#heard > 2 * SILENCE_MS) {
      this.#heard = performance.now();
      this.#resume();
    }
  }

  #lose() {
    if (!this.alive) return;
    this.alive = false;
    this.#drawSoon();
  }

  #drawSoon() {
    if (this.#drawing) return;
    const wait = Math.max(0, this.#drawn + DRAW_MS - performance.now());
    this.#drawing = setTimeout(() => {
      this.#drawing = undefined;
      this.#drawn = performance.now();
      this.dispatchEvent(new Event('change'));
    }, wait);
  }
}

const NOTHING = Object.freeze({});
