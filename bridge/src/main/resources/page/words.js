// What is said of each device, in the words of the trade.
// In: a Plan, a Live, a kind and an id. Out: its name, and one line that says how it is.

const KIND_WORDS = {crossing: 'grade crossing', joint: 'end of route', traffic: 'line'};

export const kindWords = kind => KIND_WORDS[kind] ?? kind;

/** 'signal Tilling 2E': a name that tells itself apart. */
export function nameOf(plan, kind, id) {
  if (kind === 'joint') return id;
  return `${kindWords(kind)} ${plan.nameOf(kind, id)}`;
}

/** 'signal Tilling 2E: stop, cancelling'. */
export const described = (plan, live, kind, id) => `${nameOf(plan, kind, id)}: ${stateOf(plan, live, kind, id)}`;

/** How a device is, without its name. */
export function stateOf(plan, live, kind, id) {
  const facts = live.of(kind, id);
  const said = (SAYINGS[kind] ?? (() => []))(facts, {plan, live, id});
  return [...said, ...protectionsOf(live, kind, id).map(protectionWords)].filter(Boolean).join(', ') || 'nothing is known';
}

/** What protects people on or at a device. */
export function protectionsOf(live, kind, id) {
  return live.all('protection').map(([key, facts]) => ({key, ...facts}))
    .filter(({by, on}) => on.includes(id) && kindProtected(by) === kind);
}

export const kindProtected = by => by === 'switch' || by === 'signal' ? by : 'section';

export const protectionWords = ({by, holder}) =>
  by === 'permit' ? `permit of ${holder}` : by === 'flag' ? `blue flag of ${holder}` : `blocked for ${holder}`;

const TIME_OF_DAY = new Intl.DateTimeFormat([], {hour: '2-digit', minute: '2-digit', second: '2-digit', hourCycle: 'h23'});

const DAY = new Intl.DateTimeFormat([], {day: 'numeric', month: 'short'});
const DAY_OF_ANOTHER_YEAR = new Intl.DateTimeFormat([], {day: 'numeric', month: 'short', year: 'numeric'});

/** '17:03:21', and which day that was on where it is not today. */
export function since(epoch, now = Date.now()) {
  const [then, today] = [new Date(epoch), new Date(now)];
  const time = TIME_OF_DAY.format(then);
  if (then.toDateString() === today.toDateString()) return time;
  return `${(then.getFullYear() === today.getFullYear() ? DAY : DAY_OF_ANOTHER_YEAR).format(then)}, ${time}`;
}

/** What the fast clock shows. A clock that is followed and not heard has no facts, and nothing is known of it. */
export const clockTime = live => live.alive && live.of('clock', 'clock').shows || '––:––';

/** 'runs 8 : 1', 'stands' or 'not known'. */
export function clockWords(live) {
  const {shows, runs, rate} = live.of('clock', 'clock');
  return !live.alive || !shows ? 'not known' : runs ? `runs ${rate} : 1` : 'stands';
}

/** How an answer is marked: nothing where all is well, and what may have been done is no refusal. */
export const answerSign = answer => SIGNS[answer] ?? '✗';

const SIGNS = {done: '', offered: '', unknown: '?'};

export const secondsLeft = (live, until) => Math.max(0, Math.ceil((until - live.now()) / 1000));

const SAYINGS = {
  section: ({is, train, route}, {plan, id}) => [
    is && (is === 'clear' && !route ? 'free' : is),
    train && `train ${train}`,
    route && `held by route ${route}`,
    plan.sections[id]?.hidden && 'hidden',
  ],
  switch: ({is, called, moving, locked, trouble}, {live, id}) => [
    moving ? `moving to ${called}` : is === 'unknown' ? 'position unknown' : is && `lies ${is}`,
    trouble && `out of correspondence, called ${called}`,
    locked && 'locked',
    lockWords(live.of('lock', id), live),
  ],
  lock: (facts, {live}) => [lockWords(facts, live)],
  signal: ({shows, dark, route, cancelling, until, fleeted, stacked}, {live}) => [
    shows?.replaceAll('-', ' '),
    dark && 'dark',
    cancelling ? `route ${route ?? ''} is given up in ${secondsLeft(live, until)} s` : route && `route ${route} lined`,
    fleeted && `fleeted ${fleeted}`,
    stacked && `${stacked} waits in the stack`,
  ],
  traffic: ({is}) => [is && (is === 'none' ? 'no traffic' : `traffic ${is}`)],
  opening: ({is, bolt}) => [is, bolt && `bolt ${bolt}`],
  crossing: ({is}) => [is],
  district: ({is}) => [is],
  lamp: ({is}) => [is],
  board: ({is}) => [is],
  spot: ({passed}, {live}) => [passed && `passed ${Math.round((live.now() - passed) / 1000)} s ago`],
  joint: () => ['a route may end here'],
};

function lockWords({is, holder, until}, live) {
  if (!is) return '';
  const time = is === 'releasing' && until ? `, ${secondsLeft(live, until)} s left` : '';
  return `electric lock ${is}${holder ? ` to ${holder}` : ''}${time}`;
}
