// How a page begins: light, the plan, who somebody is.
// In: what the page is called, and what makes it from a Plan. Out: the page, started; or word that nobody answers.

import {Plan} from './plan.js';
import {answers, plan, recall} from './tell.js';
import {applyLight} from './daynight.js';
import {showNotThere} from './lost.js';

const AGAIN_MS = 2000;

/** The daemon is not called lost before it had time to speak. */
export const FIRST_MS = 1500;

/** Reads the page anew, once the daemon answers: a browser that finds nobody shows a page of its own, and stays there. */
export async function beginAnew(read = () => location.reload()) {
  if (!await answers()) return void setTimeout(() => beginAnew(read), AGAIN_MS);
  read();
}

export async function begin(what, make) {
  applyLight();
  const [told] = await Promise.all([plan(), recall()]);
  if (!told.sections) {
    showNotThere(told.text);
    return void setTimeout(() => begin(what, make), AGAIN_MS);
  }
  document.title = `${told.name}: ${what}`;
  make(new Plan(told)).start();
}
