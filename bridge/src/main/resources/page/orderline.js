// The order line: any sentence, with its completion.
// In: a form element and the desk. Out: sentences told.

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {live as current} from '/lib/lit-html/directives/live.js';
import {completions} from './sentence.js';

export class OrderLine {
  #form;
  #desk;
  #typed = '';
  #choices = [];
  #picked = -1;
  #told = [];
  #recalled = 0;

  constructor(form, desk) {
    this.#form = form;
    this.#desk = desk;
    form.addEventListener('submit', event => this.#submit(event));
    form.addEventListener('focusout', event => form.contains(event.relatedTarget) || this.#choose([]));
  }

  focus() {
    this.#form.querySelector('input').focus();
  }

  draw() {
    const open = this.#choices.length > 0;
    render(html`
      <input type="text" role="combobox" aria-label="Order, as a sentence" aria-expanded=${open} aria-controls="completions"
        aria-autocomplete="list" aria-activedescendant=${this.#picked >= 0 ? `completion-${this.#picked}` : nothing}
        placeholder="line t2e to t6e" maxlength="400" spellcheck="false" autocapitalize="off"
        .value=${current(this.#typed)} ?disabled=${!this.#desk.commands}
        @input=${event => this.#type(event.target.value)} @keydown=${event => this.#press(event)}>
      <button ?disabled=${!this.#desk.commands}>Tell</button>
      <ul class="completions" id="completions" role="listbox" aria-label="Completions" ?hidden=${!open}>
        ${this.#choices.map((choice, index) => html`<li role="option" id=${`completion-${index}`} aria-selected=${index === this.#picked}
          @pointerdown=${event => { event.preventDefault(); this.#take(choice); }}>${choice}</li>`)}
      </ul>`, this.#form);
  }

  #type(text) {
    this.#typed = text;
    this.#choose(text ? completions(text, this.#desk.plan, this.#desk.live) : []);
  }

  #choose(choices) {
    this.#choices = choices;
    this.#picked = -1;
    this.draw();
  }

  #take(choice) {
    this.#type(choice);
    this.focus();
  }

  // Tab completes only where something has been picked or only one thing is meant: it must stay a way out.
  #press(event) {
    const open = this.#choices.length > 0;
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      if (open) this.#pick(event.key === 'ArrowDown' ? 1 : -1);
      else this.#recall(event.key === 'ArrowUp' ? -1 : 1);
    } else if (event.key === 'Escape' && open) this.#choose([]);
    else if (event.key === 'Enter' && this.#picked >= 0) this.#take(this.#choices[this.#picked]);
    else if (event.key === 'Tab' && !event.shiftKey && open && (this.#picked >= 0 || this.#choices.length === 1)) {
      this.#take(this.#choices[Math.max(0, this.#picked)]);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #pick(way) {
    const count = this.#choices.length;
    this.#picked = (this.#picked + way + count) % count;
    this.draw();
    this.#form.querySelector(`#completion-${this.#picked}`)?.scrollIntoView({block: 'nearest'});
  }

  #recall(way) {
    this.#recalled = Math.min(this.#told.length, Math.max(0, this.#recalled + way));
    this.#typed = this.#told[this.#recalled] ?? '';
    this.draw();
  }

  async #submit(event) {
    event.preventDefault();
    const sentence = this.#typed.trim();
    if (!sentence) return;
    this.#told.push(sentence);
    this.#recalled = this.#told.length;
    this.#typed = '';
    this.#choose([]);
    const answer = await this.#desk.tell(sentence);
    if (answer.answer === 'not understood') {
      this.#typed = sentence;
      this.draw();
    }
  }
}
