// The rule file as it runs, with the proof's verdict beside each row.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {rules} from './tell.js';

const SIGNS = {proven: '✓', disproven: '✗', 'not proven': '?'};

export class RuleSheet {
  needsOwner = true;
  #page;
  #told = {};
  #marked = false;

  constructor(page) {
    this.#page = page;
  }

  async open() {
    if (this.#page.owner) this.#told = await rules();
  }

  draw() {
    const {file, verdict, words, lines, marks = {}, text} = this.#told;
    if (!lines) return html`<p class="empty">${text ?? 'asking…'}</p>`;
    const wrong = this.#linesByWords(marks);
    return html`<div class=${`verdict ${verdict === 'proven' ? 'proven' : 'not'}`}><b>${SIGNS[verdict] ?? '?'} ${verdict}</b><p>${words}</p></div>
      ${wrong.length ? html`<h3>${verdict === 'disproven' ? 'What is not so' : 'What is not proven'}</h3>
        <ul class="wrongs">${wrong.map(([said, at]) => html`<li>${said}: ${at.map(line => html`<a href="#rules" @click=${event => this.#show(event, line)}>line ${line}</a> `)}</li>`)}</ul>
        <p><button aria-pressed=${this.#marked} @click=${() => { this.#marked = !this.#marked; this.#page.draw(); }}>Only the rows that are marked</button></p>` : nothing}
      <h3>${file}</h3>
      <div class="scroll" tabindex="0" role="group" aria-label=${`The lines of ${file}`}><table class="rules"><tbody>${lines.map((line, index) => this.#line(line, index + 1, marks[index + 1], verdict))}</tbody></table></div>`;
  }

  #linesByWords(marks) {
    const lines = new Map();
    for (const [line, words] of Object.entries(marks)) for (const said of words) lines.set(said, [...lines.get(said) ?? [], line]);
    return [...lines];
  }

  // What is not so is said beside the rows it is about. Of a file that is not proven no row is said to be.
  #line(line, number, mark, whole) {
    if (this.#marked && !mark) return nothing;
    const proven = whole === 'proven' && /^\s*-\s*\{/.test(line);
    const verdict = mark ? whole : proven ? 'proven' : undefined;
    return html`<tr id=${`line-${number}`} tabindex=${mark ? '-1' : nothing} class=${mark ? 'not' : proven ? 'proven' : ''}>
      <td class="number">${number}</td>
      <td class="sign">${verdict ? html`<span role="img" aria-label=${verdict}>${SIGNS[verdict] ?? '?'}</span>` : nothing}</td>
      <td><code>${line}</code>${mark ? html`<p>${whole === 'disproven' ? 'not so' : 'not proven'}: ${mark.join('; ')}</p>` : nothing}</td></tr>`;
  }

  #show(event, line) {
    event.preventDefault();
    const row = document.querySelector(`#line-${line}`);
    row?.scrollIntoView({block: 'center'});
    row?.focus({preventScroll: true});
  }
}
