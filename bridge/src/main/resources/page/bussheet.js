// The nodes on the bus, and the ways to it.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {repeat} from '/lib/lit-html/directives/repeat.js';
import {nodes} from './tell.js';
import {since} from './words.js';

export class BusSheet {
  freshMs = 5000;
  needsOwner = true;
  #page;
  #told = {};

  constructor(page) {
    this.#page = page;
  }

  async freshen() {
    if (this.#page.owner) this.#told = await nodes();
  }

  draw() {
    const {nodes: all, connections, text} = this.#told;
    if (!all) return html`<p class="empty">${text ?? 'asking…'}</p>`;
    const {live} = this.#page;
    return html`
      <h3>Connections</h3>
      <ul class="ways">${connections.map(({name, up}) => html`<li class=${up ? '' : 'bad'}><b>${up ? '● up' : '✗ down'}</b> ${name}</li>`)}</ul>
      <h3>Nodes, ${all.length}</h3>
      <div class="scroll" tabindex="0" role="group" aria-label="Table of nodes"><table>
        <thead><tr><th scope="col">Node</th><th scope="col">Name</th><th scope="col">Alias</th><th scope="col">How it is</th><th scope="col" class="number">Frames</th><th scope="col" class="number">Events</th></tr></thead>
        <tbody>${repeat(all, ({alias}) => alias, ({node, name, alias, heard, silent, frames, events}) => html`
          <tr class=${silent ? 'bad' : ''}><th scope="row"><code>${node ?? 'not said'}</code></th><td>${name ?? ''}</td><td><code>${alias}</code></td>
            <td>${silent ? html`<b>✗ silent</b>, last heard ${heard ? since(heard) : 'never'}` : html`● heard ${heard ? seconds(live.now() - heard) : ''}`}</td>
            <td class="number">${frames}</td><td class="number">${events}</td></tr>`)}</tbody></table></div>
      ${all.length ? nothing : html`<p class="empty">no node has been heard yet</p>`}`;
  }
}

const seconds = ms => ms < 2000 ? 'just now' : ms < 120_000 ? `${Math.round(ms / 1000)} s ago` : `${Math.round(ms / 60_000)} min ago`;
