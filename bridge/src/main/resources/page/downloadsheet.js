// What can be taken away as files.

import {html, nothing} from '/lib/lit-html/lit-html.js';
import {diary, rules} from './tell.js';

export class DownloadSheet {
  #page;
  #wrong = '';

  constructor(page) {
    this.#page = page;
  }

  draw() {
    const {plan, live, owner} = this.#page;
    const name = plan.name.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-');
    return html`<ul class="files">
      <li><a href="/api/plan" download=${`${name}-plan.json`}>The plan</a> track, devices and routes, as JSON</li>
      <li><button class="plain" @click=${() => save(`${name}-state-${stamp()}.json`, JSON.stringify(this.#state(), null, 1))} ?disabled=${!live.alive}>The state</button> of every device at this moment, as JSON</li>
      <li><button class="plain" @click=${() => this.#take(diary(0), told => told.trains && save(`${name}-diary-${stamp()}.json`, JSON.stringify(told, null, 1)))}>The diary</button> trains, protections, outages and occupied sections since the start, as JSON</li>
      <li><button class="plain" ?disabled=${!owner} @click=${() => this.#take(rules(), told => told.lines && save(told.file.split('/').at(-1), told.lines.join('\n') + '\n', 'application/yaml'))}>The rules</button> the rule file as it runs${owner ? '' : '; for the owner'}</li>
      <li><a href="/api/openapi.json" download="tappet-openapi.json">The interface</a> what programs may ask of the daemon, as OpenAPI</li>
    </ul>${this.#wrong ? html`<p class="wrong" role="alert">${this.#wrong}</p>` : nothing}`;
  }

  #state() {
    const {live} = this.#page;
    const kinds = ['section', 'switch', 'signal', 'lock', 'traffic', 'opening', 'crossing', 'district', 'lamp', 'spot', 'board', 'connection', 'protection', 'train', 'alarm', 'clock', 'ask', 'daemon'];
    return {at: live.now(), state: Object.fromEntries(kinds.map(kind => [kind, Object.fromEntries(live.all(kind))]))};
  }

  async #take(coming, keep) {
    const told = await coming;
    this.#wrong = keep(told) ? '' : told.text;
    this.#page.draw();
  }
}

const stamp = () => new Date().toISOString().slice(0, 16).replaceAll(/[-:]/g, '');

function save(name, text, type = 'application/json') {
  const address = URL.createObjectURL(new Blob([text], {type}));
  Object.assign(document.createElement('a'), {href: address, download: name}).click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
  return true;
}
