// Why is it so? Each reason leads on to the next question; the chart shows what an answer is about.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {Chart} from './chart.js';
import {why} from './tell.js';
import {askable, routesNamed} from './mentions.js';

export class WhySheet {
  #page;
  #chart;
  #path = [];      // the questions that led here, this one last
  #told;

  constructor(page) {
    this.#page = page;
  }

  async open(name) {
    if (!name) return;
    const known = this.#path.indexOf(name);
    this.#path = known < 0 ? [...this.#path, name] : this.#path.slice(0, known + 1);
    this.#told = await why(name);
    this.#page.say(this.#told.text);
  }

  draw() {
    const {plan} = this.#page;
    const ask = event => {
      event.preventDefault();
      const typed = new FormData(event.target).get('name').trim();
      const found = askable(plan).find(({id, name}) => id === typed || name.toLowerCase() === typed.toLowerCase());
      this.#path = [];
      location.hash = `why=${found?.id ?? typed}`;
    };
    return html`<form class="finder" @submit=${ask}><label>Why is it as it is? <input name="name" list="askable" required placeholder="t2e, or Tilling 2E"></label><button class="chief">Ask</button>
        <datalist id="askable">${askable(plan).map(({id, name}) => html`<option value=${id}>${name}</option>`)}</datalist></form>
      ${this.#path.length > 1 ? html`<nav class="path" aria-label="Questions before">${this.#path.slice(0, -1).map(name => html`<a href=${`#why=${name}`}>${name}</a> ← `)}<b>${this.#path.at(-1)}</b></nav>` : nothing}
      ${this.#told ? html`<div class="because tree" role="group" aria-label="The answer">${this.#told.tree ? html`<ul>${this.#branch(this.#told.tree, 0)}</ul>` : html`<p class="told">${this.#told.text}</p>`}</div>` : nothing}
      <p class="soft">Or point at anything on the chart.</p>
      <div class="plate-frame"><div class="why-chart"></div></div>`;
  }

  #branch({clause, because = [], marks = []}, depth) {
    const asked = this.#path.at(-1);
    const onward = [...marks, ...routesNamed(this.#page.plan, clause)].filter(({id}) => id !== asked);
    const leads = onward.map(({id, kind}) => html` <a class="onward" href=${`#why=${id}`} aria-label=${`Why is ${this.#page.plan.nameOf(kind, id)} so?`}>why ${id}?</a>`);
    return html`<li>${because.length
      ? html`<details ?open=${depth < 3}><summary>${clause}</summary>${leads}<ul>${because.map(reason => this.#branch(reason, depth + 1))}</ul></details>`
      : html`<span class="fact">${clause}</span>${leads}`}</li>`;
  }

  drawn() {
    const element = document.querySelector('.why-chart');
    if (!element) return;
    if (this.#chart?.element !== element) {
      const chart = new Chart(element, this.#page.plan, this.#page.live, {
        deep: () => innerHeight * 0.6, onPoint: (kind, id) => this.#ask(kind, id), onOpen: (kind, id) => this.#ask(kind, id),
      });
      this.#chart = {element, chart};
    }
    this.#chart.chart.mark({marks: this.#told?.marks ?? []});
  }

  #ask(kind, id) {
    if (kind === 'joint') return;
    this.#path = [];
    location.hash = `why=${id}`;
  }
}
