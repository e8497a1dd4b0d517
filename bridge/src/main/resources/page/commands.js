// Every command that a device can take, in trade words.
// In: a Plan, a Live, a device. Out: rows of commands: {words, sentence} or {words, sentence: fields => …, needs}.
// needs says whom a person has to name first. Fields are who, reason (may be empty) and more (further sections).

import {quoted} from './sentence.js';
import {protectionsOf} from './words.js';

export function commandsOf(plan, live, kind, id) {
  return (COMMANDS[kind] ?? (() => []))(plan, live, id).filter(({commands}) => commands.length);
}

const row = (title, commands) => ({title, commands: commands.filter(Boolean)});
const because = ({reason}) => reason ? ` because ${quoted(reason)}` : '';

const COMMANDS = {
  signal(plan, live, id) {
    const {route, fleeted, stacked} = live.of('signal', id);
    const routes = plan.routesFrom(id).filter(({automatic}) => !automatic);
    const to = ({to: end}) => nameOfEnd(plan, end);
    return [
      row('Line', routes.map(way => ({words: `to ${to(way)}`, offer: way.to}))),
      row('', [
        {words: 'Cancel', sentence: `cancel ${quoted(id)}`, chief: Boolean(route)},
        fleeted && {words: 'Unfleet', sentence: `unfleet ${quoted(id)}`},
        stacked && {words: 'Unstack', sentence: `unstack ${quoted(id)}`},
      ]),
      row('Fleet', routes.map(way => ({words: `to ${to(way)}`, sentence: `fleet ${quoted(id)} to ${quoted(way.to)}`}))),
      row('Stack', routes.map(way => ({words: `to ${to(way)}`, sentence: `stack ${quoted(id)} to ${quoted(way.to)}`}))),
      row('Call on', routes.filter(({callOn}) => callOn)
        .map(way => ({words: `to ${to(way)}`, sentence: `call on ${quoted(id)} to ${quoted(way.to)}`}))),
      blocking(live, 'signal', id),
    ];
  },

  section(plan, live, id) {
    const {train} = live.of('section', id);
    const protections = protectionsOf(live, 'section', id);
    const held = by => protections.filter(protection => protection.by === by);
    return [
      row('Train', [
        {words: 'Name the train here', sentence: ({who}) => `name ${quoted(who)} on ${quoted(id)}`, needs: 'train'},
        train && {words: `Drop the name ${train}`, sentence: `drop name ${quoted(train)}`},
        train && {words: 'Run', sentence: `run ${quoted(train)}`},
        train && {words: 'Halt', sentence: `halt ${quoted(train)}`},
      ]),
      row('Permit', [
        {words: 'Grant a permit', sentence: fields => `grant permit to ${quoted(fields.who)} on ${[id, ...fields.more].map(quoted).join(', ')}${because(fields)}`, needs: 'crew'},
        ...held('permit').map(({holder}) => ({words: `Return that of ${holder}`, sentence: `return permit of ${quoted(holder)}`})),
      ]),
      row('Blue flag', [
        {words: 'Flag', sentence: fields => `flag ${quoted(id)} by ${quoted(fields.who)}${because(fields)}`, needs: 'crew'},
        ...held('flag').map(({holder}) => ({words: `Take away that of ${holder}`, sentence: `unflag ${quoted(id)} by ${quoted(holder)}`})),
      ]),
      blocking(live, 'section', id),
    ];
  },

  switch(plan, live, id) {
    const {control, section, lock} = plan.switches[id];
    const {is, holder} = live.of('lock', id);
    const holders = protectionsOf(live, 'section', section).filter(({by}) => by === 'permit').map(permit => permit.holder);
    const thrown = position => ({words: position === 'normal' ? 'Normal' : 'Reverse', sentence: `throw ${quoted(id)} ${position}`});
    const forHolder = position => holders.map(name => ({words: `${position} for ${name}`, sentence: `throw ${quoted(id)} ${position} for ${quoted(name)}`}));
    return [
      row('Throw', control === 'sprung' || control === 'hand' ? [] : [thrown('normal'), thrown('reverse'), ...forHolder('normal'), ...forHolder('reverse')]),
      row('Electric lock', lock ? [
        {words: 'Release', sentence: `release ${quoted(id)}`},
        {words: 'Release to a crew', sentence: ({who}) => `release ${quoted(id)} to ${quoted(who)}`, needs: 'crew'},
        {words: 'Secure', sentence: `secure ${quoted(id)}`, chief: is === 'released' || Boolean(holder)},
      ] : []),
      blocking(live, 'switch', id),
    ];
  },

  opening: (plan, live, id) => [row('Bolt', plan.openings[id].lock === false ? [] : [
    {words: 'Lock', sentence: `lock ${quoted(id)}`}, {words: 'Unlock', sentence: `unlock ${quoted(id)}`}])],

  traffic: (plan, live, id) => [row('Set traffic', ['west', 'east']
    .map(way => ({words: way, sentence: `set traffic ${quoted(id)} ${way}`})))],
};

/** The commands of a train, wherever it is. */
export const trainCommands = name => [
  {words: 'Run', sentence: `run ${quoted(name)}`},
  {words: 'Run west', sentence: `run ${quoted(name)} west`},
  {words: 'Run east', sentence: `run ${quoted(name)} east`},
  {words: 'Halt', sentence: `halt ${quoted(name)}`},
];

/** How a protection is taken away again. */
export function returnOf({by, on, holder}) {
  if (by === 'permit') return {words: 'Return', sentence: `return permit of ${quoted(holder)}`};
  if (by === 'flag') return {words: 'Unflag', sentence: `unflag ${quoted(on[0])} by ${quoted(holder)}`};
  return {words: 'Unblock', sentence: `unblock ${by} ${quoted(on[0])}`};
}

/** A signal or an end of track, by name. */
export function nameOfEnd(plan, end) {
  if (plan.signals[end]) return plan.nameOf('signal', end);
  const [piece] = plan.piecesAt(end);
  return piece ? `end of ${plan.nameOf('section', piece.section)}` : end;
}

function blocking(live, kind, id) {
  const blocked = protectionsOf(live, kind, id).some(({by}) => by === kind);
  return row('Blocking', [
    {words: 'Block', sentence: fields => `block ${kind} ${quoted(id)} for ${quoted(fields.who)}${because(fields)}`, needs: 'crew'},
    blocked && {words: 'Unblock', sentence: `unblock ${kind} ${quoted(id)}`, chief: true},
  ]);
}
