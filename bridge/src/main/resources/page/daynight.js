// Ink on paper by day, chalk on slate by night.
// In: what the machine prefers, or a hand. Out: data-light on the root element, for the styles.

const ORDER = ['auto', 'day', 'night'];
const WORDS = {auto: 'light: auto', day: 'light: day', night: 'light: night'};
const KEY = 'tappet-light';

export const light = () => localStorage.getItem(KEY) ?? 'auto';
export const lightWords = () => WORDS[light()];

/** Goes on to the next of auto, day, night. */
export function turnLight() {
  localStorage.setItem(KEY, ORDER[(ORDER.indexOf(light()) + 1) % ORDER.length]);
  applyLight();
}

export function applyLight() {
  document.documentElement.dataset.light = light();
}
