// Who asks for a role says so here: role, name, PIN, territory.
// In: a dialog element, a Plan, what to do once somebody has entered. Out: open().

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {enter} from './tell.js';

export class Entrance {
  #dialog;
  #plan;
  #entered;
  #wrong = '';
  #roles;

  constructor(dialog, plan, entered, roles = ['dispatcher', 'owner']) {
    this.#dialog = dialog;
    this.#plan = plan;
    this.#entered = entered;
    this.#roles = roles;
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
    const territories = Object.entries(this.#plan.territories);
    render(html`
      <h2 id="enter-title">Take the desk</h2>
      <form @submit=${event => this.#submit(event)}>
        <label>Role <select name="role">${this.#roles.map(role => html`<option>${role}</option>`)}</select></label>
        <label>Name <input name="name" required maxlength="40" autocomplete="name"></label>
        <label>PIN <input name="pin" type="password" inputmode="numeric" required maxlength="32" autocomplete="current-password" aria-describedby="enter-wrong"></label>
        ${territories.length ? html`<label>Territory <select name="territory">
          <option value="">the whole railroad</option>
          ${territories.map(([id, {name}]) => html`<option value=${id}>${name ?? id}</option>`)}</select></label>` : nothing}
        <p class="wrong" id="enter-wrong" role="alert">${this.#wrong}</p>
        <div class="row"><button type="button" @click=${() => this.#dialog.close()}>Leave it</button><button class="chief">Enter</button></div>
      </form>`, this.#dialog);
  }
}
