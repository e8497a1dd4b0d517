// Above the chart: what is looked at, and how large the chart is drawn.
// In: the desk. Out: a template.

import {html} from '/lib/lit-html/lit-html.js';
import {nameOfEnd} from './commands.js';
import {lightWords, turnLight} from './daynight.js';
import {commands} from './tell.js';
import {described} from './words.js';

export function tools(desk) {
  const {mode, place} = desk.chart.zoom;
  const look = zoom => {
    desk.chart.zoom = zoom;
    desk.draw();
  };
  return html`<span class="words">${looking(desk)}</span>
    <button aria-pressed=${mode === 'fit'} @click=${() => look({mode: 'fit'})}>Fit</button>
    <button aria-pressed=${mode === 'line'} @click=${() => look({mode: 'line'})}>Whole line</button>
    <label><span class="unseen">Place</span><select aria-label="Look at one place" @change=${event => look(event.target.value ? {mode: 'place', place: event.target.value} : {mode: 'fit'})}>
      <option value="" .selected=${mode !== 'place'}>one place …</option>
      ${Object.entries(desk.plan.places).map(([id, {name}]) => html`<option value=${id} .selected=${place === id}>${name ?? id}</option>`)}</select></label>
    <button aria-label="Smaller" @click=${() => desk.chart.magnify(1 / 1.25)}>−</button>
    <button aria-label="Larger" @click=${() => desk.chart.magnify(1.25)}>+</button>
    <button @click=${() => desk.openKey()}>Key</button>
    <button @click=${() => { turnLight(); desk.draw(); }} title="by day, by night, or as the machine">${lightWords()}</button>`;
}

// What a glance is at, with the id by which a sentence names it.
function looking(desk) {
  const {kind, id} = desk.looked ?? {};
  if (desk.carried) return `Point at the section where ${desk.carried} stands`;
  if (!kind) return commands() ? 'Point at an entrance signal, then at its exit' : 'Point at anything to be told of it';
  return kind === 'joint' ? `${nameOfEnd(desk.plan, id)} (${id})` : `${described(desk.plan, desk.live, kind, id)} (${id})`;
}
