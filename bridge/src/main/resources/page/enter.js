// Who asks for a role says so here: role, name, PIN, territory.
// In: a dialog element, a Plan, what to do once somebody has entered, and which roles, under which title. Out: open().

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {enter} from './tell.js';

export class Entrance {
  #dialog;
  #plan;
  #entered;
  #wrong = '';
  #roles;
  #title;
  #named;

  constructor(dialog, plan, entered, {roles = ['dispatcher', 'owner'], title = 'Take the desk', named = 'Name'} = {}) {
    this.#dialog = dialog;
    this.#plan = plan;
    this.#entered = entered;
    this.#roles = roles;
    this.#title = title;
    this.#named = named;
  }

  open() {
    this.#wrong = '';
    this.#draw();
    this.#dialog.showModal();
    this.#dialog.querySelector('[name=pin]').value = '';
  }

  async #submit(event) {
    event.preventDefault();
    const fields = Object.fromEntries(new FormData(event.target));
    if (!fields.territory) delete fields.territory;
    const answer = await enter(fields);
    this.#dialog.querySelector('[name=pin]').value = '';
    if (answer.role && answer.role !== 'viewer') {
      this.#dialog.close();
      this.#entered(answer);
    } else {
      this.#wrong = answer.text ?? 'the daemon did not say why';
      this.#draw();
      this.#dialog.querySelector('[name=pin]').focus();
    }
  }

  #draw() {
    const territories = this.#roles.includes('dispatcher') ? Object.entries(this.#plan.territories) : [];
    render(html`
      <h2 id="enter-title">${this.#title}</h2>
      <form @submit=${event => this.#submit(event)}>
        ${this.#roles.length > 1 ? html`<label>Role <select name="role">${this.#roles.map(role => html`<option>${role}</option>`)}</select></label>`
          : html`<input type="hidden" name="role" value=${this.#roles[0]}>`}
        <label>${this.#named} <input name="name" required maxlength="40" autocomplete="name"></label>
        <label>PIN <input name="pin" type="password" inputmode="numeric" required maxlength="32" autocomplete="current-password" aria-describedby="enter-wrong"></label>
        ${territories.length ? html`<label>Territory <select name="territory">
          <option value="">the whole railroad</option>
          ${territories.map(([id, {name}]) => html`<option value=${id}>${name ?? id}</option>`)}</select></label>` : nothing}
        <p class="wrong" id="enter-wrong" role="alert">${this.#wrong}</p>
        <div class="row"><button type="button" @click=${() => this.#dialog.close()}>Leave it</button><button class="chief">Enter</button></div>
      </form>`, this.#dialog);
  }
}
