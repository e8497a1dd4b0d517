// A page that cannot hear the daemon says so at once, in large letters, and shows nothing as live.
// In: a Live. Out: the banner `.lost`, data-lost on the body for the styles, and everything else inert.

import {html, render, nothing} from '/lib/lit-html/lit-html.js';
import {since} from './words.js';

let lostAt;

/** To be called whenever the page is drawn. */
export function showWhetherLost({alive}) {
  lostAt = alive ? undefined : lostAt ?? Date.now();
  document.body.toggleAttribute('data-lost', !alive);
  for (const part of document.querySelectorAll('main, .dock')) part.inert = !alive;
  banner(alive ? nothing : html`not heard since ${since(lostAt)}; what is drawn below is old. Trying again.`);
}

/** Before there is anything to draw. */
export function showNotThere(why) {
  document.body.toggleAttribute('data-lost', true);
  banner(html`${why}`);
}

const banner = words => render(words === nothing ? nothing : html`<strong>Daemon lost</strong>${words}`, document.querySelector('.lost'));
