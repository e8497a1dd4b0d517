// The key to the chart, in a dialog of its own.
// In: a dialog element, and whether the page can be worked by keys. Out: the dialog, open.

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {key} from './glyphs.js';

const KEYS = [
  ['← →', 'device by device along the line'], ['↑ ↓', 'the nearest above or below'],
  ['Space', 'points at it: entrance, exit, and the exit once more to line it'],
  ['Enter', 'its commands, or asks for what is offered'], ['Delete', 'cancels what is lined from a signal'],
  ['Escape', 'one step back'], ['/', 'the order line'], ['?', 'this key'],
];

const SINGLE = 'tappet-single-keys';

/** Whether / and ? work anywhere on the page; who dictates turns them off (WCAG 2.2, 2.1.4). */
export const singleKeys = () => localStorage.getItem(SINGLE) !== 'off';

export function openKey(dialog, withKeys) {
  render(html`<div class="key-head"><h2 id="key-title">Key to this chart</h2><button @click=${() => dialog.close()}>Close</button></div>
    <ul class="key">${key().map(([sign, words]) => html`<li>${sign}<span>${words}</span></li>`)}</ul>
    ${withKeys ? html`<dl class="keys">${KEYS.map(([pressed, does]) => html`<dt>${pressed}</dt><dd>${does}</dd>`)}</dl>
      <label><input type="checkbox" .checked=${singleKeys()} @change=${event => localStorage.setItem(SINGLE, event.target.checked ? 'on' : 'off')}> / and ? work anywhere on the page</label>` : nothing}`, dialog);
  dialog.showModal();
}
