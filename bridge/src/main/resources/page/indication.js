// What a signal asks of whoever drives, in words for newcomers.
// In: a Live and a signal. Out: {may, short, words}. What is not known is Stop.

import {meaningOf} from './glyphs.js';

const GO = {
  clear: 'Go.',
  approach: 'Go, ready to stop at the next signal.',
  restricting: 'Go on sight, slowly: ready to stop short of anything.',
};

const GO_ASIDE = {
  clear: 'Go slowly: the switch turns you aside.',
  approach: 'Go slowly: the switch turns you aside. Be ready to stop at the next signal.',
  restricting: 'Go on sight, slowly: ready to stop short of anything.',
};

export function indication(live, signal) {
  const {shows, cancelling} = live.of('signal', signal);
  const {front, aside} = meaningOf(shows);
  if (!live.alive || front === 'unknown') return {may: false, short: 'not known', words: 'Not known: take it as Stop.'};
  const short = shows.replaceAll('-', ' ');
  if (front === 'stop') {
    return {may: false, short, words: cancelling ? 'Stop. The way is being taken back.' : 'Stop. Wait here.'};
  }
  const next = shows.startsWith('approach-') && front === 'approach' ? 'Go. The next signal will turn you aside.' : undefined;
  return {may: true, short, words: next ?? (aside ? GO_ASIDE : GO)[front]};
}
