// How far along the line everything lies.
// In: a Plan. Out: the metres of each joint from the west end, and the stretch of each section.

export class Distances {
  #plan;
  #metres = new Map();

  constructor(plan) {
    this.#plan = plan;
    const joints = Object.keys(plan.joints).filter(joint => plan.piecesAt(joint).length)
      .sort((one, other) => plan.joints[one][0] - plan.joints[other][0]);
    for (const joint of joints) if (!this.#metres.has(joint)) this.#measureFrom(joint);
    const west = Math.min(...this.#metres.values());
    for (const [joint, metres] of this.#metres) this.#metres.set(joint, metres - west);
  }

  get total() {
    return Math.max(0, ...this.#metres.values());
  }

  of(joint) {
    return this.#metres.get(joint) ?? 0;
  }

  /** {from, to, middle} of a section, in metres. */
  stretch(section) {
    const all = this.#plan.piecesOf(section).flatMap(({a, b}) => [this.of(a), this.of(b)]);
    const [from, to] = [Math.min(...all), Math.max(...all)];
    return {from, to, middle: (from + to) / 2};
  }

  /** Where two sections meet; undefined where they do not. */
  between(one, other) {
    const joints = this.#plan.piecesOf(one).flatMap(({a, b}) => [a, b]);
    const shared = joints.find(joint => this.#plan.sectionsAt(joint).has(other));
    return shared && this.of(shared);
  }

  // Outward from a joint, the nearest first; eastward is more, westward is less, so that tracks side by side are
  // level with each other. Track without a way to the rest begins where it is drawn.
  #measureFrom(start) {
    const open = new Map([[start, {far: 0, metres: this.#asDrawn(start)}]]);
    while (open.size) {
      const [joint, {far, metres}] = [...open].reduce((nearest, next) => next[1].far < nearest[1].far ? next : nearest);
      open.delete(joint);
      this.#metres.set(joint, metres);
      for (const piece of this.#plan.piecesAt(joint)) {
        const next = piece.a === joint ? piece.b : piece.a;
        const length = this.#length(piece);
        if (this.#metres.has(next) || far + length >= (open.get(next)?.far ?? Infinity)) continue;
        const way = Math.sign(this.#plan.joints[next][0] - this.#plan.joints[joint][0]);
        open.set(next, {far: far + length, metres: metres + way * length});
      }
    }
  }

  #asDrawn(start) {
    const across = this.#plan.joints[start][0];
    const before = [...this.#metres].filter(([joint]) => this.#plan.joints[joint][0] <= across).map(([, metres]) => metres);
    return before.length ? Math.max(...before) : 0;
  }

  // A section's length is that of the way through it; pieces have their share by how far they reach across.
  #length({section, a, b}) {
    const across = joint => this.#plan.joints[joint][0];
    const all = this.#plan.piecesOf(section).flatMap(piece => [across(piece.a), across(piece.b)]);
    const whole = Math.max(...all) - Math.min(...all);
    const {metres} = this.#plan.sections[section];
    return whole ? metres * Math.abs(across(a) - across(b)) / whole : metres;
  }
}
